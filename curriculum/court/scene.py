"""What the executed actions of a drill come to: pictures with players, balls and moves."""

from dataclasses import dataclass

from curriculum.court.geometry import Point
from curriculum.models.drills import Deed, Manner
from curriculum.problems import Problem


@dataclass(frozen=True)
class Move:
    """One action with its way over the floor.

    number: its place in the order of a drill, from 1; actions at the same time share one.
    path: from where it starts over the turns to where it ends; one point when nobody moves.
    round: the turns are rounded, not sharp.
    to: the receiver of a pass or handoff, or the place as the drill names it.
    on: who is screened or defended.
    """

    number: int
    do: Deed
    by: str
    path: tuple[Point, ...]
    round: bool = False
    to: str = ""
    via: tuple[str, ...] = ()
    on: str = ""
    how: Manner = "guard"

    @property
    def end(self) -> Point:
        """Where the way ends."""
        return self.path[-1]


@dataclass(frozen=True)
class Frame:
    """One picture: who stands where when it starts, who holds a ball, and what happens then."""

    stand: tuple[tuple[str, Point], ...]
    holders: frozenset[str]
    moves: tuple[Move, ...]


@dataclass(frozen=True)
class Execution:
    """A drill played through: one to three pictures, and all that makes no sense in it."""

    frames: tuple[Frame, ...]
    problems: tuple[Problem, ...]
