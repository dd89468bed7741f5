"""The season at a glance."""

import datetime as dt
from dataclasses import dataclass

from starlette.responses import Response

from curriculum.handouts.sheets import still_held
from curriculum.models.plan import PlannedPractice
from curriculum.models.record import Saved
from curriculum.outdated import calendar_changes, changes_words
from curriculum.practice.agenda import Agenda, Week, agenda
from curriculum.server.replanning import Planner
from curriculum.server.visits import Visit, plain
from curriculum.workspace import Workspace

MOST_OPEN = 3
"""Practices not recorded yet that are named; what is older is seldom remembered."""


@dataclass(frozen=True)
class Ahead:
    """What a coach needs first: the next practice, and those that were held but not recorded."""

    next: PlannedPractice | None
    open: tuple[PlannedPractice, ...]


def season(visit: Visit) -> Response:
    """Show the next practice, the goals and all weeks."""
    space = visit.space()
    warnings = plain(visit.site, space.problems)
    if space.plan is None:
        return visit.page("no_plan.html", space=space, warnings=warnings)
    today = visit.site.today(space)
    shown = agenda(space.plan, space.season, space.library, space.gym)
    planner: Planner = visit.request.app.state.planner
    since = recorded_since(space)
    return visit.page(
        "season.html",
        space=space,
        shown=shown,
        ahead=ahead(space, today),
        remedies=remedies(shown),
        this_week=_this_week(shown.weeks, today),
        records=record_words(space),
        lost={each.id for each in space.plan.practices} - {each.id for each in space.gym.practices},
        since=0 if since and planner.says_it_stays(space) else since,
        outdated=outdated(space),
        venues={venue.id: venue.name for venue in space.season.venue},
        today=today,
        warnings=warnings,
    )


def remedies(shown: Agenda) -> tuple[str, ...]:
    """Return what would help a plan, each remedy once: it may stand at several misses."""
    return tuple(dict.fromkeys(each for miss in shown.misses for each in miss.remedies))


def ahead(space: Workspace, today: dt.date) -> Ahead:
    """Return what comes next, and what waits to be recorded, newest first."""
    practices = still_held(space, space.plan) if space.plan else ()
    coming = [each for each in practices if each.date >= today and not space.record.of(each.id)]
    past = [each for each in practices if each.date < today and not space.record.of(each.id)]
    return Ahead(coming[0] if coming else None, tuple(reversed(past[-MOST_OPEN:])))


def record_words(space: Workspace) -> dict[str, str]:
    """Return what is recorded of each practice, in a word or two."""
    return {saved.entry.practice: _words(saved) for saved in space.record.practices}


def _words(saved: Saved) -> str:
    entry = saved.entry
    if entry.status == "lost":
        return f"lost: {entry.reason}"
    if entry.status == "shortened":
        return f"held, {entry.really} of {entry.minutes} minutes"
    return "held"


def recorded_since(space: Workspace) -> int:
    """Return how many practices were recorded after the plan was made: it may not follow them."""
    if space.plan is None:
        return 0
    return sum(saved.at > space.plan.made for saved in space.record.practices)


def outdated(space: Workspace) -> str:
    """Return which practices have changed in the calendar since the plan was made, "" when none."""
    return "" if space.plan is None else changes_words(calendar_changes(space.plan, space.gym))


def _this_week(weeks: tuple[Week, ...], today: dt.date) -> int:
    """Return the number of the week that is opened: this one, else the first one to come."""
    ahead = (week.number for week in weeks if week.monday + dt.timedelta(days=6) >= today)
    return next(ahead, weeks[-1].number if weeks else 0)
