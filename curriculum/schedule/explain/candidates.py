"""Changes that might let missed must-goals be met, with what they cost a coach."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from curriculum.models.season import Pin
from curriculum.schedule.again import Trial
from curriculum.schedule.changes import (
    Change,
    Extra,
    GoalBy,
    GoalNeed,
    Minutes,
    Teach,
    WithoutPin,
)
from curriculum.schedule.explain.misses import met
from curriculum.schedule.explain.pins import pin_of
from curriculum.schedule.instance import MUST
from curriculum.spans import days_between

EXTRA_DATES = 6
"""Dates tried, at most, for one more practice."""

MORE_MINUTES = 10
"""By how much practices are made longer."""

Kind = Literal["spare", "gap", "new skills", "blocks", "later", "extra", "pin", "minutes", "should"]

COST: dict[Kind, int] = {
    "spare": 1,
    "gap": 2,
    "new skills": 3,
    "blocks": 3,
    "later": 4,
    "extra": 6,
    "pin": 7,
    "minutes": 8,
    "should": 10,
}
"""What a change costs a coach, in points: one's own rules of teaching are relaxed before dates
move, dates move before more gym time is asked for, and a goal is given up last. Going all the way
with spare or gap costs a point more, a later date one for each week that has begun, and several
goals together the sum of theirs."""


@dataclass(frozen=True)
class Candidate:
    """Changes to try together."""

    kind: Kind
    cost: int
    changes: tuple[Change, ...]


def missed_musts(tried: Trial) -> tuple[int, ...]:
    """Return the must-goals, by index, that a plan misses."""
    return tuple(
        index
        for index, goal in enumerate(tried.instance.goals)
        if goal.importance == MUST and not met(tried.instance, index, tried.result.timetable)
    )


def dropped_pins(tried: Trial) -> tuple[Pin, ...]:
    """Return the pins that a plan gives up."""
    setting = tried.setting
    return tuple(
        pin_of(setting.season, setting.gym, tried.workload, index)
        for index in tried.result.timetable.dropped
    )


def candidates(before: Trial) -> tuple[Candidate, ...]:
    """Return the changes worth trying on a plan that misses something, cheapest first."""
    found = [*_teaching(before), *_goals(before), *_extra(before), *_pins(before)]
    found.append(Candidate("minutes", COST["minutes"], (Minutes(MORE_MINUTES, more=True),)))
    return tuple(sorted(found, key=lambda each: each.cost))


def _teaching(before: Trial) -> Iterator[Candidate]:
    teaching = before.setting.season.teaching
    if teaching.spare:
        half = teaching.spare // 2
        yield Candidate("spare", COST["spare"], (Teach("spare", half),))
        if half:
            yield Candidate("spare", COST["spare"] + 1, (Teach("spare", 0),))
    if teaching.gap_days > 1:
        less = teaching.gap_days - 1
        yield Candidate("gap", COST["gap"], (Teach("gap_days", less),))
        if less > 1:
            yield Candidate("gap", COST["gap"] + 1, (Teach("gap_days", 1),))
    yield Candidate(
        "new skills", COST["new skills"], (Teach("new_skills", teaching.new_skills + 1),)
    )
    yield Candidate("blocks", COST["blocks"], (Teach("blocks", teaching.blocks + 1),))


def _goals(before: Trial) -> Iterator[Candidate]:
    """Yield each missed goal made later or less important, then all of them together."""
    later: list[Candidate] = []
    should: list[Candidate] = []
    for index in missed_musts(before):
        target = before.workload.targets[index]
        reached = before.result.timetable.reached(before.instance, before.instance.goals[index].job)
        if reached >= 0:
            day = before.setting.gym.practices[reached].date
            weeks = -(-(day - target.due).days // 7)
            cost = COST["later"] + weeks
            # A change is made to all goals on a stage; it must bring none of them forward.
            same = [each for each in before.workload.targets if each.node == target.node]
            if all(each.due <= day for each in same):
                later.append(Candidate("later", cost, (GoalBy(*target.node, day),)))
        should.append(Candidate("should", COST["should"], (GoalNeed(*target.node, "should"),)))
    for kind in (later, should):
        yield from kind
        if len(kind) > 1 and len(kind) == len(should):
            changes = tuple(change for each in kind for change in each.changes)
            yield Candidate(kind[0].kind, sum(each.cost for each in kind), changes)


def _pins(before: Trial) -> Iterator[Candidate]:
    for pin in dropped_pins(before):
        yield Candidate("pin", COST["pin"], (WithoutPin(pin.skill, pin.stage, pin.date),))


def _extra(before: Trial) -> Iterator[Candidate]:
    """Yield one more practice on dates spread over the time that is left, the latest first."""
    setting = before.setting
    practices = setting.gym.practices
    if not practices:
        return
    usual = setting.season.slot[0] if setting.season.slot else setting.season.practice_on[-1]
    for date in reversed(_spread(_free_dates(before), EXTRA_DATES)):
        change = Extra(date, usual.start, usual.minutes, usual.venue)
        yield Candidate("extra", COST["extra"], (change,))


def _free_dates(before: Trial) -> list[dt.date]:
    """Return dates without practice, game or closure until the last missed goal is due.

    One for each week that has some: the one farthest from the practices around it.
    """
    setting = before.setting
    dues = [before.workload.targets[index].due for index in missed_musts(before)]
    dues += [pin.date for pin in dropped_pins(before)]
    start = max(setting.season.season.start, setting.today or dt.date.min)
    held = {practice.date for practice in setting.gym.practices}
    taken = held | {each.date for each in setting.gym.not_held}
    taken |= {game.date for game in setting.gym.games}
    best: dict[tuple[int, int], tuple[int, dt.date]] = {}
    for day in days_between(start, min(max(dues, default=start), setting.season.season.end)):
        if day in taken or any(one.from_ <= day <= one.until for one in setting.gym.closures):
            continue
        apart = min((abs((day - other).days) for other in held), default=0)
        week = day.isocalendar()[:2]
        best[week] = max(best.get(week, (0, day)), (apart, day))
    return [day for _, day in best.values()]


def _spread(dates: list[dt.date], most: int) -> list[dt.date]:
    """Return at most so many of some dates, the last one and others evenly before it."""
    if len(dates) <= most:
        return dates
    step = (len(dates) - 1) / (most - 1)
    return [dates[round(step * number)] for number in range(most)]
