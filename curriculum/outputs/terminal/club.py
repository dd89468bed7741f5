"""A club in the terminal: clashes between its teams, and the page of a week."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from rich.console import Group, RenderableType

from curriculum.club.clashes import TeamClash
from curriculum.club.page import ClubPage, Lesson, TightGoal
from curriculum.outputs.terminal.render import (
    FAINT,
    bullets,
    grid,
    heading,
    indented,
    say,
)
from curriculum.spans import DAY
from curriculum.wording import counted, date_range, short_date


def clashes_view(clashes: Sequence[TeamClash]) -> RenderableType:
    """Return clashes between teams, one a bullet."""
    if not clashes:
        return say("No two teams clash: no court is taken twice, no coach is in two places.")
    number = counted(len(clashes), "clash").replace("clashs", "clashes")
    return Group(heading(number), bullets((clash.words for clash in clashes), "!"))


def page_view(page: ClubPage) -> RenderableType:
    """Return a club's week: practices day by day, goals in danger, gyms and load."""
    dates = date_range(page.monday, page.monday + 6 * DAY)
    parts: list[RenderableType] = [heading(page.club, dates)]
    for day, lessons in groupby(page.lessons, key=lambda lesson: lesson.date):
        parts += [say(""), heading(short_date(day)), *(_lesson(lesson) for lesson in lessons)]
    if not page.lessons:
        parts += [say(""), say("No practice and no home game this week.")]
    parts += _dangers(page)
    parts += [say(""), heading("Gyms this week")]
    table = grid(None, 30)
    for use in page.gyms:
        table.add_row(say(use.gym), say(f"{use.used} of {use.there} court min, {use.share} %"))
    parts.append(indented(table))
    if page.load:
        parts += [say(""), heading("Load"), bullets(page.load, "!")]
    if page.without_plan:
        parts += [say(""), say(f"Without a plan yet: {', '.join(page.without_plan)}.")]
    return Group(*parts)


def _dangers(page: ClubPage) -> Iterator[RenderableType]:
    """Yield the goals that are missed and those at risk, with what was tried."""
    missed = [goal for goal in page.tight if goal.days is None or goal.days < 0]
    yield from (say(""), heading("Goals missed"))
    yield bullets((_goal(goal) for goal in missed), "!") if missed else say("  None.")
    if page.tried is None:
        return
    checked, remaining = page.tried
    of = f"each of {remaining}" if checked == remaining else f"{checked} of {remaining}"
    yield from (say(""), heading("At risk", f"tried: the loss of {of} practices"))
    for team, risks in groupby(page.risks, key=lambda risk: risk.team):
        yield indented(say(team))
        yield bullets((risk.says for risk in risks), "!", indent=4)
    if not page.risks:
        yield say("  No goal is missed when a single practice is lost.")
    if checked < remaining:
        words = "The nearest were tried first; `curriculum plan` looks further into one team's."
        yield say(f"  {words}", FAINT)


def _lesson(lesson: Lesson) -> RenderableType:
    court = f", court {lesson.number}" if lesson.number else ""
    table = grid(11, 16, 14, None)
    table.add_row(
        say(lesson.hours),
        say(lesson.team),
        say(", ".join(lesson.coaches), FAINT),
        say(f"{lesson.gym}{court}", FAINT),
    )
    if not lesson.what:
        return indented(table)
    return Group(indented(table), indented(say("; ".join(lesson.what)), 14))


def _goal(goal: TightGoal) -> str:
    taught = (
        "not in the plan"
        if goal.days is None
        else f"taught {counted(goal.days, 'day')} before"
        if goal.days >= 0
        else f"taught {counted(-goal.days, 'day')} late"
    )
    due = short_date(goal.by)
    return f"{goal.team}: {goal.skill}, {goal.stage} ({goal.need}), due {due}, {taught}"
