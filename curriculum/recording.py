"""Record a practice: what was planned, what the coach says of it, and what follows."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from pydantic import ValidationError

from curriculum.files.nearest import suggest
from curriculum.files.players import PLAYERS_FILE, read_players
from curriculum.graph import Node
from curriculum.happened import held_so_far
from curriculum.models.plan import Kind, Plan, PlannedPractice
from curriculum.models.record import (
    BlockRecord,
    Conflict,
    Entry,
    Held,
    Promise,
    Record,
    Saved,
    Status,
    Went,
)
from curriculum.practice.progress import reached
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.records.database import RECORD_FILE, history, open_record, record_practice
from curriculum.records.schema import Db
from curriculum.starter import keep_private
from curriculum.wording import clock, listed, short_date
from curriculum.workspace import PLAN_FILE, Workspace, open_season

MOST_NAMED = 3
"""Nearby practices that a message names."""


@dataclass(frozen=True)
class Outcome:
    """What became of one block."""

    held: Held = "held"
    went: Went | None = None


@dataclass(frozen=True)
class Blank:
    """A practice as it is to be recorded, or corrected.

    blocks: as planned, with what stands in the record so far, else as held.
    standing: the version that stands, None when nothing is recorded yet.
    """

    practice: str
    date: dt.date
    start: dt.time
    venue: str
    minutes: int
    blocks: tuple[BlockRecord, ...]
    standing: Saved | None

    @property
    def version(self) -> int:
        """The version that whoever fills it in has seen, 0 for none."""
        return (self.standing.version or 0) if self.standing else 0


@dataclass(frozen=True)
class Said:
    """What a coach says of a practice; blocks that `outcomes` leaves out stay as in the blank."""

    status: Status
    reason: str | None = None
    minutes_held: int | None = None
    outcomes: Mapping[Node, Outcome] | None = None
    absent: tuple[str, ...] = ()
    note: str = ""
    by: str | None = None


def blank_of(
    space: Workspace,
    plan: Plan,
    day: dt.date | None,
    start: dt.time | None,
    today: dt.date,
) -> Blank:
    """Return the practice of a date to be recorded; without a date the last one until today.

    Raises FaultyInputError when there is none, or several and no start to tell them apart.
    """
    blanks = {each.id: _from_plan(each) for each in plan.practices}
    blanks |= {saved.entry.practice: _from_record(saved) for saved in space.record.practices}
    known = sorted(blanks.values(), key=lambda each: (each.date, each.start, each.practice))
    if day is None:
        day = max((each.date for each in known if each.date <= today), default=today)
    found = [each for each in known if each.date == day and start in (None, each.start)]
    if len(found) == 1:
        return found[0]
    file = str(space.folder / PLAN_FILE)
    if found:
        times = listed([clock(each.start) for each in found])
        says = f"more than one practice is held on {short_date(day)}"
        raise FaultyInputError([Problem(file, 0, "", says, times, "tell which one by its start")])
    near = sorted(known, key=lambda each: abs(each.date - day))[:MOST_NAMED]
    dates = sorted({each.date for each in near})
    named = ", ".join(f"{short_date(each)} ({each})" for each in dates)
    says = f"no practice is planned on {short_date(day)}" + (f" at {clock(start)}" if start else "")
    way_out = f"practices nearby: {named}" if near else ""
    raise FaultyInputError([Problem(file, 0, "", says, f"{day}", way_out)])


def _from_plan(planned: PlannedPractice) -> Blank:
    begin, end = (dt.datetime.combine(planned.date, at) for at in (planned.start, planned.end))
    minutes = int((end - begin).total_seconds()) // 60
    return Blank(
        practice=planned.id,
        date=planned.date,
        start=planned.start,
        venue=planned.venue,
        minutes=minutes if minutes > 0 else minutes + 24 * 60,
        blocks=tuple(
            BlockRecord(**block.model_dump(exclude={"drill", "pinned"})) for block in planned.blocks
        ),
        standing=None,
    )


def _from_record(saved: Saved) -> Blank:
    entry = saved.entry
    blocks = entry.blocks
    if entry.status == "lost":
        blocks = tuple(block.model_copy(update={"held": "held"}) for block in blocks)
    return Blank(entry.practice, entry.date, entry.start, entry.venue, entry.minutes, blocks, saved)


def entry_of(space: Workspace, blank: Blank, said: Said, client: str, today: dt.date) -> Entry:
    """Return the submission that says so; raises FaultyInputError with all that is wrong."""
    problems: list[Problem] = []
    if said.status != "lost" and blank.date > today:
        says = "this practice has not been held yet"
        way_out = "record it when it has been, or as lost"
        problems.append(Problem("", 0, "", says, f"{blank.date}", way_out))
    problems += _unknown_players(space.folder, said.absent)
    blocks = _blocks(space, blank, said, problems)
    if problems:
        raise FaultyInputError(problems)
    try:
        return Entry(
            client=client,
            practice=blank.practice,
            date=blank.date,
            start=blank.start,
            venue=blank.venue,
            minutes=blank.minutes,
            status=said.status,
            reason=said.reason,
            minutes_held=said.minutes_held,
            blocks=blocks,
            absent=said.absent,
            note=said.note,
            by=said.by,
        )
    except ValidationError as fault:
        raise FaultyInputError(
            Problem("", 0, ".".join(map(str, each["loc"])), each["msg"], "", "")
            for each in fault.errors()
        ) from fault


def _unknown_players(folder: Path, names: Sequence[str]) -> list[Problem]:
    """Return a problem for each name that is not in the coach's list of players."""
    if not names:
        return []
    known, problems = read_players(folder)
    if errors(problems):
        return list(problems)
    file = str(folder / PLAYERS_FILE)
    way_out = f'write the names there first: players = ["{names[0]}"]'
    return [
        Problem(file, 0, "", "no player of this name", name, suggest(name, known, way_out))
        for name in names
        if name not in known
    ]


