"""The past in numbers: which blocks count, and what waits for what was passed over."""

from curriculum.graph import Node
from curriculum.schedule.past import (
    after_the_last,
    blocks_held,
    clear_of,
    needs_left,
    passed_over,
    reviews_held,
)
from tests.build import day

LADDER = ((0, 1, 2),)
"""One skill of three stages."""


def test_blocks_held_count_from_one() -> None:
    """When one was lost between them, those held move up; what nobody asks for is left out."""
    pass_: Node = ("pass", "live")
    stop: Node = ("stop", "guided")
    held = [(pass_, 3, "c"), (pass_, 1, "a"), (pass_, 4, "d"), (stop, 1, "a"), (pass_, 9, "gone")]

    found = blocks_held(held, [2], {pass_: 0}, {"a": 0, "b": 1, "c": 2, "d": 3})

    assert found == ((0, 1, 0), (0, 2, 2))


def test_reviews_held_are_those_still_known() -> None:
    """A review of a skill that nobody asks for, or in a practice that is gone, is left out."""
    held = [("pass", "b"), ("stop", "a"), ("pass", "gone"), ("pass", "a")]

    assert reviews_held(held, {"pass": 0}, {"a": 0, "b": 1}) == ((0, 0), (0, 1))


def test_a_review_follows_the_last_block() -> None:
    """A review before the skill was finished, or of one that never was, was none."""
    past = ((0, 1, 0), (1, 1, 1), (2, 1, 2), (3, 1, 0))
    chains, asked = ((0, 1, 2), (3, 4)), [1, 1, 1, 1, 1]

    assert after_the_last(((0, 1), (0, 3), (1, 4)), past, chains, asked) == ((0, 3),)


def test_a_ladder_goes_on_from_what_is_missing() -> None:
    """The live stage waits for the unopposed one that was passed over, and for guided as ever."""
    needs = [[], [0], [1]]

    assert needs_left(needs, ((1, 1, 0),), LADDER, [1, 1, 1]) == ((), (0,), (0, 1))
    assert needs_left(needs, ((0, 1, 0),), LADDER, [1, 1, 1]) == ((), (0,), (1,))


def test_a_skill_that_was_passed_over_is_not_reviewed() -> None:
    """Its last stage is held in full, but one below it misses a block."""
    assert passed_over(((0, 1, 0), (1, 1, 1), (2, 1, 2)), LADDER, [2, 1, 1]) == (2,)
    assert passed_over(((0, 1, 0), (1, 1, 1), (2, 1, 2)), LADDER, [1, 1, 1]) == ()
    assert passed_over(((0, 1, 0),), LADDER, [2, 1, 1]) == ()


def test_what_is_past_keeps_a_skill_away() -> None:
    """With a gap of five days, practices less than that after a past block are closed to it."""
    days = [day("01-12"), day("01-15"), day("01-17"), day("01-19")]

    found = clear_of(((0, 1, 0),), ((1, 0),), ((0,), (1,), (2,)), days, 5, 1)

    assert found == (0b1101, 0b1101, 0b1111)
