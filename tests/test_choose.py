"""The choice of drill and groups for the players, baskets and balls that are there."""

from dataclasses import replace
from typing import Any

import pytest

from curriculum.practice.choose import Means, choose, most_groups, runs, split
from tests.drill_build import drill
from tests.library import shipped_library

LINE_OF_TWO = drill(id="give-and-go-line", seconds=20, learners=("1",), players=(3, 8), balls=1)


def means(**changes: Any) -> Means:
    """Return twelve players on four baskets with plenty of balls, eight minutes."""
    return replace(Means(players=12, baskets=4, balls=12, coaches=2, minutes=8), **changes)


def test_more_groups_mean_more_turns_and_the_sentence_says_so() -> None:
    """Twelve in lines of one drill: a turn every 3 × 20 seconds in fours, every 12 × 20 in one."""
    found = choose([LINE_OF_TWO], 12, 4, 12, 2, 8, "unopposed")

    assert found.sentence == (
        "4 groups of 3: 8 repetitions each, 33 % waiting; one group: 2, 83 % waiting"
    )


def test_balls_limit_the_groups() -> None:
    """Two balls serve two groups."""
    found = choose([LINE_OF_TWO], 12, 4, 2, 2, 8, "unopposed")

    assert found.sentence == (
        "2 groups of 6: 4 repetitions each, 67 % waiting; one group: 2, 83 % waiting"
    )


def test_groups_in_which_nobody_gets_many_more_turns_go_first() -> None:
    """Ten on eight stations: five pairs with 20 turns each, not two pairs beside six with 40."""
    slalom = drill(
        "1 cut left-wing",
        id="slalom",
        spots=("1 top", "line back"),
        rotation=("1 line", "line 1"),
        players=(1, 5),
        balls=0,
        baskets=0,
        places=2,
        seconds=6,
    )

    assert choose([slalom], 10, 4, 10, 2, 4, "unopposed").sentence == (
        "5 pairs: 20 repetitions each, 50 % waiting; one group: 4, 90 % waiting"
    )


def test_many_groups_are_told_by_their_smallest_and_largest() -> None:
    """Sixteen on five stations: nobody reads 4, 3, 3, 3 and 3."""
    found = choose([LINE_OF_TWO], 16, 5, 16, 2, 8, "unopposed")

    assert found.sentence.startswith("5 groups of 3 or 4: ")


def test_players_share_the_balls_of_a_drill_that_each_does_alone() -> None:
    """24 repetitions of 20 s: with six balls for ten four pairs get 12 each, two players 24."""
    alone = drill(
        "1 dribble left-wing",
        id="alone",
        spots=("1 top ball",),
        rotation=("1 1",),
        players=(1, 1),
        balls=1,
        baskets=0,
        places=12,
        seconds=20,
    )
    found = [choose([alone], 10, 4, balls, 2, 8, "unopposed").sentence for balls in (10, 6)]

    assert found == [
        "Each player alone: 24 repetitions each, no waiting",
        "6 balls for 10 players, in turns: 12 to 24 repetitions each, 40 % waiting",
    ]


def test_a_second_line_is_not_weighed_against_nothing() -> None:
    """With room for one group only there is nothing to compare."""
    found = choose([LINE_OF_TWO], 6, 1, 12, 2, 8, "unopposed")

    assert (found.sentence, found.other) == (
        "One group of 6: 4 repetitions each, 67 % waiting",
        None,
    )


def test_a_game_is_told_in_possessions_and_rests() -> None:
    """Live drills have possessions; who is out rests. 40 × 4 roles for 6 players: 26.7 each."""
    game = drill(
        "1 turn",
        id="two-on-two",
        serves=("give-and-go@live",),
        spots=("1 top ball", "2 left-wing", "X1 guards 1", "X2 guards 2", "line back"),
        rotation=("1 X1", "2 X2", "X1 line", "X2 line", "line 1", "line 2"),
        seconds=15,
        players=(4, 8),
        balls=1,
    )

    found = choose([game], 12, 2, 12, 2, 10, "live")

    assert found.sentence == (
        "2 games of 6: 26 to 27 possessions each, 33 % resting, one possession at most; "
        "one game: 12 to 14, 67 % resting"
    )


def test_the_drill_with_more_turns_wins() -> None:
    """Of two drills the one in which the unluckiest player gets more turns is chosen."""
    slow = drill(id="slow", seconds=40, learners=("1",), balls=1)

    found = choose([slow, LINE_OF_TWO], 12, 4, 12, 2, 8, "unopposed")

    assert found.best is not None
    assert found.best.drill.id == "give-and-go-line"


