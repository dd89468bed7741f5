"""The tables of `record.db`, and how files of older versions are brought up to date."""

import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from curriculum.problems import FaultyInputError, Problem

Db = sqlite3.Connection

APPLICATION = 0x43524543
"""What marks a database as a record of this program, in SQLite's application_id."""

BUSY_SECONDS = 30
"""How long a writer waits for its turn."""

MIGRATIONS: tuple[tuple[str, ...], ...] = (
    (
        """CREATE TABLE submission (
            number INTEGER PRIMARY KEY,
            client TEXT NOT NULL UNIQUE,
            practice TEXT NOT NULL,
            version INTEGER CHECK (version >= 1),
            over INTEGER NOT NULL CHECK (over >= 0),
            saved TEXT NOT NULL,
            entry TEXT NOT NULL,
            UNIQUE (practice, version)
        )""",
        """CREATE TRIGGER submission_stays BEFORE DELETE ON submission
            BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END""",
        """CREATE TRIGGER submission_stands BEFORE UPDATE ON submission
            BEGIN SELECT RAISE(ABORT, 'the record is only added to'); END""",
    ),
    (
        """CREATE TABLE promise (
            skill TEXT NOT NULL,
            stage TEXT NOT NULL,
            date TEXT NOT NULL,
            PRIMARY KEY (skill, stage)
        )""",
    ),
)
"""What makes each version from the one before; a file's version is SQLite's user_version."""

VERSION = len(MIGRATIONS)

_TRIES, _PAUSE = 100, 0.05


def connect(path: Path) -> Db:
    """Open a record, make it if there is none, and bring it up to date.

    Raises FaultyInputError when the file is none of this program, or of a newer version of it.
    """
    private(path)
    db = sqlite3.connect(path, timeout=BUSY_SECONDS, isolation_level=None)
    try:
        _prepare(db, path)
    except sqlite3.DatabaseError as fault:
        db.close()
        raise FaultyInputError([unusable(path, str(fault))]) from fault
    except FaultyInputError:
        db.close()
        raise
    return db


def private(path: Path) -> None:
    """Make a file, if there is none, that only its owner can read: children's data go into it."""
    try:
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))
    except OSError as fault:
        reason = (fault.strerror or "unknown reason").lower()
        way_out = "see who may write there"
        problem = Problem(str(path), 0, "", f"cannot be written: {reason}", "", way_out)
        raise FaultyInputError([problem]) from fault


def unusable(path: Path, found: str) -> Problem:
    """Return the problem of a file that SQLite refuses."""
    way_out = "bring back a backup, or move the file away and begin a new record"
    return Problem(str(path), 0, "", "this record cannot be used", found, way_out)


def _prepare(db: Db, path: Path) -> None:
    version = _checked(db, path)
    db.execute("PRAGMA synchronous = FULL")
    if version == VERSION:
        return
    _log_ahead(db)
    with transaction(db):
        for step in MIGRATIONS[_checked(db, path) :]:
            for statement in step:
                db.execute(statement)
        db.execute(f"PRAGMA application_id = {APPLICATION}")
        db.execute(f"PRAGMA user_version = {VERSION}")


def _checked(db: Db, path: Path) -> int:
    """Return the version of a file, 0 for an empty one."""
    # One statement, one moment: another process may be making the file.
    version, application, tables = db.execute(
        "SELECT (SELECT user_version FROM pragma_user_version),"
        " (SELECT application_id FROM pragma_application_id),"
        " (SELECT count(*) FROM sqlite_master)"
    ).fetchone()
    if application != APPLICATION and (tables or version):
        raise FaultyInputError([unusable(path, "a database of another program")])
    if version > VERSION:
        says = "this record was written by a newer version of the program"
        way_out = "bring this program up to date"
        raise FaultyInputError([Problem(str(path), 0, "", says, f"version {version}", way_out)])
    return int(version)


def _log_ahead(db: Db) -> None:
    """Let readers go on while one writes; two processes that make a file at once take turns.

    SQLite does not wait by itself here.
    """
    for attempt in range(_TRIES):
        try:
            db.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError:
            if attempt == _TRIES - 1:
                raise
            time.sleep(_PAUSE)
        else:
            return


@contextmanager
def transaction(db: Db) -> Iterator[None]:
    """Take the one writer's turn: begun at once, ended whole, taken back when something fails."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
    except BaseException:
        # A full disk has ended the turn already.
        if db.in_transaction:
            db.execute("ROLLBACK")
        raise
    db.execute("COMMIT")
