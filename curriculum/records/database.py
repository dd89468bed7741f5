"""The record of a season: submissions are added, never changed, and the newest one counts."""

import datetime as dt
import secrets
import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from pydantic import ValidationError

from curriculum.models.record import Conflict, Entry, Promise, Record, Saved
from curriculum.models.skills import STAGES
from curriculum.problems import FaultyInputError, Problem
from curriculum.records.schema import Db, connect, private, transaction, unusable

RECORD_FILE = "record.db"

_COLUMNS = "SELECT version, over, saved, entry FROM submission"


@contextmanager
def open_record(path: Path) -> Iterator[Db]:
    """Open a record for reading and writing; it is made where there is none.

    One connection serves one thread; opening takes about a millisecond, so that every request can
    have its own. Raises FaultyInputError when the file cannot be used.
    """
    db = connect(path)
    try:
        yield db
    except sqlite3.DatabaseError as fault:
        raise FaultyInputError([unusable(path, str(fault))]) from fault
    finally:
        db.close()


def record_practice(
    db: Db,
    entry: Entry,
    now: dt.datetime,
    expected_version: int,
    promises: Iterable[Promise] = (),
) -> Saved | Conflict:
    """Add a submission; once it is returned, it outlives a crash.

    expected_version: the version of this practice that its sender has seen, 0 for none. When
    another one stands by now, the submission is set aside in the history and counts for nothing:
    the sender looks at what stands, and sends what is right with a new client id.
    promises: kept for stages that have none yet.

    A submission whose client id is recorded already gives what was recorded then. Raises ValueError
    when that was another submission, or when `now` has no time zone.
    """
    if now.tzinfo is None:
        raise ValueError("the time of a submission needs a time zone")
    at = now.astimezone(dt.UTC).replace(microsecond=0)
    with transaction(db):
        sent = _one(db, "WHERE client = ?", entry.client)
        if sent is not None:
            if sent.entry != entry:
                raise ValueError(f"the client id {entry.client} stands for another submission")
            return sent if sent.version else Conflict(practice_record(db, entry.practice), sent)
        standing = practice_record(db, entry.practice)
        newest = standing.version or 0 if standing else 0
        fresh = expected_version == newest
        saved = Saved(newest + 1 if fresh else None, expected_version, at, entry)
        db.execute(
            "INSERT INTO submission (client, practice, version, over, saved, entry)"
            " VALUES (?, ?, ?, ?, ?, ?)",
            (
                entry.client,
                entry.practice,
                saved.version,
                saved.over,
                at.isoformat(),
                entry.model_dump_json(),
            ),
        )
        if not fresh:
            return Conflict(standing, saved)
        db.executemany(
            "INSERT OR IGNORE INTO promise (skill, stage, date) VALUES (?, ?, ?)",
            [(each.skill, each.stage, each.date.isoformat()) for each in promises],
        )
    return saved


def practice_record(db: Db, practice: str) -> Saved | None:
    """Return what stands for a practice, None when nothing is recorded."""
    return _one(
        db, "WHERE practice = ? AND version IS NOT NULL ORDER BY version DESC LIMIT 1", practice
    )


def history(db: Db, practice: str | None = None) -> tuple[Saved, ...]:
    """Return all submissions in the order in which they came, those set aside too."""
    if practice is None:
        rows = db.execute(f"{_COLUMNS} ORDER BY number")
    else:
        rows = db.execute(f"{_COLUMNS} WHERE practice = ? ORDER BY number", (practice,))
    return tuple(_saved(row) for row in rows)


def standing(db: Db) -> Record:
    """Return what stands for all practices."""
    rows = db.execute(
        "SELECT max(version), over, saved, entry FROM submission"
        " WHERE version IS NOT NULL GROUP BY practice"
    )
    saved = sorted(
        (_saved(row) for row in rows),
        key=lambda each: (each.entry.date, each.entry.start, each.entry.practice),
    )
    promises = db.execute("SELECT skill, stage, date FROM promise ORDER BY skill, stage")
    return Record(
        practices=tuple(saved),
        promises=tuple(
            Promise(skill, known, dt.date.fromisoformat(date))
            for skill, stage, date in promises
            for known in STAGES
            if known == stage
        ),
    )


def read_record(path: Path) -> tuple[Record, tuple[Problem, ...]]:
    """Return what stands in a record; nothing when there is no file, and no file is made."""
    if not path.exists():
        return Record(), ()
    try:
        with open_record(path) as db:
            return standing(db), ()
    except FaultyInputError as fault:
        return Record(), fault.problems


def backup(path: Path, target: Path) -> None:
    """Copy a record whole, also while others write; the copy is a record by itself.

    To go back, put the copy in the place of record.db while nothing uses it.

    Raises FaultyInputError when there is no record or something stands at the target already.
    """
    if not path.exists():
        says, way_out = "there is no record to back up", "record a practice first"
        raise FaultyInputError([Problem(str(path), 0, "", says, "", way_out)])
    if target.exists():
        says, way_out = "something stands here already and is not overwritten", "name a new file"
        raise FaultyInputError([Problem(str(target), 0, "", says, "", way_out)])
    temporary = target.with_name(f".{target.name}.{secrets.token_hex(4)}.tmp")
    try:
        with open_record(path) as db:
            private(temporary)
            copy = sqlite3.connect(temporary)
            try:
                db.backup(copy)
                copy.execute("PRAGMA journal_mode = DELETE")
            finally:
                copy.close()
        target.open("xb").close()
        temporary.replace(target)
    finally:
        temporary.unlink(missing_ok=True)


def _one(db: Db, where: str, value: str) -> Saved | None:
    row = db.execute(f"{_COLUMNS} {where}", (value,)).fetchone()
    return None if row is None else _saved(row)


def _saved(row: tuple[int | None, int, str, str]) -> Saved:
    version, over, saved, entry = row
    try:
        return Saved(
            version, over, dt.datetime.fromisoformat(saved), Entry.model_validate_json(entry)
        )
    except ValidationError as fault:
        raise sqlite3.DatabaseError(f"an entry that is none: {fault.errors()[0]['msg']}") from fault
