"""From a plan that people know to the next one: what is past, what they know, what changes."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import zip_longest

from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.models.plan import Block, GoalResult, Kind, Plan, PlannedPractice
from curriculum.models.season import Season
from curriculum.models.skills import Library, Stage
from curriculum.schedule.again import Setting
from curriculum.schedule.instance import Held, held_of


def setting_of(
    season: Season,
    library: Library,
    gym: Gym,
    old: Plan | None = None,
    today: dt.date | None = None,
    *,
    published: bool = False,
    fresh: bool = False,
    held: Held | None = None,
) -> Setting:
    """Return what the next plan is made from.

    Practices before `today` hold what `held` says has really been held there, else what the older
    plan says; with neither, nothing is past. The older plan's other blocks are kept in place only
    when it has been published and the new plan is not to be made afresh.
    """
    known = held_of(old) if old is not None and published and not fresh else None
    if held is None and old is not None and today is not None:
        held = held_of(old, today)
    if held is None:
        return Setting(season, library, gym, former=known)
    return Setting(season, library, gym, today, held, known)


@dataclass(frozen=True, order=True)
class Name:
    """What a block is called, in both plans or in the one plan that has it.

    Reviews of a skill are numbered in order of time; a review that moves is called as in the old
    plan.
    """

    skill: str
    stage: Stage
    number: int
    kind: Kind


@dataclass(frozen=True)
class Place:
    """A practice by its id, which it keeps when it moves; when and where it is in one plan."""

    practice: str
    date: dt.date
    start: dt.time
    venue: str


@dataclass(frozen=True)
class Shift:
    """A block that stands elsewhere (both places), is new (`was` None) or is gone (`now` None).

    forced: the practice that it stood in is no longer held.
    """

    block: Name
    was: Place | None
    now: Place | None
    forced: bool = False


@dataclass(frozen=True)
class Difference:
    """What changes from one plan to the next, each in order of date.

    lost, added: practices that only the old or only the new plan has; rescheduled: those that both
    have, at another time or in another gym, as they stand in the old plan and in the new one.
    goals_lost: met in the old plan, missed in the new one, as they stand there; goals_won: the
    other way round. A goal that only one of the plans has is in neither.
    newly_at_risk, safe_again: goals that the new plan meets and whose being at risk has changed.
    """

    moved: tuple[Shift, ...]
    new: tuple[Shift, ...]
    gone: tuple[Shift, ...]
    lost: tuple[Place, ...]
    added: tuple[Place, ...]
    rescheduled: tuple[tuple[Place, Place], ...]
    goals_lost: tuple[GoalResult, ...]
    goals_won: tuple[GoalResult, ...]
    newly_at_risk: tuple[Node, ...] = ()
    safe_again: tuple[Node, ...] = ()

    @property
    def changes(self) -> bool:
        """Whether anything is different."""
        return self != Difference((), (), (), (), (), (), (), ())

    @property
    def noticed(self) -> int:
        """How many blocks have left a practice that is still held: moved or gone, not forced."""
        return sum(not shift.forced for shift in (*self.moved, *self.gone))


def difference(
    old: Plan,
    new: Plan,
    at_risk_before: Iterable[Node] = (),
    at_risk_after: Iterable[Node] = (),
) -> Difference:
    """Compare two plans of one season.

    A block that keeps its practice has not moved, even when the practice has, nor when it is an
    introduction in one plan alone. Reviews of a skill are compared as the practices that hold them.
    """
    before = {practice.id: _place(practice) for practice in old.practices}
    after = {practice.id: _place(practice) for practice in new.practices}
    shifts = sorted(
        [*_lessons(old, new, after), *_reviews(old, new, after)],
        key=lambda shift: (_date(shift), shift.block),
    )
    was_met, is_met = _goals(old), _goals(new)
    both = [key for key in is_met if key in was_met]
    risks_before, risks_after = frozenset(at_risk_before), frozenset(at_risk_after)
    met = {(goal.skill, goal.stage) for goal in new.goals if goal.met}
    return Difference(
        moved=tuple(shift for shift in shifts if shift.was and shift.now),
        new=tuple(shift for shift in shifts if not shift.was),
        gone=tuple(shift for shift in shifts if not shift.now),
        lost=tuple(place for one, place in before.items() if one not in after),
        added=tuple(place for one, place in after.items() if one not in before),
        rescheduled=tuple(
            (place, after[one]) for one, place in before.items() if after.get(one, place) != place
        ),
        goals_lost=tuple(is_met[k] for k in both if was_met[k].met and not is_met[k].met),
        goals_won=tuple(is_met[k] for k in both if is_met[k].met and not was_met[k].met),
        newly_at_risk=tuple(sorted((risks_after - risks_before) & met)),
        safe_again=tuple(sorted((risks_before - risks_after) & met)),
    )


def _date(shift: Shift) -> dt.date:
    place = shift.was or shift.now
    return place.date if place else dt.date.max


def _place(practice: PlannedPractice) -> Place:
    return Place(practice.id, practice.date, practice.start, practice.venue)


def _standing(plan: Plan) -> Iterator[tuple[Block, Place]]:
    for practice in plan.practices:
        for block in practice.blocks:
            yield block, _place(practice)


def _lessons(old: Plan, new: Plan, after: dict[str, Place]) -> Iterator[Shift]:
    before, now = _by_number(old), _by_number(new)
    for key in sorted(before.keys() | now.keys()):
        name, was = before.get(key, (None, None))
        called, there = now.get(key, (None, None))
        title = called or name
        if title and (was is None or there is None or was.practice != there.practice):
            yield Shift(title, was, there, was is not None and was.practice not in after)


def _by_number(plan: Plan) -> dict[tuple[str, Stage, int], tuple[Name, Place]]:
    return {
        (block.skill, block.stage, block.number): (
            Name(block.skill, block.stage, block.number, block.kind),
            place,
        )
        for block, place in _standing(plan)
        if block.kind != "review"
    }


def _reviews(old: Plan, new: Plan, after: dict[str, Place]) -> Iterator[Shift]:
    """Yield the reviews that differ; where as many leave as come, each has moved to the next."""
    before, now = _reviews_of(old), _reviews_of(new)
    for node in sorted(before.keys() | now.keys()):
        held = {place.practice: (name, place) for name, place in before[node]}
        holds = {place.practice: (name, place) for name, place in now[node]}
        left = [review for practice, review in held.items() if practice not in holds]
        come = [review for practice, review in holds.items() if practice not in held]
        for gone, there in zip_longest(left, come):
            name, was = gone or (there[0], None)
            forced = was is not None and was.practice not in after
            yield Shift(name, was, there and there[1], forced)


def _reviews_of(plan: Plan) -> defaultdict[Node, list[tuple[Name, Place]]]:
    found: defaultdict[Node, list[tuple[Name, Place]]] = defaultdict(list)
    for block, place in _standing(plan):
        if block.kind == "review":
            name = Name(block.skill, block.stage, block.number, block.kind)
            found[block.skill, block.stage].append((name, place))
    return found


def _goals(plan: Plan) -> dict[tuple[str, Stage, int], GoalResult]:
    """Return the goals by stage, several on one stage in the order of the season file."""
    counted: defaultdict[Node, int] = defaultdict(int)
    found = {}
    for goal in plan.goals:
        node = goal.skill, goal.stage
        found[*node, counted[node]] = goal
        counted[node] += 1
    return found
