"""What the server keeps for a season: keys, sessions, calendar addresses, proposals, last copies.

One SQLite file beside the season file, `server.db`. Of every secret it holds a hash only.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from curriculum.problems import FaultyInputError, Problem
from curriculum.starter import keep_private

STATE_FILE = "server.db"
APPLICATION = 0x43525356
VERSION = 1
WAIT = 30

TABLES = """
CREATE TABLE key (name TEXT PRIMARY KEY, coach TEXT NOT NULL, salt BLOB NOT NULL,
    hash BLOB NOT NULL, made TEXT NOT NULL);
CREATE TABLE session (hash TEXT PRIMARY KEY,
    key TEXT NOT NULL REFERENCES key (name) ON DELETE CASCADE, until TEXT NOT NULL);
CREATE TABLE feed (id INTEGER PRIMARY KEY, hash TEXT NOT NULL UNIQUE, label TEXT NOT NULL,
    audience TEXT NOT NULL, made TEXT NOT NULL, ended TEXT);
CREATE TABLE proposal (id TEXT PRIMARY KEY, base TEXT NOT NULL, revision INTEGER NOT NULL,
    plan TEXT NOT NULL, risks TEXT NOT NULL, made TEXT NOT NULL);
CREATE TABLE copy (name TEXT PRIMARY KEY, modified TEXT NOT NULL, body BLOB NOT NULL);
"""


class State:
    """The server's file; it is opened anew for every use, so that any thread may use it."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / STATE_FILE
        keep_private(folder)
        if not self.path.exists():
            self.path.touch(0o600)
        with self.open() as db:
            self._prepare(db)

    @contextmanager
    def open(self) -> Iterator[sqlite3.Connection]:
        """Open the file; every statement is a transaction of its own unless one is begun."""
        db = sqlite3.connect(self.path, timeout=WAIT, isolation_level=None)
        try:
            db.execute("PRAGMA foreign_keys = ON")
            yield db
        finally:
            db.close()

    def _prepare(self, db: sqlite3.Connection) -> None:
        try:
            db.execute("PRAGMA journal_mode = WAL")
            db.execute("BEGIN IMMEDIATE")
            (version,) = db.execute("PRAGMA user_version").fetchone()
            (application,) = db.execute("PRAGMA application_id").fetchone()
            if version == 0 and application == 0:
                for statement in TABLES.split(";"):
                    db.execute(statement)
                db.execute(f"PRAGMA application_id = {APPLICATION}")
                db.execute(f"PRAGMA user_version = {VERSION}")
            db.execute("COMMIT")
        except sqlite3.DatabaseError as fault:
            raise FaultyInputError([_unusable(self.path, str(fault))]) from fault
        if version > VERSION or application not in (0, APPLICATION):
            raise FaultyInputError([_unusable(self.path, f"version {version}")])


def _unusable(path: Path, found: str) -> Problem:
    says = "the server's file cannot be used"
    way_out = "move it away; then keys and calendar addresses are given out anew"
    return Problem(str(path), 0, "", says, found, way_out)
