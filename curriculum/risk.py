"""How sure a plan is: which goals the loss of a single practice would cost."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

from curriculum.files.nearest import listed
from curriculum.gym.bookings import day_words
from curriculum.gym.practices import Gym
from curriculum.gym.quiet import quiet_ids
from curriculum.models.plan import Plan
from curriculum.models.season import Importance, Season
from curriculum.models.skills import Library, Stage
from curriculum.schedule.explain.costs import Cost, cost_of
from curriculum.schedule.explain.limits import limits_of
from curriculum.schedule.explain.misses import met
from curriculum.schedule.explain.words import Names, names_of
from curriculum.schedule.feasible import decide, dropped_pins
from curriculum.schedule.instance import MUST, Held, Instance, build, held_of
from curriculum.schedule.reread import timetable_of
from curriculum.schedule.rules import Order, closures, in_order_of_needs, orders
from curriculum.schedule.serial import schedule_in_order
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable
from curriculum.schedule.windows import windows_of
from curriculum.workload import Target, Workload

MOST_REPLANNED = 24
"""Practices, at most, whose loss is planned for anew; the nearest ones first."""

MOST_NAMED = 3
"""Dates in one sentence; more are counted."""


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


def at_risk(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    plan: Plan,
    today: dt.date | None = None,
) -> tuple[Risk, ...]:
    """Return the goals at risk; the same as the risks of `outlook`."""
    return outlook(season, library, gym, workload, plan, today).risks


def outlook(
    season: Season,
    library: Library,
    gym: Gym,
    workload: Workload,
    plan: Plan,
    today: dt.date | None = None,
) -> Outlook:
    """Look into the loss of each remaining practice: which goals would it miss.

    Goals that the season does not state, and those that the plan misses, are left aside. What no
    quick plan meets any more counts as at risk, proven or not.
    """
    if not season.goal:
        return Outlook((), 0, 0)
    held = held_of(plan, today) if today is not None else Held()
    instance = build(season, gym, workload, today, held)
    timetable = timetable_of(plan, gym, workload, instance)
    safe = tuple(
        index
        for index, goal in enumerate(instance.goals)
        if goal.job >= 0 and met(instance, index, timetable)
    )
    lost: dict[int, list[int]] = {}
    checked = replanned = 0
    remaining = range(instance.first_open, instance.practices)
    used = _in_use(instance, timetable, safe)
    ways = _ways(instance, timetable, safe)
    for practice in remaining:
        # Without the last practice before a game, the one before it becomes the quiet one.
        if practice in used or instance.quiet[practice]:
            smaller = _without(season, gym, workload, practice, today, held)
            keeps = _keeps(smaller, timetable, practice, safe, ways)
            if not keeps and replanned == MOST_REPLANNED:
                break
            if not keeps:
                replanned += 1
                for goal in _missed(smaller, safe):
                    lost.setdefault(goal, []).append(practice)
        checked += 1
    names = names_of(library)
    risks = [_risk(gym, workload.targets[goal], lost[goal], names) for goal in sorted(lost)]
    risks.sort(key=lambda risk: (risk.by, risk.skill, risk.stage))
    return Outlook(tuple(risks), checked, len(remaining))


def _in_use(instance: Instance, timetable: Timetable, goals: tuple[int, ...]) -> frozenset[int]:
    """Return the practices that hold a block which one of these goals needs."""
    needed = closures(instance)
    jobs = frozenset().union(*(needed[instance.goals[goal].job] for goal in goals))
    return frozenset(practice for job in jobs for practice in timetable.blocks[job])


def _without(
    season: Season,
    gym: Gym,
    workload: Workload,
    practice: int,
    today: dt.date | None,
    held: Held,
) -> Instance:
    """Return the problem in numbers when a practice is lost."""
    left = gym.practices[:practice] + gym.practices[practice + 1 :]
    quiet = quiet_ids(left, gym.games) if season.teaching.quiet_before_game else frozenset()
    left = tuple(replace(one, before_game=one.id in quiet) for one in left)
    return build(season, replace(gym, practices=left), workload, today, held)


def _only(instance: Instance, goals: tuple[int, ...], *, as_must: bool) -> Instance:
    """Return the problem with these goals alone; the others keep their places as known ones."""
    return replace(
        instance,
        goals=tuple(
            replace(goal, job=-1)
            if index not in goals
            else replace(goal, importance=MUST)
            if as_must
            else goal
            for index, goal in enumerate(instance.goals)
        ),
    )


def _ways(instance: Instance, timetable: Timetable, goals: tuple[int, ...]) -> list[Order]:
    """Return orders in which to place the jobs that these goals need: the plan's, then by rules."""
    needed = closures(instance)
    jobs = frozenset().union(*(needed[instance.goals[goal].job] for goal in goals))
    ends = [float(row[-1]) if row else float("inf") for row in timetable.blocks]
    tables = tables_of(instance)
    rules = orders(tables, windows_of(tables)).values()
    ways = [in_order_of_needs(instance, ends), *rules]
    return [tuple(job for job in way if job in jobs) for way in ways]


def _keeps(
    instance: Instance,
    timetable: Timetable,
    lost: int,
    goals: tuple[int, ...],
    ways: list[Order],
) -> bool:
    """Whether a plan is found at once that meets all these goals without the lost practice.

    A way that has led to one comes first the next time.
    """
    tables = tables_of(instance)
    held = {
        (job, number): practice - (practice > lost)
        for job, row in enumerate(timetable.blocks)
        for number, practice in enumerate(row, start=1)
        if practice != lost and _pinned(instance, job, number, practice - (practice > lost))
    }
    for way in ways:
        run = schedule_in_order(tables, way, held)
        moved = Timetable(tuple(tuple(row) for row in run.placed), ())
        if len(dropped_pins(instance, moved)) <= len(timetable.dropped) and all(
            met(instance, goal, moved) for goal in goals
        ):
            ways.remove(way)
            ways.insert(0, way)
            return True
    return decide(_only(instance, goals, as_must=True), "quick").verdict == "reachable"


def _pinned(instance: Instance, job: int, number: int, practice: int) -> bool:
    return any(
        pin.job == job and pin.number in (0, number) and practice in pin.practices
        for pin in instance.pins
    )


def _missed(instance: Instance, goals: tuple[int, ...]) -> Iterator[int]:
    """Yield the goals that planning anew misses."""
    result = solve(_only(instance, goals, as_must=False))
    for goal in goals:
        if not met(instance, goal, result.timetable):
            yield goal


def _risk(gym: Gym, target: Target, practices: list[int], names: Names) -> Risk:
    lost = [gym.practices[practice] for practice in practices]
    days = [day_words(practice.date) for practice in lost]
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
