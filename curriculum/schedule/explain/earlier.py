"""Why a block does not stand in an earlier practice: the rule that a plan's other blocks impose."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from curriculum.gym.practices import Gym, Practice
from curriculum.referee.verdict import (
    ENOUGH_OF_ALL,
    INSIDE_THE_GYM_TIME,
    LADDER,
    NEEDS_COME_FIRST,
    NEW_IN_SMALL_BITES,
    PINS_AND_THE_PAST,
    QUIET_BEFORE_A_GAME,
)
from curriculum.schedule.explain.limits import Limits
from curriculum.schedule.explain.shortages import lacking
from curriculum.schedule.explain.words import Names
from curriculum.schedule.timetable import Timetable
from curriculum.wording import counted, named, short_date
from curriculum.workload import Workload

MOST_NAMED = 3
"""Stages in one sentence; more are counted."""


@dataclass(frozen=True)
class Bar:
    """What keeps a block out of a practice.

    rule: the rule's name as the referee prints it, "" when no rule does.
    firm: no plan whatsoever can have the block there, or the coach's word keeps it where it is.
    """

    rule: str
    says: str
    firm: bool = False


@dataclass(frozen=True)
class Present:
    """A timetable with what is looked up about it."""

    limits: Limits
    gym: Gym
    workload: Workload
    names: Names
    timetable: Timetable

    def day(self, practice: int) -> str:
        """Return the date of a practice in words."""
        return short_date(self.gym.practices[practice].date)

    def standing(self, practice: int) -> tuple[tuple[int, int], ...]:
        """Return the teaching blocks in a practice as (job, number), longest first."""
        minutes = self.limits.instance.minutes
        found = [
            (job, number)
            for job, row in enumerate(self.timetable.blocks)
            for number, place in enumerate(row, start=1)
            if place == practice
        ]
        return tuple(sorted(found, key=lambda each: (-minutes[each[0]], each)))

    def stages(self, blocks: Sequence[tuple[int, int]]) -> str:
        """Return the names of some blocks' stages."""
        names = [self.names.stage(self.workload.jobs[job].node) for job, _ in blocks]
        return named(names, most=MOST_NAMED)


def bar(present: Present, job: int, number: int, practice: int) -> Bar:
    """Return what keeps a block (number from 1) out of an earlier practice, all else standing."""
    instance = present.limits.instance
    first = present.limits.windows.first[job][number - 1]
    found = (
        _pinned(present, job, number, practice)
        or _lacking(present, job, practice)
        or _near_the_past(present, job, practice)
        or _waiting(present, job, number, practice)
        or _quiet(present, job, number, practice)
        or _full(present, job, number, practice)
        or Bar("", "no rule forbids it")
    )
    if practice < first < instance.practices and found.rule in (NEEDS_COME_FIRST, LADDER):
        says = f"{found.says}; no plan can have it before {present.day(first)}"
        return Bar(found.rule, says, firm=True)
    return found


def _pinned(present: Present, job: int, number: int, practice: int) -> Bar | None:
    """Return the pin that keeps a block where it stands; all practices of its date would do."""
    stands, instance = present.timetable.blocks[job][number - 1], present.limits.instance
    pins = [
        pin
        for pin in instance.pins
        if pin.job == job and pin.number in (0, number) and stands in pin.practices
    ]
    if not pins or practice in pins[0].practices:
        return None
    return Bar(PINS_AND_THE_PAST, f"it is pinned to {present.day(stands)}", firm=True)


def _lacking(present: Present, job: int, practice: int) -> Bar | None:
    one: Practice = present.gym.practices[practice]
    lacks = lacking(present.workload.jobs[job], [one])
    if not lacks:
        return None
    rule = INSIDE_THE_GYM_TIME if lacks.startswith("takes") else ENOUGH_OF_ALL
    return Bar(rule, f"it {lacks}", firm=True)


def _near_the_past(present: Present, job: int, practice: int) -> Bar | None:
    """Return what was held of the same skill too shortly before a practice.

    The ladder keeps that distance, save where a stage that was passed over is made good.
    """
    instance = present.limits.instance
    if instance.allowed[job] >> practice & 1:
        return None
    near = [
        (place, other)
        for other, _, place in instance.held
        if instance.skill[other] == instance.skill[job]
        and instance.days[practice] - instance.days[place] < instance.gap
    ]
    near += [
        (place, instance.chains[skill][-1])
        for skill, place in instance.reviews_held
        if skill == instance.skill[job]
        and instance.days[practice] - instance.days[place] < instance.gap
    ]
    if not near:
        # A review of a skill that was not finished then is none, but the skill was held.
        days = counted(instance.gap, "day")
        return Bar(LADDER, f"its skill was held less than {days} before", firm=True)
    place, other = max(near)
    name = present.names.stage(present.workload.jobs[other].node)
    return replace(_after(present, name, place, LADDER), firm=True)


def _waiting(present: Present, job: int, number: int, practice: int) -> Bar | None:
    """Return the need, or the block before it on its ladder, that comes too late for a practice."""
    instance, tables = present.limits.instance, present.limits.tables
    if number > 1:
        before = present.timetable.blocks[job][number - 2]
        if practice < tables.next_day[before]:
            return _after(present, f"block {number - 1}", before, LADDER)
    if number != tables.past[job] + 1:
        return None
    latest = sorted(
        (row[-1], needed)
        for needed in instance.needs[job]
        if (row := present.timetable.blocks[needed])
    )
    for reached, needed in reversed(latest):
        name = present.names.stage(present.workload.jobs[needed].node)
        ladder = instance.skill[needed] == instance.skill[job]
        if ladder and practice < tables.next_day[reached]:
            return _after(present, name, reached, LADDER)
        if not ladder and practice < reached + (not instance.within):
            return _after(present, name, reached, NEEDS_COME_FIRST)
    return None


def _after(present: Present, what: str, reached: int, rule: str) -> Bar:
    gap = present.limits.instance.gap
    days = f" and {counted(gap, 'day')} must lie between" if rule == LADDER and gap > 1 else ""
    return Bar(rule, f"{what} is held on {present.day(reached)}{days}")


def _quiet(present: Present, job: int, number: int, practice: int) -> Bar | None:
    instance = present.limits.instance
    if number == 1 and instance.introduces[job] and instance.quiet[practice]:
        says = "it is new, and this is the last practice before a game"
        return Bar(QUIET_BEFORE_A_GAME, says, firm=True)
    return None


def _full(present: Present, job: int, number: int, practice: int) -> Bar | None:
    """Return the limit of a practice that its teaching blocks fill; reviews would give way."""
    instance, there = present.limits.instance, present.standing(practice)
    new = [each for each in there if each[1] == 1 and instance.introduces[each[0]]]
    if number == 1 and instance.introduces[job] and len(new) >= instance.most_new:
        what = f"{counted(len(new), 'new skill')} already: {present.stages(new)}"
        return Bar(NEW_IN_SMALL_BITES, what)
    if len(there) >= instance.most_blocks:
        return Bar(NEW_IN_SMALL_BITES, f"{counted(len(there), 'block')} already")
    change = instance.changeover[practice]
    used = sum(instance.minutes[each] + change for each, _ in there)
    left = instance.usable[practice] - used
    needs = instance.minutes[job] + change
    if needs > left:
        what = f"it takes {needs} minutes, {left} of {instance.usable[practice]} are free"
        return Bar(INSIDE_THE_GYM_TIME, f"{what} beside {present.stages(there)}")
    return None
