"""What an import finds: dated entries, entries that were skipped, and remarks; all plain data."""

import datetime as dt
from dataclasses import dataclass, field
from typing import Literal

from curriculum.models.calendars import Means

Outcome = Literal["used", "outside", "skipped"]


class RefusedError(ValueError):
    """A file cannot be used at all; `line` is where that shows, 0 when it is the whole file."""

    def __init__(self, says: str, *, line: int = 0, found: str = "", way_out: str = "") -> None:
        super().__init__(says)
        self.says = says
        self.line = line
        self.found = found
        self.way_out = way_out


@dataclass(frozen=True)
class Found:
    """One dated entry of somebody's calendar, once for each time that it takes place.

    key: tells it from every other entry of its file, and stays when the file is read again.
    start, end: the season's wall clock; end is exclusive, None when the file states none.
    whole_days: start and end are midnights, and the entry has no time of day.
    line: where the entry begins in its file.
    home, away: the two sides of a game as the file names them, "" where it does not.
    side: the file's word for home or away; opponent: the other side, where it names only that.
    free: it is marked as not taking anybody's time; cancelled: it does not take place.
    """

    key: str
    title: str
    line: int
    start: dt.datetime
    end: dt.datetime | None
    whole_days: bool = False
    place: str = ""
    address: str = ""
    home: str = ""
    away: str = ""
    side: str = ""
    opponent: str = ""
    free: bool = False
    cancelled: bool = False


@dataclass(frozen=True)
class Skipped:
    """An entry, or a part of the file, that was not used, and why."""

    line: int
    title: str
    why: str


@dataclass(frozen=True)
class Reading:
    """Everything that one file holds within the season.

    remarks: how something was understood that the file leaves open; line 0 for the whole file.
    outside: how many entries have no day within the season.
    """

    found: tuple[Found, ...] = ()
    skipped: tuple[Skipped, ...] = ()
    remarks: tuple[tuple[int, str], ...] = ()
    outside: int = 0


@dataclass(frozen=True)
class Item:
    """One entry as a report tells it.

    became: the id of the game, or the dates of a closure or practice; "" for others.
    """

    line: int
    title: str
    when: str
    outcome: Outcome
    why: str = ""
    became: str = ""


@dataclass(frozen=True)
class FileReport:
    """What became of one file: every entry once, and remarks on how it was read."""

    file: str
    means: Means
    items: tuple[Item, ...] = ()
    remarks: tuple[tuple[int, str], ...] = ()
    outside: int = 0
    refused: str = ""

    def with_outcome(self, outcome: Outcome) -> tuple[Item, ...]:
        """Return the entries with one outcome, in the order of the file."""
        return tuple(item for item in self.items if item.outcome == outcome)


@dataclass(frozen=True)
class Report:
    """What became of every file, in the order in which the season names them."""

    files: tuple[FileReport, ...] = field(default=())
