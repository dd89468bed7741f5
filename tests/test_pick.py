"""Which drill a block gets."""

from curriculum.models.drills import Drill
from curriculum.practice.choose import choose
from curriculum.practice.pick import Picker, means_of
from tests.drill_build import drill
from tests.sample_plan import GYM, SEASON

PRACTICE = GYM.practices[0]
"""Ten players expected, four baskets, the full court."""

QUICK = drill(id="quick", players=(2, 6), balls=1, seconds=10)
SLOWER = drill(id="slower", players=(2, 6), balls=1, seconds=18)
CRAWLING = drill(id="crawling", players=(2, 6), balls=1, seconds=60)
TEAM = SEASON.team
MEANS = means_of(PRACTICE, TEAM, minutes=8)


def turn(
    turns: int, drills: tuple[Drill, ...] = (QUICK, SLOWER, CRAWLING), **more: list[str]
) -> str:
    """Return the drill of a later block of give and go."""
    picked = Picker(drills).best("give-and-go", "unopposed", MEANS, turns, **more)
    assert picked
    return picked.drill.id


def test_the_first_block_gets_what_the_computation_chooses() -> None:
    """Drill, groups and sentence are those of `choose` for these players, baskets and coaches."""
    picked = Picker((CRAWLING, SLOWER, QUICK)).best("give-and-go", "unopposed", MEANS)
    choice = choose((CRAWLING, SLOWER, QUICK), 10, 4, 10, 2, 8, "unopposed", court="full")

    assert picked
    assert (picked.drill, picked.choice) == (QUICK, choice)


def test_later_blocks_go_through_the_drills_that_yield_nearly_as_much() -> None:
    """Turns alternate between the two good drills; one with a sixth of the turns gets none."""
    assert [turn(turns) for turns in range(4)] == ["quick", "slower", "quick", "slower"]


def test_a_drill_of_the_same_day_comes_after_others() -> None:
    """What was shown earlier today is not shown again while there is another good drill."""
    assert turn(0, used=["quick"]) == "slower"


def test_the_only_drill_comes_back_every_time() -> None:
    """With one drill for a stage each block gets it, also twice a day."""
    assert turn(3, (QUICK,), used=["quick"]) == "quick"


def test_a_stage_without_drills_gets_none() -> None:
    """Where the library has no drill nothing is picked."""
    assert Picker((QUICK,)).best("give-and-go", "live", MEANS) is None


def test_a_drill_that_cannot_be_run_is_shown_with_the_reason() -> None:
    """Too few players leave the drill on the sheet, and the sentence says what it needs."""
    large = drill(id="large", players=(20, 24))
    picked = Picker((large,)).best("give-and-go", "unopposed", MEANS)

    assert picked
    assert (picked.drill, picked.choice.best) == (large, None)
    assert "needs 20 players" in picked.choice.sentence


def test_the_coachs_own_drill_is_taken_by_its_id() -> None:
    """A drill that the plan names is taken, though it teaches another stage."""
    picked = Picker((QUICK, CRAWLING)).own("crawling", "live", MEANS)

    assert picked
    assert (picked.drill.id, picked.choice.best is not None) == ("crawling", True)


def test_words_that_name_no_drill_pick_none() -> None:
    """What a coach wrote in free words is no drill of the library."""
    assert Picker((QUICK,)).own("king of the court", "live", MEANS) is None


def test_a_ball_for_each_player_is_ready() -> None:
    """A season does not say how many balls there are; one a player is taken."""
    assert (MEANS.players, MEANS.baskets, MEANS.balls, MEANS.court) == (10, 4, 10, "full")


def test_a_team_that_counts_its_balls_makes_do_with_them() -> None:
    """Two balls serve two groups where one a player would serve four."""
    few = means_of(PRACTICE, TEAM.model_copy(update={"balls": 2}), minutes=8)
    runs = [Picker((QUICK,)).best("give-and-go", "unopposed", means) for means in (MEANS, few)]

    assert [picked and picked.choice.best and picked.choice.best.groups for picked in runs] == [
        4,
        2,
    ]
