"""The last touches to a plan: what was passed over is made good where there is room."""

from dataclasses import replace

from curriculum.schedule.finish import finished
from curriculum.schedule.instance import SHOULD, GoalLimit
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable
from tests.bench.hand import by_hand

HELD = Timetable(((), (0,)), ((),))
"""The second stage stands in the first practice, the one below it nowhere."""


def test_a_stage_that_was_passed_over_is_made_good() -> None:
    """The later stage has been held: nothing waits for the earlier one, and it is taught still."""
    two = by_hand((0, 2, 4), [(1, 8), (1, 8)], chains=[(0, 1)])
    passed = replace(two, first_open=1, held=((1, 1, 0),), last=(False, True))

    assert finished(tables_of(passed), HELD).blocks == ((1,), (0,))


def test_where_there_is_no_room_it_stays_out() -> None:
    """A practice that is too short for it holds none of it."""
    two = by_hand((0, 2), [(1, 8), (1, 8)], chains=[(0, 1)], usable=7)
    passed = replace(two, first_open=1, held=((1, 1, 0),), last=(False, True))

    assert finished(tables_of(passed), HELD).blocks == ((), (0,))


def test_what_nobody_asked_for_is_not_added() -> None:
    """A stage that nothing was held above, and no goal needs, stays where the search left it."""
    two = by_hand((0, 2, 4), [(1, 8), (1, 8)], chains=[(0, 1)])

    assert finished(tables_of(two), Timetable(((), ()), ((),))).blocks == ((), ())


def test_a_missed_goal_is_still_taught_before_anything_is_reviewed() -> None:
    """Reviews that take the one block of each practice give way to it; one comes back after it."""
    two = by_hand(
        (0, 2, 4, 6),
        [(1, 8), (2, 8)],
        chains=[(0,), (1,)],
        most_blocks=1,
        review_after=(2, 2),
        goals=[GoalLimit(job=1, limit=1, due=0, importance=SHOULD, weight=1)],
    )
    reviewed = Timetable(((0,), ()), ((2, 3), ()))

    plan = finished(tables_of(two), reviewed)

    assert plan.blocks == ((0,), (1, 2))
    assert plan.reviews[0] == (3,)


def test_reviews_stay_where_they_would_not_make_room_enough() -> None:
    """Half of what a goal needs does not reach it."""
    two = by_hand(
        (0, 2, 4, 6),
        [(1, 8), (4, 8)],
        chains=[(0,), (1,)],
        most_blocks=1,
        review_after=(2, 2),
        goals=[GoalLimit(job=1, limit=1, due=0, importance=SHOULD, weight=1)],
    )

    assert finished(tables_of(two), Timetable(((0,), ()), ((2, 3), ()))).reviews == ((2, 3), ())
