"""Blocks that stand where people expect them, and give way only where the season demands it."""

from curriculum.schedule.decode import Decoder
from curriculum.schedule.instance import MUST, SHOULD, GoalLimit, Instance
from curriculum.schedule.sticky import known_order
from curriculum.schedule.tables import tables_of
from tests.bench.hand import by_hand


def known(former: tuple[tuple[int, ...], ...], goals: tuple[GoalLimit, ...]) -> Instance:
    """Return five practices for one skill of three blocks and one, if asked, of one block."""
    jobs = len(former)
    return by_hand(
        (0, 2, 4, 6, 8),
        [(3, 10), (1, 10)][:jobs],
        needs=((), (0,)),
        goals=goals,
        horizon=10,
        strand=(0,) * jobs,
        focus=((0,),) * 5,
        target=20,
        most_new=2,
        review_minutes=6,
        former=former,
        former_reviews=((),) * jobs,
    )


def placed(instance: Instance) -> tuple[tuple[int, ...], ...]:
    """Return where blocks stand when each in turn keeps its place as far as it can."""
    decoder = Decoder(tables_of(instance), sticky=True)
    return decoder.timetable(decoder.decode(known_order(instance))).blocks


def test_what_lost_its_place_moves_alone() -> None:
    """The block without a place takes the first that fits; the others stay."""
    assert placed(known(((0, -1, 3),), ())) == ((0, 1, 3),)


def test_a_block_makes_room_for_those_after_it() -> None:
    """The first block leaves its place: between it and the last one none is left for the second."""
    assert placed(known(((3, -1, 4),), ())) == ((0, 1, 4),)


def test_a_goal_ahead_makes_a_block_leave_its_place() -> None:
    """A block that stands after the day on which its goal is due goes where it is in time."""
    goal = GoalLimit(job=0, limit=4, due=6, importance=SHOULD, weight=1)

    assert placed(known(((0, 1, 4),), (goal,))) == ((0, 1, 2),)


def test_a_goal_of_what_waits_for_it_counts_too() -> None:
    """What another skill's goal waits for is early enough for that goal."""
    goal = GoalLimit(job=1, limit=4, due=6, importance=MUST, weight=1)

    assert placed(known(((0, 1, 3), (4,)), (goal,))) == ((0, 1, 2), (3,))


def test_a_goal_that_cannot_be_kept_moves_nothing() -> None:
    """Where three days are too few for what a goal asks, blocks stay where they are known."""
    goal = GoalLimit(job=0, limit=2, due=2, importance=SHOULD, weight=1)

    assert placed(known(((0, 2, 4),), (goal,))) == ((0, 2, 4),)