def test_a_drill_used_before_comes_last() -> None:
    """A fresh drill goes before one that was used, even when it gives fewer turns."""
    slow = drill(id="slow", seconds=40, learners=("1",), balls=1)

    found = choose([slow, LINE_OF_TWO], 12, 4, 12, 2, 8, "unopposed", used=["give-and-go-line"])

    assert found.best is not None
    assert found.best.drill.id == "slow"


def test_a_group_that_is_too_large_is_said() -> None:
    """Fourteen players, one basket, a drill for eight at most: better than none, with a warning."""
    found = choose([LINE_OF_TWO], 14, 1, 12, 2, 8, "unopposed")

    assert found.sentence == (
        "One group of 14: 1 to 2 repetitions each, 86 % waiting; "
        "more than 8 in a group, so expect long lines"
    )


@pytest.mark.parametrize(
    ("players", "baskets", "balls", "says"),
    [
        (2, 4, 12, "No drill can be run: A drill needs 3 players."),
        (12, 0, 12, "No drill can be run: A drill needs 1 basket and 1 ball."),
        (12, 4, 0, "No drill can be run: A drill needs 1 basket and 1 ball."),
    ],
)
def test_what_is_missing_is_said(players: int, baskets: int, balls: int, says: str) -> None:
    """Without a drill that can be run there is a sentence, not an error."""
    found = choose([LINE_OF_TWO], players, baskets, balls, 2, 8, "unopposed")

    assert (found.best, found.sentence) == (None, says)


def test_no_drill_for_the_stage_is_said() -> None:
    """A stage that no drill teaches gets its sentence."""
    assert choose([LINE_OF_TWO], 12, 4, 12, 2, 8, "live").sentence == "No drill teaches this stage."


@pytest.mark.parametrize(
    ("fields", "changes", "groups"),
    [
        ({}, {}, 4),
        ({"places": 3}, {}, 4),
        ({"places": 3}, {"baskets": 1}, 3),
        ({"baskets": 0}, {"baskets": 0}, 1),
        ({"baskets": 2}, {}, 2),
        ({"coaches": 1}, {"coaches": 2}, 2),
        ({"balls": 5}, {}, 2),
        ({"court": "full", "baskets": 2}, {}, 1),
    ],
)
def test_room_for_groups(fields: dict[str, Any], changes: dict[str, int], groups: int) -> None:
    """Baskets, places around them, balls, coaches and players: the scarcest decides."""
    base = {"players": (3, 8), "balls": 1, **fields}

    assert most_groups(drill(**base), means(**changes)) == groups


def test_a_full_court_drill_needs_the_full_court() -> None:
    """On half a court it cannot be run at all."""
    full = drill(court="full", baskets=2)

    assert runs(full, Means(12, 4, 12, 2, 8, "half")) == ()


@pytest.mark.parametrize(
    ("players", "groups", "sizes"), [(12, 3, (4, 4, 4)), (14, 3, (5, 5, 4)), (5, 5, (1,) * 5)]
)
def test_groups_differ_by_one_at_most(players: int, groups: int, sizes: tuple[int, ...]) -> None:
    """Everybody is in a group, the larger groups first."""
    assert split(players, groups) == sizes


def test_what_has_to_be_brought() -> None:
    """Balls and cones for all groups; bibs only where teams of three or more meet."""
    coned = drill(
        spots=("1 top ball", "2 left-wing", "cone-1 rim", "line back"), balls=2, players=(2, 4)
    )
    (one, two, *_) = runs(coned, means())

    assert (one.kit, two.kit) == (
        (("balls", 2), ("cones", 1)),
        (("balls", 4), ("cones", 2)),
    )


def test_alone_with_a_ball() -> None:
    """A drill for one is run by everybody at once."""
    alone = drill(
        "1 turn",
        id="alone",
        spots=("1 top ball",),
        rotation=("1 1",),
        players=(1, 1),
        baskets=0,
        places=12,
        balls=1,
        seconds=20,
    )

    found = choose([alone], 10, 2, 12, 2, 5, "unopposed")

    assert found.sentence == "Each player alone: 15 repetitions each, no waiting"


def test_every_stage_of_the_library_can_be_run_by_a_usual_team() -> None:
    """Ten players, four baskets, ten balls, two coaches: each stage has a drill, none crowded."""
    library = shipped_library()
    wrong = [
        (skill.id, stage, found.sentence)
        for skill in library.skills
        for stage in skill.stages
        for found in [
            choose(
                [drill for drill in library.drills if f"{skill.id}@{stage}" in drill.serves],
                10,
                4,
                10,
                2,
                skill.work(stage).minutes,
                stage,
            )
        ]
        if found.best is None or found.best.crowded
    ]

    assert wrong == []
