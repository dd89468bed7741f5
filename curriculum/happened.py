"""What the record makes of a season: more blocks, lost practices, and the past as it really was."""

import datetime as dt
from collections import Counter

from curriculum.graph import Node
from curriculum.gym.practices import Former, Gym
from curriculum.models.gymtimes import LostPractice
from curriculum.models.plan import Plan
from curriculum.models.record import Record
from curriculum.models.season import Adjust, Season
from curriculum.models.skills import Library
from curriculum.schedule.instance import Held, held_of
from curriculum.spans import DAY
from curriculum.workload import adjusted

MOST_BLOCKS = 20
"""Blocks of a stage, at most, as a season file may ask for them; the record asks for no more."""


def within(record: Record, season: Season) -> Record:
    """Return the part of a record that is about this season's dates."""
    first, last = season.season.start, season.season.end
    return Record(
        tuple(saved for saved in record.practices if first <= saved.entry.date <= last),
        record.promises,
    )


def more_blocks(record: Record) -> Counter[Node]:
    """Return how many blocks more each stage takes, because one was shaky."""
    return Counter(
        block.node for entry in record.entries for block in entry.blocks if block.asks_for_more
    )


def season_after(season: Season, library: Library, record: Record) -> Season:
    """Return a season as the record leaves it; without a record it is the season itself.

    Stages with shaky blocks take more, lost practices are not held. What is asked of a plan follows
    from this season alone, so that whoever makes, judges or shows one sees the same numbers.
    """
    skills = {skill.id: skill for skill in library.skills}
    adjusts = []
    for (skill, stage), more in sorted(more_blocks(record).items()):
        if skill in skills and stage in skills[skill].stages:
            blocks, _ = adjusted((skill, stage), skills[skill].work(stage), season.adjust)
            most = max(blocks, MOST_BLOCKS)
            adjusts.append(Adjust(skill=skill, stage=stage, blocks=min(most, blocks + more)))
    lost = [
        LostPractice(practice=entry.practice, date=entry.date)
        for entry in record.entries
        if entry.status == "lost"
    ]
    if not (adjusts or lost):
        return season
    changes = {
        "adjust": (*season.adjust, *adjusts),
        "no_practice": (*season.no_practice, *lost),
    }
    return season.model_copy(update=changes)


def recorded_ids(record: Record) -> tuple[Former, ...]:
    """Return the practices of a record as they stood; their ids live on."""
    return tuple(
        Former(entry.practice, entry.date, entry.start, entry.venue) for entry in record.entries
    )


def open_from(record: Record, today: dt.date | None) -> dt.date | None:
    """Return the first date that is still open: today, or the day after the last recorded one.

    Today's practice is past once it is recorded; one that is recorded as lost beforehand makes
    nothing past. None when nothing is.
    """
    held = [entry.date + DAY for entry in record.entries if entry.status != "lost"]
    return max([*held, *([today] if today else [])], default=None)


def held_so_far(record: Record, plan: Plan | None, gym: Gym, before: dt.date) -> Held:
    """Return what counts as held in the practices before a date.

    The record where it speaks: there only what is done counts. Elsewhere what the plan says, and
    without a plan nothing.
    """
    planned = held_of(plan, before) if plan else Held()
    spoken = {entry.practice for entry in record.entries}
    blocks = [each for each in planned.blocks if each[2] not in spoken]
    reviews = [each for each in planned.reviews if each[1] not in spoken]
    held = {practice.id for practice in gym.practices if practice.date < before}
    for entry in record.entries:
        done = [block for block in entry.blocks if block.counts and entry.practice in held]
        for block in done:
            if block.kind == "review":
                reviews.append((block.skill, entry.practice))
            else:
                blocks.append((block.node, block.number, entry.practice))
    return Held(tuple(blocks), tuple(reviews))
