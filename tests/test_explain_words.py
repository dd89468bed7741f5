"""Stages, goals, pins and lists in the words of explanations."""

from curriculum.models.season import Pin
from curriculum.schedule.explain.words import names_of
from curriculum.workload import workload_of
from tests.build import day, game, goal, library, season


def test_names_of_stages_goals_and_pins() -> None:
    """Names come from the library; an id that it lacks stands for itself."""
    of = season(goal=(goal("pass", by=day("01-15")), goal("pass", by="cup-1")), game=(game(),))
    by_date, by_game = workload_of(of, library("pass")).targets
    names = names_of(library("pass"))

    assert names.goal(by_date) == "Pass unopposed by Fri 15 Jan"
    assert (
        names.goal(by_game) == "Pass unopposed before the game against Harbour Light on Sat 30 Jan"
    )
    assert names.stage(("dunk", "live")) == "dunk live"
    assert (
        names.pin(Pin(skill="pass", stage="unopposed", date=day("01-15"), number=2))
        == "Pass unopposed block 2 pinned to Fri 15 Jan"
    )
