"""How far each skill is, planned against real, and where the teaching minutes went."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.happened import held_so_far, more_blocks
from curriculum.insight.real import Real, real_blocks
from curriculum.models.plan import Block, Plan
from curriculum.models.record import Record, Went
from curriculum.models.skills import STAGES, Library, Stage
from curriculum.wording import counted
from curriculum.workload import Job, Workload

State = Literal["learnt", "taught", "begun", "to come"]
"""Learnt is said only when the record calls the last block solid."""


@dataclass(frozen=True)
class StageProgress:
    """One stage of a skill that the season asks for.

    planned: blocks that should have been held by now; held: those that count.
    asked: blocks that it takes now; more: how many of them a shaky one added.
    went: how the last block went, None when nobody said.
    promised: date by which it was first planned to be taught; now: the date on which it was
    taught, or is planned to be. None where there is none, or only one that has passed.
    late: days from the promise to that date, negative when earlier.
    """

    skill: str
    name: str
    strand: str
    stage: Stage
    state: State
    planned: int
    held: int
    asked: int
    more: int
    went: Went | None
    promised: dt.date | None
    now: dt.date | None
    late: int | None


@dataclass(frozen=True)
class StrandMinutes:
    """Teaching minutes of a strand: planned so far, really taught, and still to come."""

    strand: str
    planned: int
    taught: int
    to_come: int


@dataclass(frozen=True)
class Recorded:
    """How much of the past is recorded. lost_minutes: of lost and shortened practices."""

    past: int
    recorded: int
    lost: int
    shortened: int
    lost_minutes: int

    @property
    def says(self) -> str:
        """It in one or two sentences."""
        what = [
            words
            for number, words in (
                (self.lost, f"{self.lost} lost"),
                (self.shortened, f"{self.shortened} shortened"),
                (self.lost_minutes, f"{counted(self.lost_minutes, 'minute')} gone"),
            )
            if number
        ]
        rest = self.past - self.recorded
        line = f"{self.recorded} of {counted(self.past, 'past practice')} recorded"
        line += f": {', '.join(what)}." if what else "."
        counts = "counts" if rest == 1 else "count"
        return line + (f" {rest} {counts} as held as planned." if rest else "")


@dataclass(frozen=True)
class Progress:
    """A season so far. Strands and skills stand in the library's order."""

    before: dt.date
    recorded: Recorded
    stages: tuple[StageProgress, ...]
    strands: tuple[StrandMinutes, ...]


def progress(
    record: Record, plan: Plan, library: Library, gym: Gym, workload: Workload, before: dt.date
) -> Progress:
    """Return how far a season is before a date."""
    real = real_blocks(record, plan, before)
    held = held_so_far(record, plan, gym, before)
    dates = {practice.id: practice.date for practice in gym.practices}
    done: dict[Node, list[dt.date]] = {}
    for node, _, practice in held.blocks:
        if practice in dates:
            done.setdefault(node, []).append(dates[practice])
    strands = list(dict.fromkeys(skill.strand for skill in library.skills))
    skills = [skill.id for skill in library.skills]

    def place(job: Job) -> tuple[int, int, int]:
        return strands.index(job.strand), skills.index(job.skill), STAGES.index(job.stage)

    return Progress(
        before=before,
        recorded=_recorded(record, plan, before),
        stages=tuple(
            _stage(job, record, plan, library, real, sorted(done.get(job.node, [])), before)
            for job in sorted(workload.jobs, key=place)
        ),
        strands=_strands(real, plan, library, before),
    )


def _stage(
    job: Job,
    record: Record,
    plan: Plan,
    library: Library,
    real: Sequence[Real],
    done: Sequence[dt.date],
    before: dt.date,
) -> StageProgress:
    own = [each.block for each in real if each.block.node == job.node]
    lessons = [block for block in own if block.kind != "review"]
    more = more_blocks(record)[job.node]
    planned = {block.number for block in lessons if block.planned}
    heard = [block.went for block in own if block.held != "not held"]
    taught = len(done) >= job.blocks
    promised = next(
        (p.date for p in record.promises if (p.skill, p.stage) == job.node),
        _planned(plan, job, None),
    )
    now = done[job.blocks - 1] if taught else _planned(plan, job, job.blocks)
    if now and not taught and now < before:
        now = None
    state: State = "begun" if done else "to come"
    if taught:
        state = "learnt" if heard and heard[-1] == "solid" else "taught"
    return StageProgress(
        skill=job.skill,
        name=library.skill(job.skill).name,
        strand=job.strand,
        stage=job.stage,
        state=state,
        planned=min(len(planned), job.blocks - min(more, job.blocks - 1)),
        held=min(len(done), job.blocks),
        asked=job.blocks,
        more=more,
        went=heard[-1] if heard else None,
        promised=promised,
        now=now,
        late=(now - promised).days if now and promised else None,
    )


def _planned(plan: Plan, job: Job, blocks: int | None) -> dt.date | None:
    """Return the date of a stage's last block in the plan, None when it has none there.

    blocks: how many the plan must know of; None: as many as it does.
    """

    def last(block: Block) -> bool:
        lesson = block.kind != "review" and (block.skill, block.stage) == job.node
        return lesson and block.number == block.of and blocks in (None, block.of)

    return next((each.date for each in plan.practices if any(map(last, each.blocks))), None)


def _strands(
    real: Sequence[Real], plan: Plan, library: Library, before: dt.date
) -> tuple[StrandMinutes, ...]:
    strand_of = {skill.id: skill.strand for skill in library.skills}
    planned: dict[str, int] = {}
    taught: dict[str, int] = {}
    to_come: dict[str, int] = {}
    for each in real:
        strand, block = strand_of.get(each.block.skill, ""), each.block
        planned[strand] = planned.get(strand, 0) + block.minutes * block.planned
        share = {"held": block.minutes, "partly": block.minutes // 2, "not held": 0}[block.held]
        taught[strand] = taught.get(strand, 0) + share
    for practice in plan.practices:
        for ahead in practice.blocks if practice.date >= before else ():
            strand = strand_of.get(ahead.skill, "")
            to_come[strand] = to_come.get(strand, 0) + ahead.minutes
    strands = [*dict.fromkeys(strand_of.values()), ""]
    return tuple(
        StrandMinutes(each, planned.get(each, 0), taught.get(each, 0), to_come.get(each, 0))
        for each in strands
        if each in planned or each in to_come
    )


def _recorded(record: Record, plan: Plan, before: dt.date) -> Recorded:
    entries = [entry for entry in record.entries if entry.date < before]
    unrecorded = [
        each for each in plan.practices if each.date < before and record.of(each.id) is None
    ]
    return Recorded(
        past=len(entries) + len(unrecorded),
        recorded=len(entries),
        lost=sum(entry.status == "lost" for entry in entries),
        shortened=sum(entry.status == "shortened" for entry in entries),
        lost_minutes=sum(entry.minutes - entry.really for entry in entries),
    )
