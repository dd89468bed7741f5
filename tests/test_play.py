"""The scrimmage and the kit. Facts of the trade here: common practice, no published source."""

import pytest

from curriculum.models.skills import Court, Skill, StageWork
from curriculum.practice.kit import Kit, largest
from curriculum.practice.play import rule_of_the_day, teams

WORK = StageWork()


@pytest.mark.parametrize(
    ("players", "baskets", "court", "words", "kit"),
    [
        (10, 4, "full", "5 against 5.", Kit(balls=1, bibs=5)),
        (9, 4, "full", "5 against 4.", Kit(balls=1, bibs=4)),
        (12, 2, "half", "5 against 5; 2 rest, change every 3 minutes.", Kit(balls=1, bibs=5)),
        (11, 2, "half", "5 against 5; 1 rests, change every 3 minutes.", Kit(balls=1, bibs=5)),
        (15, 4, "full", "Two games at once, 4 against 4 and 4 against 3.", Kit(2, 0, 7)),
        (
            30,
            4,
            "full",
            "Two games at once, 5 against 5 and 5 against 5; 10 rest, change every 3 minutes.",
            Kit(2, 0, 10),
        ),
        (1, 1, "half", "Everybody plays.", Kit(balls=1)),
    ],
)
def test_as_few_as_can_be_stand_beside_a_game(
    players: int, baskets: int, court: Court, words: str, kit: Kit
) -> None:
    """Five a side, two games where there are many players and both halves, turns for the rest."""
    sides = teams(players, baskets, court, balls=2)

    assert (sides.words, sides.kit) == (words, kit)


def test_one_ball_makes_one_game() -> None:
    """Fifteen with one ball cannot play two games."""
    words = "5 against 5; 5 rest, change every 3 minutes."
    assert teams(15, 4, "full", balls=1).words == words


@pytest.mark.parametrize(
    ("skill", "rule"),
    [
        (
            Skill(id="v-cut", name="V-cut", strand="Spacing", unopposed=WORK),
            "Rule of the day: a basket with a good “V-cut” on the way counts double.",
        ),
        (
            Skill(id="slide", name="Slide", strand="Defense", unopposed=WORK, live=WORK),
            "Rule of the day: a stop with a good “Slide” on the way counts as a basket.",
        ),
        (
            Skill(id="three", name="Three on two", strand="Games", live=WORK),
            "Rule of the day: the pass that leads to a basket is worth a point as well.",
        ),
        (None, ""),
    ],
)
def test_the_rule_rewards_the_days_skill(skill: Skill | None, rule: str) -> None:
    """Attack is rewarded by baskets, defence by stops, a game by its passes."""
    assert rule_of_the_day(skill) == rule


def test_the_kit_is_the_largest_need_of_each_thing() -> None:
    """What is used one after the other is brought once."""
    assert largest([Kit(balls=4, cones=6), Kit(balls=10), Kit(bibs=5)]) == Kit(10, 6, 5)


def test_kit_in_words_leaves_out_what_is_not_needed() -> None:
    """One of a thing is said in the singular, none of it not at all."""
    assert Kit(balls=1, cones=2).words == ("1 ball", "2 cones")
    assert largest([]).words == ()
