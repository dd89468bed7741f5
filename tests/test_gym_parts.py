"""Minutes of the fixed parts and what they leave for teaching."""

import pytest

from curriculum.gym.parts import (
    FixedParts,
    parts_of,
    teaching_minutes,
    teaching_problem,
    usable_minutes,
)
from curriculum.models.gymtimes import Parts

NOTHING = (Parts(), Parts())


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [
        # 12, 12, 5, 2, 2 times minutes / 75, rounded down by hand; changeover stays.
        (120, FixedParts(12, 12, 5, 2, 2, 1)),
        (75, FixedParts(12, 12, 5, 2, 2, 1)),
        (74, FixedParts(11, 11, 4, 1, 1, 1)),
        (60, FixedParts(9, 9, 4, 1, 1, 1)),
        (45, FixedParts(7, 7, 3, 1, 1, 1)),
        (15, FixedParts(2, 2, 1, 1, 1, 1)),
    ],
)
def test_parts_that_nobody_set(minutes: int, expected: FixedParts) -> None:
    """From 75 minutes on the usual parts stand; below, they shrink with the practice."""
    assert parts_of(minutes, NOTHING) == expected


def test_what_is_set_is_never_scaled() -> None:
    """In a short practice, parts set by slot or season stay as they are; the others shrink."""
    slot, season = Parts(warm_up=12, breaks=0), Parts(scrimmage=20, changeover=3)

    assert parts_of(45, (slot, season)) == FixedParts(12, 20, 3, 0, 1, 3)


def test_the_most_specific_table_counts() -> None:
    """A part set in several tables is taken from the first, and 0 is a value."""
    move, slot, season = Parts(warm_up=0), Parts(warm_up=8, cool_down=6), Parts(cool_down=4)

    assert parts_of(90, (move, slot, season)) == FixedParts(0, 12, 6, 2, 2, 1)


@pytest.mark.parametrize(
    ("minutes", "parts", "teaching"),
    [
        (75, FixedParts(), 42),  # 75 - 12 - 12 - 5 - 2 * 2
        (60, FixedParts(9, 9, 4, 1, 1), 37),  # 60 - 9 - 9 - 4 - 1
        (45, FixedParts(20, 20, 5, 2, 2), -4),  # 45 - 45 - 4
    ],
)
def test_teaching_minutes(minutes: int, parts: FixedParts, teaching: int) -> None:
    """Warm-up, scrimmage, cool-down and every break are taken off."""
    assert teaching_minutes(minutes, parts) == teaching


@pytest.mark.parametrize(
    ("teaching", "spare", "usable"),
    [
        (42, 10, 37),  # 42 * 90 // 100 = 37.8, down
        (42, 0, 42),
        (10, 33, 6),  # 6.7, down
        (0, 10, 0),
        (-4, 10, 0),
    ],
)
def test_usable_minutes(teaching: int, spare: int, usable: int) -> None:
    """The spare share is kept free, in whole minutes rounded down, never below none."""
    assert usable_minutes(teaching, spare) == usable


@pytest.mark.parametrize(
    ("minutes", "teaching", "sentence"),
    [
        (75, 15, "None"),
        (
            40,
            14,
            (
                "warning: slot[1].minutes: only 14 of the practice's minutes are left for teaching "
                "(found 40 minutes); shorten warm_up, scrimmage, cool_down or the breaks, "
                "or make the practice longer"
            ),
        ),
        (
            33,
            0,
            (
                "slot[1].minutes: warm-up, scrimmage, cool-down and breaks take 33 minutes, "
                "so no teaching is left (found 33 minutes); shorten warm_up, scrimmage, cool_down "
                "or the breaks, or make the practice longer"
            ),
        ),
        (
            45,
            -4,
            (
                "slot[1].minutes: warm-up, scrimmage, cool-down and breaks take 49 minutes, "
                "so no teaching is left (found 45 minutes); shorten warm_up, scrimmage, cool_down "
                "or the breaks, or make the practice longer"
            ),
        ),
    ],
)
def test_teaching_problem(minutes: int, teaching: int, sentence: str) -> None:
    """Less than 15 minutes of teaching is a warning, none at all an error."""
    assert str(teaching_problem("slot[1].minutes", minutes, teaching)) == sentence
