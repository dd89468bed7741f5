"""Warnings: they name what a coach should know, and are never a breach."""

import pytest

from curriculum.models.skills import StageWork
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach, Verdict
from curriculum.spans import days_between
from tests.build import day, game, goal, gym, library, plan_of, season, skill

SKILLS = library(skill("pass", unopposed=(2, 8)))


def test_a_stage_for_older_players() -> None:
    """The oldest player decides; the warning stands at the stage's first block."""
    skills = library(skill("pass", unopposed=StageWork(age=11), guided=StageWork(age=12)))
    of = season(ages=(9, 11), goal=(goal("pass", "guided"),))
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",), "01-15": ("pass@guided",)})
    warning = Breach(
        "usual age",
        "2027-01-15-north-gym-1730",
        "pass",
        "guided",
        "Fri 15 Jan 2027: Pass guided is usually taught from age 12 on, the oldest player is 11",
    )

    assert judge(plan, of, skills, held) == Verdict(breaches=(), warnings=(warning,))
    assert judge(plan, of, skills, held, today=day("01-16")) == Verdict((), ())


@pytest.mark.parametrize(("stretch_days", "warned"), [(14, False), (13, True)])
def test_a_long_gap(stretch_days: int, warned: bool) -> None:
    """Fourteen days are as many as preferred, and one more than thirteen."""
    of = season(goal=(goal("pass"),), teaching={"stretch_days": stretch_days})
    held = gym(of)
    plan = plan_of(of, SKILLS, held, {"01-12": ("pass",), "01-26": ("pass",)})
    warning = Breach(
        "long gaps",
        "2027-01-26-north-gym-1730",
        "pass",
        "unopposed",
        "Tue 26 Jan 2027: Pass unopposed 2 of 2 comes 14 days after Pass unopposed 1 of 2, "
        "preferably it is at most 13 days",
    )

    assert judge(plan, of, SKILLS, held) == Verdict((), (warning,) if warned else ())


def test_a_gap_before_a_review_is_no_long_gap() -> None:
    """Only introduce and build blocks are held together by `stretch_days`."""
    of = season(goal=(goal("pass"),), teaching={"stretch_days": 3})
    held = gym(of)
    blocks = {"01-12": ("pass",), "01-15": ("pass",), "01-29": ("review pass",)}

    assert judge(plan_of(of, SKILLS, held, blocks), of, SKILLS, held) == Verdict((), ())


@pytest.mark.parametrize(
    ("ages", "days", "minutes", "hours", "band"),
    [
        # Hours by age: DiFiori et al. (2018), Sports Medicine 48:2053-2065, Table 4.
        ((7, 8), 3, 60, 3, "7-8"),
        ((8, 9), 3, 60, 3, "7-8"),
        ((9, 11), 5, 60, 5, "9-11"),
        ((11, 12), 5, 60, 5, "9-11"),
        ((12, 14), 5, 120, 10, "12-14"),
        ((15, 18), 7, 120, 14, "15 and over"),
        ((18, 18), 7, 120, 14, "15 and over"),
        # The table sets nothing below 7; the lowest cap is taken.
        ((5, 6), 3, 60, 3, "7-8"),
    ],
)
def test_more_hours_than_the_published_cap(
    ages: tuple[int, int], days: int, minutes: int, hours: int, band: str
) -> None:
    """Practices up to the cap of the youngest player's age pass, a game on top does not."""
    skills, goals = library("pass"), (goal("pass", need="could"),)
    calm = season(weeks=1, ages=ages, goal=goals)
    busy = season(weeks=1, ages=ages, goal=goals, game=(game(date=day("01-17"), minutes=10),))
    dates = days_between(day("01-11"), day("01-17"))[:days]
    warnings = []
    for of in (calm, busy):
        held = gym(of, dates=dates, minutes=minutes)
        warnings.append(judge(plan_of(of, skills, held, {}), of, skills, held).warnings)

    says = (
        f"week of Mon 11 Jan 2027: {hours * 60 + 10} minutes of organised basketball ({days} "
        "practices, 1 game); the NBA and USA Basketball guidelines (DiFiori et al. 2018, Table 4) "
        f"set at most {hours} hours for ages {band}; local rules and medical professionals come "
        "first"
    )
    assert warnings == [(), (Breach("weekly hours", None, None, None, says),)]


def test_weeks_run_from_monday_to_sunday() -> None:
    """Three hours before a Sunday's end and three after it are two weeks of three hours."""
    of = season(ages=(8, 8))
    dates = days_between(day("01-15"), day("01-20"))
    held = gym(of, dates=dates, minutes=60)

    assert judge(plan_of(of, library("pass"), held, {}), of, library("pass"), held).warnings == ()


def test_past_weeks_and_grown_players_are_not_warned_of() -> None:
    """A week whose Sunday is past is over; from 19 years on the table has nothing to say."""
    of, grown = season(ages=(8, 8), weeks=1), season(ages=(19, 30), weeks=1)
    skills, dates = library("pass"), days_between(day("01-11"), day("01-17"))
    held = gym(of, dates=dates, minutes=180)
    plan = plan_of(of, skills, held, {})

    assert len(judge(plan, of, skills, held, today=day("01-17")).warnings) == 1
    assert judge(plan, of, skills, held, today=day("01-18")).warnings == ()
    assert judge(plan, grown, skills, held).warnings == ()
