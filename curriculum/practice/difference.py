"""What changes for people between two plans: practices, blocks and goals."""

import datetime as dt
from dataclasses import dataclass
from typing import Literal

from curriculum.models.plan import Block, Plan, PlannedPractice
from curriculum.models.skills import Library, Stage
from curriculum.practice.progress import placed
from curriculum.practice.words import skill_name
from curriculum.wording import clock, short_date

What = Literal["moved", "new", "gone"]
Key = tuple[str, bool, Stage, int]


@dataclass(frozen=True)
class BlockChange:
    """A block that stands elsewhere, is new, or is gone; dates in words, "" where it has none."""

    what: What
    block: str
    was: str
    now: str
    date: dt.date


@dataclass(frozen=True)
class PracticeChange:
    """A practice that moves, is new, or is gone; `was` and `now` in words."""

    what: What
    was: str
    now: str
    date: dt.date


@dataclass(frozen=True)
class Difference:
    """All changes, in date order: each stands under its old date, a new one under its own."""

    old_revision: int
    new_revision: int
    practices: tuple[PracticeChange, ...]
    blocks: tuple[BlockChange, ...]
    goals_won: tuple[str, ...]
    goals_lost: tuple[str, ...]


def difference(old: Plan, new: Plan, library: Library) -> Difference:
    """Return what a reader of the old plan has to know of the new one.

    A block that keeps its practice has not moved, even if the practice has; the order within a
    practice does not count.
    """
    was, now = _goals(old, library), _goals(new, library)
    return Difference(
        old_revision=old.revision,
        new_revision=new.revision,
        practices=_practices(old, new),
        blocks=_blocks(old, new, library),
        goals_won=tuple(goal for goal, met in now.items() if met and not was.get(goal, False)),
        goals_lost=tuple(goal for goal, met in was.items() if met and not now.get(goal, False)),
    )


def _goals(plan: Plan, library: Library) -> dict[str, bool]:
    return {f"{skill_name(library, goal.skill)}, {goal.stage}": goal.met for goal in plan.goals}


def _at(practice: PlannedPractice) -> str:
    return f"{short_date(practice.date)} {clock(practice.start)}, {practice.venue}"


def _practices(old: Plan, new: Plan) -> tuple[PracticeChange, ...]:
    before = {practice.id: practice for practice in old.practices}
    after = {practice.id: practice for practice in new.practices}
    changes = []
    for practice_id, practice in before.items():
        if practice_id not in after:
            changes.append(PracticeChange("gone", _at(practice), "", practice.date))
        elif _at(practice) != _at(after[practice_id]):
            moved = _at(after[practice_id])
            changes.append(PracticeChange("moved", _at(practice), moved, practice.date))
    for practice_id, practice in after.items():
        if practice_id not in before:
            changes.append(PracticeChange("new", "", _at(practice), practice.date))
    return tuple(sorted(changes, key=lambda change: (change.date, change.was, change.now)))


def _blocks(old: Plan, new: Plan, library: Library) -> tuple[BlockChange, ...]:
    before, after = _places(old), _places(new)
    changes = []
    for key in before.keys() | after.keys():
        left, right = before.get(key), after.get(key)
        if left and right and left.id == right.id:
            continue
        stands = left or right
        if stands is None:
            continue
        changes.append(
            BlockChange(
                what="moved" if left and right else "gone" if left else "new",
                block=_block_words(key, library),
                was=short_date(left.date) if left else "",
                now=short_date(right.date) if right else "",
                date=stands.date,
            )
        )
    return tuple(sorted(changes, key=lambda change: (change.date, change.block, change.now)))


def _places(plan: Plan) -> dict[Key, PlannedPractice]:
    return {_key(each.block): each.practice for each in placed(plan)}


def _key(block: Block) -> Key:
    return block.skill, block.kind == "review", block.stage, block.number


def _block_words(key: Key, library: Library) -> str:
    skill_id, review, stage, number = key
    name = f"{skill_name(library, skill_id)}, {stage}"
    return f"{name}, review {number}" if review else f"{name} {number}"
