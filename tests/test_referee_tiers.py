"""Tiers worked out by hand; the season has 21 days, so day 21 is the day after its end.

Practices stand on days 1, 4, 8, 11, 15 and 18 (12, 15, 19, 22, 26 and 29 January).
"""

import pytest

from curriculum.gym.practices import Gym
from curriculum.models.season import Adjust, Focus, Season
from curriculum.models.skills import Library
from curriculum.referee.tiers import TIERS, tiers
from tests.build import Entry, block, day, game, goal, gym, library, plan_of, season, skill

Blocks = dict[str, tuple[Entry, ...]]
ONE = library("pass")


def values(of: Season, skills: Library, blocks: Blocks, held: Gym | None = None) -> dict[str, int]:
    """Return the tiers of a plan by name."""
    held = held or gym(of)
    plan = plan_of(of, skills, held, blocks)
    return dict(zip(TIERS, tiers(plan, of, skills, held), strict=True))


def comfort(of: Season, skills: Library, blocks: Blocks, held: Gym | None = None) -> int:
    """Return the comfort of a plan."""
    return values(of, skills, blocks, held)["comfort"]


def test_a_whole_plan_by_hand() -> None:
    """Two skills, a review that is late and one that is missing, and a pair of one strand.

    Early: stop (weight 1) is reached on day 4, pass (weight 3, of its should-goal) on day 11:
    4 + 33 = 37, times 10 = 370.
    Late: stop is due for review on day 11 and held on day 15, 4 days late; the next would be due on
    day 29, dropped. Pass is due on day 18 and not held: 21 - 18 = 3. Gaps of 3, 7 and 3 days are
    within 14. 7 days, times 4 = 28.
    Uneven: 8 + 8 + 8 + 10 = 34 minutes over 6 practices are 5 2/3, so 6 each. Day 1: 2 above,
    day 4: 16 - 6 = 10 above and one pair of passing, day 11: 4 above; 16 + 2 = 18.
    """
    skills = library(
        skill("stop", unopposed=(2, 8)), skill("pass", unopposed=(1, 8), guided=(1, 10))
    )
    of = season(
        goal=(goal("stop"), goal("pass", "guided", need="should", weight=3)),
        adjust=(Adjust(skill="stop", stage="unopposed", minutes=8),),
    )
    blocks: Blocks = {
        "01-12": ("stop",),
        "01-15": ("stop", "pass"),
        "01-22": ("pass@guided",),
        "01-26": ("review stop",),
    }

    assert values(of, skills, blocks) == {
        "must-goals missed": 0,
        "days late": 0,
        "should-goals missed": 0,
        "could-goals missed": 0,
        "comfort": 370 + 28 + 18,
    }


def test_missed_goals_by_weight() -> None:
    """Musts count one each and their days by weight; shoulds and coulds count their weight.

    a: due on day 4, reached on day 8: 4 days, weight 2: 8. b: due on day 4, never reached, counts
    as day 21: 17 days, weight 1. c: met. d: should of weight 5 and e: could of weight 7, missed.
    """
    skills = library("a", "b", "c", "d", "e")
    of = season(
        goal=(
            goal("a", by=day("01-15"), weight=2),
            goal("b", by=day("01-15")),
            goal("c", by=day("01-15")),
            goal("d", need="should", weight=5),
            goal("e", need="could", weight=7),
        )
    )
    found = values(of, skills, {"01-15": ("c",), "01-19": ("a",)})
    del found["comfort"]

    assert found == {
        "must-goals missed": 2,
        "days late": 25,
        "should-goals missed": 5,
        "could-goals missed": 7,
    }


@pytest.mark.parametrize(
    ("blocks", "days"),
    [
        ({"01-12": ("pass",)}, 1),  # on the day of the game, after it
        ({"01-15": ("pass",)}, 3),
        ({}, 20),
    ],
)
def test_a_missed_goal_is_at_least_one_day_late(blocks: Blocks, days: int) -> None:
    """A goal by a game at noon that is reached in the evening is a day late."""
    of = season(goal=(goal("pass", by="cup-1"),), game=(game(date=day("01-12")),))

    assert values(of, ONE, blocks)["days late"] == days