def _blocks(
    space: Workspace, blank: Blank, said: Said, problems: list[Problem]
) -> tuple[BlockRecord, ...]:
    if said.status == "lost":
        if said.outcomes:
            says, way_out = "in a lost practice no block is held", "leave the blocks out"
            problems.append(Problem("", 0, "", says, "", way_out))
        return tuple(
            block.model_copy(update={"held": "not held", "went": None})
            for block in blank.blocks
            if block.planned
        )
    outcomes = dict(said.outcomes or {})
    blocks = []
    for block in blank.blocks:
        outcome = outcomes.pop(block.node, Outcome(block.held, block.went))
        changed = block.model_copy(update={"held": outcome.held, "went": outcome.went})
        if changed.planned or changed.held != "not held":
            blocks.append(changed)
    for node, outcome in outcomes.items():
        beside = _beside(space, blank, node, outcome, problems)
        blocks += [beside] if beside else []
    return tuple(blocks)


def _beside(
    space: Workspace, blank: Blank, node: Node, outcome: Outcome, problems: list[Problem]
) -> BlockRecord | None:
    """Return a block that was held beside the plan; None, with a problem, when there is none."""
    skill_id, stage = node
    skills = {skill.id: skill for skill in space.library.skills}
    if skill_id not in skills or stage not in skills[skill_id].stages:
        says = "the library has no such skill or stage"
        stages = [f"{each.id}@{rung}" for each in skills.values() for rung in each.stages]
        wanted = f"{skill_id}@{stage}"
        problems.append(Problem("", 0, "", says, wanted, suggest(wanted, stages, "")))
        return None
    if outcome.held == "not held":
        return None
    others = tuple(
        saved for saved in space.record.practices if saved.entry.practice != blank.practice
    )
    past = held_so_far(Record(others), space.plan, space.gym, blank.date)
    before = sum(each[0] == node for each in past.blocks)
    job = next((each for each in space.workload.jobs if each.node == node), None)
    asked = job.blocks if job else 1
    kind: Kind = "introduce" if job and job.introduces and not before else "build"
    if job and job.last and before >= asked:
        kind = "review"
    return BlockRecord(
        skill=skill_id,
        stage=stage,
        kind=kind,
        number=before + 1,
        of=max(asked, before + 1),
        minutes=skills[skill_id].work(stage).minutes,
        held=outcome.held,
        went=outcome.went,
        planned=False,
    )


def keep_entry(
    space: Workspace, entry: Entry, now: dt.datetime, seen: int
) -> tuple[Saved | Conflict, Workspace]:
    """Record a submission, and return what came of it with the folder as it is then.

    The plan stays as it is: the next `curriculum plan` proposes what follows.
    """
    with writable_record(space) as db:
        kept = record_practice(db, entry, now, seen, promises_of(space.plan))
    after = open_season(space.folder, now)
    if after.workspace is None:
        raise FaultyInputError(after.problems)
    return kept, after.workspace


@contextmanager
def writable_record(space: Workspace) -> Iterator[Db]:
    """Open the record of a season, and keep it out of version control."""
    keep_private(space.folder)
    with open_record(space.folder / RECORD_FILE) as db:
        yield db


def promises_of(plan: Plan | None) -> tuple[Promise, ...]:
    """Return by when each stage is planned to be taught; the record keeps the first of these."""
    return tuple(
        Promise(skill, stage, day)
        for (skill, stage), day in (reached(plan) if plan else {}).items()
    )


def submissions(space: Workspace, practice: str | None) -> tuple[Saved, ...]:
    """Return all that was ever recorded of a practice, or of all; no file is made for it."""
    path = space.folder / RECORD_FILE
    if not path.exists():
        return ()
    with open_record(path) as db:
        return history(db, practice)
