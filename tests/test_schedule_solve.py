"""Tests of the engine's entrance: tiny seasons solved by hand, proof, determinism, interruption."""

import subprocess
import sys
from dataclasses import replace

import pytest

from curriculum.schedule.effort import Budget, Effort
from curriculum.schedule.instance import COULD, SHOULD, Pin
from curriculum.schedule.solve import Progress, Result, solve
from curriculum.schedule.timetable import Timetable, tiers
from tests.bench.hand import by_hand, goal
from tests.bench.instances import Shape, case
from tests.bench.rules import breaches

EFFORTS: tuple[Effort, ...] = ("quick", "normal")


def answer(result: Result) -> tuple[str, tuple[int, ...], Timetable]:
    """Return what a plan comes to: its status, its tiers and where everything stands."""
    return result.status, result.tiers, result.timetable


def test_short_skill_goes_first() -> None:
    """The skill that is over sooner is taught first: the sum of days to the end is smallest."""
    # One block a practice, on days 0, 2, 4. Skill 0 takes two blocks, skill 1 takes one. Skill 1
    # first: days 0 + 4 = 4, times 10. Skill 0 first would be 2 + 4 = 6.
    instance = by_hand((0, 2, 4), ((2, 10), (1, 10)), usable=10)
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 0, 40),
        Timetable(((1, 2), (0,)), ((), ())),
    )


def test_must_goal_outweighs_comfort() -> None:
    """A must-goal on the long skill turns the order round, though comfort is worse."""
    # Skill 0 must be over by day 2, so it takes days 0 and 2 and skill 1 day 4: 2 + 4 = 6.
    instance = by_hand((0, 2, 4), ((2, 10), (1, 10)), usable=10, goals=(goal(0, 2, 2),))
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 0, 60),
        Timetable(((0, 1), (2,)), ((), ())),
    )


def test_weight_decides_between_equal_skills() -> None:
    """Of two skills of the same length the one that weighs more is taught first."""
    # Weights 1 and 3, one practice each on days 1 and 5: 3 x 1 + 1 x 5 = 8.
    instance = by_hand((1, 5), ((1, 10), (1, 10)), usable=10, weight=(1, 3))
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 0, 80),
        Timetable(((1,), (0,)), ((), ())),
    )


def test_should_goal_is_missed_before_a_must_goal() -> None:
    """Where only one of two goals can be in time, the must-goal is, and the other comes after."""
    # One practice before both due dates; skill 0 should, skill 1 must. Skill 0 is still taught on
    # day 3, missed with its weight 2. Early: 0 + 3.
    instance = by_hand(
        (0, 3), ((1, 10), (1, 10)), usable=10, goals=(goal(0, 1, 0, SHOULD, 2), goal(1, 1, 0))
    )
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 2, 0, 30),
        Timetable(((1,), (0,)), ((), ())),
    )


def test_missed_must_goal_counts_its_days_late() -> None:
    """Two must-goals for one practice: the one that weighs less is missed, by three days."""
    # Either is missed; 3 days x weight 1 is less than 3 days x weight 2. Skill 0 stands on day 0.
    instance = by_hand(
        (0, 3), ((1, 10), (1, 10)), usable=10, goals=(goal(0, 1, 0, weight=2), goal(1, 1, 0))
    )
    assert answer(solve(instance)) == (
        "partial",
        (1, 3, 0, 0, 30),
        Timetable(((0,), (1,)), ((), ())),
    )


def test_could_goal_that_does_not_fit_is_left_out_whole() -> None:
    """A could-goal is not begun when it cannot be ended; an extra review takes the room."""
    # Skill 1 needs two practices of its own and one is left; not reached counts as day 3.
    instance = by_hand(
        (0, 2), ((1, 10), (2, 10)), usable=10, goals=(goal(0, 2, 2, COULD), goal(1, 2, 2, COULD))
    )
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 1, 30),
        Timetable(((0,), ()), ((1,), ())),
    )


def test_missed_should_goal_is_worked_toward() -> None:
    """Free minutes go into a should-goal that cannot be reached at all."""
    # Three blocks on two practices: it is missed (weight 1), and two of its blocks are held.
    instance = by_hand((0, 2), ((3, 10),), goals=(goal(0, 2, 2, SHOULD),))
    result = solve(instance)
    assert (result.tiers, result.timetable) == ((0, 0, 1, 0, 30), Timetable(((0, 1),), ((),)))


def test_needs_hold_between_practices_unless_built_within() -> None:
    """What waits for another skill follows in a later practice, or at once where allowed."""
    instance = by_hand((0, 2), ((1, 5), (1, 5)), needs=((), (0,)))
    assert solve(instance).timetable.blocks == ((0,), (1,))
    assert solve(replace(instance, within=True)).timetable.blocks == ((0,), (0,))


