"""How sure a plan is: which goals the loss of a single practice would cost."""

import datetime as dt
from dataclasses import dataclass, replace

from curriculum.gym.practices import Gym
from curriculum.gym.quiet import quiet_ids
from curriculum.models.plan import Plan
from curriculum.models.season import Importance, Season
from curriculum.models.skills import Library, Stage
from curriculum.schedule.explain.costs import Cost, cost_of
from curriculum.schedule.explain.limits import limits_of
from curriculum.schedule.explain.misses import met
from curriculum.schedule.explain.words import Names, names_of
from curriculum.schedule.instance import COULD, Instance, build, held_of
from curriculum.schedule.losses import hanging_on, missed_at_once, missed_in_earnest, ways_of
from curriculum.schedule.reread import timetable_of
from curriculum.wording import listed, short_date
from curriculum.workload import Target, Workload

MOST_NAMED = 3
"""Dates in one sentence; more are counted."""


@dataclass(frozen=True)
class Depth:
    """How many losses of a practice are looked into, at most; the nearest ones first.

    losses: by quick plans and quick proofs. plans: of these, planned for in earnest, because
    neither a quick plan nor a quick proof settles them. A practice on which no goal hangs needs
    neither.
    """

    losses: int
    plans: int


FULL = Depth(losses=1000, plans=8)


@dataclass(frozen=True)
class Risk:
    """A goal that losing one of these practices would miss.

    practices: their ids in order of time; dates: theirs.
    says: the same in one sentence.
    """

    skill: str
    stage: Stage
    by: dt.date
    need: Importance
    practices: tuple[str, ...]
    dates: tuple[dt.date, ...]
    says: str


@dataclass(frozen=True)
class Outlook:
    """All goals at risk, in order of their dates.

    checked, remaining: of how many remaining practices the loss was looked into.
    """

    risks: tuple[Risk, ...]
    checked: int
    remaining: int

    @property
    def says(self) -> str:
        """What was not looked into, "" when nothing was left out."""
        if self.checked == self.remaining:
            return ""
        return f"looked into the loss of {self.checked} of {self.remaining} practices"


def outlook(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    plan: Plan,
    today: dt.date | None = None,
    depth: Depth = FULL,
) -> Outlook:
    """Look into the loss of each remaining practice: which goals would it miss.

    A practice is lost when it comes: all before it has been held as planned, all after it may be
    planned anew. Left aside are goals that the season does not state, those that the plan misses,
    and could-goals, which give way whenever room lacks. What no quick plan meets any more counts as
    at risk, proven or not.
    """
    if not season.goal:
        return Outlook((), 0, 0)
    instance = build(season, gym, workload, today, held_of(plan, today or season.season.start))
    timetable = timetable_of(plan, gym, workload, instance)
    safe = tuple(
        index
        for index, goal in enumerate(instance.goals)
        if goal.importance != COULD and met(instance, index, timetable)
    )
    lost: dict[int, list[int]] = {}
    checked = asked = planned = 0
    ways = ways_of(instance, timetable)
    remaining = range(instance.first_open, instance.practices)
    for practice in remaining:
        hanging = hanging_on(instance, timetable, practice, safe)
        missed: tuple[int, ...] | None = None if hanging else ()
        if hanging and asked < depth.losses:
            asked += 1
            smaller = _without(season, gym, workload, plan, practice)
            missed = missed_at_once(smaller, timetable, practice, hanging, ways)
            if missed is None and planned < depth.plans:
                planned += 1
                missed = missed_in_earnest(smaller, hanging)
        checked += missed is not None
        for goal in missed or ():
            lost.setdefault(goal, []).append(practice)
    names = names_of(library)
    risks = [_risk(gym, workload.targets[goal], lost[goal], names) for goal in sorted(lost)]
    risks.sort(key=lambda risk: (risk.by, risk.skill, risk.stage))
    return Outlook(tuple(risks), checked, len(remaining))


def _without(season: Season, gym: Gym, workload: Workload, plan: Plan, practice: int) -> Instance:
    """Return the problem in numbers on the day on which a practice is lost."""
    today = gym.practices[practice].date
    left = gym.practices[:practice] + gym.practices[practice + 1 :]
    quiet = quiet_ids(left, gym.games) if season.teaching.quiet_before_game else frozenset()
    left = tuple(replace(one, before_game=one.id in quiet) for one in left)
    return build(season, replace(gym, practices=left), workload, today, held_of(plan, today))


def _risk(gym: Gym, target: Target, practices: list[int], names: Names) -> Risk:
    lost = [gym.practices[practice] for practice in practices]
    days = [short_date(practice.date) for practice in lost]
    if len(days) <= MOST_NAMED:
        when = f"{listed(days, 'or')} is lost"
    else:
        when = f"one of {len(days)} practices between {days[0]} and {days[-1]} is lost"
    return Risk(
        skill=target.goal.skill,
        stage=target.goal.stage,
        by=target.due,
        need=target.goal.need,
        practices=tuple(practice.id for practice in lost),
        dates=tuple(practice.date for practice in lost),
        says=f"{names.goal(target)} is missed if {when}",
    )


def costs(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    plan: Plan,
    skill: str,
    stage: Stage,
) -> Cost:
    """Return what it would cost when a stage of the plan were missed.

    KeyError for a stage that the workload does not teach.
    """
    instance = build(season, gym, workload)
    timetable = timetable_of(plan, gym, workload, instance)
    names = names_of(library)
    return cost_of(limits_of(instance), gym, workload, names, timetable, (skill, stage))
