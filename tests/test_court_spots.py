"""Spots lie where their names say, on every court."""

import pytest

from curriculum.court.geometry import COURTS, FIBA, NFHS, Court, distance
from curriculum.court.spots import FIVE_SPOTS, in_words, spots
from tests.court_arc import behind_arc

EVERY = pytest.mark.parametrize("court", COURTS.values(), ids=COURTS)


@pytest.mark.parametrize("court", [FIBA, NFHS], ids=["fiba", "nfhs"])
def test_the_five_spots_are_behind_the_arc(court: Court) -> None:
    """A spread offense stands where a shot counts three, and on the floor."""
    found = [spots(court)[name] for name in FIVE_SPOTS]

    assert [behind_arc(court, p) and court.inside(p, -0.3) for p in found] == [True] * 5


@EVERY
def test_the_five_spots_are_far_apart(court: Court) -> None:
    """Neighbours on the five spots stand at least four metres apart."""
    where = [spots(court)[name] for name in FIVE_SPOTS]
    pairs = [distance(a, b) for n, a in enumerate(where) for b in where[:n]]

    assert min(pairs) > 4.0


@EVERY
def test_left_mirrors_right(court: Court) -> None:
    """Each left spot has a right one at the same distance from the end line."""
    named = spots(court, full=True)
    wrong = [
        name
        for name, (x, y) in named.items()
        if "left" in name and named[name.replace("left", "right")] != (-x, y)
    ]

    assert wrong == []


@EVERY
def test_elbows_are_the_corners_of_the_key(court: Court) -> None:
    """An elbow is where the free-throw line meets the lane line."""
    assert spots(court)["right-elbow"] == (court.key / 2, court.free_throw)


@EVERY
def test_far_spots_are_as_near_to_the_far_end(court: Court) -> None:
    """A far spot lies on the same side of the floor, mirrored at half court."""
    named = spots(court, full=True)
    (x, y), (far_x, far_y) = named["left-corner"], named["far-left-corner"]

    assert (far_x, round(y + far_y, 9)) == (x, round(court.length, 9))


def test_a_half_court_has_no_far_spots() -> None:
    """Far spots exist on a full court only."""
    assert [name for name in spots(FIBA) if name.startswith("far")] == []


def test_only_throw_in_spots_are_outside() -> None:
    """Sideline and end line spots lie off the floor, where a throw-in is taken; no other does."""
    outside = {name for name, point in spots(FIBA).items() if not FIBA.inside(point)}

    assert outside == {"left-sideline", "right-sideline", "left-baseline", "right-baseline"}


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("left-wing", "the left wing"),
        ("far-right-short-corner", "the far right short corner"),
        ("left-baseline", "the end line on the left"),
        ("half", "half court"),
        ("back", "behind the top"),
    ],
)
def test_spots_in_words(name: str, said: str) -> None:
    """Names are said as a coach says them."""
    assert in_words(name) == said