def test_review_stands_on_its_due_day() -> None:
    """A review due seven days after its skill is reached takes its place before an extra one."""
    # Reached on day 0, due on day 7: practice 2 is on that day. Extra reviews fill what is left,
    # but none before the due one, which would pull the next due day forward, past practice 3.
    instance = by_hand(
        (0, 3, 7, 10), ((1, 10),), usable=10, review_after=(7,), review_minutes=10, horizon=11
    )
    result = solve(instance)
    assert (result.status, result.tiers) == ("optimal", (0, 0, 0, 0, 0))
    assert 2 in result.timetable.reviews[0]


def test_review_stands_before_a_break_that_would_make_it_late() -> None:
    """When no practice is held for long after the due day, the last one before it is taken."""
    # Reached on day 0, due on day 7; practices on days 5 and 20. On day 5 it is not late at all.
    instance = by_hand((0, 5, 20), ((1, 10),), usable=10, review_after=(7,), review_minutes=10)
    result = solve(instance, "quick")
    assert (result.tiers, result.timetable.reviews) == ((0, 0, 0, 0, 0), ((1, 2),))


def test_extra_reviews_never_make_a_review_late() -> None:
    """An extra review before the first due one would count as that one, and the next be late."""
    # Reached on day 0; one review is due 10 days after that and one 3 days after the first. With a
    # third one on day 2 the second would be due on day 5 and held on day 10.
    instance = by_hand(
        (0, 2, 10, 13), ((1, 10),), usable=10, review_after=(10, 3), review_minutes=10, horizon=14
    )
    result = solve(instance, "quick")
    assert (result.tiers, result.timetable.reviews) == ((0, 0, 0, 0, 0), ((2, 3),))


def test_pinned_number_stands_where_it_is_pinned() -> None:
    """Block 2 on day 4 leaves block 1 before it and block 3 after it."""
    instance = by_hand((0, 2, 4, 6), ((3, 10),), pins=(Pin(0, 2, (2,)),))
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 0, 60),
        Timetable(((0, 2, 3),), ((),)),
    )


@pytest.mark.parametrize("effort", EFFORTS)
def test_a_pin_kept_by_a_review_costs_no_goal(effort: Effort) -> None:
    """The only block meets its goal on day 0, and a review keeps the pin on day 4."""
    instance = by_hand((0, 2, 4), ((1, 5), (1, 5)), needs=((), (0,)), review_minutes=5, usable=10)
    goals, pins = (goal(0, 1, 0), goal(1, 2, 2)), (Pin(0, 0, (2,)),)
    result = solve(replace(instance, goals=goals, pins=pins), effort)
    assert (result.tiers[0], result.timetable.dropped) == (0, ())
    assert result.timetable.blocks == ((0,), (1,))
    assert 2 in result.timetable.reviews[0]


def test_pins_that_clash_are_reported() -> None:
    """Of two pins that cannot both stand one is dropped, by its index, and the plan is partial."""
    instance = by_hand(
        (0, 2), ((1, 10), (1, 10)), usable=10, pins=(Pin(0, 1, (0,)), Pin(1, 1, (0,)))
    )
    result = solve(instance)
    assert (result.status, len(result.timetable.dropped)) == ("partial", 1)
    assert sorted(result.timetable.blocks) == [(0,), (1,)]


def test_past_blocks_stand() -> None:
    """What was held stays where it was, and the rest goes on from there."""
    instance = by_hand((0, 2, 4), ((3, 10),), first_open=1, held=((0, 1, 0),))
    assert answer(solve(instance)) == (
        "optimal",
        (0, 0, 0, 0, 40),
        Timetable(((0, 1, 2),), ((),)),
    )


def test_lost_block_moves_little() -> None:
    """Once people know a plan, a block that lost its practice goes where nothing else must move."""
    # Skill 0 stood on days 0 and 2, skill 1 on day 4; the second block of skill 0 lost its
    # practice. Day 6 is free: skill 0 ends there although skill 1 could make way.
    former = by_hand(
        (0, 4, 6), ((2, 10), (1, 10)), usable=10, former=((0, -1), (1,)), former_reviews=((), ())
    )
    result = solve(former)
    assert (result.tiers, result.timetable.blocks) == ((0, 0, 0, 0, 0, 0, 100), ((0, 2), (1,)))


