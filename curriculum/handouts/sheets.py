"""The sheets of a season folder: of one practice, or of all."""

import datetime as dt

from curriculum.models.plan import Plan, PlannedPractice
from curriculum.practice.book import Book, book_of
from curriculum.practice.rows import Missed
from curriculum.practice.sheet import Sheet, page_of
from curriculum.problems import FaultyInputError, Problem
from curriculum.wording import short_date
from curriculum.workspace import Workspace

MOST_NAMED = 3
"""Nearby practices that a message names."""


def sheet_for(
    space: Workspace, plan: Plan, planned: PlannedPractice, missed: Missed | None = None
) -> Sheet:
    """Return the sheet of one practice of the plan.

    missed: who missed which introduction, by skill; for the coach's own sheet alone.
    Raises FaultyInputError when the season's calendar no longer holds that practice.
    """
    return _page(space, planned, book_of(plan, space.season, space.library, space.gym), missed)


def all_sheets(space: Workspace, plan: Plan) -> tuple[Sheet, ...]:
    """Return the sheets of the plan's practices, in order of time; no name stands in them.

    Practices that the season's calendar no longer holds have none.
    """
    book = book_of(plan, space.season, space.library, space.gym)
    held = still_held(space, plan)
    return tuple(_page(space, planned, book, None) for planned in held)


def still_held(space: Workspace, plan: Plan) -> tuple[PlannedPractice, ...]:
    """Return the practices of a plan that the season's calendar still holds, in order of time."""
    held = {practice.id for practice in space.gym.practices}
    return tuple(planned for planned in plan.practices if planned.id in held)


def _page(space: Workspace, planned: PlannedPractice, book: Book, missed: Missed | None) -> Sheet:
    held = {practice.id: practice for practice in space.gym.practices}
    if planned.id not in held:
        raise FaultyInputError(
            [
                Problem(
                    file=str(space.folder / "plan.json"),
                    line=0,
                    key="",
                    says="the season has changed and no longer holds this practice",
                    found=planned.id,
                    way_out=f"plan again: curriculum plan {space.folder}",
                )
            ]
        )
    return page_of(held[planned.id], planned, book, missed=missed)


def practice_on(
    space: Workspace, plan: Plan, day: dt.date | None, today: dt.date
) -> PlannedPractice:
    """Return the practice of a date; without one the next practice, today's included.

    Raises FaultyInputError with the nearest dates when none is held then.
    """
    if day is None:
        ahead = [each for each in plan.practices if each.date >= today]
        if ahead:
            return ahead[0]
        day = today
    held = [each for each in plan.practices if each.date == day]
    if held:
        return held[0]
    reasons = [each.why for each in plan.not_held if each.date == day]
    near = sorted(plan.practices, key=lambda each: (abs(each.date - day), each.date))[:MOST_NAMED]
    named = ", ".join(f"{short_date(each.date)} ({each.date})" for each in sorted(near, key=_when))
    raise FaultyInputError(
        [
            Problem(
                file=str(space.folder / "plan.json"),
                line=0,
                key="",
                says=f"no practice is held on {short_date(day)}"
                + (f": {reasons[0]}" if reasons else ""),
                found=f"{day}",
                way_out=f"practices nearby: {named}" if near else "",
            )
        ]
    )


def _when(planned: PlannedPractice) -> dt.date:
    return planned.date
