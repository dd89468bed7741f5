"""From a plan that people know to the next one: what is past, what they know, what changes."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

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
    """What a block is called in both plans; reviews of a skill are numbered in order of time."""

    skill: str
    stage: Stage
    number: int
    kind: Kind


@dataclass(frozen=True)
class Place:
    """A practice by its id, which it keeps when it moves, with its date in one of the plans."""

    practice: str
    date: dt.date


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

    lost, added: practices that only the old or only the new plan has.
    goals_lost: met in the old plan, missed in the new one, as they stand there; goals_won: the
    other way round. A goal that only one of the plans has is in neither.
    newly_at_risk, safe_again: goals whose being at risk has changed.
    """

    moved: tuple[Shift, ...]
    new: tuple[Shift, ...]
    gone: tuple[Shift, ...]
    lost: tuple[Place, ...]
    added: tuple[Place, ...]
    goals_lost: tuple[GoalResult, ...]
    goals_won: tuple[GoalResult, ...]
    newly_at_risk: tuple[Node, ...] = ()
    safe_again: tuple[Node, ...] = ()

    @property
    def changes(self) -> bool:
        """Whether anything is different."""
        return self != Difference((), (), (), (), (), (), ())

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

    A block that keeps its practice has not moved, even when the practice has. Reviews of a skill
    are compared as the practices that hold them.
    """
    before = {practice.id: practice for practice in old.practices}
    after = {practice.id: practice for practice in new.practices}
    shifts = sorted(
        [*_lessons(old, new, after), *_reviews(old, new, after)],
        key=lambda shift: (_date(shift), shift.block),
    )
    was_met, is_met = _goals(old), _goals(new)
    both = [key for key in is_met if key in was_met]
    risks_before, risks_after = frozenset(at_risk_before), frozenset(at_risk_after)
    return Difference(
        moved=tuple(shift for shift in shifts if shift.was and shift.now),
        new=tuple(shift for shift in shifts if not shift.was),
        gone=tuple(shift for shift in shifts if not shift.now),
        lost=tuple(_place(one) for one in old.practices if one.id not in after),
        added=tuple(_place(one) for one in new.practices if one.id not in before),
        goals_lost=tuple(is_met[k] for k in both if was_met[k].met and not is_met[k].met),
        goals_won=tuple(is_met[k] for k in both if is_met[k].met and not was_met[k].met),
        newly_at_risk=tuple(sorted(risks_after - risks_before)),
        safe_again=tuple(sorted(risks_before - risks_after)),
    )


def _date(shift: Shift) -> dt.date:
    place = shift.was or shift.now
    return place.date if place else dt.date.max


def _place(practice: PlannedPractice) -> Place:
    return Place(practice.id, practice.date)


def _standing(plan: Plan) -> Iterator[tuple[Block, Place]]:
    for practice in plan.practices:
        for block in practice.blocks:
            yield block, _place(practice)


def _lessons(old: Plan, new: Plan, after: dict[str, PlannedPractice]) -> Iterator[Shift]:
    before, now = _by_name(old), _by_name(new)
    for name in before.keys() | now.keys():
        was, there = before.get(name), now.get(name)
        if was is None or there is None or was.practice != there.practice:
            yield Shift(name, was, there, was is not None and was.practice not in after)


def _by_name(plan: Plan) -> dict[Name, Place]:
    return {
        Name(block.skill, block.stage, block.number, block.kind): place
        for block, place in _standing(plan)
        if block.kind != "review"
    }


def _reviews(old: Plan, new: Plan, after: dict[str, PlannedPractice]) -> Iterator[Shift]:
    """Yield the reviews that differ; where as many leave as come, each has moved to the next."""
    before, now = _reviews_of(old), _reviews_of(new)
    for node in before.keys() | now.keys():
        held, holds = before[node], now[node]
        there, here = {place.practice for place in holds}, {place.practice for place in held}
        left = [place for place in held if place.practice not in there]
        come = [place for place in holds if place.practice not in here]
        skill, stage = node
        for number in range(max(len(left), len(come))):
            was = left[number] if number < len(left) else None
            place = come[number] if number < len(come) else None
            forced = was is not None and was.practice not in after
            yield Shift(Name(skill, stage, number + 1, "review"), was, place, forced)


def _reviews_of(plan: Plan) -> defaultdict[Node, list[Place]]:
    found: defaultdict[Node, list[Place]] = defaultdict(list)
    for block, place in _standing(plan):
        if block.kind == "review":
            found[block.skill, block.stage].append(place)
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
