"""Goals that no plan can reach in time, told before anything is planned."""

from curriculum.checks import reach_problems
from curriculum.gym.slots import calendar_of
from curriculum.models.season import Goal
from tests.build import day, game, goal, library, season, skill

LEARN = library(skill("pass", unopposed=(3, 8)), skill("cut", needs=("pass",)))


def told(*goals: Goal) -> list[tuple[str, str, str]]:
    """Return level, sentence and way out for goals of a season of two practices a week."""
    of = season(weeks=2, goal=goals, game=(game(date=day("01-16")),))
    found = reach_problems(of, LEARN, calendar_of(of))
    return [(each.level, each.says, each.way_out) for each in found]


def test_too_early_says_when_it_could_be() -> None:
    """The first date on which the goal could be met is the way out, as the file writes it."""
    assert told(goal("pass", by=day("01-15"))) == [
        (
            "error",
            (
                "no plan reaches this by Fri 15 Jan: 2 practices until then, and everything it "
                "needs takes until Tue 19 Jan"
            ),
            "set by = 2027-01-19, or later",
        )
    ]


def test_a_game_is_named_by_its_opponent() -> None:
    """A goal due by a game is told with that game, and only a must-goal is an error."""
    assert told(goal("pass", by="cup-1", need="should")) == [
        (
            "warning",
            (
                "no plan reaches this before the game against Harbour Light on Sat 16 Jan: 2 "
                "practices until then, and everything it needs takes until Tue 19 Jan"
            ),
            "set by = 2027-01-19, or later",
        )
    ]


def test_what_no_season_holds_has_no_date() -> None:
    """Where even the whole season is too short, there is no date to set."""
    long = library(skill("pass", unopposed=(9, 8)))
    of = season(weeks=2, goal=(goal("pass"),))
    (found,) = reach_problems(of, long, calendar_of(of))

    assert (found.says, found.way_out) == (
        (
            "no plan reaches this by Sun 24 Jan: 4 practices until then, and no practice can hold "
            "all it needs"
        ),
        "lower the stage, or take the goal out",
    )


def test_what_can_be_reached_is_not_told() -> None:
    """A goal in reach, and one that waits for another skill in time, give no problem."""
    assert told(goal("pass", by=day("01-19")), goal("cut")) == []
