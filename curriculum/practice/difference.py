"""What changes for people between two plans, in words: practices, blocks and goals."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Literal

from curriculum.graph import Node
from curriculum.models.plan import GoalResult, Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.practice.words import stage_name
from curriculum.replan import Difference, Name, Place
from curriculum.replan import difference as compared
from curriculum.risk import Risk
from curriculum.wording import clock, short_date

What = Literal["moved", "new", "gone"]


@dataclass(frozen=True)
class BlockChange:
    """A block that stands elsewhere, is new, or is gone; dates in words, "" where it has none.

    soonest: the earlier one of its dates.
    """

    what: What
    block: str
    was: str
    now: str
    date: dt.date
    soonest: dt.date
    review: bool = False


@dataclass(frozen=True)
class PracticeChange:
    """A practice that moves, is new, or is gone; `was` and `now` in words.

    soonest: the earlier one of its dates.
    """

    what: What
    was: str
    now: str
    date: dt.date
    soonest: dt.date


@dataclass(frozen=True)
class WordedDifference:
    """All changes, in date order: each stands under its old date, a new one under its own.

    newly_at_risk: a sentence for each goal that has come to be at risk; safe_again: the goals that
    no longer are. A goal lost says why, where the new plan does.
    """

    old_revision: int
    new_revision: int
    practices: tuple[PracticeChange, ...]
    blocks: tuple[BlockChange, ...]
    goals_won: tuple[str, ...]
    goals_lost: tuple[str, ...]
    newly_at_risk: tuple[str, ...] = ()
    safe_again: tuple[str, ...] = ()

    @property
    def changes(self) -> bool:
        """Whether there is anything to tell."""
        return any(
            (
                self.practices,
                self.blocks,
                self.goals_won,
                self.goals_lost,
                self.newly_at_risk,
                self.safe_again,
            )
        )


def difference(old: Plan, new: Plan, season: Season, library: Library) -> WordedDifference:
    """Return what a reader of the old plan has to know of the new one."""
    return in_words(compared(old, new), old, new, season, library)


def in_words(
    found: Difference,
    old: Plan,
    new: Plan,
    season: Season,
    library: Library,
    risks: Iterable[Risk] = (),
) -> WordedDifference:
    """Put what differs into words; `risks` are the goals at risk in the new plan."""
    gyms = {venue.id: venue.name for venue in season.venue}
    stages = {(goal.skill, goal.stage) for goal in (*old.goals, *new.goals)}
    words = {node: stage_name(library, node) for node in stages}
    why = dict(_reasons(new))
    return WordedDifference(
        old_revision=old.revision,
        new_revision=new.revision,
        practices=_practices(found, gyms),
        blocks=_blocks(found, library),
        goals_won=tuple(words[goal.skill, goal.stage] for goal in found.goals_won),
        goals_lost=tuple(why.get(goal, words[goal.skill, goal.stage]) for goal in found.goals_lost),
        newly_at_risk=tuple(
            risk.says for risk in risks if (risk.skill, risk.stage) in found.newly_at_risk
        ),
        safe_again=tuple(words[node] for node in found.safe_again),
    )


def _reasons(plan: Plan) -> Iterator[tuple[GoalResult, str]]:
    """Yield the goals that are missed, each with its own reason.

    A plan lists misses of goals in the order of its goals, and those of pins after them: of several
    misses of one stage the first ones belong to its goals.
    """
    reasons: defaultdict[Node, list[str]] = defaultdict(list)
    for miss in plan.misses:
        reasons[miss.skill, miss.stage].append(miss.why)
    missed: defaultdict[Node, list[GoalResult]] = defaultdict(list)
    for goal in plan.goals:
        if not goal.met:
            missed[goal.skill, goal.stage].append(goal)
    for node, goals in missed.items():
        yield from zip(goals, reasons[node], strict=False)


def _practices(found: Difference, gyms: Mapping[str, str]) -> tuple[PracticeChange, ...]:
    at = partial(_at, gyms=gyms)
    changes = [
        *(PracticeChange("gone", at(gone), "", gone.date, gone.date) for gone in found.lost),
        *(
            PracticeChange("moved", at(was), at(now), was.date, min(was.date, now.date))
            for was, now in found.rescheduled
        ),
        *(PracticeChange("new", "", at(new), new.date, new.date) for new in found.added),
    ]
    return tuple(sorted(changes, key=lambda change: (change.date, change.was, change.now)))


def _at(place: Place, gyms: Mapping[str, str]) -> str:
    gym = gyms.get(place.venue, place.venue)
    return f"{short_date(place.date)} {clock(place.start)}, {gym}"


def _blocks(found: Difference, library: Library) -> tuple[BlockChange, ...]:
    changes = []
    for shift in (*found.moved, *found.new, *found.gone):
        was, now = shift.was, shift.now
        dates = [place.date for place in (was, now) if place]
        if dates:
            changes.append(
                BlockChange(
                    what="moved" if was and now else "gone" if was else "new",
                    block=_block_words(shift.block, library),
                    was=short_date(was.date) if was else "",
                    now=short_date(now.date) if now else "",
                    date=dates[0],
                    soonest=min(dates),
                    review=shift.block.kind == "review",
                )
            )
    return tuple(sorted(changes, key=lambda change: (change.date, change.block, change.now)))


def _block_words(block: Name, library: Library) -> str:
    name = stage_name(library, (block.skill, block.stage))
    return f"{name}, review {block.number}" if block.kind == "review" else f"{name} {block.number}"
