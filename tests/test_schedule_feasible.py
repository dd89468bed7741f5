"""Tests of the decision whether must-goals and pins can be kept together."""

from dataclasses import replace

import pytest

from curriculum.schedule.feasible import Chain, Decision, Exhausted, Shortage, decide, keeps_all
from curriculum.schedule.instance import SHOULD, Pin
from tests.bench.balancing import STATIONS, line
from tests.bench.hand import by_hand, goal
from tests.bench.instances import Shape, case
from tests.bench.rules import best_of_all, breaches
from tests.bench.tiny import tiny

LINES = [(name, cycle) for name, best in STATIONS.items() for cycle in best]


def test_chain_that_ends_too_late() -> None:
    """A goal is out of reach when the chain before it takes more practices than there are."""
    # Skill 1 waits for skill 0: blocks on days 0, 2 and 4, and it is due by day 2.
    instance = by_hand((0, 2, 4), ((2, 5), (1, 5)), needs=((), (0,)), goals=(goal(1, 2, 2),))
    assert decide(instance) == Decision(
        "unreachable", Chain((0, 1), 1, earliest=2, limit=2, goal=0)
    )


def test_minutes_that_do_not_suffice() -> None:
    """Two goals need more minutes by their date than the practices until then have."""
    # 4 blocks of 12 minutes by day 2; two practices of 20 hold one such block each.
    instance = by_hand(
        (0, 2, 4), ((2, 12), (2, 12)), usable=20, goals=(goal(0, 2, 2), goal(1, 2, 2))
    )
    blocks = ((0, 1), (1, 1))
    assert decide(instance) == Decision("unreachable", Shortage("minutes", 0, 0, blocks, 24, 20))


def test_too_many_introductions() -> None:
    """Two skills to be introduced in one practice that allows one."""
    instance = by_hand((0, 2), ((1, 5), (1, 5)), most_new=1, goals=(goal(0, 1, 0), goal(1, 1, 0)))
    blocks = ((0, 1), (1, 1))
    assert decide(instance) == Decision(
        "unreachable", Shortage("introductions", 0, 0, blocks, 2, 1)
    )


def test_too_many_blocks() -> None:
    """Two blocks in one practice that allows one."""
    instance = by_hand(
        (0, 2), ((1, 5), (1, 5)), most_blocks=1, goals=(goal(0, 1, 0), goal(1, 1, 0))
    )
    blocks = ((0, 1), (1, 1))
    assert decide(instance) == Decision("unreachable", Shortage("blocks", 0, 0, blocks, 2, 1))


def test_what_only_search_can_see() -> None:
    """Minutes suffice in sum, but blocks cannot be cut."""
    # 5 blocks of 8 minutes are 40, two practices of 20 have 40, but each holds only two blocks.
    instance = by_hand(
        (0, 2), ((1, 8),) * 5, usable=20, goals=tuple(goal(j, 2, 2) for j in range(5))
    )
    assert decide(instance) == Decision("unreachable", Exhausted())
    assert decide(instance, "quick") == Decision("unknown")


def test_should_goals_do_not_count() -> None:
    """Only must-goals and pins are asked about."""
    instance = by_hand((0, 2), ((3, 5),), goals=(goal(0, 2, 2, SHOULD),))
    assert decide(instance).verdict == "reachable"


def test_pin_before_its_chain() -> None:
    """A pin of block 2 on the first day leaves no place for block 1."""
    instance = by_hand((0, 2), ((2, 5),), pins=(Pin(0, 2, (0,)),))
    assert decide(instance) == Decision("unreachable", Chain((0,), 2, earliest=1, limit=1, pin=0))


def test_pin_without_number_may_be_a_review() -> None:
    """A pin on a date after a goal's is honoured by a review of the finished skill."""
    instance = by_hand((0, 2, 4), ((2, 5),), goals=(goal(0, 2, 2),), pins=(Pin(0, 0, (2,)),))
    decision = decide(instance)
    assert decision.verdict == "reachable"
    assert decision.witness is not None
    assert (decision.witness.blocks, decision.witness.reviews) == (((0, 1),), ((2,),))


@pytest.mark.parametrize("dates", [((1,), (2,)), ((2,), (1,))])
def test_pins_without_number_may_all_be_reviews(dates: tuple[tuple[int], ...]) -> None:
    """Two reviews of one skill, whichever pin is written first; the plan shows both."""
    pins = tuple(Pin(0, 0, practices) for practices in dates)
    instance = by_hand((0, 2, 4), ((1, 5),), goals=(goal(0, 1, 0),), pins=pins)
    found = decide(instance)
    assert found.verdict == "reachable"
    assert found.witness is not None
    assert found.witness.blocks == ((0,),)
    assert found.witness.reviews == ((1, 2),)


