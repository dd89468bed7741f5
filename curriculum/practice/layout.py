"""Cuts one practice into its parts, minute by minute; says nothing about what is in them."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.gym.practices import Practice
from curriculum.models.plan import PlannedPractice
from curriculum.models.skills import Library
from curriculum.practice.words import skill_name
from curriculum.problems import FaultyInputError, Problem

PartKind = Literal["warm-up", "recall", "block", "water", "scrimmage", "cool-down"]

SHORTEST_SPLIT = 6
"""Minutes of warm-up below which nothing is recalled in it; common practice."""

MOVING = 10
"""Minutes of moving, landing and balancing at most; a published programme takes ten."""

RECALL = 4
"""Minutes that a recall takes at least where the warm-up has nine or more; common practice."""

NEAR = 2
"""Minutes by which water may come later or earlier than its share, to follow a hard block."""

SHORTEST_SCRIMMAGE = 4
"""Minutes below which a water break does not cut the scrimmage; common practice."""


@dataclass(frozen=True)
class Part:
    """One stretch of a practice.

    minutes: its whole length, the changeover of a block included.
    changeover: minutes at the end of a block in which players change over.
    block: index into the blocks of the planned practice, None for the fixed parts.
    """

    start: dt.time
    minutes: int
    kind: PartKind
    title: str
    block: int | None = None
    changeover: int = 0


def layout(
    practice: Practice, planned: PlannedPractice, library: Library, *, recall: bool = False
) -> tuple[Part, ...]:
    """Return the parts of a practice in order; their minutes sum to the practice exactly.

    recall: whether the end of the warm-up recalls a skill.
    Blocks stand as the plan has them, for its order is the one in which they are held. Minutes that
    no block uses go to the scrimmage. Water stands between blocks, never first, never twice
    running, and after the warm-up only when nothing else is left; a practice with fewer gaps than
    breaks drinks within the scrimmage, and where that is too short, its minutes are played.
    Raises FaultyInputError when the blocks do not fit into the practice.
    """
    blocks = tuple(
        _part("block", block.minutes + practice.changeover, skill_name(library, block.skill))
        for block in planned.blocks
    )
    blocks = tuple(
        replace(part, block=index, changeover=practice.changeover)
        for index, part in enumerate(blocks)
    )
    left = _left_for_scrimmage(practice, blocks)
    breaks = practice.breaks if practice.break_minutes else 0
    gaps = len(blocks) if left or practice.cool_down else max(0, len(blocks) - 1)
    between = min(breaks, gaps)
    within = min(breaks - between, max(0, left // SHORTEST_SCRIMMAGE - 1))
    left += (breaks - between - within) * practice.break_minutes
    hard = _hard(planned, library)
    after = _spread(practice.warm_up, [part.minutes for part in blocks], left, between, gaps, hard)
    parts = list(_warm_up(practice.warm_up, recall=recall))
    for index, part in enumerate(blocks, start=1):
        parts.append(part)
        if index in after:
            parts.append(_part("water", practice.break_minutes, "Water"))
    for index, minutes in enumerate(_shared(left, within + 1)):
        if index:
            parts.append(_part("water", practice.break_minutes, "Water"))
        parts.append(_part("scrimmage", minutes, "Scrimmage"))
    parts.append(_part("cool-down", practice.cool_down, "Cool-down"))
    return _timed(practice.start, [part for part in parts if part.minutes])


def _part(kind: PartKind, minutes: int, title: str) -> Part:
    return Part(start=dt.time(), minutes=minutes, kind=kind, title=title)


def _hard(planned: PlannedPractice, library: Library) -> list[bool]:
    """Return which blocks are physically hard; of a stage no longer in the library, live ones."""
    skills = {skill.id: skill for skill in library.skills}
    return [
        skills[block.skill].is_hard(block.stage)
        if block.skill in skills and block.stage in skills[block.skill].stages
        else block.stage == "live"
        for block in planned.blocks
    ]


def _warm_up(minutes: int, *, recall: bool) -> tuple[Part, ...]:
    if not recall or minutes < SHORTEST_SPLIT:
        return (_part("warm-up", minutes, "Warm-up"),)
    last = max(RECALL, minutes - MOVING) if minutes > RECALL * 2 else minutes // 2
    moving = _part("warm-up", minutes - last, "Warm-up: move, land, balance")
    return moving, _part("recall", last, "Recall")


def _left_for_scrimmage(practice: Practice, blocks: Sequence[Part]) -> int:
    fixed = practice.warm_up + practice.cool_down + practice.breaks * practice.break_minutes
    wanted = sum(part.minutes for part in blocks)
    left = practice.minutes - fixed - wanted
    if left < 0:
        raise FaultyInputError(
            [
                Problem(
                    file="",
                    line=0,
                    key=practice.id,
                    says=f"its blocks need {wanted} minutes, the gym time leaves {wanted + left}",
                    way_out="plan again, or lengthen the gym time",
                )
            ]
        )
    return left


def _spread(
    warm_up: int,
    lengths: Sequence[int],
    scrimmage: int,
    breaks: int,
    gaps: int,
    hard: Sequence[bool],
) -> frozenset[int]:
    """Return after which blocks (1 = the first) to drink, at about equal times.

    Each break takes the gap nearest to its share of the minutes up to the end of the scrimmage, and
    leaves a gap for each break still to come. Of gaps that are about as near, one after a hard
    block goes first, then the nearest, then the earlier one.
    """
    whole = warm_up + sum(lengths) + scrimmage
    passed = [warm_up + sum(lengths[:gap]) for gap in range(gaps + 1)]
    chosen: list[int] = []
    for turn in range(1, breaks + 1):
        first = chosen[-1] + 1 if chosen else 1
        free = range(first, gaps - (breaks - turn) + 1)
        target = whole * turn / (breaks + 1)
        off = {gap: abs(passed[gap] - target) for gap in free}
        close = [gap for gap in free if off[gap] <= min(off.values()) + NEAR]
        chosen.append(min(close, key=lambda gap: (not hard[gap - 1], off[gap], gap)))
    return frozenset(chosen)


def _shared(minutes: int, pieces: int) -> tuple[int, ...]:
    """Split minutes into equal pieces; the first ones are a minute longer where it must be."""
    each, over = divmod(minutes, pieces)
    return tuple(each + (index < over) for index in range(pieces))


def _timed(start: dt.time, parts: Sequence[Part]) -> tuple[Part, ...]:
    moment = dt.datetime.combine(dt.date.min, start)
    timed = []
    for part in parts:
        timed.append(replace(part, start=moment.time()))
        moment += dt.timedelta(minutes=part.minutes)
    return tuple(timed)