def test_a_goal_by_the_end_that_is_never_reached() -> None:
    """Due on the last day, day 20, and reached on day 21 at the earliest: one day."""
    assert values(season(goal=(goal("pass"),)), ONE, {})["days late"] == 1


def test_a_skill_never_reached_counts_with_the_day_after_the_end() -> None:
    """Two blocks asked for and one held: day 21, no review is due. Uneven: 16 in 6 is 3, 8 - 3."""
    skills = library(skill("pass", unopposed=(2, 8)))

    assert comfort(season(goal=(goal("pass"),)), skills, {"01-12": ("pass",)}) == 10 * 21 + 5


@pytest.mark.parametrize(
    ("days", "blocks", "late"),
    [
        # Reached on day 1, review_after 3, 4 and 5 days.
        # None placed: due on day 4, 21 - 4, and the count stops.
        ((3, 4, 5), {}, 17),
        # On time on day 4, next due on day 8 and placed there, next due on day 13, placed on 15.
        ((3, 4, 5), {"01-15": 1, "01-19": 1, "01-26": 1}, 2),
        # Day 8 is 4 late, then due on day 12: placed on 15, 3 late; then due on day 20, not placed.
        ((3, 4, 5), {"01-19": 1, "01-26": 1}, 4 + 3 + 1),
        # Early is no merit: due on day 8, placed on day 4; then due on day 8, placed on day 8.
        ((7, 4), {"01-15": 1, "01-19": 1}, 0),
        # A fourth review is extra and counts for nothing, however late.
        ((3,), {"01-15": 1, "01-29": 1}, 0),
        # Due on day 21: dropped, with all after it.
        ((20, 1), {}, 0),
        # Due on day 20: the last day, and not placed.
        ((19, 1), {}, 1),
        # Dropped, although one is placed.
        ((20, 1), {"01-15": 1}, 0),
    ],
)
def test_reviews_late(days: tuple[int, ...], blocks: dict[str, int], late: int) -> None:
    """Each review is due so many days after the one really placed before it.

    Beside that: reached on day 1, 10; 8 minutes in 6 practices are 2 each, 6 above.
    """
    of = season(goal=(goal("pass"),), teaching={"review_after": days})
    reviews: Blocks = dict.fromkeys(blocks, ("review pass",))

    assert comfort(of, ONE, {"01-12": ("pass",), **reviews}) == 10 + 4 * late + 6


def test_gaps_beyond_the_stretch() -> None:
    """Blocks on days 1 and 15 lie 14 apart, 4 more than 10; the climb to guided counts alike.

    Early: day 18, 180. Late: the gaps are 14 and 3 days, 4 beyond; no review is due by day 20.
    Uneven: 24 minutes in 6 practices are 4 each, three times 4 above.
    """
    skills = library(skill("pass", unopposed=(1, 8), guided=(2, 8)))
    of = season(goal=(goal("pass", "guided"),), teaching={"stretch_days": 10})
    blocks: Blocks = {"01-12": ("pass",), "01-26": ("pass@guided",), "01-29": ("pass@guided",)}

    assert comfort(of, skills, blocks) == 180 + 4 * 4 + 12


def test_gaps_count_up_to_the_last_block_placed() -> None:
    """A gap to a block that stands nowhere is no gap: day 21 for early, 8 - 3 uneven twice."""
    skills = library(skill("pass", unopposed=(3, 6)))
    of = season(goal=(goal("pass"),), teaching={"stretch_days": 2})

    assert comfort(of, skills, {"01-12": ("pass",), "01-15": ("pass",)}) == 210 + 4 * 1 + 2 * 3


