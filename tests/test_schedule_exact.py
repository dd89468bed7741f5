"""Tests of the exact model: it counts as the evaluator does, and its relaxations bound it."""

from dataclasses import replace

import pytest

from curriculum.schedule.anneal import best_rule
from curriculum.schedule.decode import ANY_MISSED, Decoder
from curriculum.schedule.exact.coarse import coarse_model
from curriculum.schedule.exact.constraints import fillings_of, most_filled
from curriculum.schedule.exact.model import run
from curriculum.schedule.exact.objective import comfort_of
from curriculum.schedule.exact.polish import tier_frame, whole, windows
from curriculum.schedule.exact.relax import relaxed_bound
from curriculum.schedule.exact.season import season_model
from curriculum.schedule.exact.variables import Matrix, Sum
from curriculum.schedule.instance import COULD, Pin
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable, comfort, tiers
from tests.bench.hand import by_hand, goal
from tests.bench.instances import LOADS, Shape, case, sized
from tests.bench.rules import breaches
from tests.bench.tiny import tiny


def kept(matrix: Matrix, values: list[int]) -> bool:
    """Whether values of the columns keep every row."""
    return (
        all(values[a] <= values[b] for a, b in matrix.implications)
        and all(values[a] - values[b] <= values[w] for a, b, w in matrix.excesses)
        and all(
            sum(values[column] * each for column, each in zip(columns, row, strict=True)) <= most
            for columns, row, most in matrix.rows
        )
    )


@pytest.mark.parametrize("seed", range(60))
def test_model_and_evaluator_count_alike(seed: int) -> None:
    """A plan's values in the model keep all rows and sum to its comfort."""
    instance = tiny(seed, past=seed % 3 == 0)
    tables = tables_of(instance)
    started = best_rule(tables)
    plan = started.decoder.timetable(started.decoder.decode(started.order))
    for fillings in (False, True):
        model = season_model(tables, replace(tier_frame(instance, plan), fillings=fillings))
        values = model.hint(plan)
        assert kept(model.matrix, values)
        assert comfort_of(model.matrix.objective.value(values)) == comfort(instance, plan)
        assert model.timetable(values).blocks == plan.blocks


@pytest.mark.parametrize("load", LOADS)
def test_model_and_evaluator_count_alike_on_a_season(load: float) -> None:
    """The same on a whole season."""
    instance = sized("small", load).instance()
    tables = tables_of(instance)
    started = best_rule(tables)
    plan = started.decoder.timetable(started.decoder.decode(started.order))
    model = season_model(tables, tier_frame(instance, plan))
    values = model.hint(plan)
    assert kept(model.matrix, values)
    assert comfort_of(model.matrix.objective.value(values)) == comfort(instance, plan)


@pytest.mark.parametrize("weeks", [0, 1, 2])
def test_bundles_of_weeks_bound_from_below(weeks: int) -> None:
    """Coarser relaxations are weaker, and none is above the best comfort."""
    instance = case(Shape(4, 2, 5, 0.8, 3)).instance()
    tables = tables_of(instance)
    started = best_rule(tables)
    plan = started.decoder.timetable(started.decoder.decode(started.order))
    frame = tier_frame(instance, plan)
    best = whole(tables, plan, 20.0, 0)
    matrix = coarse_model(tables, frame, weeks)
    assert best.bound == tiers(instance, best.plan)[-1]
    assert 0 < comfort_of(relaxed_bound(matrix)) <= best.bound


def test_a_cap_on_goals_missed_tightens_the_relaxation() -> None:
    """In an overloaded season what may be missed is known; the relaxation must not miss more."""
    instance = sized("small", 1.1).instance()
    tables = tables_of(instance)
    frame = tier_frame(instance, solve(instance, "quick").timetable)
    assert frame.caps[COULD] > 2
    bounds = [
        comfort_of(relaxed_bound(coarse_model(tables, replace(frame, caps=caps), 0)))
        for caps in ({}, frame.caps, {COULD: 2})
    ]
    assert bounds[0] <= bounds[1] < bounds[2]


