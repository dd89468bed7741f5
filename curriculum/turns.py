"""Turns at a file: whoever compares it with what they know, and then writes it, is alone."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from curriculum.problems import FaultyInputError, Problem

TURN_SECONDS = 30
"""How long a writer waits for another one to end."""


@contextmanager
def turn(path: Path, otherwise: str) -> Iterator[None]:
    """Keep every other thread and process from a file; whoever is killed has ended.

    The lock is SQLite's, on an empty file beside it: it is the same on every system.
    otherwise: what follows when somebody else does not end, for the FaultyInputError then raised.
    """
    lock = path.with_name(f".{path.name}.lock")
    try:
        db = sqlite3.connect(lock, timeout=TURN_SECONDS, isolation_level=None)
    except sqlite3.OperationalError as fault:
        raise FaultyInputError([_no_turn(path, otherwise, fault)]) from fault
    with closing(db):
        try:
            db.execute("BEGIN EXCLUSIVE")
        except sqlite3.DatabaseError as fault:
            raise FaultyInputError([_no_turn(path, otherwise, fault)]) from fault
        yield


def _no_turn(path: Path, otherwise: str, fault: sqlite3.Error) -> Problem:
    way_out = "see who may write there and whether another command still runs, then try again"
    return Problem(str(path), 0, "", otherwise, str(fault), way_out)
