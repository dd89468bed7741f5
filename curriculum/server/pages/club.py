"""A club's own pages: its teams at a glance, who teaches what in a week, goals at risk."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from starlette.responses import Response

from curriculum.club.page import TightGoal
from curriculum.fleet.clubspace import ClubSpace
from curriculum.models.plan import Plan, PlannedPractice
from curriculum.models.record import Record
from curriculum.records.database import RECORD_FILE, read_record
from curriculum.server.clubsite import ClubSite
from curriculum.server.pages.season import outdated
from curriculum.server.visits import Visit, plain
from curriculum.spans import DAY, monday_of
from curriculum.store import read_plan
from curriculum.workspace import PLAN_FILE

WEEK = 7 * DAY
EARLIEST, LATEST = dt.date(2000, 1, 3), dt.date(2100, 1, 4)


@dataclass(frozen=True)
class TeamCard:
    """A team on the club's front page.

    season: whether one stands in its folder. plan: whether one was made. where: the gym of the
    next practice. unrecorded: past practices that nobody recorded. missed, last: must- and
    should-goals still to come that the plan misses, and that it teaches in the last practice before
    their date.
    """

    id: str
    name: str
    coaches: tuple[str, ...]
    season: bool
    plan: bool = False
    next: PlannedPractice | None = None
    where: str = ""
    unrecorded: int = 0
    missed: int = 0
    last: int = 0


def teams(visit: Visit) -> Response:
    """Show every team: its next practice, its goals in danger, and the way to its season.

    What stands in the plans is read, and no season is opened: that takes half a second for each.
    """
    house = visit.club
    files = house.files()
    names = {coach.id: coach.name for coach in files.club.coach}
    gyms = {gym.id: gym.name for gym in files.club.gym}
    cards = []
    for team in files.club.team:
        coaches = tuple(names.get(each, each) for each in team.coaches)
        card = TeamCard(team.id, team.name, coaches, house.has(team.id))
        cards.append(_with_plan(card, house, gyms) if card.season else card)
    return visit.page(
        "teams.html", club=files.club, cards=cards, warnings=plain(house, files.problems)
    )


def _with_plan(card: TeamCard, house: ClubSite, gyms: dict[str, str]) -> TeamCard:
    folder = house.files().season_folder(card.id)
    plan, _ = read_plan(folder / PLAN_FILE)
    if plan is None:
        return card
    record, _ = read_record(folder / RECORD_FILE)
    today = house.now().astimezone(ZoneInfo(plan.timezone)).date()
    coming = [each for each in plan.practices if each.date >= today and not record.of(each.id)]
    following = coming[0] if coming else None
    missed, last = _in_danger(plan, today)
    return TeamCard(
        id=card.id,
        name=card.name,
        coaches=card.coaches,
        season=True,
        plan=True,
        next=following,
        where=gyms.get(following.venue, following.venue) if following else "",
        unrecorded=_unrecorded(plan, record, today),
        missed=missed,
        last=last,
    )


def _unrecorded(plan: Plan, record: Record, today: dt.date) -> int:
    return sum(each.date < today and record.of(each.id) is None for each in plan.practices)


def _in_danger(plan: Plan, today: dt.date) -> tuple[int, int]:
    """Return how many goals to come are missed, and taught with no practice left before the date.

    Could-goals give way whenever room lacks, and are left aside.
    """
    goals = [goal for goal in plan.goals if goal.need != "could" and goal.by >= today]
    missed = [goal for goal in goals if not goal.met]
    last = [
        goal
        for goal in goals
        if goal.met
        and goal.reached is not None
        and goal.reached >= today
        and not any(goal.reached < practice.date <= goal.by for practice in plan.practices)
    ]
    return len(missed), len(last)


def week(visit: Visit) -> Response:
    """Show who teaches what in a week, and how the gyms are used; without a date this week."""
    house = visit.club
    space = house.space()
    today = house.now().date()
    page = space.page(_day(visit, today))
    days: dict[dt.date, list[object]] = {}
    for lesson in page.lessons:
        days.setdefault(lesson.date, []).append(lesson)
    return visit.page(
        "week.html",
        page=page,
        days=days,
        today=today,
        last=page.monday + 6 * DAY,
        clashes=space.clashes,
        dangers=_dangers(page.tight),
        outdated=_outdated(space),
        before=page.monday - WEEK,
        after=page.monday + WEEK,
        warnings=plain(house, space.problems),
    )


def _outdated(space: ClubSpace) -> tuple[tuple[str, str, str], ...]:
    """Return the teams whose calendar has changed since their plan was made: id, name, which."""
    found = []
    for team in space.files.club.team:
        season = space.spaces.get(team.id)
        words = outdated(season) if season else ""
        if words:
            found.append((team.id, team.name, words))
    return tuple(found)


def _dangers(goals: Sequence[TightGoal]) -> tuple[tuple[str, str, list[TightGoal]], ...]:
    """Return headings with their ids: goals that are missed, and goals taught only just in time."""
    missed = [goal for goal in goals if goal.days is None or goal.days < 0]
    last = [goal for goal in goals if goal not in missed]
    return (
        ("missed", "Goals missed", missed),
        ("tight", "Goals taught in the last practice before their date", last),
    )


def risks(visit: Visit) -> Response:
    """Show which goals losing a single practice would miss, over all teams."""
    house = visit.club
    today = house.now().date()
    outlooks = house.outlooks(today)
    page = house.space().page(today, outlooks)
    return visit.page("risks.html", page=page, warnings=plain(house, house.space().problems))


def _day(visit: Visit, today: dt.date) -> dt.date:
    try:
        day = dt.date.fromisoformat(visit.request.query_params.get("of", ""))
    except ValueError:
        return today
    return min(max(monday_of(day), EARLIEST), LATEST)
