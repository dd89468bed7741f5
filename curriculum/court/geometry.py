"""Courts to scale, from published measurements; knows no players and draws nothing.

Metres. The origin is the middle of the inner edge of the end line, x runs along the end line, y
into the court. Looked at with the basket on top, x grows to the right; so left and right are what
a player who faces the basket calls them.
"""

import math
from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
CourtName = Literal["fiba", "nfhs", "mini"]

_FOOT = 0.3048
_INCH = 0.0254


@dataclass(frozen=True)
class Court:
    """The measurements of a court, in metres; distances from the end line to its inner edge.

    line: width of the lines. key: width of the restricted area. free_throw: from the end line to
    the far edge of the free-throw line. circle: radius of the free-throw and centre circles.
    three: radius of the three-point arc around the ring's centre, None without one.
    three_gap: from the sideline to the arc's straight parts.
    ring, board: from the end line to the ring's centre and to the board's face.
    no_charge: radius of the no-charge semicircle, None without one.
    spread: radius around the ring on which the five spots of a spread offense stand.
    """

    name: CourtName
    length: float
    width: float
    line: float
    key: float
    free_throw: float
    circle: float
    three: float | None
    three_gap: float
    ring: float
    ring_radius: float
    board: float
    board_width: float
    no_charge: float | None
    spread: float

    @property
    def three_x(self) -> float:
        """How far from the middle the straight parts of the three-point line run."""
        if self.three is None:
            raise ValueError(f"the {self.name} court has no three-point line")
        return min(self.width / 2 - self.three_gap, self.three)

    @property
    def three_angle(self) -> float:
        """The angle of the arc on each side of the court's axis, in degrees."""
        return math.degrees(math.asin(self.three_x / (self.three or 1.0)))

    def inside(self, point: Point, margin: float = 0.0) -> bool:
        """Whether a point lies on the court, or not farther out than a margin."""
        x, y = point
        return abs(x) <= self.width / 2 + margin and -margin <= y <= self.length + margin


FIBA = Court(
    name="fiba",
    length=28.0,
    width=15.0,
    line=0.05,
    key=4.9,
    free_throw=5.8,
    circle=1.8,
    three=6.75,
    three_gap=0.9,
    ring=1.575,
    ring_radius=0.225,
    board=1.2,
    board_width=1.8,
    no_charge=1.25,
    spread=7.2,
)
"""FIBA Official Basketball Rules, Art. 2 and 3. Court 28 x 15, lines 0.05, circles 1.80: sports
dimensions guide of Western Australia's DLGSC. Key 4.9 x 5.8, arc 6.75, no-charge 1.25:
archive.usab.com/rules. The arc's 0.90 from the sideline: secondary copies. Ring centre 1.575 and
board 1.20: from memory, in line with the published 2.99 of the arc's legs."""

NFHS = Court(
    name="nfhs",
    length=84 * _FOOT,
    width=50 * _FOOT,
    line=2 * _INCH,
    key=12 * _FOOT,
    free_throw=19 * _FOOT,
    circle=6 * _FOOT,
    three=19.75 * _FOOT,
    three_gap=5.25 * _FOOT,
    ring=63 * _INCH,
    ring_radius=9 * _INCH,
    board=4 * _FOOT,
    board_width=6 * _FOOT,
    no_charge=None,
    spread=19.75 * _FOOT + 0.45,
)
"""NFHS Basketball Rules, Rule 1, read in secondary copies: court 84 x 50 ft, lane 12 ft,
free-throw line 19 ft from the end line, arc 19 ft 9 in, board 4 ft inside; no restricted arc. The
ring's 5 ft 3 in is from memory."""

MINI = Court(
    name="mini",
    length=28.0,
    width=15.0,
    line=0.05,
    key=4.9,
    free_throw=5.2,
    circle=1.8,
    three=None,
    three_gap=0.0,
    ring=1.575,
    ring_radius=0.225,
    board=1.2,
    board_width=1.8,
    no_charge=None,
    spread=6.2,
)
"""FIBA Mini-Basketball Rules, August 2005, read in a reproduction: court 28 x 15, free-throw line
4.00 from the board (so 5.20 from the end line), no three-point line. The spread of 6.2 is our
choice: younger children pass less far."""

COURTS: dict[CourtName, Court] = {"fiba": FIBA, "nfhs": NFHS, "mini": MINI}
"""The courts by the name that callers give."""


def court_named(name: str) -> Court:
    """Return a court by its name; ValueError for a name that no court has."""
    for known, found in COURTS.items():
        if known == name:
            return found
    raise ValueError(f'there is no court "{name}"; there is {", ".join(COURTS)}')


def distance(a: Point, b: Point) -> float:
    """Return the distance of two points."""
    return math.hypot(a[0] - b[0], a[1] - b[1])


def toward(start: Point, end: Point, far: float) -> Point:
    """Return the point that lies some metres from a start on the way to an end, or beyond it.

    From a start that is the end itself the way leads into the court.
    """
    whole = distance(start, end)
    if whole < 1e-9:
        return start[0], start[1] + far
    share = far / whole
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def middle(a: Point, b: Point) -> Point:
    """Return the point halfway between two points."""
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
