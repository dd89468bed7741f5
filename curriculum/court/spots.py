"""The spots of a court by the names the trade gives them; common practice, no published source.

A name with left- or right- exists on both sides, as a player facing the near basket calls them. On
a full court every spot exists at the other end too, with far- in front: `far-left-corner` lies at
the far end on the same side of the floor as `left-corner`.
"""

import math
from functools import cache

from curriculum.court.geometry import Court, Point

FAR = "far-"
FIVE_SPOTS = ("top", "left-wing", "right-wing", "left-corner", "right-corner")
"""The spots of the five-player motion offense."""

_MIDDLE = ("top", "inside-top", "free-throw-line", "midline", "rim", "back", "half")
_SIDED = (
    "slot",
    "wing",
    "corner",
    "elbow",
    "post",
    "block",
    "rim",
    "short-corner",
    "gap",
    "inside-wing",
    "inside-corner",
    "hash",
    "outlet",
    "back",
    "half",
    "sideline",
    "baseline",
)


@cache
def spots(court: Court, full: bool = False) -> dict[str, Point]:
    """Return every spot of a court's near half, and of its far half too when `full` is set."""
    near: dict[str, Point] = {name: _middle(court, name) for name in _MIDDLE}
    for name in _SIDED:
        x, y = _right(court, name)
        near[f"left-{name}"] = (-x, y)
        near[f"right-{name}"] = (x, y)
    if not full:
        return near
    far = {
        f"{FAR}{name}": (x, court.length - y) for name, (x, y) in near.items() if "half" not in name
    }
    return near | far


def in_words(name: str) -> str:
    """Return a spot's name as it is said: `the left wing`, `the top`, `the far right corner`."""
    if name.startswith(FAR):
        return f"the far {in_words(name.removeprefix(FAR)).removeprefix('the ')}"
    said = {
        "rim": "the rim",
        "half": "half court",
        "left-half": "half court on the left",
        "right-half": "half court on the right",
        "back": "behind the top",
        "left-back": "behind the left slot",
        "right-back": "behind the right slot",
        "left-baseline": "the end line on the left",
        "right-baseline": "the end line on the right",
        "left-rim": "the left side of the rim",
        "right-rim": "the right side of the rim",
        "inside-top": "inside the top of the arc",
        "free-throw-line": "the free-throw line",
        "midline": "the midline",
    }
    return said.get(name, f"the {name.replace('-', ' ')}")


def _middle(court: Court, name: str) -> Point:
    ring, out = court.ring, court.spread
    y = {
        "top": ring + out,
        "inside-top": ring + out * 0.75,
        "free-throw-line": court.free_throw,
        "midline": ring + 2.1,
        "rim": ring + 1.0,
        "back": ring + out + 1.75,
        "half": court.length / 2,
    }
    return 0.0, y[name]


def _right(court: Court, name: str) -> Point:
    """Return a spot's place on the right side."""
    ring, out, key = court.ring, court.spread, court.key / 2
    edge = court.width / 2
    corner = min(edge - 0.75, (court.three_x if court.three else out) + 0.3)
    places = {
        "slot": _around(ring, out, 23),
        "wing": _around(ring, out, 50),
        "corner": (corner, ring + 0.15),
        "elbow": (key, court.free_throw),
        "post": (key + 0.35, ring + 2.6),
        "block": (key + 0.25, ring + 0.85),
        "rim": (1.0, ring + 0.75),
        "short-corner": (key + 1.75, ring - 0.25),
        "gap": _around(ring, out * 0.8, 34),
        "inside-wing": _around(ring, out * 0.7, 54),
        "inside-corner": (key + 2.2, ring + 1.2),
        "hash": (edge - 0.9, ring + out + 0.3),
        "outlet": (edge - 1.1, ring + 3.4),
        "back": (3.3, ring + out + 1.75),
        "half": (edge - 2.0, court.length / 2),
        "sideline": (edge + 0.45, court.free_throw),
        "baseline": (3.4, -0.5),
    }
    return places[name]


def _around(ring: float, out: float, degrees: float) -> Point:
    """Return a place around the ring, by the angle from the court's axis."""
    return out * math.sin(math.radians(degrees)), ring + out * math.cos(math.radians(degrees))
