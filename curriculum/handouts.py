"""What goes out of a season folder: sheets, wall chart, calendars, and the mark that they did."""

import datetime as dt
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

from curriculum.ledger import Ledger, Made, change_ledger
from curriculum.models.plan import Plan, PlannedPractice
from curriculum.outputs.html.season import season_page
from curriculum.outputs.ical.entries import Audience
from curriculum.outputs.ical.feed import PLAIN, View, calendar_bytes, calendar_objects
from curriculum.outputs.ical.lint import lint
from curriculum.outputs.pdf.families import families_pdf
from curriculum.outputs.pdf.season import season_pdf
from curriculum.outputs.pdf.sheets import booklet_pdf
from curriculum.outputs.pdf.skills import skills_pdf
from curriculum.outputs.pdf.typeset import Paper, Printed
from curriculum.outputs.picture.drills import DEFAULT_COURT
from curriculum.practice.book import Book, book_of
from curriculum.practice.rows import Missed
from curriculum.practice.sheet import Sheet, page_of
from curriculum.problems import FaultyInputError, Problem
from curriculum.publish.address import Login
from curriculum.publish.caldav_server import CalDavServer
from curriculum.publish.run import Outcome, ServerError, publish
from curriculum.wording import short_date
from curriculum.workspace import LEDGER_FILE, Workspace

MOST_NAMED = 3
"""Nearby practices that a message names."""


def sheet_for(
    space: Workspace, plan: Plan, planned: PlannedPractice, missed: Missed | None = None
) -> Sheet:
    """Return the sheet of one practice of the plan.

    missed: who missed which introduction, by skill; for the coach's own sheet alone.
    Raises FaultyInputError when the season's calendar no longer holds that practice.
    """
    return _page(space, planned, book_of(plan, space.season, space.library), missed)


def all_sheets(space: Workspace, plan: Plan) -> tuple[Sheet, ...]:
    """Return the sheets of all practices of the plan, in order of time; no name stands in them."""
    book = book_of(plan, space.season, space.library)
    return tuple(_page(space, planned, book, None) for planned in book.practices)


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


def calendar_file(
    space: Workspace, plan: Plan, audience: Audience, now: dt.datetime, view: View = PLAIN
) -> tuple[bytes, Workspace]:
    """Return a calendar of the plan, and the folder with the ledger that is kept with it.

    Raises FaultyInputError, and keeps nothing, when no phone should see the calendar.
    """

    def made(ledger: Ledger) -> tuple[bytes, Ledger]:
        data, after = calendar_bytes(plan, space.season, space.library, ledger, now, audience, view)
        faults = lint(data)
        if faults:
            raise FaultyInputError(
                [Problem("", 0, "calendar", f"would not be valid: {fault}") for fault in faults]
            )
        return data, after

    data, ledger = _told(space, plan, now, made)
    return data, replace(space, ledger=ledger)


def publish_calendar(
    space: Workspace,
    plan: Plan,
    address: str,
    login: Login,
    audience: Audience,
    view: View,
    now: dt.datetime,
    *,
    overwrite: bool = False,
) -> Outcome:
    """Bring a calendar on a CalDAV server up to date; safe to repeat and to interrupt.

    What stands in the way is in the outcome, a server out of reach too.
    """

    def made(ledger: Ledger) -> tuple[dict[str, bytes], Ledger]:
        return calendar_objects(plan, space.season, space.library, ledger, now, audience, view)

    def save(change: Callable[[Ledger], Ledger]) -> Ledger:
        return _told(space, plan, now, lambda kept: (None, change(kept)))[1]

    objects, ledger = _told(space, plan, now, made)
    try:
        server = CalDavServer(address, login)
        server.open()
    except ServerError as fault:
        return Outcome({}, (Problem("", 0, "--publish", str(fault), address),))
    try:
        _, outcome = publish(
            objects,
            ledger,
            address,
            audience,
            server,
            save,
            overwrite=overwrite,
        )
    finally:
        server.close()
    return outcome


def _told(
    space: Workspace,
    plan: Plan,
    now: dt.datetime,
    change: Callable[[Ledger], tuple[Made, Ledger]],
) -> tuple[Made, Ledger]:
    """Change the ledger in a turn of its own; see `change_ledger`."""
    path = space.folder / LEDGER_FILE
    return change_ledger(path, space.season.season.id, now, plan.revision, change)


@dataclass(frozen=True)
class Print:
    """A print that can be made: the name of its file, and what it is."""

    name: str
    what: str
    make: Callable[[], Printed]


def prints_of(
    space: Workspace,
    plan: Plan,
    paper: Paper,
    fonts: Path | None = None,
    court: str = DEFAULT_COURT,
) -> tuple[Print, ...]:
    """Return the prints of a plan; the booklet is left out where no practice is held.

    court: the one that diagrams show. The bytes depend on the plan alone: its own time stands in
    the files.
    """
    season, library, made = space.season, space.library, plan.made

    def booklet() -> Printed:
        return booklet_pdf(all_sheets(space, plan), library.drills, made, paper, fonts, court)

    def chart() -> Printed:
        return season_pdf(plan, season, library, space.gym, made, paper, fonts)

    def skills() -> Printed:
        return skills_pdf(plan, season, library, made, paper, fonts)

    def families() -> Printed:
        return families_pdf(plan, season, made, paper, fonts)

    every = (
        Print("sheets.pdf", "booklet of all sheets", booklet),
        Print("season.pdf", "wall chart", chart),
        Print("skills.pdf", "map of skills", skills),
        Print("families.pdf", "dates for families", families),
    )
    return every if plan.practices else every[1:]


def prints(
    space: Workspace, plan: Plan, paper: Paper, fonts: Path | None = None
) -> Iterator[tuple[str, Printed]]:
    """Yield each print of `prints_of` with its file name, made when it is asked for."""
    for each in prints_of(space, plan, paper, fonts):
        yield each.name, each.make()


def season_html(space: Workspace, plan: Plan, court: str = DEFAULT_COURT) -> bytes:
    """Return the whole season as one page that works without a network; no name stands in it."""
    return season_page(
        plan, space.season, space.library, space.gym, all_sheets(space, plan), court
    ).encode()


def mark_as_told(space: Workspace) -> Workspace:
    """Keep in the folder that people know the plan: from now on, changes to it count."""
    if space.plan is None:
        return space
    _, ledger = _told(space, space.plan, space.plan.made, lambda kept: (None, kept))
    return replace(space, ledger=ledger)