@pytest.mark.parametrize("weeks", [0, 1, 2])
def test_credit_for_past_focus_weeks_counts(weeks: int) -> None:
    """What was taught in a past focus week has its credit, and no plan is below a bound."""
    # Reached on day 0: early 0, and 9 x 8 minutes of credit.
    instance = by_hand((0, 3), [(1, 8)], focus=((9,), (0,)), first_open=1, held=((0, 1, 0),))
    plan = Timetable(((0,),), ((),))
    matrix = coarse_model(tables_of(instance), tier_frame(instance, plan), weeks)
    assert comfort(instance, plan) == -7
    assert comfort_of(relaxed_bound(matrix)) == -7


@pytest.mark.parametrize("weeks", [0, 1, 2])
def test_minutes_and_pairs_of_the_past_count(weeks: int) -> None:
    """Two blocks of one strand, 16 minutes where 10 are the mean: 6 above it and a pair of 2."""
    instance = by_hand((0, 3), [(1, 8), (1, 8)], target=10, first_open=1)
    instance = replace(instance, strand=(0, 0), held=((0, 1, 0), (1, 1, 0)))
    plan = Timetable(((0,), (0,)), ((), ()))
    matrix = coarse_model(tables_of(instance), tier_frame(instance, plan), weeks)
    assert comfort(instance, plan) == 8
    assert comfort_of(relaxed_bound(matrix)) == 8


def test_more_blocks_were_held_than_are_allowed_now() -> None:
    """A limit lowered during the season says nothing about what is past."""
    instance = by_hand((0, 3, 5), [(1, 5)] * 3 + [(1, 5)], most_blocks=2, first_open=1)
    instance = replace(instance, strand=(0, 0, 0, 1), held=tuple((job, 1, 0) for job in range(3)))
    plan = Timetable(((0,), (0,), (0,), (1,)), ((),) * 4)
    found = whole(tables_of(instance), plan, 5.0, 0)
    assert found.bound == comfort(instance, plan)


def test_past_reviews_stay_in_a_plan_that_search_improves() -> None:
    """There may be more of them than are due, since free minutes are filled with reviews."""
    instance = by_hand((0, 2, 4, 6, 8), [(1, 5), (1, 5)], first_open=3, review_after=(2,))
    instance = replace(instance, held=((0, 1, 0),), reviews_held=((0, 1), (0, 2)))
    plan = Timetable(((0,), (4,)), ((1, 2), ()))
    found = whole(tables_of(instance), plan, 5.0, 0).plan
    assert found.blocks == ((0,), (3,))
    assert found.reviews[0] == (1, 2)
    assert breaches(instance, found) == []


@pytest.mark.parametrize("fillings", [False, True])
def test_a_pinned_review_comes_after_those_held(fillings: bool) -> None:
    """A pin on a skill that is done asks for one review more than there were."""
    instance = by_hand((0, 2, 4), [(1, 5)], first_open=2, held=((0, 1, 0),))
    instance = replace(instance, reviews_held=((0, 1),), pins=(Pin(0, 0, (2,)),))
    plan = Timetable(((0,),), ((1, 2),))
    model = season_model(
        tables_of(instance), replace(tier_frame(instance, plan), fillings=fillings)
    )
    assert not model.matrix.impossible
    assert kept(model.matrix, model.hint(plan))


def test_after_a_review_that_is_not_due_none_is() -> None:
    """The first review is due after the season's end; held all the same, it starts no count."""
    instance = by_hand((0, 2, 9), [(1, 5)], first_open=2, held=((0, 1, 0),), review_after=(30, 2))
    instance = replace(instance, reviews_held=((0, 1),), allowed=(3,))
    plan = Timetable(((0,),), ((1,),))
    tables, frame = tables_of(instance), tier_frame(instance, plan)
    model = season_model(tables, frame)
    assert comfort(instance, plan) == 0
    assert comfort_of(model.matrix.objective.value(model.hint(plan))) == 0
    for weeks in (0, 1, 2):
        assert comfort_of(relaxed_bound(coarse_model(tables, frame, weeks))) <= 0


