"""The courts have the published measurements, and what follows from them by arithmetic."""

import math

import pytest

from curriculum.court.geometry import FIBA, MINI, NFHS, court_named, distance, toward
from tests.court_arc import three_leg

FOOT = 0.3048


def test_fiba_court_has_the_published_lengths() -> None:
    """FIBA Official Basketball Rules, Art. 2: dlgsc.wa.gov.au and archive.usab.com/rules."""
    found = (FIBA.length, FIBA.width, FIBA.circle, FIBA.three, FIBA.key, FIBA.no_charge)

    assert found == (28.0, 15.0, 1.80, 6.75, 4.9, 1.25)


def test_fiba_free_throw_line_is_four_sixty_from_the_board() -> None:
    """5.80 from the end line less the board's 1.20 (FIBA Art. 2.4.3, secondary copies)."""
    assert FIBA.free_throw - FIBA.board == pytest.approx(4.60)


def test_fiba_arc_meets_its_legs_where_arithmetic_says() -> None:
    """Legs at 6.60 run to 1.575 + sqrt(6.75² - 6.60²) = 2.9901; FIBA's diagram prints 2.99."""
    assert (round(FIBA.three_x, 6), round(three_leg(FIBA), 4)) == (6.6, 2.9901)


def test_fiba_arc_reaches_the_throw_in_line() -> None:
    """The top of the arc lies 8.325 from the end line, 77.90 degrees to each side."""
    assert (round(FIBA.ring + 6.75, 6), round(FIBA.three_angle, 2)) == (8.325, 77.90)


def test_fiba_arc_is_as_long_as_computed() -> None:
    """Twice 77.90 degrees at 6.75 m make an arc of 18.354 m."""
    assert 2 * math.radians(FIBA.three_angle) * 6.75 == pytest.approx(18.354, abs=0.001)


def test_nfhs_arc_in_feet() -> None:
    """NFHS Rule 1, secondary copies: arc 19 ft 9 in, its top 25 ft from the end line."""
    radius = NFHS.three or 0
    found = radius / FOOT, (NFHS.ring + radius) / FOOT, (NFHS.width / 2 - NFHS.three_x) / FOOT

    assert found == pytest.approx((19.75, 25.0, 5.25))


def test_nfhs_legs_end_beside_the_ring() -> None:
    """NFHS: the three-point legs run straight for 63 in, as far as the ring's centre."""
    assert three_leg(NFHS) / FOOT * 12 == pytest.approx(63)


def test_nfhs_free_throw_line_in_feet() -> None:
    """NFHS Rule 1, secondary copies: 15 ft from the board, lane 12 ft, no no-charge arc."""
    feet = (round((NFHS.free_throw - NFHS.board) / FOOT, 6), round(NFHS.key / FOOT, 6))

    assert (feet, NFHS.no_charge) == ((15, 12), None)


def test_mini_free_throw_line_is_four_metres_from_the_board() -> None:
    """FIBA Mini-Basketball Rules 2005, Art. 2-3: 4.00 m from the board, no three-point line."""
    assert (round(MINI.free_throw - MINI.board, 6), MINI.three) == (4.0, None)


def test_a_court_without_arc_has_no_legs() -> None:
    """To ask for the arc of a court without one is misuse."""
    with pytest.raises(ValueError, match="no three-point line"):
        _ = MINI.three_x


def test_the_court_ends_at_its_lines() -> None:
    """A point on the sideline is inside, one beyond it only with a margin."""
    assert [FIBA.inside((7.5, 3)), FIBA.inside((7.6, 3)), FIBA.inside((7.6, 3), 0.2)] == [
        True,
        False,
        True,
    ]


def test_courts_are_found_by_name() -> None:
    """The names are fiba, nfhs and mini; another one is refused with all of them."""
    with pytest.raises(ValueError, match='no court "street"; there is fiba, nfhs, mini'):
        court_named("street")
    assert court_named("nfhs") is NFHS


def test_a_step_toward_nowhere_leads_into_the_court() -> None:
    """Toward a point from itself there is no direction, so that y is taken."""
    assert (toward((1, 2), (1, 2), 3), toward((0, 0), (3, 4), 10)) == ((1, 5), (6, 8))


def test_distance_is_straight() -> None:
    """A triangle of 3 and 4 has 5."""
    assert distance((1, 1), (4, 5)) == 5
