"""What the server keeps between two requests: the proposed plan, and calendars as last sent."""

import datetime as dt
from dataclasses import astuple, dataclass

from curriculum.server.state import State


@dataclass(frozen=True)
class Copy:
    """A calendar as it was last sent, and when its content last changed."""

    modified: dt.datetime
    body: bytes


@dataclass(frozen=True)
class Proposal:
    """A plan that was proposed.

    base: a hash over what it was computed from. revision: of the plan in force then, 0 for none.
    plan: the text of its file. risks: sentences about goals newly at risk, as a JSON list.
    """

    id: str
    base: str
    revision: int
    plan: str
    risks: str
    made: dt.datetime


def keep_proposal(state: State, proposal: Proposal) -> None:
    """Keep a proposal in the place of any other: there is one at a time."""
    fields = astuple(proposal)
    with state.open() as db:
        db.execute("BEGIN IMMEDIATE")
        db.execute("DELETE FROM proposal")
        db.execute(
            "INSERT INTO proposal VALUES (?, ?, ?, ?, ?, ?)",
            (*fields[:-1], proposal.made.isoformat()),
        )
        db.execute("COMMIT")


def proposal(state: State) -> Proposal | None:
    """Return the proposal that waits for a word, None when none does."""
    with state.open() as db:
        row = db.execute("SELECT id, base, revision, plan, risks, made FROM proposal").fetchone()
    if row is None:
        return None
    name, base, revision, plan, risks, made = row
    return Proposal(name, base, revision, plan, risks, dt.datetime.fromisoformat(made))


def drop_proposal(state: State) -> None:
    """Forget the proposal."""
    with state.open() as db:
        db.execute("DELETE FROM proposal")


def keep_copy(state: State, name: str, copy: Copy) -> None:
    """Keep a calendar as the last good one of its name."""
    with state.open() as db:
        db.execute(
            "INSERT OR REPLACE INTO copy VALUES (?, ?, ?)",
            (name, copy.modified.isoformat(), copy.body),
        )


def copy(state: State, name: str) -> Copy | None:
    """Return the last good calendar of a name."""
    with state.open() as db:
        row = db.execute("SELECT modified, body FROM copy WHERE name = ?", (name,)).fetchone()
    return None if row is None else Copy(dt.datetime.fromisoformat(row[0]), row[1])
