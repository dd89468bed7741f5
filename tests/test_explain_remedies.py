"""Remedies: cheapest first, each planned again, with the effect it has."""

import datetime as dt
import random

import pytest

from curriculum.gym.slots import calendar_of
from curriculum.models.season import Goal, Pin, Season
from curriculum.models.skills import Library, StageWork
from curriculum.schedule.again import Setting, changed, trial
from curriculum.schedule.changes import Extra, WithoutPin
from curriculum.schedule.explain.remedies import Remedy, misses_and_remedies, remedies_of, troubles
from tests.brute_force import keeps_all
from tests.build import day, goal, library, season, skill
from tests.random_seasons import random_case


def remedies(of: Season, skills: Library) -> tuple[Remedy, ...]:
    """Return what helps a season, as its real calendar stands."""
    return remedies_of(trial(Setting(of, skills, calendar_of(of))))


def words(of: Season, skills: Library) -> list[str]:
    """Return the sentences of what helps a season."""
    return [remedy.says for remedy in remedies(of, skills)]


def weighted(names: tuple[str, ...]) -> tuple[Goal, ...]:
    """Return must-goals by Tue 12 Jan, the last of them the least, so that it is the one missed."""
    return tuple(goal(each, by=day("01-12"), weight=9 - place) for place, each in enumerate(names))


def test_nothing_missed_needs_no_remedy() -> None:
    """A plan that meets every must-goal needs nothing."""
    of = season(weeks=2, goal=(goal("pass"),))

    assert remedies(of, library("pass")) == ()


def test_too_few_days() -> None:
    """Where days lack, a later date, one more practice or a lesser goal help; minutes do not."""
    of = season(weeks=3, goal=(goal("pass", by=day("01-19")), goal("cut")))

    assert words(of, library(skill("pass", unopposed=(4, 8)), "cut")) == [
        "moving Pass unopposed to Fri 22 Jan: both must-goals met",
        "one more practice on Mon 18 Jan at 17:30 (75 minutes, North Gym): both must-goals met",
        "making Pass unopposed a should-goal: the must-goal is met",
    ]


def test_too_few_minutes() -> None:
    """Where minutes lack, less spare is cheapest."""
    of = season(
        weeks=2, goal=(goal("pass", by=day("01-12")), goal("cut", by=day("01-12"), weight=2))
    )
    skills = library(skill("pass", unopposed=(1, 20)), skill("cut", unopposed=(1, 19)))

    assert words(of, skills) == [
        "0 % of the minutes kept free instead of 10 %: both must-goals met",
        "moving Pass unopposed to Fri 15 Jan: both must-goals met",
        "one more practice on Mon 11 Jan at 17:30 (75 minutes, North Gym): both must-goals met",
    ]


def test_too_many_new_skills() -> None:
    """Where introductions lack, one more of them is cheapest."""
    names = ("pass", "cut", "shot")
    of = season(weeks=2, goal=weighted(names))

    assert words(of, library(*names)) == [
        "3 new skills a practice instead of 2: all 3 must-goals met",
        "moving Shot unopposed to Fri 15 Jan: all 3 must-goals met",
        "one more practice on Mon 11 Jan at 17:30 (75 minutes, North Gym): all 3 must-goals met",
    ]


def test_days_between_blocks() -> None:
    """A gap rule that is too long is eased by a day first."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),), teaching={"gap_days": 4})

    assert words(of, library(skill("pass", unopposed=(3, 8)))) == [
        "3 days instead of 4 between two blocks of a skill: the must-goal is met",
        "making Pass unopposed a should-goal: no must-goal is missed",
    ]


def test_a_pin_too_early() -> None:
    """A pin that breaks the rules can be taken out."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-12"), number=1)
    of = season(weeks=2, pin=(pin,), goal=(goal("cut"),))

    assert remedies(of, library("pass", skill("cut", needs=("pass",)))) == (
        Remedy(
            (Extra(day("01-11"), dt.time(17, 30), 75, "north-gym"),),
            "one more practice on Mon 11 Jan at 17:30 (75 minutes, North Gym): "
            "the must-goal is met, every pin kept",
            6,
            whole=True,
        ),
        Remedy(
            (WithoutPin("cut", "unopposed", day("01-12")),),
            "without the pin of Cut unopposed on Tue 12 Jan: the must-goal is met, every pin kept",
            7,
            whole=True,
        ),
    )


def test_a_remedy_that_helps_only_in_part_says_so() -> None:
    """When nothing clears everything, what clears something is told with its effect."""
    of = season(
        weeks=2,
        expected=8,
        goal=(goal("play"), goal("pass", by=day("01-12")), goal("cut", by=day("01-12"), weight=2)),
    )
    skills = library(
        skill("play", unopposed=StageWork(players=10)),
        skill("pass", unopposed=(1, 20)),
        skill("cut", unopposed=(1, 19)),
    )

    assert words(of, skills) == [
        "making Play unopposed and Pass unopposed should-goals: the must-goal is met",
        "0 % of the minutes kept free instead of 10 %: 2 of 3 must-goals met instead of 1",
        "moving Pass unopposed to Fri 15 Jan: 2 of 3 must-goals met instead of 1",
    ]


def test_a_later_date_brings_no_other_goal_forward() -> None:
    """A change is made to all goals on a stage, and here one of them is due in two weeks."""
    goals = (goal("pass", by=day("01-12")), goal("pass", by=day("01-22"), need="could"))
    of = season(weeks=3, goal=goals)

    assert not [
        each for each in words(of, library(skill("pass", unopposed=(2, 8)))) if "moving" in each
    ]


def test_every_whole_remedy_really_works() -> None:
    """Made to the season and planned again, each change leaves nothing missed."""
    names = ("pass", "cut", "shot", "screen")
    of = season(weeks=3, goal=tuple(goal(each, by=day("01-12")) for each in names))
    before = trial(Setting(of, library(*names), calendar_of(of)))

    after = [
        troubles(trial(changed(before.setting, remedy.changes)))
        for remedy in remedies_of(before)
        if remedy.whole
    ]

    assert after == [frozenset(), frozenset(), frozenset()]


def test_misses_carry_the_remedies() -> None:
    """Missed must-goals carry what helps them, other misses do not."""
    of = season(
        weeks=2,
        goal=(
            goal("pass", by=day("01-11")),
            goal("cut", by=day("01-11"), need="should"),
        ),
    )
    found, _ = misses_and_remedies(trial(Setting(of, library("pass", "cut"), calendar_of(of))))

    assert [(miss.skill, miss.remedies) for miss in found] == [
        (
            "pass",
            (
                "moving Pass unopposed to Tue 12 Jan: the must-goal is met",
                (
                    "one more practice on Mon 11 Jan at 17:30 (75 minutes, North Gym): "
                    "the must-goal is met"
                ),
                "making Pass unopposed a should-goal: no must-goal is missed",
            ),
        ),
        ("cut", ()),
    ]


@pytest.mark.parametrize("seed", range(2))
def test_brute_force_agrees_that_remedies_work(seed: int) -> None:
    """With each change that is said to mend everything, the next plan keeps everything."""
    dice = random.Random(seed)
    shown = 0
    for number in range(30):
        tried = random_case(dice)
        before = trial(Setting(tried.season, tried.library, tried.gym))
        for remedy in remedies_of(before):
            if remedy.whole:
                shown += 1
                after = trial(changed(before.setting, remedy.changes))
                assert keeps_all(after.instance), (number, remedy.says)
                assert not troubles(after), (number, remedy.says)

    assert shown > 20
