"""Ways over the floor as lists of points close together: straight, bent, rounded, wavy, trimmed."""

import math
from collections.abc import Sequence
from itertools import pairwise

from curriculum.court.geometry import Point, distance

STEP = 0.12
"""Metres between two neighbouring points of a way."""


def bent(start: Point, end: Point, bend: float) -> list[Point]:
    """Return an arc from start to end; bend is its height over the chord, as a share of that.

    Positive bends lie to the left of who goes from start to end on a page whose y grows downward.
    """
    (x1, y1), (x2, y2) = start, end
    control = (x1 + x2) / 2 + (y2 - y1) * bend * 2, (y1 + y2) / 2 - (x2 - x1) * bend * 2
    count = max(2, math.ceil(distance(start, end) * (1 + bend * bend) / STEP))
    return [_quadratic(start, control, end, n / count) for n in range(count + 1)]


def _quadratic(a: Point, b: Point, c: Point, t: float) -> Point:
    p, q, r = (1 - t) ** 2, 2 * t * (1 - t), t * t
    return a[0] * p + b[0] * q + c[0] * r, a[1] * p + b[1] * q + c[1] * r


def straight(turns: Sequence[Point]) -> list[Point]:
    """Return the way from turn to turn in straight lines."""
    way = [turns[0]]
    for a, b in pairwise(turns):
        count = max(1, math.ceil(distance(a, b) / STEP))
        way += [_between(a, b, n / count) for n in range(1, count + 1)]
    return way


def rounded(turns: Sequence[Point]) -> list[Point]:
    """Return a smooth way through all turns (a centripetal-like Catmull-Rom spline)."""
    if len(turns) < 3:
        return straight(turns)
    ends = [turns[0], *turns, turns[-1]]
    way = [turns[0]]
    for n in range(len(turns) - 1):
        a, b, c, d = ends[n : n + 4]
        count = max(2, math.ceil(distance(b, c) * 1.2 / STEP))
        way += [_spline(a, b, c, d, k / count) for k in range(1, count + 1)]
    return way


def _spline(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    def one(p: float, q: float, r: float, s: float) -> float:
        return 0.5 * (
            2 * q
            + (r - p) * t
            + (2 * p - 5 * q + 4 * r - s) * t**2
            + (3 * q - p - 3 * r + s) * t**3
        )

    return one(a[0], b[0], c[0], d[0]), one(a[1], b[1], c[1], d[1])


def length(way: Sequence[Point]) -> float:
    """Return how long a way is."""
    return sum(distance(a, b) for a, b in pairwise(way))


def at(way: Sequence[Point], along: float) -> tuple[Point, Point]:
    """Return the point some metres along a way, and the unit vector of its direction there."""
    left = max(0.0, along)
    for a, b in pairwise(way):
        step = distance(a, b)
        if left <= step and step > 0:
            return _between(a, b, left / step), ((b[0] - a[0]) / step, (b[1] - a[1]) / step)
        left -= step
    return way[-1], direction(way)


def direction(way: Sequence[Point]) -> Point:
    """Return the unit vector in which a way arrives, over its last third of a metre."""
    last = way[-1]
    before = next((p for p in reversed(way) if distance(p, last) > 0.33), way[0])
    far = distance(before, last) or 1.0
    return (last[0] - before[0]) / far, (last[1] - before[1]) / far


def trimmed(way: Sequence[Point], front: float, back: float) -> list[Point]:
    """Return a way without its first and last metres; a tenth of it stays at least."""
    whole = length(way)
    if front + back > 0.9 * whole:
        share = 0.9 * whole / (front + back)
        front, back = front * share, back * share
    kept = [at(way, front)[0]]
    done = 0.0
    for a, b in pairwise(way):
        done += distance(a, b)
        if front < done < whole - back:
            kept.append(b)
    kept.append(at(way, whole - back)[0])
    return kept


def wavy(way: Sequence[Point], size: float) -> list[Point]:
    """Return a way as a wave that begins and ends straight; size is the height of a wave."""
    whole = length(way)
    calm = min(0.25 * whole, 2.2 * size)
    waves = max(1, round((whole - 2 * calm) / (4.2 * size)))
    points = []
    count = max(12, math.ceil(whole / 0.06))
    for n in range(count + 1):
        along = whole * n / count
        (x, y), (dx, dy) = at(way, along)
        share = (along - calm) / (whole - 2 * calm) if whole > 2 * calm else 0.0
        rise = size * math.sin(2 * math.pi * waves * share) if 0 < share < 1 else 0.0
        points.append((x - dy * rise, y + dx * rise))
    return points


def simplified(way: Sequence[Point], off: float = 0.012) -> list[Point]:
    """Return a way with fewer points, none of the others farther off the new line than given."""
    if len(way) < 3:
        return list(way)
    first, last = way[0], way[-1]
    far, at_most = max((_off_line(way[n], first, last), n) for n in range(1, len(way) - 1))
    if far <= off:
        return [first, last]
    return [*simplified(way[: at_most + 1], off)[:-1], *simplified(way[at_most:], off)]


def _off_line(point: Point, a: Point, b: Point) -> float:
    whole = distance(a, b)
    if whole < 1e-9:
        return distance(point, a)
    return abs((b[0] - a[0]) * (a[1] - point[1]) - (a[0] - point[0]) * (b[1] - a[1])) / whole


def _between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
