"""What one team's planning needs, as plain bytes that can travel to any process or machine."""

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

from curriculum.club.reading import CLUB_FILE, CURRICULUM_FILE, SLOTS_FILE
from curriculum.models.record import Entry, Record
from curriculum.problems import FaultyInputError
from curriculum.records.database import RECORD_FILE, read_record
from curriculum.schedule.effort import Effort
from curriculum.workspace import LEDGER_FILE, PLAN_FILE

CLUB_FILES = (CLUB_FILE, CURRICULUM_FILE, SLOTS_FILE)
BROUGHT = (".toml", ".ics", ".csv")
"""Endings of the files that a season is made of, beside what the program keeps there."""
PRIVATE = "players.toml"
"""Children's names: planning needs none, so they stay where they are."""
MOST_BYTES = 5_000_000
"""A larger file is no part of a season."""


@dataclass(frozen=True)
class Orders:
    """How every team of a run is planned. now: written into plans, with a zone."""

    now: datetime
    today: date
    effort: Effort = "quick"
    fresh: bool = False


@dataclass(frozen=True)
class Parcel:
    """One team's season with its club's files, and its orders.

    folder: where it stands, as messages name it.
    club, season: files by their path within the club's and the season's folder.
    record: what happened so far, without any name, note or reason in a coach's words.
    """

    team: str
    folder: str
    club: tuple[tuple[str, bytes], ...]
    season: tuple[tuple[str, bytes], ...]
    record: Record
    orders: Orders

    @property
    def fingerprint(self) -> str:
        """A hash over what decides the plan, but for the time and the plan that stands."""
        digest = hashlib.sha256()
        for name, data in (*self.club, *self.season):
            if name != PLAN_FILE:
                digest.update(f"{name}\0{len(data)}\0".encode())
                digest.update(data)
        digest.update(repr(self.record).encode())
        orders = self.orders
        digest.update(f"{orders.today} {orders.effort} {orders.fresh}".encode())
        return digest.hexdigest()


def club_bytes(folder: Path) -> tuple[tuple[str, bytes], ...]:
    """Return the files of a club that its teams' seasons take from."""
    return tuple(
        (name, (folder / name).read_bytes()) for name in CLUB_FILES if (folder / name).is_file()
    )


def pack(club: tuple[tuple[str, bytes], ...], team: str, folder: Path, orders: Orders) -> Parcel:
    """Return a team's parcel.

    Raises FaultyInputError when its record cannot be read, OSError when a file cannot.
    """
    record, faults = read_record(folder / RECORD_FILE)
    if faults:
        raise FaultyInputError(faults)
    season = tuple((str(path.relative_to(folder)), path.read_bytes()) for path in _files(folder))
    return Parcel(team, str(folder), club, season, _nameless(record), orders)


def _files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.rglob("*")):
        kept = path.suffix in BROUGHT or path.name in (PLAN_FILE, LEDGER_FILE)
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        public = not hidden and path.name != PRIVATE
        if kept and public and path.is_file() and path.stat().st_size <= MOST_BYTES:
            yield path


def _nameless(record: Record) -> Record:
    """Return a record without names, notes and a coach's own words, which decide nothing."""
    return replace(
        record,
        practices=tuple(replace(saved, entry=_wordless(saved.entry)) for saved in record.practices),
    )


def _wordless(entry: Entry) -> Entry:
    # A lost practice must have a reason; the coach's may be about a child.
    reason = "lost" if entry.status == "lost" else None
    return entry.model_copy(update={"absent": (), "note": "", "by": None, "reason": reason})
