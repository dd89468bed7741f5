"""The calendar addresses that were given out, and those that were taken back."""

import datetime as dt
from dataclasses import dataclass

from curriculum.outputs.ical.entries import Audience
from curriculum.server.keys import digest, new_token
from curriculum.server.state import State


@dataclass(frozen=True)
class Feed:
    """A calendar address that was given out. ended: when it was taken back, None while it works."""

    id: int
    label: str
    audience: Audience
    made: dt.datetime
    ended: dt.datetime | None


def add_feed(state: State, label: str, audience: Audience, now: dt.datetime) -> str:
    """Give out a new address and return its token: the only time that it is known."""
    token = new_token()
    with state.open() as db:
        db.execute(
            "INSERT INTO feed (hash, label, audience, made) VALUES (?, ?, ?, ?)",
            (digest(token), label, audience, now.isoformat()),
        )
    return token


def feeds(state: State) -> tuple[Feed, ...]:
    """Return all addresses that were ever given out, working ones first."""
    with state.open() as db:
        rows = db.execute(
            "SELECT id, label, audience, made, ended FROM feed ORDER BY ended IS NOT NULL, id"
        ).fetchall()
    return tuple(_feed(row) for row in rows)


def feed(state: State, token: str) -> Feed | None:
    """Return the address with this token, also one that was taken back; None: never given."""
    with state.open() as db:
        row = db.execute(
            "SELECT id, label, audience, made, ended FROM feed WHERE hash = ?",
            (digest(token),),
        ).fetchone()
    return None if row is None else _feed(row)


def end_feed(state: State, feed: int, now: dt.datetime) -> Feed | None:
    """Take an address back, for good; return it, None when there is none that works."""
    with state.open() as db:
        row = db.execute(
            "UPDATE feed SET ended = ? WHERE id = ? AND ended IS NULL"
            " RETURNING id, label, audience, made, ended",
            (now.isoformat(), feed),
        ).fetchone()
    return None if row is None else _feed(row)


def _feed(row: tuple[int, str, Audience, str, str | None]) -> Feed:
    number, label, audience, made, ended = row
    return Feed(
        number,
        label,
        audience,
        dt.datetime.fromisoformat(made),
        dt.datetime.fromisoformat(ended) if ended else None,
    )
