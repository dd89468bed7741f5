"""A season that loses a practice after its plan is known."""

from dataclasses import replace
from typing import TypeVar

from curriculum.schedule.instance import Instance
from curriculum.schedule.timetable import Timetable

T = TypeVar("T")


def without_practice(instance: Instance, known: Timetable, lost: int) -> Instance:
    """Return the season without one practice, everything before it past and as it was planned."""

    def place(practice: int) -> int:
        return -1 if practice == lost else practice - (practice > lost)

    def shorter(row: tuple[T, ...]) -> tuple[T, ...]:
        return row[:lost] + row[lost + 1 :]

    low = (1 << lost) - 1
    return replace(
        instance,
        days=shorter(instance.days),
        usable=shorter(instance.usable),
        changeover=shorter(instance.changeover),
        quiet=shorter(instance.quiet),
        focus=shorter(instance.focus),
        allowed=tuple((mask & low) | (mask >> (lost + 1) << lost) for mask in instance.allowed),
        goals=tuple(
            replace(goal, limit=goal.limit - (goal.limit > lost)) for goal in instance.goals
        ),
        first_open=lost,
        held=tuple(
            (job, number, practice)
            for job, row in enumerate(known.blocks)
            for number, practice in enumerate(row, start=1)
            if practice < lost
        ),
        reviews_held=tuple(
            (skill, practice)
            for skill, row in enumerate(known.reviews)
            for practice in row
            if practice < lost
        ),
        former=tuple(tuple(place(p) for p in row) for row in known.blocks),
        former_reviews=tuple(tuple(place(p) for p in row if p != lost) for row in known.reviews),
    )
