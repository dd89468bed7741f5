"""How a drill is told on a sheet. Facts of the trade here: common practice, no published source."""

import pytest

from curriculum.models.drills import Drill
from curriculum.practice.exercise import Version, exercise, merged, rotation_in_short, with_whom
from curriculum.practice.kit import Kit
from curriculum.practice.pick import Picker, means_of
from tests.drill_build import drill
from tests.sample_drills import GIVE_AND_GO, GROUPED, GUIDED, LIVE
from tests.sample_plan import GYM, SEASON


def test_an_exercise_is_its_drill_for_these_players() -> None:
    """Ten players on four baskets with two coaches make three groups of the guided drill."""
    means = means_of(GYM.practices[0], SEASON.team, minutes=9)
    picked = Picker((GUIDED,)).best("give-and-go", "guided", means)
    assert picked
    shown = exercise(picked, 2, GROUPED.group)

    assert (shown.name, shown.numbers, shown.frames) == ("Past a guide", "2 v 1", 2)
    assert shown.groups == picked.choice.sentence
    assert shown.groups.startswith("3 groups of 4, 3 and 3: ")
    assert shown.coaches == "A with groups 1 and 2, B with group 3"
    assert shown.kit == Kit(balls=3, cones=3)
    assert shown.versions == (
        Version("Terns (5)", "easier", "The guide stands still"),
        Version("Gannets (7)", "as written", ""),
    )


def test_a_team_without_groups_reads_both_other_versions() -> None:
    """Easier and harder stand there for whoever needs them."""
    means = means_of(GYM.practices[0], SEASON.team, minutes=9)
    picked = Picker((GIVE_AND_GO,)).best("give-and-go", "unopposed", means)
    assert picked

    assert exercise(picked, 1, ()).versions == (
        Version("", "easier", "The wing stands nearer"),
        Version("", "harder", "Weaker hand only"),
    )


@pytest.mark.parametrize(
    ("sizes", "coaches", "words"),
    [
        ((3, 3, 2, 2), 2, "A with groups 1 and 2, B with groups 3 and 4"),
        ((2, 2, 2, 2, 2, 2, 2), 2, "A with groups 1 to 4, B with groups 5 to 7"),
        ((4, 3, 3), 2, "A with groups 1 and 2, B with group 3"),
        ((5, 5), 3, "A with group 1, B with group 2, the others go round"),
        ((10,), 2, "one leads, one corrects"),
        ((10,), 3, "one leads, the others correct"),
        ((1, 1, 1, 1), 2, "each with a part of the floor"),
        ((5, 5), 1, ""),
    ],
)
def test_each_group_has_its_coach(sizes: tuple[int, ...], coaches: int, words: str) -> None:
    """Groups are shared out in a row, and a coach alone needs no word."""
    assert with_whom(sizes, coaches) == words


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (GIVE_AND_GO, "1 → 2 → line → 1"),
        (LIVE, "attack → defence → line → attack"),
        (drill(spots=("1 top ball",), rotation=("1 1",)), "everybody stays"),
        (
            drill(
                spots=("1 top ball", "2 left-wing", "X1 guards 1"),
                rotation=("1 2", "2 1", "X1 X1"),
            ),
            "1 to 2, 2 to 1, X1 stays",
        ),
    ],
)
def test_a_rotation_is_told_as_briefly_as_it_can_be(made: Drill, words: str) -> None:
    """A circle is a circle, teams change as teams, everything else is told step by step."""
    assert rotation_in_short(made) == words


def test_cues_of_drill_and_skill_take_turns() -> None:
    """Both are heard, four at most, and what says the same is said once."""
    assert merged(
        ["See the heels", "Hands up as you stop", "Wait"],
        ["Pass, then go", "Hands up", "Talk"],
    ) == ("See the heels", "Pass, then go", "Hands up as you stop", "Wait")
