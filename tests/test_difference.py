"""What people notice between two plans."""

import datetime as dt

from curriculum.practice.difference import BlockChange, Difference, PracticeChange, difference
from tests.sample_plan import LIBRARY, PLAN


def test_a_block_that_stands_elsewhere_has_moved() -> None:
    """A block taken from one practice to another is one change, told with both dates."""
    practices = list(PLAN.practices)
    first, second = practices[0], practices[1]
    practices[0] = first.model_copy(update={"blocks": first.blocks[:1]})
    practices[1] = second.model_copy(update={"blocks": (*second.blocks, first.blocks[1])})
    new = PLAN.model_copy(update={"practices": tuple(practices), "revision": 4})

    assert difference(PLAN, new, LIBRARY) == Difference(
        old_revision=3,
        new_revision=4,
        practices=(),
        blocks=(
            BlockChange(
                "moved",
                "Lay-up, strong side, unopposed 1",
                "Wed 13 Jan",
                "Fri 15 Jan",
                dt.date(2027, 1, 13),
            ),
        ),
        goals_won=(),
        goals_lost=(),
    )


def test_a_practice_that_moves_takes_its_blocks_along() -> None:
    """Blocks that keep their practice have not moved, even if it has a new date."""
    moved = PLAN.practices[0].model_copy(update={"date": dt.date(2027, 1, 14)})
    new = PLAN.model_copy(update={"practices": (moved, *PLAN.practices[1:])})
    found = difference(PLAN, new, LIBRARY)

    assert (found.practices, found.blocks) == (
        (
            PracticeChange(
                "moved",
                "Wed 13 Jan 17:30, north-gym",
                "Thu 14 Jan 17:30, north-gym",
                dt.date(2027, 1, 13),
            ),
        ),
        (),
    )


def test_the_order_within_a_practice_is_no_change() -> None:
    """Two blocks that change places within a practice concern nobody."""
    first = PLAN.practices[0]
    turned = first.model_copy(update={"blocks": first.blocks[::-1]})
    new = PLAN.model_copy(update={"practices": (turned, *PLAN.practices[1:])})

    assert difference(PLAN, new, LIBRARY).blocks == ()
