"""How sure a plan is: goals that one lost practice would cost, and what a miss would cost."""

import datetime as dt
import random

import pytest

from curriculum.gym.practices import Gym
from curriculum.gym.slots import calendar_of
from curriculum.models.gymtimes import NoPractice
from curriculum.models.plan import Plan
from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library
from curriculum.risk import FULL, Depth, Outlook, Risk, costs, outlook
from curriculum.schedule.again import Setting, trial
from curriculum.schedule.assemble import assemble
from curriculum.schedule.explain.costs import Hanging, Waiting
from curriculum.schedule.instance import build, held_of
from curriculum.workload import workload_of
from tests.brute_force import keeps_all
from tests.build import day, game, goal, gym, library, plan_of, season, skill

MADE = dt.datetime(2027, 1, 5, 9, 0, tzinfo=dt.UTC)


def planned(of: Season, skills: Library) -> tuple[Gym, Plan]:
    """Return a season's calendar and its plan."""
    held = calendar_of(of)
    made = trial(Setting(of, skills, held))
    return held, assemble(of, held, made.workload, made.instance, made.result, made=MADE)


def looked_into(
    of: Season, skills: Library, today: dt.date | None = None, depth: Depth = FULL
) -> Outlook:
    """Return the outlook of a season's own plan."""
    held, plan = planned(of, skills)
    return outlook(of, skills, held, workload_of(of, skills), plan, today, depth)


def test_a_goal_with_a_day_to_spare_is_safe() -> None:
    """A block that can move to another practice in time is no risk."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))

    assert looked_into(of, library("pass")) == Outlook((), 4, 4)


def test_a_goal_without_a_day_to_spare_is_at_risk() -> None:
    """Every practice that its blocks cannot do without is named."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))

    assert looked_into(of, library(skill("pass", unopposed=(2, 8)))).risks == (
        Risk(
            skill="pass",
            stage="unopposed",
            by=day("01-15"),
            need="must",
            practices=("2027-01-12-north-gym-1730", "2027-01-15-north-gym-1730"),
            dates=(day("01-12"), day("01-15")),
            says="Pass unopposed by Fri 15 Jan is missed if Tue 12 Jan or Fri 15 Jan is lost",
        ),
    )


def test_many_practices_are_counted() -> None:
    """Beyond three, the practices are counted and their ends named."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-22")),))

    assert [r.says for r in looked_into(of, library(skill("pass", unopposed=(4, 8)))).risks] == [
        (
            "Pass unopposed by Fri 22 Jan is missed if one of 4 practices between Tue 12 Jan and "
            "Fri 22 Jan is lost"
        )
    ]


def test_no_more_is_looked_into_than_asked_for() -> None:
    """The nearest practices come first; those on which nothing hangs are settled all the same."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))

    found = looked_into(of, library(skill("pass", unopposed=(2, 8))), depth=Depth(1, 1))

    assert [risk.dates for risk in found.risks] == [(day("01-12"),)]
    assert found.says == "looked into the loss of 3 of 4 practices"


def test_only_what_is_left_counts() -> None:
    """What is past cannot be lost, and what it held stays held."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))

    found = looked_into(of, library(skill("pass", unopposed=(2, 8))), today=day("01-14"))

    assert [(risk.dates, found.checked, found.remaining) for risk in found.risks] == [
        ((day("01-15"),), 3, 3)
    ]


def test_minutes_that_another_practice_lacks() -> None:
    """A goal is at risk when its block fits nowhere else beside what must stand there."""
    goals = (goal("pass", by=day("01-15")), goal("cut", by=day("01-15")))
    of = season(weeks=2, goal=goals)
    skills = library(skill("pass", unopposed=(1, 30)), skill("cut", unopposed=(1, 30)))

    found = looked_into(of, skills)

    # One of the two is lost with either practice; which one is the planner's choice.
    assert {date for risk in found.risks for date in risk.dates} == {day("01-12"), day("01-15")}


def test_could_goals_are_left_aside() -> None:
    """A goal that gives way whenever room lacks is no promise that could be lost."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15"), need="could"),))

    assert looked_into(of, library(skill("pass", unopposed=(2, 8)))).risks == ()