def test_what_was_passed_over_may_stay_so() -> None:
    """No goal asks for the guided stage once the live one was held, so it need not be taught."""
    chains = ((0, 1),)
    instance = by_hand((0, 2), [(1, 8), (1, 8)], chains=chains, target=5, goals=(goal(1, 1, 0),))
    instance = replace(instance, first_open=1, held=((1, 1, 0),), allowed=(3, 0))
    plan = Timetable(((), (0,)), ((),))
    tables, frame = tables_of(instance), tier_frame(instance, plan)
    assert breaches(instance, plan) == []
    # 3 minutes above the target, in the past.
    assert comfort(instance, plan) == 3
    assert whole(tables, plan, 5.0, 0).bound == 3
    for weeks in (0, 1, 2):
        assert comfort_of(relaxed_bound(coarse_model(tables, frame, weeks))) <= 3


def test_windows_keep_the_rules_and_never_lose() -> None:
    """Parts freed one after the other leave a plan that keeps the rules and is no worse."""
    instance = case(Shape(8, 2, 10, 0.9, 5)).instance()
    tables = tables_of(instance)
    started = best_rule(tables)
    plan = started.decoder.timetable(started.decoder.decode(started.order))
    polished = windows(tables, plan, 1.0, 0, share=0.1)
    assert breaches(instance, polished.plan) == []
    assert tiers(instance, polished.plan) < tiers(instance, plan)


def test_safe_bound_holds_for_any_prices() -> None:
    """At least 3 of x + y at costs 2 and 3, each at most 2: 2 x 2 + 1 x 3 = 7."""
    matrix = Matrix()
    x, y = matrix.column(2), matrix.column(2)
    matrix.rows.append(((x, y), (-1, -1), -3))
    matrix.objective = Sum()
    matrix.objective.add(x, 2)
    matrix.objective.add(y, 3)
    assert relaxed_bound(matrix) == 7
    assert run(matrix, 1.0).bound == 7


def test_ways_to_fill_a_practice() -> None:
    """20 minutes hold two blocks of 9, or one of 11 and one of 9; 18 or 20 are the most filled."""
    assert fillings_of((9, 11), 20, 5) == ({9: 2}, {11: 1, 9: 1})
    assert most_filled((9,), 20, 5) == 18
    assert most_filled((9, 11), 20, 5) == 20


@pytest.mark.parametrize("seed", range(100, 130))
def test_an_attempt_is_given_up_only_for_goals_missed(seed: int) -> None:
    """Giving up half-way says no more and no less than decoding to the end and counting."""
    instance = tiny(seed)
    started = best_rule(tables_of(instance))
    decoder, order = started.decoder, list(started.order)
    marks, whole_way = decoder.mark(order), decoder.decode(order)
    for most in ((0, 0, 0, 0), (0, 0, 1, 0), (1, 9, 0, 2), whole_way.missed, ANY_MISSED):
        attempt = decoder.attempt(order, marks, 0, most)
        assert (attempt is None) == (whole_way.missed > most)
        assert attempt is None or attempt == whole_way


@pytest.mark.parametrize("seed", range(100, 130))
def test_decoder_and_evaluator_count_alike(seed: int) -> None:
    """The value that the search works with is the evaluator's."""
    instance = tiny(seed, past=seed % 3 == 0)
    started = best_rule(tables_of(instance))
    decoder: Decoder = started.decoder
    state = decoder.decode(started.order)
    plan = decoder.timetable(state)
    assert decoder.value(state) == (len(plan.dropped), *tiers(instance, plan))
