"""Coaches' keys, and the sessions that they open."""

import datetime as dt
from dataclasses import dataclass
from secrets import token_bytes

from curriculum.server.keys import digest, name_of, new_key, new_token, salted, same
from curriculum.server.state import State

SESSION = dt.timedelta(days=60)
"""How long a phone stays signed in after it was last used."""


@dataclass(frozen=True)
class Coach:
    """Who is signed in: the name that their key was made for, and which key it is."""

    name: str
    key: str


def add_key(state: State, coach: str, now: dt.datetime) -> str:
    """Make a key for a coach and return it: the only time that it is known."""
    key, salt = new_key(), token_bytes(16)
    with state.open() as db:
        db.execute(
            "INSERT INTO key VALUES (?, ?, ?, ?, ?)",
            (name_of(key), coach, salt, salted(key, salt), now.isoformat()),
        )
    return key


def keys(state: State) -> tuple[Coach, ...]:
    """Return whose keys open the server, in the order in which they were made."""
    with state.open() as db:
        rows = db.execute("SELECT coach, name FROM key ORDER BY made, name").fetchall()
    return tuple(Coach(*row) for row in rows)


def end_keys(state: State, coach: str) -> int:
    """Take back all keys of a coach, with their sessions; return how many there were."""
    with state.open() as db:
        return db.execute("DELETE FROM key WHERE coach = ?", (coach,)).rowcount


def sign_in(state: State, key: str, now: dt.datetime) -> str | None:
    """Return a new session's token for a key; None when no such key opens anything."""
    with state.open() as db:
        row = db.execute("SELECT salt, hash FROM key WHERE name = ?", (name_of(key),)).fetchone()
        salt, kept = row or (b"no such key", b"")
        if not same(salted(key, salt), kept):
            return None
        token = new_token()
        db.execute("DELETE FROM session WHERE until < ?", (now.isoformat(),))
        db.execute(
            "INSERT INTO session VALUES (?, ?, ?)",
            (digest(token), name_of(key), (now + SESSION).isoformat()),
        )
    return token


def coach(state: State, token: str, now: dt.datetime) -> Coach | None:
    """Return who a session belongs to, None when there is none or it is over."""
    with state.open() as db:
        row = db.execute(
            "SELECT coach, name, until FROM session JOIN key ON session.key = key.name"
            " WHERE session.hash = ? AND until >= ?",
            (digest(token), now.isoformat()),
        ).fetchone()
        if row is None:
            return None
        # Written at most daily, so that reading a page seldom writes.
        if dt.datetime.fromisoformat(row[2]) - now < SESSION - dt.timedelta(days=1):
            db.execute(
                "UPDATE session SET until = ? WHERE hash = ?",
                ((now + SESSION).isoformat(), digest(token)),
            )
    return Coach(row[0], row[1])


def sign_out(state: State, token: str) -> None:
    """End a session."""
    with state.open() as db:
        db.execute("DELETE FROM session WHERE hash = ?", (digest(token),))
