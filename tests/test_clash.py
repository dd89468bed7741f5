"""Clashes: what they say, and that nothing can be taken from them."""

import random
from collections.abc import Iterator

import pytest

from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library, StageWork
from curriculum.schedule.explain.clash import Clash, clash_of
from curriculum.schedule.explain.requirements import only
from tests.brute_force import keeps_all
from tests.build import day, game, goal, library, season, skill
from tests.random_seasons import Case, case, random_case


def clash(tried: Case) -> Clash | None:
    """Return the clash of a season, if any."""
    return clash_of(tried.season, tried.library, tried.gym, tried.workload, tried.instance)


def sentences(of: Season, skills: Library) -> tuple[str, ...]:
    """Return what a clash says, then its requirements."""
    found = clash(case(of, skills))
    assert found is not None
    assert found.proven
    assert found.minimal
    return found.says, *found.requirements


def test_no_clash_where_all_can_be_kept() -> None:
    """Goals that fit together are no clash."""
    of = season(weeks=2, goal=(goal("pass"), goal("cut")))

    assert clash(case(of, library("pass", "cut"))) is None


def test_one_goal_with_too_few_days() -> None:
    """One goal that the calendar itself rules out clashes with nothing else."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")), goal("cut")))

    assert sentences(of, library(skill("pass", unopposed=(4, 8)), "cut")) == (
        "Pass unopposed by Tue 19 Jan needs 4 practices on different days; only 3 are left",
        "Pass unopposed by Tue 19 Jan",
    )


def test_needs_that_take_too_long() -> None:
    """A chain of needs is one requirement beside the goal."""
    of = season(weeks=2, goal=(goal("cut", by=day("01-15")),))
    skills = library(skill("pass", unopposed=(2, 8)), skill("cut", needs=("pass",)))

    assert sentences(of, skills) == (
        (
            "Cut unopposed by Fri 15 Jan needs 3 practices one after another (Pass > Cut); "
            "only 2 are left"
        ),
        "Cut unopposed by Fri 15 Jan",
        "what a skill needs comes before it",
    )


def test_days_between_blocks() -> None:
    """A gap rule longer than the calendar allows is named."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-19")),), teaching={"gap_days": 5})

    assert sentences(of, library(skill("pass", unopposed=(3, 8)))) == (
        (
            "Pass unopposed by Tue 19 Jan cannot be reached this season even if nothing else is "
            "taught (5 days between two blocks of a skill)"
        ),
        "Pass unopposed by Tue 19 Jan",
        "at least 5 days between two blocks of a skill",
    )


def test_minutes_of_some_practices() -> None:
    """Goals that fit alone, but not together, clash with their practices' minutes."""
    of = season(weeks=2, goal=(goal("pass", by=day("01-15")), goal("cut", by=day("01-15"))))
    skills = library(skill("pass", unopposed=(2, 20)), skill("cut", unopposed=(2, 20)))

    assert sentences(of, skills) == (
        "by Tue 12 Jan these 2 must-goals need 42 minutes, the practice has 37",
        "Pass unopposed by Fri 15 Jan",
        "Cut unopposed by Fri 15 Jan",
        "the 37 minutes of the practice on Tue 12 Jan",
    )


def test_new_skills_in_one_practice() -> None:
    """Three new skills in one practice clash with the rule about small bites, not with minutes."""
    names = ("pass", "cut", "shot")
    of = season(weeks=2, goal=tuple(goal(each, by=day("01-12")) for each in names))

    assert sentences(of, library(*names)) == (
        "by Tue 12 Jan these 3 must-goals need 3 new skills, the practice has room for 2",
        "Pass unopposed by Tue 12 Jan",
        "Cut unopposed by Tue 12 Jan",
        "Shot unopposed by Tue 12 Jan",
        "at most 2 new skills a practice",
    )


def test_quiet_before_a_game() -> None:
    """Something new by a date just before a game clashes with the quiet rule."""
    of = season(weeks=1, game=(game(date=day("01-16")),), goal=(goal("cut"),))

    assert sentences(of, library("pass", skill("cut", needs=("pass",)))) == (
        (
            "Cut unopposed by Sun 17 Jan cannot be reached this season even if nothing else is "
            "taught (nothing new just before a game)"
        ),
        "Cut unopposed by Sun 17 Jan",
        "what a skill needs comes before it",
        "nothing new in the last practice before a game",
    )


def test_players_that_do_not_come() -> None:
    """The players that a stage needs are a requirement of their own."""
    of = season(weeks=2, expected=8, goal=(goal("play"),))

    assert sentences(of, library(skill("play", unopposed=StageWork(players=10)))) == (
        "Play unopposed by Sun 24 Jan needs 10 players, 8 usually come",
        "Play unopposed by Sun 24 Jan",
        "Play unopposed needs 10 players",
    )


def test_two_pins() -> None:
    """Pins that fill a practice beyond its minutes clash with each other."""
    pins = tuple(
        Pin(skill=each, stage="unopposed", date=day("01-12"), number=1) for each in ("cut", "pass")
    )
    of = season(weeks=2, pin=pins)
    skills = library(skill("pass", unopposed=(1, 20)), skill("cut", unopposed=(1, 20)))

    assert sentences(of, skills) == (
        "no plan keeps all of these 3",
        "Cut unopposed block 1 pinned to Tue 12 Jan",
        "Pass unopposed block 1 pinned to Tue 12 Jan",
        "the 37 minutes of the practice on Tue 12 Jan",
    )


def test_a_pin_before_its_needs() -> None:
    """A pin that comes too early clashes with what its skill needs."""
    pin = Pin(skill="cut", stage="unopposed", date=day("01-12"), number=1)
    of = season(weeks=2, pin=(pin,), goal=(goal("cut"),))

    assert sentences(of, library("pass", skill("cut", needs=("pass",)))) == (
        (
            "Cut unopposed block 1 pinned to Tue 12 Jan: what it needs cannot be taught before "
            "Fri 15 Jan"
        ),
        "Cut unopposed block 1 pinned to Tue 12 Jan",
        "what a skill needs comes before it",
    )


def clashing(count: int, seed: int) -> Iterator[Case]:
    """Yield small random seasons whose must-goals and pins no plan can keep, by brute force."""
    dice = random.Random(seed)
    while count:
        tried = random_case(dice)
        if not keeps_all(tried.instance):
            count -= 1
            yield tried


@pytest.mark.parametrize("seed", range(4))
def test_a_clash_is_real_and_nothing_can_be_taken_from_it(seed: int) -> None:
    """By brute force: what is named cannot all be kept, but all of it less any one thing can."""
    for number, tried in enumerate(clashing(25, seed)):
        found = clash(tried)

        assert found is not None, number
        assert (found.proven, found.minimal) == (True, True), number
        assert not keeps_all(only(tried.instance, frozenset(found.kept))), number
        for dropped in found.kept:
            rest = frozenset(found.kept) - {dropped}
            assert keeps_all(only(tried.instance, rest)), (number, dropped)