def test_what_was_held_before_the_loss_counts() -> None:
    """A practice is lost when it comes: blocks before it have been held, those after it move up."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),))

    # Two blocks in three practices: the second can wait a practice, the first as well.
    assert looked_into(of, library(skill("pass", unopposed=(2, 8)))).risks == ()


def test_goals_missed_anyway_are_not_at_risk() -> None:
    """A goal that the plan misses cannot be lost once more."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")),))

    assert looked_into(of, library(skill("pass", unopposed=(3, 8)))).risks == ()


def test_a_season_without_stated_goals_has_none_at_risk() -> None:
    """Skills that are only taught because nothing else was asked for are no promise."""
    assert looked_into(season(weeks=1), library("pass", "cut")) == Outlook((), 0, 0)


def test_a_pin_that_is_kept_stays_kept() -> None:
    """A loss that could only be made good by moving a pinned block counts as a risk."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-15"), number=1)
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")), goal("cut")), pin=(pin,))
    skills = library(skill("pass", unopposed=(1, 30)), skill("cut", unopposed=(1, 30)))

    assert [(risk.skill, risk.dates) for risk in looked_into(of, skills).risks] == [
        ("pass", (day("01-12"),)),
    ]


@pytest.mark.parametrize("seed", range(3))
def test_brute_force_agrees(seed: int) -> None:
    """A goal is at risk just when, on that day, no plan meets all that was met any more."""
    dice = random.Random(seed)
    risky = 0
    for number in range(20):
        of, skills = _random(dice)
        held, plan = planned(of, skills)
        risks = outlook(of, skills, held, workload_of(of, skills), plan).risks
        told = {practice for risk in risks for practice in risk.practices}
        risky += bool(told)

        assert told == {
            one.id for one in held.practices if not _still(of, skills, plan, one.date)
        }, number

    assert 0 < risky < 20


def _random(dice: random.Random) -> tuple[Season, Library]:
    """Return a season of four practices with must-goals that are close in time."""
    names = ["pass", "cut", "shot"]
    skills = [
        skill(
            name,
            needs=tuple(dice.sample(names[:place], k=min(place, dice.randint(0, 1)))),
            unopposed=(dice.choice((1, 1, 2)), dice.choice((8, 12, 24))),
        )
        for place, name in enumerate(names)
    ]
    dates = [day("01-15"), day("01-19"), day("01-22")]
    goals = tuple(goal(name, by=dice.choice(dates)) for name in names)
    games = (game(date=dice.choice((day("01-16"), day("01-20")))),)
    return season(weeks=2, goal=goals, game=games), library(*skills)


def _still(of: Season, skills: Library, plan: Plan, lost: dt.date) -> bool:
    """Whether any plan meets all that was met when a day is lost, the days before it as planned."""
    goals = tuple(
        each.model_copy(update={"need": "must" if result.met else "could"})
        for each, result in zip(of.goal, plan.goals, strict=True)
    )
    off = NoPractice(date=lost, reason="lost")
    asked = of.model_copy(update={"goal": goals, "no_practice": (off,)})
    workload = workload_of(asked, skills)
    return keeps_all(build(asked, calendar_of(asked), workload, lost, held_of(plan, lost)))


def test_what_a_miss_would_cost() -> None:
    """What waits for a stage comes with its date, each goal with the last date that saves it."""
    of = season(weeks=2, goal=(goal("cut", by=day("01-19")), goal("shot", need="should")))
    skills = library("pass", skill("cut", needs=("pass",)), skill("shot", needs=("cut",)))
    held = gym(of)
    plan = plan_of(of, skills, held, {"01-12": ("pass",), "01-15": ("cut",), "01-19": ("shot",)})

    found = costs(of, skills, held, workload_of(of, skills), plan, "cut", "unopposed")

    assert (found.waits, found.goals, found.says) == (
        (Waiting(("shot", "unopposed"), day("01-19")),),
        (Hanging(1, day("01-19")),),
        (
            "1 stage of Shot waits for Cut unopposed, the first on Tue 19 Jan",
            "Shot unopposed by Sun 24 Jan is missed if it is reached after Tue 19 Jan",
        ),
    )


def test_the_cost_of_a_stage_that_is_not_taught_is_misuse() -> None:
    """Only stages of the workload can be missed."""
    of = season(weeks=1, goal=(goal("pass"),))
    skills = library("pass", "cut")
    held, plan = planned(of, skills)

    with pytest.raises(KeyError):
        costs(of, skills, held, workload_of(of, skills), plan, "cut", "unopposed")
