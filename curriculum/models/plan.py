"""A plan: which blocks stand in which practice, with its proof, its misses and its revision."""

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field, field_serializer

from curriculum.models.base import Id, Model
from curriculum.models.season import Importance
from curriculum.models.skills import Stage

Kind = Literal["introduce", "build", "review"]
Status = Literal["optimal", "feasible", "partial"]
Clock = Annotated[dt.time, Field(description="wall-clock time in the season's time zone")]


class Block(Model):
    """One stretch of teaching one skill at one stage within one practice.

    number, of: which of how many; for a review, counted over the reviews of its skill.
    minutes: teaching minutes, the changeover not included.
    drill: the coach's own choice, else None.
    """

    skill: Id
    stage: Stage
    number: Annotated[int, Field(ge=1)]
    of: Annotated[int, Field(ge=1)]
    kind: Kind
    minutes: Annotated[int, Field(ge=1)]
    drill: str | None = None
    pinned: bool = False


class PlannedPractice(Model):
    """One dated practice and its blocks in the order in which they are held."""

    id: str
    date: dt.date
    start: Clock
    end: Clock
    venue: Id
    week: int
    teaching_minutes: int
    blocks: tuple[Block, ...] = ()

    @field_serializer("start", "end")
    def _clock(self, moment: dt.time) -> str:
        return f"{moment:%H:%M}"


class NotHeld(Model):
    """A date on which a practice would have stood, and why it does not."""

    id: str
    date: dt.date
    why: str


class PlannedGame(Model):
    """A game as it stood when the plan was made."""

    id: Id
    date: dt.date
    start: Clock
    minutes: int
    opponent: str
    home: bool
    venue: str | None = None
    address: str | None = None
    arrive_before: int | None = None

    @field_serializer("start")
    def _clock(self, moment: dt.time) -> str:
        return f"{moment:%H:%M}"


class PlannedClosure(Model):
    """A closure or holiday that shaped the plan; both ends included."""

    from_: Annotated[dt.date, Field(alias="from")]
    until: dt.date
    reason: str
    venue: str | None = None


class GoalResult(Model):
    """What became of a goal: the date on which it is reached, and whether that is in time."""

    skill: Id
    stage: Stage
    by: dt.date
    need: Importance
    reached: dt.date | None
    met: bool


class Miss(Model):
    """A goal or pin that the plan does not honour, why, and what would help."""

    skill: Id
    stage: Stage
    why: str
    remedies: tuple[str, ...] = ()


class TierProof(Model):
    """One tier's value in the plan and a lower bound that no plan can beat."""

    name: str
    value: int
    bound: int


class Proof(Model):
    """How good the plan is known to be.

    practices_needed_at_least: a lower bound for what is still to be taught, counted from the first
    open practice on: what is past is left out.
    critical_path_practices: practices on the longest chain of blocks that wait for each other.
    """

    tiers: tuple[TierProof, ...]
    practices_needed_at_least: int
    critical_path_practices: int


class Plan(Model):
    """A whole `plan.json`, format 1."""

    format: Literal[1] = 1
    revision: Annotated[int, Field(ge=1)]
    made: dt.datetime
    season: Id
    team: str
    timezone: str
    status: Status
    proof: Proof
    practices: tuple[PlannedPractice, ...]
    not_held: tuple[NotHeld, ...] = ()
    games: tuple[PlannedGame, ...] = ()
    closures: tuple[PlannedClosure, ...] = ()
    goals: tuple[GoalResult, ...] = ()
    misses: tuple[Miss, ...] = ()
