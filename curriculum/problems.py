"""A located problem in a coach's file, and the one printer of such problems."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Literal

Level = Literal["error", "warning"]


@dataclass(frozen=True, order=True)
class Problem:
    """One fault: what is wrong, where it stands, what was found and what to do about it.

    file: path as the coach knows it, or "" when no file is to blame.
    line: 1-based line in that file, 0 when the whole file is meant.
    key: the key or table at fault, e.g. `slot.minutes`.
    found: the value that stands there, as text; "" when something is missing.
    says: what is wrong, without a full stop at the end.
    way_out: what to write or do instead, without a full stop at the end.
    """

    file: str
    line: int
    key: str
    says: str
    found: str = ""
    way_out: str = ""
    level: Level = "error"

    def __str__(self) -> str:
        """Return the problem as one line of text."""
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {self.sentence}" if place else self.sentence

    @property
    def sentence(self) -> str:
        """The problem without its place."""
        mark = "" if self.level == "error" else "warning: "
        key = f"{self.key}: " if self.key else ""
        found = f" (found {self.found})" if self.found else ""
        way_out = f"; {self.way_out}" if self.way_out else ""
        return f"{mark}{key}{self.says}{found}{way_out}"


class FaultyInputError(ValueError):
    """The input cannot be used; `problems` holds every fault found, in file order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(problems))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def errors(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Return the problems that stop the work, warnings left out."""
    return tuple(problem for problem in problems if problem.level == "error")


def as_data(problems: Iterable[Problem]) -> list[dict[str, str | int]]:
    """Return problems as plain dictionaries, for `--json`."""
    return [asdict(problem) for problem in problems]
