"""Rows of the exact model: order of blocks, gym time, blocks and introductions a practice, pins."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from curriculum.schedule.exact.variables import FALSE, Matrix, Step, Sum
from curriculum.schedule.instance import Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.windows import before


@dataclass(frozen=True)
class Load:
    """A block or review as it counts in a practice; a review has no strand, -1."""

    step: Step
    minutes: int
    introduces: bool = False
    strand: int = -1

    @property
    def places(self) -> tuple[int, ...]:
        """The practices in which it may stand."""
        return _places(self.step)


@lru_cache(maxsize=4096)
def _places(step: Step) -> tuple[int, ...]:
    before = (FALSE, *step)
    return tuple(p for p, literal in enumerate(step) if literal != before[p])


def order(matrix: Matrix, tables: Tables, steps: Sequence[Sequence[Step]]) -> None:
    """Let blocks of a job, stages of a skill and needs follow each other; steps by job, number."""
    instance = tables.instance
    for job, needs in enumerate(instance.needs):
        past, row = tables.past[job], steps[job]
        for number in range(max(1, past), len(row)):
            _apart(matrix, tables.last_day, row[number], row[number - 1])
        if past < len(row):
            for needed in needs:
                ends = tuple(before(tables, needed, job, p) for p in range(instance.practices))
                _apart(matrix, ends, row[past], steps[needed][-1])


def _apart(matrix: Matrix, latest: Sequence[int], later: Step, earlier: Step) -> None:
    """Let a block held by practice p ask for the earlier one by `latest[p]`."""
    if not movable(later) and not movable(earlier):
        return
    last = FALSE
    for practice, literal in enumerate(later):
        if literal != last:
            end = latest[practice]
            matrix.imply(literal, earlier[end] if end >= 0 else FALSE)
            last = literal


def movable(step: Step) -> bool:
    """Whether a block has any columns."""
    return max(step, default=FALSE) >= 0


def capacity(
    matrix: Matrix, instance: Instance, loads: Iterable[Load], *, fillings: bool = False
) -> None:
    """Keep minutes, blocks and introductions of every open practice within their limits.

    Minutes are limited to the most that blocks of these lengths can fill. With `fillings` every
    practice also chooses one of the ways in which it can be filled: that adds nothing to the
    rules but lets the relaxation know that blocks cannot be cut.
    """
    standing: list[list[Load]] = [[] for _ in range(instance.practices)]
    for load in loads:
        for practice in load.places:
            standing[practice].append(load)
    for practice in range(instance.first_open, instance.practices):
        changeover, here = instance.changeover[practice], standing[practice]
        minutes, blocks, new = Sum(), Sum(), Sum()
        for load in here:
            minutes.add_held(load.step, practice, load.minutes + changeover)
            blocks.add_held(load.step, practice, 1)
            if load.introduces:
                new.add_held(load.step, practice, 1)
        sizes = [load.minutes + changeover for load in here]
        usable, most = instance.usable[practice], instance.most_blocks
        if sum(sizes) > usable:
            matrix.at_most(minutes, most_filled(tuple(sorted(set(sizes))), usable, most))
        if len(here) > most:
            matrix.at_most(blocks, most)
        if sum(load.introduces for load in here) > instance.most_new:
            matrix.at_most(new, instance.most_new)
        if fillings and (sum(sizes) > usable or len(here) > most):
            ways = fillings_of(tuple(sorted(set(sizes))), usable, most)
            _fill(matrix, here, practice, changeover, ways)


def most_filled(sizes: Sequence[int], usable: int, most: int) -> int:
    """Return the most minutes that at most so many blocks of these sizes fill of the usable ones.

    >>> most_filled((9, 11), 37, 5)
    36
    """
    reach = 1
    limit = (1 << (max(0, usable) + 1)) - 1
    for _ in range(most):
        wider = reach
        for size in sizes:
            wider |= reach << size & limit
        if wider == reach:
            break
        reach = wider
    return reach.bit_length() - 1


MOST_FILLINGS = 400
"""More ways to fill a practice than this cost more than they help."""


def _fill(
    matrix: Matrix,
    here: Sequence[Load],
    practice: int,
    changeover: int,
    ways: Sequence[Mapping[int, int]],
) -> None:
    """Let a practice be filled in one of these ways, or less."""
    if len(ways) > MOST_FILLINGS:
        return
    chosen = [matrix.column() for _ in ways]
    one = Sum()
    for column in chosen:
        one.add(column, 1)
    matrix.at_most(one, 1)
    held: dict[int, Sum] = {}
    for size in sorted({load.minutes + changeover for load in here}):
        row, held[size] = Sum(), Sum()
        for load in here:
            if load.minutes + changeover == size:
                row.add_held(load.step, practice, 1)
                held[size].add_held(load.step, practice, 1)
        for column, way in zip(chosen, ways, strict=True):
            row.add(column, -way.get(size, 0))
        matrix.at_most(row, 0)
    matrix.ways.append((chosen, ways, held))


@lru_cache(maxsize=256)
def fillings_of(sizes: tuple[int, ...], usable: int, most: int) -> tuple[dict[int, int], ...]:
    """Return the ways to fill minutes with blocks of these sizes to which no block can be added.

    >>> fillings_of((9, 11), 20, 5)
    ({9: 2}, {11: 1, 9: 1})
    """
    found: list[dict[int, int]] = []

    def fill(index: int, left: int, blocks: int, way: dict[int, int]) -> None:
        if index < 0:
            if not blocks or left < sizes[0]:
                found.append(way)
            return
        size = sizes[index]
        for count in range(min(blocks, left // size) + 1):
            more = {**way, size: count} if count else way
            fill(index - 1, left - count * size, blocks - count, more)

    if sizes:
        fill(len(sizes) - 1, usable, most, {})
    return tuple(found)


def pins(
    matrix: Matrix,
    instance: Instance,
    steps: Sequence[Sequence[Step]],
    reviews: Sequence[Sequence[Step]] | None = None,
    dropped: int = 0,
) -> None:
    """Let all pins but so many be honoured by a block of their job, or by their very number.

    A pin without a number on a last stage may be honoured by a review too; without `reviews` such
    pins are left aside.
    """
    given_up = Sum()
    for pin in filter(instance.asks, instance.pins):
        row = steps[pin.job]
        either = not pin.number and instance.last[pin.job]
        if either and reviews is None:
            continue
        chosen = [row[pin.number - 1]] if 0 < pin.number <= len(row) else []
        if not pin.number:
            chosen = [*row, *(reviews[instance.skill[pin.job]] if either and reviews else ())]
        standing = Sum()
        for step in chosen:
            for practice in pin.practices:
                standing.add_held(step, practice, -1)
        if dropped:
            column = matrix.measure()
            standing.add(column, -1)
            given_up.add(column, 1)
        matrix.at_most(standing, -1)
    if dropped:
        matrix.at_most(given_up, dropped)
