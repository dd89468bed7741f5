"""An entry in the record as a form sends it, and what becomes of it."""

import datetime as dt
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from curriculum.graph import Node, split_need
from curriculum.models.plan import Plan
from curriculum.models.record import Conflict, Entry, Held, Saved, Status, Went
from curriculum.problems import FaultyInputError, Problem
from curriculum.recording import (
    Blank,
    Outcome,
    Said,
    blank_of,
    entry_of,
    promises_of,
    writable_record,
)
from curriculum.records.database import history, record_practice
from curriculum.server.visits import RefusedError, Visit
from curriculum.workspace import Workspace

CLIENT = re.compile(r"[A-Za-z0-9_-]{8,64}")
LONGEST_NAME = 120


@dataclass(frozen=True)
class Kept:
    """What became of an entry. again: it had come before."""

    outcome: Saved | Conflict
    again: bool


def blank(space: Workspace, plan: Plan, practice: str, today: dt.date) -> Blank:
    """Return a practice as it is to be recorded; RefusedError when there is none of this id."""
    planned = next((each for each in plan.practices if each.id == practice), None)
    standing = space.record.of(practice)
    if standing is not None:
        day, start = standing.entry.date, standing.entry.start
    elif planned is not None:
        day, start = planned.date, planned.start
    else:
        raise RefusedError(404, "There is no such practice.")
    return blank_of(space, plan, day, start, today)


def keep(visit: Visit, space: Workspace, plan: Plan, practice: str) -> Kept:
    """Record what the form says; an entry that came before is not recorded twice.

    Raises FaultyInputError with all that is wrong with it.
    """
    client = visit.said("client")
    if not CLIENT.fullmatch(client):
        raise RefusedError(400, "This form is damaged: it has no number of its own.")
    with writable_record(space) as db:
        before = next((one for one in history(db, practice) if one.entry.client == client), None)
        if before is not None:
            entry, seen = before.entry, before.over
        else:
            entry = _entry(visit, space, plan, practice, client)
            seen = _number(visit.said("version"), "version")
        try:
            outcome = record_practice(db, entry, visit.site.now(), seen, promises_of(plan))
        except ValueError as fault:
            raise RefusedError(409, "This form was sent before, for something else.") from fault
    return Kept(outcome, before is not None)


def _entry(visit: Visit, space: Workspace, plan: Plan, practice: str, client: str) -> Entry:
    today = visit.site.today(space)
    asked = blank(space, plan, practice, today)
    status: Status = next(
        (each for each in get_args(Status) if each == visit.said("status")), "held"
    )
    outcomes = dict(_outcomes(visit))
    # A plan may have changed since the page was opened; what it asks now was not held then.
    missing = {block.node: Outcome("not held") for block in asked.blocks} if outcomes else {}
    said = Said(
        status=status,
        reason=visit.said("reason") or None if status == "lost" else None,
        minutes_held=_minutes(visit) if status == "shortened" else None,
        outcomes=None if status == "lost" else {**missing, **outcomes},
        absent=() if status == "lost" else visit.every("absent"),
        note=visit.said("note"),
        by=visit.coach.name if visit.coach else None,
    )
    _complete(said)
    return entry_of(space, asked, said, client, today)


def _complete(said: Said) -> None:
    """Tell in the form's words what is missing."""
    if said.status == "lost" and not said.reason:
        raise FaultyInputError([Problem("", 0, "", "say why the practice was lost")])


def _minutes(visit: Visit) -> int:
    typed = visit.said("minutes_held")
    if not typed:
        raise FaultyInputError([Problem("", 0, "", "say how many minutes were held")])
    return _number(typed, "minutes that were held")


def _number(typed: str, what: str) -> int:
    if not (typed.isascii() and typed.isdecimal() and len(typed) <= 6):
        says = f"the {what} must be a whole number"
        raise FaultyInputError([Problem("", 0, "", says, typed[:20])])
    return int(typed)


def _outcomes(visit: Visit) -> Iterator[tuple[Node, Outcome]]:
    """Yield what the form says of each block; a faulty value says what most blocks are."""
    for name, text in visit.form:
        field, _, wanted = name.partition(":")
        if field == "held" and len(wanted) <= LONGEST_NAME:
            held: Held = next((each for each in get_args(Held) if each == text), "held")
            went = _went(visit.said(f"went:{wanted}")) if held != "not held" else None
            yield _node(wanted), Outcome(held, went)
    also = visit.said("also")
    if also:
        yield _node(also), Outcome("held", _went(visit.said("also_went")))


def _went(text: str) -> Went | None:
    return next((each for each in get_args(Went) if each == text), None)


def _node(text: str) -> Node:
    skill, stage = split_need(text)
    if stage is None:
        raise RefusedError(400, "This form is damaged: it names a block that is none.")
    return skill, stage
