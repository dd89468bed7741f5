"""Columns of the exact model: one for each block and practice, "held there or before".

The order encoding: y[p] says that a block is held in practice p or an earlier one, so x[p] =
y[p] - y[p-1] says that it is held in p itself and needs no column of its own. Columns and rows are
plain numbers, read by CP-SAT and by the linear relaxation alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

TRUE, FALSE = -1, -2
"""Literals that are no columns."""

Step = tuple[int, ...]
"""The literals of one block, one a practice: held in this practice or before."""


class Sum:
    """A linear sum of literals and columns that is still being collected."""

    def __init__(self) -> None:
        self.coefficients: dict[int, int] = {}
        self.constant = 0

    def add(self, literal: int, coefficient: int) -> None:
        """Add a literal or column."""
        if literal == TRUE:
            self.constant += coefficient
        elif literal != FALSE:
            self.coefficients[literal] = self.coefficients.get(literal, 0) + coefficient

    def add_held(self, step: Step, practice: int, coefficient: int) -> None:
        """Add whether a block is held in this very practice."""
        self.add(step[practice], coefficient)
        if practice:
            self.add(step[practice - 1], -coefficient)

    def value(self, values: Sequence[int]) -> int:
        """Return the sum for given values of the columns."""
        found = sum(values[column] * each for column, each in self.coefficients.items())
        return found + self.constant

    def terms(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Return columns and coefficients, zeros left out."""
        kept = [(column, value) for column, value in self.coefficients.items() if value]
        return tuple(column for column, _ in kept), tuple(value for _, value in kept)


@dataclass
class Matrix:
    """Columns with upper bounds (1 for a literal), rows, and an objective to be made small.

    implications: (a, b), where a asks for b.
    excesses: (a, b, w), where w is at least a - b.
    rows: (columns, coefficients, most): the sum is at most this.
    ways: for each practice the columns of the ways to fill it, what each holds of each length of
    block, and the sums that say how many stand there.
    slack: columns that only measure by how much a row is exceeded, last in their rows.
    """

    upper: list[int] = field(default_factory=list)
    implications: list[tuple[int, int]] = field(default_factory=list)
    excesses: list[tuple[int, int, int]] = field(default_factory=list)
    rows: list[tuple[tuple[int, ...], tuple[int, ...], int]] = field(default_factory=list)
    objective: Sum = field(default_factory=Sum)
    slack: set[int] = field(default_factory=set)
    ways: list[tuple[Sequence[int], Sequence[Mapping[int, int]], Mapping[int, Sum]]] = field(
        default_factory=list
    )
    impossible: bool = False

    def column(self, upper: int = 1) -> int:
        """Add a column from 0 to an upper bound."""
        self.upper.append(upper)
        return len(self.upper) - 1

    def measure(self, upper: int = 1) -> int:
        """Add a column that measures by how much rows are exceeded."""
        column = self.column(upper)
        self.slack.add(column)
        return column

    def imply(self, cause: int, effect: int) -> None:
        """Let one literal ask for another."""
        if cause in (FALSE, effect) or effect == TRUE:
            return
        if cause == TRUE and effect == FALSE:
            self.impossible = True
        elif cause == TRUE:
            self.rows.append(((effect,), (-1,), -1))
        elif effect == FALSE:
            self.rows.append(((cause,), (1,), 0))
        else:
            self.implications.append((cause, effect))

    def at_most(self, total: Sum, most: int) -> None:
        """Bound a sum from above."""
        columns, coefficients = total.terms()
        most -= total.constant
        highest = sum(
            self.upper[column] * value
            for column, value in zip(columns, coefficients, strict=True)
            if value > 0
        )
        lowest = sum(
            self.upper[column] * value
            for column, value in zip(columns, coefficients, strict=True)
            if value < 0
        )
        if lowest > most:
            self.impossible = True
        elif highest > most:
            self.rows.append((columns, coefficients, most))

    def completed(self, values: list[int]) -> list[int]:
        """Give the columns of excesses and of rows that end in one their smallest values.

        Only for values of literals that keep all other rows.
        """
        for cause, held, excess in self.excesses:
            values[excess] = max(0, values[cause] - values[held])
        self._choose_ways(values)
        for columns, coefficients, most in self.rows:
            if coefficients[-1] == -1 and columns[-1] in self.slack:
                total = sum(
                    values[column] * value
                    for column, value in zip(columns[:-1], coefficients[:-1], strict=True)
                )
                values[columns[-1]] = max(values[columns[-1]], total - most)
        return values

    def _choose_ways(self, values: list[int]) -> None:
        """Choose for each practice a way of filling that holds its blocks."""
        for columns, ways, held in self.ways:
            counts = {size: total.value(values) for size, total in held.items()}
            for column, way in zip(columns, ways, strict=True):
                if all(way.get(size, 0) >= count for size, count in counts.items()):
                    values[column] = 1
                    break

    def step(self, mask: int, first: int, last: int, count: int, *, required: bool) -> Step:
        """Add the columns of a block that may stand in these practices, from first to last.

        A block that is required stands by `last`; one that is not may stand nowhere.
        """
        literals: list[int] = [FALSE] * count
        current = FALSE
        for practice in range(max(0, first), count):
            if required and practice >= last:
                current = TRUE
            elif practice <= last and mask >> practice & 1:
                fresh = self.column()
                if current != FALSE:
                    self.implications.append((current, fresh))
                current = fresh
            literals[practice] = current
        return tuple(literals)


@cache
def fixed(practice: int, count: int) -> Step:
    """Return the literals of a block that stands where it stands."""
    return tuple(TRUE if each >= practice else FALSE for each in range(count))


def place_of(step: Sequence[int], values: Sequence[int]) -> int:
    """Return where a solution holds a block, -1 for nowhere."""
    for practice, literal in enumerate(step):
        if literal == TRUE or (literal >= 0 and values[literal]):
            return practice
    return -1


def hinted(step: Sequence[int], practice: int, values: list[int]) -> None:
    """Write a place (-1 for nowhere) into the values of a block's columns."""
    for each, literal in enumerate(step):
        if literal >= 0:
            values[literal] = int(0 <= practice <= each)