def test_a_goal_is_worth_a_move() -> None:
    """A goal is not given up to spare people a change."""
    # As above, but skill 0 must be over by day 4: skill 1 makes way, one block moved.
    former = by_hand(
        (0, 4, 6),
        ((2, 10), (1, 10)),
        usable=10,
        former=((0, -1), (1,)),
        former_reviews=((), ()),
        goals=(goal(0, 2, 4),),
    )
    result = solve(former)
    assert (result.tiers, result.timetable.blocks) == ((0, 0, 0, 1, 2, 0, 100), ((0, 1), (2,)))


@pytest.mark.parametrize("effort", EFFORTS)
def test_nothing_to_teach(effort: Effort) -> None:
    """A season without jobs is planned at once."""
    assert solve(by_hand((0, 2), ()), effort).status == "optimal"


@pytest.mark.parametrize("effort", EFFORTS)
def test_no_practice(effort: Effort) -> None:
    """A season without practices misses everything and says so."""
    nowhere = replace(
        by_hand((0,), ((1, 10),), goals=(goal(0, 0, 0),)),
        days=(),
        usable=(),
        changeover=(),
        quiet=(),
        focus=(),
        horizon=7,
        allowed=(0,),
    )
    result = solve(nowhere, effort)
    assert (result.status, result.tiers[:2], result.timetable.blocks) == ("partial", (1, 7), ((),))


SHAPE = Shape(weeks=6, per_week=2, skills=8, load=0.9, seed=4)


@pytest.mark.parametrize("effort", EFFORTS)
def test_same_input_same_plan(effort: Effort) -> None:
    """The same instance and seed give the same result twice."""
    assert solve(case(SHAPE).instance(), effort) == solve(case(SHAPE).instance(), effort)


def test_same_plan_under_any_hash_seed() -> None:
    """The order in which Python happens to hash text has no part in a plan."""
    program = (
        "from tests.bench.instances import Shape, case\n"
        "from curriculum.schedule.solve import solve\n"
        f"print(solve(case({SHAPE!r}).instance()))"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": "."},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(said) == 1


def test_order_of_files_does_not_matter_to_value() -> None:
    """Skills and practices given in reversed order make a plan of the same worth."""
    made = case(SHAPE)
    turned = made.reversed()
    assert solve(turned.instance()).tiers == solve(made.instance()).tiers


def test_quick_never_imports_or_tools() -> None:
    """Quick effort works without the exact extra."""
    program = (
        "import sys\n"
        "from tests.bench.instances import Shape, case\n"
        "from curriculum.schedule.solve import solve\n"
        f"result = solve(case({SHAPE!r}).instance(), 'quick')\n"
        "print(result.exact, 'ortools' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout == "off False\n"


def test_without_or_tools_the_result_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the exact extra everything is planned, and bounds are those that need none."""
    for name in [
        name for name in sys.modules if name.startswith(("ortools", "curriculum.schedule.exact"))
    ]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, "ortools", None)
    monkeypatch.setitem(sys.modules, "ortools.sat.python", None)
    result = solve(case(SHAPE).instance())
    assert (
        result.exact,
        result.exact_effort,
        breaches(case(SHAPE).instance(), result.timetable),
    ) == (
        "missing",
        0.0,
        [],
    )


def test_interrupt_keeps_the_best_so_far() -> None:
    """Ctrl-C during the search ends it with a whole plan that says it was interrupted."""
    instance = case(SHAPE).instance()
    told: list[Progress] = []

    def stop(progress: Progress) -> None:
        told.append(progress)
        raise KeyboardInterrupt

    result = solve(instance, progress=stop)
    assert (result.interrupted, len(told), breaches(instance, result.timetable)) == (True, 1, [])
    assert result.tiers == tiers(instance, result.timetable)


def test_progress_never_gets_worse() -> None:
    """Each report is at least as good as the one before it."""
    told: list[Progress] = []
    solve(case(SHAPE).instance(), progress=told.append)
    values = [progress.tiers for progress in told]
    assert values
    assert values == sorted(values, reverse=True)
    assert {progress.stage for progress in told} == {"search", "polish", "proof"}


def test_start_is_never_lost() -> None:
    """A plan to start from bounds what comes out, however little effort is allowed."""
    instance = case(SHAPE).instance()
    good = solve(instance)
    again = solve(instance, Budget(tries=1), start=good.timetable)
    assert again.tiers <= good.tiers


def test_more_effort_is_no_worse() -> None:
    """Normal effort comes to no worse plan than quick, with bounds no weaker."""
    instance = case(SHAPE).instance()
    quick, normal = solve(instance, "quick"), solve(instance, "normal")
    assert normal.tiers <= quick.tiers
    assert normal.bounds >= quick.bounds
