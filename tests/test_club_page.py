"""The club's page of a week: lessons, goals without slack, gym use, load."""

from typing import Any

import pytest

from curriculum.club.page import (
    ClubPage,
    GymUse,
    Lesson,
    TeamRisk,
    TeamState,
    TightGoal,
    club_page,
    depth_of,
)
from curriculum.club.uses import uses_of
from curriculum.models.club import ClubGym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.risk import Depth, outlook
from curriculum.workload import workload_of
from tests.build import day, game, goal, gym, library, plan_of, season
from tests.club_build import club, opening, slot, slots, team

SKILLS = library("pass", "cut")


def page(
    of: Season, plan: Plan | None, *, dates: tuple[str, ...] = ("01-12",), **changes: Any
) -> ClubPage:
    """Return the page of the week of 11 January for one team."""
    calendar = gym(of, dates=[day(each) for each in dates], **changes)
    around = club(
        team("a", coaches="ada"),
        gym=(ClubGym(id="north-gym", name="North Gym", courts=2),),
        opening=(opening("north-gym", "tue wed thu fri", "17:00", "19:00"),),
    )
    times = slots(slot("a", "tue", "17:30", gym="north-gym", number=2))
    uses = uses_of(around, times, {"a": calendar})
    state = TeamState(of, calendar, SKILLS, plan)
    outlooks = {}
    if plan is not None:
        outlooks["a"] = outlook(of, SKILLS, calendar, workload_of(of, SKILLS), plan)
    return club_page(around, {"a": state}, uses, day("01-13"), outlooks)


def test_who_teaches_what() -> None:
    """A practice with its court, its coach and its blocks in words."""
    of = season(goal=(goal("pass"),))
    plan = plan_of(of, SKILLS, gym(of), {"01-12": ["pass"]})

    assert page(of, plan).lessons == (
        Lesson(
            day("01-12"), "17:30-18:45", "North Gym", 2, "A", ("Ada",), ("NEW Pass, unopposed",)
        ),
    )


def test_gym_use_counts_courts() -> None:
    """75 minutes of one court, of four evenings of two hours on two courts."""
    assert page(season(), None).gyms == (GymUse("North Gym", 75, 4 * 120 * 2),)


def test_a_team_without_plan_is_named() -> None:
    """Its practices stand without blocks."""
    found = page(season(), None)

    assert (found.without_plan, found.lessons[0].what) == (("A",), ())


def test_a_goal_taught_in_the_last_practice_is_tight() -> None:
    """No practice is left between the day it is taught and its date."""
    of = season(goal=(goal("pass", by=day("01-14")), goal("cut")))
    plan = plan_of(of, SKILLS, gym(of), {"01-12": ["pass", "cut"]})

    assert page(of, plan).tight == (TightGoal("A", "Pass", "unopposed", "must", day("01-14"), 2),)


def test_goals_that_a_single_lost_practice_would_miss() -> None:
    """Each stands with its team in one sentence, and it is said of how many losses were tried."""
    of = season(goal=(goal("pass", by=day("01-14")), goal("cut")))
    plan = plan_of(of, SKILLS, gym(of), {"01-12": ["pass", "cut"]})
    found = page(of, plan, dates=("01-12", "01-15"))

    assert found.risks == (
        TeamRisk("A", day("01-14"), "Pass unopposed by Thu 14 Jan is missed if Tue 12 Jan is lost"),
    )
    assert found.tried == (2, 2)
    assert page(of, None).tried is None


@pytest.mark.parametrize(
    ("teams", "depth"),
    [(0, Depth(360, 24)), (12, Depth(30, 2)), (40, Depth(9, 1)), (1000, Depth(1, 1))],
)
def test_many_teams_are_looked_into_less_deeply(teams: int, depth: Depth) -> None:
    """What is tried over all teams stays about the same, and each team has its share."""
    assert depth_of(teams) == depth


def test_a_missed_goal_is_tight_and_a_could_goal_never() -> None:
    """A goal that the plan does not reach is told; nobody is alarmed by a could-goal."""
    of = season(goal=(goal("pass"), goal("cut", need="could")))
    plan = plan_of(of, SKILLS, gym(of), {})

    assert page(of, plan).tight == (
        TightGoal("A", "Pass", "unopposed", "must", of.season.end, None),
    )


def test_a_heavy_week_is_told_with_its_source() -> None:
    """Five practices of 75 minutes pass the cap of five hours at ages 9 to 11.

    NBA and USA Basketball; DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4.
    """
    days = ("01-11", "01-12", "01-13", "01-14", "01-15")

    assert page(season(), None, dates=days).load == (
        (
            "A: 375 minutes of organised basketball, at most 5 hours for ages 9-11 (NBA and USA "
            "Basketball; DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4); local "
            "rules and medical professionals come first"
        ),
    )
    assert page(season(), None, dates=days[:4]).load == ()


def test_home_games_stand_on_the_page() -> None:
    """A home game in the club's gym is one of the week's lines."""
    of = season(game=(game(date=day("01-16"), venue="north-gym"),))

    assert [each.what for each in page(of, None, dates=()).lessons] == [
        ("game against Harbour Light",)
    ]
