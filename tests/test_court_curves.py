"""Ways over the floor keep their ends, their length and their shape."""

import pytest

from curriculum.court.curves import (
    at,
    bent,
    direction,
    length,
    rounded,
    simplified,
    straight,
    trimmed,
    wavy,
)
from curriculum.court.geometry import distance

CORNER = [(0.0, 0.0), (3.0, 0.0), (3.0, 4.0)]


@pytest.mark.parametrize("bend", [0.0, 0.2, -0.38])
def test_an_arc_keeps_its_ends(bend: float) -> None:
    """However it is bent, it starts and ends where it has to."""
    way = bent((1.0, 2.0), (4.0, 6.0), bend)

    assert (way[0], way[-1]) == ((1.0, 2.0), (4.0, 6.0))


def test_an_arc_rises_by_its_bend() -> None:
    """A fifth of a chord of 5 m is a height of 1 m in the middle."""
    way = bent((0.0, 0.0), (5.0, 0.0), 0.2)

    assert max(abs(y) for _, y in way) == pytest.approx(1.0, abs=0.01)


def test_sharp_turns_are_straight_in_between() -> None:
    """From turn to turn the way is as long as the lines."""
    assert length(straight(CORNER)) == pytest.approx(7.0)


def test_round_turns_pass_through_the_turn() -> None:
    """A rounded way touches each of its turns, without a corner there."""
    way = rounded(CORNER)

    assert min(distance(point, (3.0, 0.0)) for point in way) < 1e-9


def test_two_turns_need_no_rounding() -> None:
    """Between two points a rounded way is straight."""
    assert rounded(CORNER[:2]) == straight(CORNER[:2])


def test_a_place_along_a_way() -> None:
    """Five metres along the corner is two metres up its second leg, heading up."""
    place, heading = at(straight(CORNER), 5.0)

    assert (*place, *heading) == pytest.approx((3.0, 2.0, 0.0, 1.0))


def test_trimming_takes_from_both_ends() -> None:
    """One metre off the front and two off the back of seven leave four."""
    way = trimmed(straight(CORNER), 1.0, 2.0)

    assert (length(way), *way[0]) == pytest.approx((4.0, 1.0, 0.0))


def test_trimming_leaves_a_tenth() -> None:
    """A way is never trimmed away."""
    assert length(trimmed([(0.0, 0.0), (1.0, 0.0)], 3.0, 3.0)) == pytest.approx(0.1)


def test_a_wave_starts_and_ends_on_its_way() -> None:
    """It swings to both sides by its size, and is calm at its ends."""
    way = wavy([(0.0, 0.0), (6.0, 0.0)], 0.15)
    heights = [y for _, y in way]

    assert (way[0], way[-1]) == ((0.0, 0.0), (6.0, 0.0))
    assert [round(min(heights), 2), round(max(heights), 2)] == [-0.15, 0.15]


def test_simplifying_keeps_the_shape() -> None:
    """A corner needs three points, however many it had."""
    assert simplified(straight(CORNER)) == CORNER


def test_the_direction_of_arrival() -> None:
    """The way round the corner arrives heading up."""
    assert [round(part, 9) for part in direction(straight(CORNER))] == [0, 1]
