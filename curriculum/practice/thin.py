"""Practices with much unused teaching time: why no more is taught there, read off the plan."""

from collections.abc import Iterator
from typing import Literal

from curriculum.gym.practices import Gym, Practice
from curriculum.models.plan import Plan, PlannedPractice
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.referee.verdict import (
    ENOUGH_OF_ALL,
    INSIDE_THE_GYM_TIME,
    LADDER,
    NEEDS_COME_FIRST,
    PINS_AND_THE_PAST,
    QUIET_BEFORE_A_GAME,
)
from curriculum.schedule.explain.earlier import Present, bar
from curriculum.schedule.explain.limits import limits_of
from curriculum.schedule.explain.words import names_of
from curriculum.schedule.instance import build
from curriculum.schedule.reread import timetable_of
from curriculum.wording import counted, listed
from curriculum.workload import workload_of

THIN = 4
"""A practice is thin when one part in so many of its usable minutes, or more, is unused."""

Reason = Literal["new", "blocks", "quiet", "waits", "court", "time", "pins", "free"]

RULES: dict[str, Reason] = {
    LADDER: "waits",
    NEEDS_COME_FIRST: "waits",
    QUIET_BEFORE_A_GAME: "quiet",
    ENOUGH_OF_ALL: "court",
    INSIDE_THE_GYM_TIME: "time",
    PINS_AND_THE_PAST: "pins",
}


def thin_practices(plan: Plan, season: Season, library: Library, gym: Gym) -> dict[str, str]:
    """Return for each thin practice, by its id, why it is thin and where its minutes go.

    The reason is that of each block which the plan holds later: what keeps it out of the practice
    while everything else stays where it is.
    """
    planned = {each.id: each for each in plan.practices}
    thin = {
        index: left
        for index, practice in enumerate(gym.practices)
        if (left := _unused(practice, planned.get(practice.id))) * THIN >= practice.usable_minutes
        and left > 0
    }
    if not thin:
        return {}
    workload = workload_of(season, library)
    instance = build(season, gym, workload)
    timetable = timetable_of(plan, gym, workload, instance)
    present = Present(limits_of(instance), gym, workload, names_of(library), timetable)
    said = {}
    for index, left in thin.items():
        why = listed(list(_words(present, {*_reasons(present, index)})))
        said[gym.practices[index].id] = f"{counted(left, 'minute')} more for the scrimmage: {why}."
    return said


def _unused(practice: Practice, planned: PlannedPractice | None) -> int:
    """Return the usable minutes of a practice that no block takes; none where no plan is."""
    if planned is None:
        return 0
    used = sum(block.minutes + practice.changeover for block in planned.blocks)
    return practice.usable_minutes - used


def _reasons(present: Present, practice: int) -> Iterator[Reason]:
    """Yield what keeps each later block of the plan out of a practice."""
    instance = present.limits.instance
    there = present.standing(practice)
    new = sum(number == 1 and instance.introduces[job] for job, number in there)
    for job, row in enumerate(present.timetable.blocks):
        for number, place in enumerate(row, start=1):
            if place <= practice:
                continue
            rule = bar(present, job, number, practice).rule
            if not rule:
                yield "free"
            elif rule in RULES:
                yield RULES[rule]
            else:
                limit = number == 1 and instance.introduces[job] and new >= instance.most_new
                yield "new" if limit else "blocks"


def _words(present: Present, reasons: set[Reason]) -> Iterator[str]:
    """Yield the parts of a sentence; the one about most of the rest comes last."""
    instance = present.limits.instance
    if not reasons:
        yield "nothing else asked for is left to teach"
    if "free" in reasons:
        # The rules that keep other blocks out are then not what leaves the time unused.
        yield "this plan keeps other blocks for later"
        return
    if "new" in reasons:
        yield f"at most {counted(instance.most_new, 'new skill')} a practice"
    if "blocks" in reasons:
        yield f"at most {counted(instance.most_blocks, 'block')} a practice"
    if "quiet" in reasons:
        yield "nothing new just before a game"
    if "court" in reasons:
        yield "some blocks need more players, baskets or court"
    if "time" in reasons:
        yield "some blocks are longer than the time left"
    if "waits" in reasons:
        yield "the rest builds on what is taught here or later"
    if reasons == {"pins"}:
        # Beside other reasons the coach's own pins need no word.
        yield "what is left is pinned to later dates"