def test_pins_that_say_the_same_are_one() -> None:
    """A pin that stands twice asks for one review."""
    pins = (Pin(0, 0, (1,)),) * 2
    instance = by_hand((0, 2), ((1, 5),), goals=(goal(0, 1, 0),), pins=pins)
    assert decide(instance).verdict == "reachable"


@pytest.mark.parametrize("chains", [((0, 1),), ((0,), (1,))])
def test_a_pin_asks_for_a_block_after_those_held(chains: tuple[tuple[int, ...], ...]) -> None:
    """One of three blocks is past: the pin is kept by the second one."""
    instance = by_hand((0, 2, 4), ((3, 5), (1, 5)), chains=chains, first_open=1)
    instance = replace(instance, held=((0, 1, 0),), pins=(Pin(0, 0, (2,)),))
    found = decide(instance)
    assert found.verdict == "reachable"
    assert found.witness is not None
    assert found.witness.blocks[0] == (0, 2)


def test_a_pin_asks_for_a_block_after_a_numbered_one() -> None:
    """The first block is pinned by its number, another one to a later date."""
    instance = by_hand((0, 2, 4), ((2, 5), (1, 5)), chains=((0, 1),))
    instance = replace(instance, pins=(Pin(0, 1, (0,)), Pin(0, 0, (2,))))
    found = decide(instance)
    assert found.verdict == "reachable"
    assert found.witness is not None
    assert found.witness.blocks[0] == (0, 2)


def test_a_pin_may_mean_a_block_after_the_introduction() -> None:
    """Nothing may be introduced on the pin's date, but a second block may be held there."""
    instance = by_hand((0, 2), ((2, 5), (1, 5)), chains=((0, 1),), quiet=(False, True))
    instance = replace(instance, pins=(Pin(0, 0, (1,)),))
    assert decide(instance).verdict == "reachable"


def test_what_was_passed_over_is_not_asked_for_again() -> None:
    """The live stage was held without the guided one, for which there is no room any more."""
    instance = by_hand((0, 2), ((1, 5), (1, 5)), chains=((0, 1),), goals=(goal(1, 1, 0),))
    instance = replace(instance, first_open=1, held=((1, 1, 0),), usable=(20, 0))
    assert decide(instance, "quick").verdict == "reachable"


def test_pin_on_a_past_practice_asks_for_nothing() -> None:
    """What is past cannot be changed any more."""
    instance = by_hand((0, 2), ((1, 5),), first_open=1, pins=(Pin(0, 1, (0,)),))
    assert decide(instance).verdict == "reachable"


def test_past_blocks_count() -> None:
    """A goal that needs two practices is reachable in one when a block has been held."""
    instance = by_hand((0, 2), ((2, 5),), first_open=1, goals=(goal(0, 2, 2),))
    assert decide(instance).verdict == "unreachable"
    assert decide(replace(instance, held=((0, 1, 0),))).verdict == "reachable"


@pytest.mark.parametrize("seed", range(40))
def test_goals_of_a_hidden_plan_are_met(seed: int) -> None:
    """Whatever a hidden plan meets the engine meets too, and shows a plan that keeps the rules."""
    made = case(Shape(8, 2, 12, 1.0, seed, musts=0.7, slack=3, pins=2))
    instance = made.instance()
    decision = decide(instance)
    assert decision.verdict == "reachable"
    assert decision.witness is not None
    assert breaches(instance, decision.witness) == []
    assert keeps_all(instance, decision.witness)


@pytest.mark.parametrize("seed", range(1_000, 1_030))
def test_answer_equals_trying_all_plans(seed: int) -> None:
    """On tiny seasons the answer is what trying every plan gives."""
    instance = tiny(seed, practices=4, past=seed % 3 == 0)
    dropped, reached = best_of_all(instance)
    possible = dropped == 0 and reached[0] == 0
    assert decide(instance).verdict == ("reachable" if possible else "unreachable")


@pytest.mark.parametrize(("name", "cycle"), LINES)
def test_published_optima_of_line_balancing(name: str, cycle: int) -> None:
    """The published number of stations suffices and one fewer does not.

    Optima: Scholl A (1993), Data of Assembly Line Balancing Problems, TH Darmstadt.
    """
    stations = STATIONS[name][cycle]
    assert decide(line(name, cycle, stations)).verdict == "reachable"
    assert decide(line(name, cycle, stations - 1)).verdict == "unreachable"
