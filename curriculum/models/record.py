"""What really happened at a practice, as a coach records it, and the names of the players."""

import datetime as dt
from collections import Counter
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, field_validator, model_validator

from curriculum.models.base import Id, Model, Text
from curriculum.models.plan import Clock, Kind
from curriculum.models.skills import Stage

Status = Literal["held", "lost", "shortened"]
Held = Literal["held", "partly", "not held"]
Went = Literal["solid", "shaky", "not yet"]

Name = Annotated[
    str,
    StringConstraints(strip_whitespace=True, pattern=r"^[^\x00-\x1f\x7f,;]+$", max_length=40),
]
"""A player's or coach's first name: no commas, because lists of names are written with them."""
Note = Annotated[str, StringConstraints(strip_whitespace=True, max_length=2000)]
ClientId = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9_-]{8,64}$")]
PracticeId = Annotated[str, StringConstraints(pattern=r"^[a-z0-9-]+$", max_length=120)]


class Players(Model):
    """A whole `players.toml`: first names, each once; two of one name need something added."""

    players: tuple[Name, ...] = ()

    @field_validator("players")
    @classmethod
    def _each_once(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        return _distinct(names)


class BlockRecord(Model):
    """One block of a practice: as it was planned, and what became of it.

    number, of, kind, minutes: as planned then; minutes without the changeover.
    held: whether it took place. went: how; None when nobody said, or it did not take place.
    planned: False for a block that the coach held beside the plan.
    """

    skill: Id
    stage: Stage
    kind: Kind
    number: Annotated[int, Field(ge=1)]
    of: Annotated[int, Field(ge=1)]
    minutes: Annotated[int, Field(ge=1, le=300)]
    held: Held = "held"
    went: Went | None = None
    planned: bool = True

    @model_validator(mode="after")
    def _only_what_was_held_went_somehow(self) -> "BlockRecord":
        if self.held == "not held" and self.went is not None:
            raise ValueError(f"a block that was not held cannot have gone {self.went}")
        return self

    @property
    def node(self) -> tuple[str, Stage]:
        """The stage that it taught."""
        return self.skill, self.stage

    @property
    def counts(self) -> bool:
        """Whether the block is done: held, at least partly, and not called "not yet".

        A shaky review does not count, so that the skill is due again at once.
        """
        if self.kind == "review" and self.went == "shaky":
            return False
        return self.held != "not held" and self.went != "not yet"

    @property
    def asks_for_more(self) -> bool:
        """Whether its stage takes one block more: it was shaky, or cut short and nobody said how.

        A review never does; its stage was reached before.
        """
        shaky = self.went == "shaky" or (self.held == "partly" and self.went is None)
        return self.kind != "review" and shaky


class Entry(Model):
    """One submission about one practice; the newest that counts says what happened.

    client: made by whoever sends it, a new one for each submission, so that a submission sent twice
    is recorded once.
    practice: its id; date, start, venue, minutes: as it stood in the calendar.
    reason: why it was lost. minutes_held: what was left of a shortened one.
    blocks: all that were planned, and those held beside the plan.
    absent: first names from players.toml. by: who recorded it.
    """

    client: ClientId
    practice: PracticeId
    date: dt.date
    start: Clock
    venue: Id
    minutes: Annotated[int, Field(ge=1, le=300)]
    status: Status
    reason: Text | None = None
    minutes_held: Annotated[int, Field(ge=1, le=300)] | None = None
    blocks: tuple[BlockRecord, ...] = ()
    absent: tuple[Name, ...] = ()
    note: Note = ""
    by: Name | None = None

    @field_validator("absent")
    @classmethod
    def _each_once(cls, names: tuple[str, ...]) -> tuple[str, ...]:
        return _distinct(names)

    @model_validator(mode="after")
    def _says_one_thing(self) -> "Entry":
        nodes = [block.node for block in self.blocks]
        if len(set(nodes)) < len(nodes):
            raise ValueError("a stage has one block in a practice, at most")
        if (self.status == "lost") != (self.reason is not None):
            raise ValueError("a lost practice has a reason, and no other has")
        if (self.status == "shortened") != (self.minutes_held is not None):
            raise ValueError("a shortened practice says how many minutes were held, no other does")
        if self.minutes_held is not None and self.minutes_held >= self.minutes:
            raise ValueError(f"a practice of {self.minutes} minutes is shortened to fewer")
        if self.status == "lost" and any(block.held != "not held" for block in self.blocks):
            raise ValueError("in a lost practice no block is held")
        if self.status == "lost" and self.absent:
            raise ValueError("nobody is absent from a lost practice")
        return self

    @property
    def really(self) -> int:
        """Minutes that were really held."""
        if self.status == "lost":
            return 0
        return self.minutes if self.minutes_held is None else self.minutes_held


def _distinct(names: tuple[str, ...]) -> tuple[str, ...]:
    twice = sorted(name for name, times in Counter(names).items() if times > 1)
    if twice:
        raise ValueError(f"{twice[0]} stands there twice; add a letter to tell the two apart")
    return names


@dataclass(frozen=True)
class Saved:
    """A submission as it was recorded.

    version: which of the practice's versions it is, from 1; None when it was set aside because it
    was made over a version that was no longer the newest.
    over: the version that its sender had seen, 0 for none.
    """

    version: int | None
    over: int
    at: dt.datetime
    entry: Entry


@dataclass(frozen=True)
class Conflict:
    """Somebody else recorded the practice first: what stands, and where this submission is kept.

    standing: None when no version stands at all, though one was said to have been seen.
    """

    standing: Saved | None
    aside: Saved


@dataclass(frozen=True)
class Promise:
    """The date by which a stage was first planned to be taught, when recording began."""

    skill: str
    stage: Stage
    date: dt.date


@dataclass(frozen=True)
class Record:
    """What stands: the newest version for each recorded practice, in order of date and start."""

    practices: tuple[Saved, ...] = ()
    promises: tuple[Promise, ...] = ()

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The entries that count."""
        return tuple(saved.entry for saved in self.practices)

    def of(self, practice: str) -> Saved | None:
        """Return what stands for a practice, None when nothing is recorded."""
        return next((each for each in self.practices if each.entry.practice == practice), None)


NOTHING = Record()
"""The record of a season in which nothing was recorded yet."""
