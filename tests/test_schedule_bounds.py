"""Tests of the bounds: never above what a plan reaches, and as near as they are known to be."""

from dataclasses import replace

import pytest

from curriculum.schedule.bounds import (
    comfort_bound,
    fewest_bins,
    must_goals_crowded_out,
    practices_needed,
)
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.windows import windows_of
from tests.bench.balancing import STATIONS, line
from tests.bench.hand import by_hand, goal
from tests.bench.instances import LOADS, sized
from tests.bench.rules import best_of_all
from tests.bench.tiny import tiny

LINES = [(name, cycle) for name, best in STATIONS.items() for cycle in best]


def test_minutes_put_skills_off() -> None:
    """Two skills of one full practice each: by the first practice only one can be reached."""
    # Days 3 and 5: at best 3 + 5, times 10.
    instance = by_hand((3, 5), ((1, 20), (1, 20)))
    assert comfort_bound(instance, windows_of(tables_of(instance))) == 80


def test_chains_put_skills_off() -> None:
    """A skill of three blocks is not reached before the third practice."""
    instance = by_hand((0, 2, 4), ((3, 1),))
    assert comfort_bound(instance, windows_of(tables_of(instance))) == 40


def test_gym_time_holds_so_many_must_goals() -> None:
    """Seven skills of 10 minutes each, five places of 10 minutes: two goals are missed."""
    jobs = [(1, 10)] * 7
    goals = tuple(goal(job, limit=3, due=4) for job in range(7))
    instance = by_hand((0, 2, 4), jobs, usable=17, goals=goals)

    assert must_goals_crowded_out(instance) == 2


def test_what_goals_share_is_not_saved_by_dropping_one() -> None:
    """A long skill that two goals need counts half for each: one goal less may save 25 of 50."""
    jobs = [(2, 20), (1, 5), (1, 5)]
    goals = tuple(goal(job, limit=2, due=2) for job in (1, 2))
    instance = by_hand((0, 2), jobs, needs=((), (0,), (0,)), usable=17, goals=goals)

    assert must_goals_crowded_out(instance) == 1
    assert must_goals_crowded_out(replace(instance, usable=(12, 12))) == 2


def test_minutes_of_past_practices_are_no_room() -> None:
    """What is past neither takes nor offers minutes."""
    goals = (goal(0, limit=2, due=2), goal(1, limit=2, due=2))
    instance = by_hand((0, 2), [(1, 20), (1, 20)], goals=goals)
    past = replace(instance, first_open=1, held=((0, 1, 0),))

    assert must_goals_crowded_out(instance) == 0
    assert must_goals_crowded_out(past) == 0
    assert must_goals_crowded_out(replace(past, held=())) == 1


def test_what_was_passed_over_is_not_asked_for_again() -> None:
    """The live stage was held without the guided one: its goal is met, and nothing waits."""
    chain = ((0, 1),)
    goals = (goal(1, limit=2, due=2), goal(2, limit=2, due=2))
    instance = by_hand((0, 2), [(1, 20), (1, 5), (1, 20)], chains=(*chain, (2,)), goals=goals)
    past = replace(instance, first_open=1, held=((1, 1, 0),), allowed=(3, 0, 3))

    assert must_goals_crowded_out(past) == 0
    # Reached on day 0, and skill 2 on day 2.
    assert comfort_bound(past, windows_of(tables_of(past))) == 20


def test_large_blocks_need_bins_of_their_own() -> None:
    """Three blocks of 6 do not share practices of 10, though 18 minutes would fit into two."""
    assert fewest_bins((6, 6, 6), 10) == 3


def test_small_blocks_fill_what_large_ones_leave() -> None:
    """Two blocks of 6 leave 8 minutes in practices of 10; 12 small minutes need a third."""
    assert fewest_bins((6, 6, 4, 4, 4), 10) == 3


@pytest.mark.parametrize(("name", "cycle"), LINES)
def test_never_more_practices_than_the_optimum(name: str, cycle: int) -> None:
    """What is said to be needed never exceeds the published number of stations.

    Optima: Scholl A (1993), Data of Assembly Line Balancing Problems, TH Darmstadt.
    """
    stations = STATIONS[name][cycle]
    assert practices_needed(tables_of(line(name, cycle, stations))) <= stations


@pytest.mark.parametrize("seed", range(2_000, 2_030))
def test_no_plan_beats_a_bound(seed: int) -> None:
    """On tiny seasons no plan of all is below a bound, given equal tiers before it."""
    instance = tiny(seed, practices=4, past=seed % 3 == 0)
    dropped, best = best_of_all(instance)
    result = solve(instance)
    if len(result.timetable.dropped) == dropped:
        for tier, bound in enumerate(result.bounds):
            if result.tiers[:tier] == best[:tier]:
                assert bound <= best[tier]


@pytest.mark.parametrize("load", LOADS)
def test_bounds_are_below_values(load: float) -> None:
    """On a small season every bound is at most the value of its tier."""
    result = solve(sized("small", load).instance(), "quick")
    assert all(bound <= value for bound, value in zip(result.bounds, result.tiers, strict=True))