def test_pairs_of_one_strand() -> None:
    """Three of one strand are three pairs, another strand is in none; reviews and gym time aside.

    Early: day 1 for four skills, 40. No review is due in time. Uneven: 32 minutes in 6 practices
    are 6 each, 26 above; three pairs are 6.
    """
    skills = library("a", "b", "c", skill("d", strand="Screening"))
    of = season(
        goal=tuple(goal(each) for each in "abcd"),
        teaching={"new_skills": 4, "review_after": (100,)},
    )

    assert comfort(of, skills, {"01-12": ("a", "b", "c", "d")}) == 40 + 26 + 6


def test_minutes_inside_theme_weeks() -> None:
    """A tenth of weight x minutes, summed over all theme weeks before it is rounded down.

    Early: days 1, 4 and 8, 130. Uneven: 27 minutes in 6 practices are 5 each, three times 4 above.
    Theme weeks: 12 to 15 January with weight 2: 9 x 2 on both ends; 15 January alone with weight 1:
    9; together 45, a tenth is 4. The other strand's block on 19 January counts for nothing.
    """
    skills = library(skill("a", unopposed=(2, 9)), skill("b", unopposed=(1, 9), strand="Screening"))
    of = season(
        goal=(goal("a"), goal("b")),
        teaching={"review_after": (100,)},
        focus=(
            Focus(from_=day("01-12"), until=day("01-15"), strand="Passing", weight=2),
            Focus(from_=day("01-15"), until=day("01-19"), strand="Passing"),
        ),
    )
    blocks: Blocks = {"01-12": ("a",), "01-15": ("a",), "01-19": ("b",)}

    assert comfort(of, skills, blocks) == 10 * (4 + 8) + 12 - 4


def test_theme_weeks_can_turn_comfort_negative() -> None:
    """On day 0 and with nothing uneven, the minutes inside theme weeks are all that is left."""
    of = season(
        weekdays=("monday",),
        weeks=1,
        goal=(goal("pass"),),
        focus=(Focus(from_=day("01-11"), until=day("01-11"), strand="Passing", weight=9),),
    )

    assert comfort(of, ONE, {"01-11": ("pass",)}) == -7  # 8 x 9 = 72


def test_reviews_are_neither_uneven_nor_in_focus() -> None:
    """A review adds no minutes above the mean, no pair and no theme minutes.

    Early: days 1 and 8, 90. Uneven: 16 minutes in 6 practices are 3 each, twice 5 above.
    """
    skills = library("a", "b")
    of = season(
        goal=(goal("a"), goal("b")),
        teaching={"review_after": (100,)},
        focus=(Focus(from_=day("01-19"), until=day("01-19"), strand="Passing", weight=1),),
    )
    alone: Blocks = {"01-12": ("a",), "01-19": ("b",)}
    beside: Blocks = {"01-12": ("a",), "01-19": ("b", "review a")}

    assert (comfort(of, skills, alone), comfort(of, skills, beside)) == (100, 100)


def test_the_weight_is_that_of_the_skill() -> None:
    """The highest weight among a skill's goals counts once, for its last asked stage.

    Early: day 4, weight 5. Uneven: 16 minutes in 6 practices are 3 each, twice 5 above.
    """
    skills = library(skill("pass", unopposed=(1, 8), guided=(1, 8)))
    of = season(
        goal=(goal("pass", weight=5), goal("pass", "guided", weight=2)),
        teaching={"review_after": (100,)},
    )

    assert comfort(of, skills, {"01-12": ("pass",), "01-15": ("pass@guided",)}) == 200 + 10


def test_a_season_without_practices_has_tiers_too() -> None:
    """Without any gym time nothing is reached, and nothing is uneven."""
    of = season(goal=(goal("pass"),))

    assert comfort(of, ONE, {}, gym(of, dates=())) == 210


def test_a_block_that_belongs_to_no_job_counts_for_nothing() -> None:
    """A block with a number that its stage lacks changes no tier."""
    of = season(goal=(goal("pass"),), teaching={"review_after": (100,)})
    beyond = block("pass", number=2, of=2)

    assert comfort(of, ONE, {"01-12": ("pass",), "01-15": (beyond,)}) == 10 + 6
