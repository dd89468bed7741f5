"""Rules that look at one practice: each kept by one hand-built plan and broken by another."""

from typing import Any

import pytest

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Known, Season
from curriculum.models.skills import Library, StageWork
from curriculum.referee.judge import judge
from curriculum.referee.verdict import Breach
from tests.build import block, day, game, goal, gym, library, plan_of, practice, season, skill

LONG = library(skill("pass", unopposed=(1, 17)), skill("stop", unopposed=(1, 18)))
FOUR = library("a", "b", "c", "d")
ALL_FOUR = tuple(goal(each) for each in "abcd")


def breaches(plan: Plan, of: Season, skills: Library, held: Gym) -> tuple[Breach, ...]:
    """Return what the referee finds wrong."""
    return judge(plan, of, skills, held).breaches


@pytest.mark.parametrize(
    ("usable", "expected"),
    [
        # 17 + 1 and 18 + 1 minutes are 37: just as many as there are, and one too many for 36.
        (37, ()),
        (
            36,
            (
                Breach(
                    "inside the gym time",
                    "2027-01-12-north-gym-1730",
                    None,
                    None,
                    "Tue 12 Jan 2027: 2 blocks and their changeovers take 37 minutes, "
                    "36 are usable",
                ),
            ),
        ),
    ],
)
def test_blocks_and_changeovers_fit_the_usable_minutes(
    usable: int, expected: tuple[Breach, ...]
) -> None:
    """A practice may be filled to its last usable minute, changeovers included, and no further."""
    of = season(goal=(goal("pass"), goal("stop")))
    held = gym(of, changes={day("01-12"): {"usable_minutes": usable}})
    plan = plan_of(of, LONG, held, {"01-12": ("pass", "stop")})

    assert breaches(plan, of, LONG, held) == expected


def test_a_practice_has_its_own_changeover() -> None:
    """Three minutes of changeover cost each block three minutes."""
    of = season(goal=(goal("pass"), goal("stop")))
    held = gym(of, changeover=3)
    plan = plan_of(of, LONG, held, {"01-12": ("pass", "stop")})

    assert [breach.says for breach in breaches(plan, of, LONG, held)] == [
        "Tue 12 Jan 2027: 2 blocks and their changeovers take 41 minutes, 37 are usable"
    ]


def test_two_introductions_are_enough() -> None:
    """With the default of two, a third new skill in one practice is a breach."""
    of = season(goal=ALL_FOUR)
    held = gym(of)
    kept = plan_of(of, FOUR, held, {"01-12": ("a", "b"), "01-15": ("c", "d")})
    broken = plan_of(of, FOUR, held, {"01-12": ("a", "b", "c"), "01-15": ("d",)})

    assert breaches(kept, of, FOUR, held) == ()
    assert breaches(broken, of, FOUR, held) == (
        Breach(
            "new in small bites",
            "2027-01-12-north-gym-1730",
            None,
            None,
            "Tue 12 Jan 2027: 3 skills introduced, at most 2 may be",
        ),
    )


def test_a_mislabelled_introduction_still_counts() -> None:
    """What introduces a skill is told by the season, not by what the block says of itself."""
    of = season(goal=(goal("a"), goal("b")), teaching={"new_skills": 1})
    held = gym(of)
    plan = plan_of(of, FOUR, held, {"01-12": ("a", block("b", kind="build"))})

    assert [(breach.rule, breach.says) for breach in breaches(plan, of, FOUR, held)] == [
        (
            "the plan itself",
            "Tue 12 Jan 2027: B unopposed 1 of 1: the kind is build, it should be introduce",
        ),
        ("new in small bites", "Tue 12 Jan 2027: 2 skills introduced, at most 1 may be"),
    ]


