"""What became of one team when all were planned."""

from dataclasses import dataclass
from typing import Literal

State = Literal["planned", "unchanged", "stands", "faulty", "failed"]
"""planned: a new plan. unchanged: it says what the one before said. stands: nothing to do since the
last run. faulty: the team's files are. failed: the program is, or what it ran on."""


@dataclass(frozen=True)
class Outcome:
    """What became of one team.

    folder: of its season.
    plan: the bytes of a new plan, None when none is to be written.
    digest: of the plan that holds now, "" without one. status: what the plan says of itself.
    missed: must- and should-goals that it misses. problems: in words, warnings too.
    """

    team: str
    folder: str
    state: State
    plan: bytes | None = None
    digest: str = ""
    status: str = ""
    missed: tuple[int, int] = (0, 0)
    problems: tuple[str, ...] = ()

    @property
    def sound(self) -> bool:
        """Whether the team has a plan."""
        return self.state in ("planned", "unchanged", "stands")
