"""Random seasons: every plan keeps the hard rules, and on tiny ones no plan is better."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.schedule.bounds import tier_bounds
from curriculum.schedule.decode import Decoder
from curriculum.schedule.exact.coarse import coarse_model
from curriculum.schedule.exact.objective import comfort_of
from curriculum.schedule.exact.polish import tier_frame
from curriculum.schedule.exact.relax import relaxed_bound
from curriculum.schedule.exact.season import season_model
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import Instance
from curriculum.schedule.rules import in_order_of_needs
from curriculum.schedule.solve import Result, solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable, dropped_pins, tiers
from curriculum.schedule.windows import windows_of
from tests.bench.instances import Shape, case
from tests.bench.losing import without_practice
from tests.bench.rules import best_of_all, breaches
from tests.bench.tiny import tiny
from tests.bench.worn import worn


def without_extra_work(instance: Instance, result: Result) -> tuple[int, ...]:
    """Return pins dropped and tiers without work toward goals that are missed all the same."""
    plan = result.timetable
    useful = [any(pin.job == job for pin in instance.pins) for job in range(len(instance.minutes))]
    for job in range(len(useful)):
        asked = instance.last[job] or any(goal.job == job for goal in instance.goals)
        useful[job] |= asked and plan.reached(instance, job) >= 0
        useful[job] |= any(held == job for held, _, _ in instance.held)
    for job in reversed(range(len(useful))):
        for needed in instance.needs[job]:
            useful[needed] |= useful[job]
    blocks = tuple(row if useful[job] else () for job, row in enumerate(plan.blocks))
    bare = Timetable(blocks, plan.reviews)
    return min((len(dropped_pins(instance, each)), *tiers(instance, each)) for each in (plan, bare))


@pytest.mark.parametrize("seed", range(3_000, 3_040))
def test_normal_effort_finds_the_best_of_all_plans(seed: int) -> None:
    """On tiny seasons the plan is as good as the best of all, tried one by one."""
    instance = tiny(seed, practices=4 + seed % 2, pins=False)
    plain = replace(instance, focus=((0, 0),) * instance.practices)
    dropped, best = best_of_all(plain)
    assert without_extra_work(plain, solve(plain)) == (dropped, *best)


@pytest.mark.parametrize("seed", range(80))
def test_no_bound_is_above_a_plan_of_a_season_under_way(seed: int) -> None:
    """Whatever is past, each bound on its own is at most what a plan reaches."""
    instance = worn(seed)
    tables = tables_of(instance)
    plan = solve(instance, "quick").timetable
    reached = tiers(instance, plan)
    assert breaches(instance, plan) == []
    for bound, value in zip(tier_bounds(tables, windows_of(tables)), reached, strict=True):
        assert bound <= value
    frame = tier_frame(instance, plan)
    for matrix in (
        season_model(tables, frame).matrix,
        *(coarse_model(tables, frame, weeks) for weeks in (0, 1, 2)),
    ):
        assert not matrix.impossible
        assert comfort_of(relaxed_bound(matrix)) <= reached[-1]


@pytest.mark.parametrize("seed", range(80))
def test_all_of_a_season_under_way_is_decided_as_all_plans_say(seed: int) -> None:
    """Must-goals and pins are said to be in reach just when some plan keeps them."""
    instance = worn(seed)
    kept = replace(instance, review_after=())
    assert (decide(kept).verdict == "reachable") == some_plan_keeps_all(kept)


def some_plan_keeps_all(instance: Instance) -> bool:
    """Whether one of all plans meets all must-goals and keeps all pins."""
    dropped, best = best_of_all(instance)
    return (dropped, best[0]) == (0, 0)


@settings(max_examples=60, deadline=None)
@given(
    seed=st.integers(0, 10_000),
    practices=st.integers(1, 9),
    skills=st.integers(1, 6),
    blocks=st.integers(1, 14),
    past=st.booleans(),
)
def test_every_plan_keeps_the_hard_rules(
    seed: int, practices: int, skills: int, blocks: int, past: bool
) -> None:
    """Feasible or not, with pins, a past, gaps and needs within a practice."""
    instance = tiny(seed, practices=max(practices, 3), skills=skills, blocks=blocks, past=past)
    result = solve(instance, "quick")
    assert breaches(instance, result.timetable) == []
    assert result.tiers == tiers(instance, result.timetable)
    assert result.timetable.dropped == dropped_pins(instance, result.timetable)


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000), load=st.sampled_from((0.6, 1.0, 1.4)), pins=st.integers(0, 4))
def test_season_plans_keep_the_hard_rules(seed: int, load: float, pins: int) -> None:
    """The same on seasons of some weeks, through the season's own files."""
    instance = case(Shape(6, 2, 9, load, seed, pins=pins)).instance()
    result = solve(instance, "quick")
    assert breaches(instance, result.timetable) == []


@settings(max_examples=40, deadline=None)
@given(seed=st.integers(0, 10_000), key=st.lists(st.integers(0, 9), min_size=20, max_size=20))
def test_decoding_from_a_mark_equals_decoding_all(seed: int, key: list[int]) -> None:
    """A changed order decoded from its first change on is the order decoded from the start."""
    instance = case(Shape(5, 2, 8, 0.9, seed % 50)).instance()
    decoder = Decoder(tables_of(instance))
    jobs = len(instance.minutes)
    order = list(in_order_of_needs(instance, [0.0] * jobs))
    other = list(in_order_of_needs(instance, [float(key[job % 20]) for job in range(jobs)]))
    begin = next(
        (n for n, pair in enumerate(zip(order, other, strict=True)) if len(set(pair)) > 1), 0
    )
    marks = decoder.mark(order)
    assert decoder.decode(other, marks, begin) == decoder.decode(other)


@settings(max_examples=15, deadline=None)
@given(seed=st.integers(0, 10_000), lost=st.integers(1, 10))
def test_changed_plans_keep_the_hard_rules(seed: int, lost: int) -> None:
    """A plan that people know, one practice lost, planned again: rules hold, and what is past."""
    instance = case(Shape(6, 2, 8, 0.9, seed)).instance()
    known = solve(instance, "quick").timetable
    again = without_practice(instance, known, lost % instance.practices)
    result = solve(again, "quick")
    assert breaches(again, result.timetable) == []
    assert result.tiers == tiers(again, result.timetable)
