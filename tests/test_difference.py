"""What people notice between two plans."""

import datetime as dt

from curriculum.models.plan import Miss
from curriculum.practice.difference import BlockChange, PracticeChange, WordedDifference, difference
from tests.sample_plan import LIBRARY, PLAN, SEASON


def test_a_block_that_stands_elsewhere_has_moved() -> None:
    """A block taken from one practice to another is one change, told with both dates."""
    practices = list(PLAN.practices)
    first, second = practices[0], practices[1]
    practices[0] = first.model_copy(update={"blocks": first.blocks[:1]})
    practices[1] = second.model_copy(update={"blocks": (*second.blocks, first.blocks[1])})
    new = PLAN.model_copy(update={"practices": tuple(practices), "revision": 4})

    assert difference(PLAN, new, SEASON, LIBRARY) == WordedDifference(
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
    found = difference(PLAN, new, SEASON, LIBRARY)

    assert (found.practices, found.blocks) == (
        (
            PracticeChange(
                "moved",
                "Wed 13 Jan 17:30, North Gym",
                "Thu 14 Jan 17:30, North Gym",
                dt.date(2027, 1, 13),
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

    assert difference(PLAN, new, SEASON, LIBRARY).blocks == ()


def test_a_goal_lost_gives_its_own_reason() -> None:
    """A pin of the same stage that is given up too has a reason of its own, told elsewhere."""
    first = PLAN.goals[0]
    lost = first.model_copy(update={"met": False})
    why = ("the goal is crowded out", "the pin gives way")
    misses = tuple(Miss(skill=first.skill, stage=first.stage, why=each) for each in why)
    new = PLAN.model_copy(update={"goals": (lost, *PLAN.goals[1:]), "misses": misses})

    assert (first.met, difference(PLAN, new, SEASON, LIBRARY).goals_lost) == (True, why[:1])


def test_each_of_two_goals_of_a_stage_gives_its_own_reason() -> None:
    """Of two goals of one stage the later one is told apart from the one missed before."""
    late = PLAN.goals[0]
    early = late.model_copy(update={"met": False, "by": late.by - dt.timedelta(days=30)})
    old = PLAN.model_copy(update={"goals": (early, late)})
    misses = tuple(
        Miss(skill=late.skill, stage=late.stage, why=each) for each in ("by January", "by March")
    )
    lost = late.model_copy(update={"met": False})
    new = old.model_copy(update={"goals": (early, lost), "misses": misses})

    assert difference(old, new, SEASON, LIBRARY).goals_lost == ("by March",)