def test_reviews_count_among_the_blocks() -> None:
    """With at most two blocks, two builds and a review are one too many."""
    of = season(goal=ALL_FOUR[:3], teaching={"blocks": 2})
    held = gym(of)
    first = {"01-12": ("a",)}
    kept = plan_of(of, FOUR, held, {**first, "01-15": ("b", "c"), "01-19": ("review a",)})
    broken = plan_of(of, FOUR, held, {**first, "01-19": ("b", "c", "review a")})

    assert breaches(kept, of, FOUR, held) == ()
    assert breaches(broken, of, FOUR, held) == (
        Breach(
            "new in small bites",
            "2027-01-19-north-gym-1730",
            None,
            None,
            "Tue 19 Jan 2027: 3 blocks planned, at most 2 may be",
        ),
    )


def test_nothing_new_just_before_a_game() -> None:
    """In the last practice before a game a skill is built on, not introduced."""
    skills = library(skill("a", unopposed=(2, 8)))
    of = season(goal=(goal("a"),), game=(game(),))
    held = gym(of, changes={day("01-29"): {"before_game": True}})
    kept = plan_of(of, skills, held, {"01-26": ("a",), "01-29": ("a",)})
    alone = library(skill("a"))
    broken = plan_of(of, alone, held, {"01-29": ("a",)})

    assert breaches(kept, of, skills, held) == ()
    assert breaches(broken, of, alone, held) == (
        Breach(
            "quiet before a game",
            "2027-01-29-north-gym-1730",
            "a",
            "unopposed",
            "Fri 29 Jan 2027: A unopposed 1 of 1 introduces a skill in the last practice "
            "before a game",
        ),
    )


def test_a_known_lower_stage_leaves_nothing_to_introduce() -> None:
    """Where `unopposed` is known, the first guided block is no introduction."""
    skills = library(skill("a", unopposed=(1, 8), guided=(1, 8)))
    of = season(
        goal=(goal("a", "guided"),), known=(Known(skill="a", stage="unopposed"),), game=(game(),)
    )
    held = gym(of, changes={day("01-29"): {"before_game": True}})
    plan = plan_of(of, skills, held, {"01-29": ("a@guided",)})

    assert breaches(plan, of, skills, held) == ()


NEEDY = library(
    skill(
        "press",
        unopposed=StageWork(players=8, baskets=2, court="full"),
    )
)


@pytest.mark.parametrize(
    ("change", "lack"),
    [
        ({"expected": 7}, "8 players, 7 are expected"),
        ({"baskets": 1}, "2 baskets, there are 1"),
        ({"court": "half"}, "a full court, there is a half one"),
    ],
)
def test_a_stage_needs_enough_of_all(change: dict[str, Any], lack: str) -> None:
    """Players, baskets and court are each asked for, in the introduction and in its review."""
    of = season(goal=(goal("press"),))
    enough: dict[str, Any] = {"expected": 8, "baskets": 2}
    kept, short = gym(of, **enough), gym(of, **{**enough, **change})
    blocks = {"01-12": ("press",), "01-19": ("review press",)}
    plan = plan_of(of, NEEDY, kept, blocks)
    rule = "enough players, baskets and court"

    assert breaches(plan, of, NEEDY, kept) == ()
    assert breaches(plan, of, NEEDY, short) == (
        Breach(
            rule,
            "2027-01-12-north-gym-1730",
            "press",
            "unopposed",
            f"Tue 12 Jan 2027: Press unopposed 1 of 1 needs {lack}",
        ),
        Breach(
            rule,
            "2027-01-19-north-gym-1730",
            "press",
            "unopposed",
            f"Tue 19 Jan 2027: review of Press unopposed 1 of 1 needs {lack}",
        ),
    )


def test_the_builder_follows_the_design_of_a_practice() -> None:
    """75 minutes less 12, 12, 5 and 2 x 2 are 42 to teach in; less a tenth, rounded down, 37."""
    plain = practice(day("01-12"))

    assert (plain.teaching_minutes, plain.usable_minutes, plain.expected) == (42, 37, 9)
