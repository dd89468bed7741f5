"""The lines of a court as SVG text, half or full, to scale."""

import math
from collections.abc import Callable

from curriculum.court.geometry import Court, Point
from curriculum.court.ink import disc, line

GREY = "#8c8c8c"
"""Court lines: light enough to stay behind the players, dark enough for a copier."""

WIDTH = 0.07
"""Metres; drawn a little wider than the 0.05 of the rules, so that the lines print."""

_Turn = Callable[[Point], Point]


def court_lines(court: Court, full: bool, depth: float) -> str:
    """Return the lines of a half court down to a depth, or of a full court lying on its side."""
    if full:
        return _full(court)
    bottom = min(depth, court.length / 2)
    parts = _half(court, lambda point: point, bottom)
    if depth >= court.length / 2:
        edge = court.width / 2
        parts.append(line([(-edge, bottom), (edge, bottom)], WIDTH, GREY))
        parts.append(line(_arc((0.0, bottom), court.circle, 90, 270), WIDTH, GREY))
    return "".join(parts)


def _full(court: Court) -> str:
    edge, whole = court.width / 2, court.length
    parts = _half(court, lambda point: (point[1], -point[0]), whole / 2)
    parts += _half(court, lambda point: (whole - point[1], point[0]), whole / 2)
    parts.append(line([(whole / 2, -edge), (whole / 2, edge)], WIDTH, GREY))
    parts.append(disc((whole / 2, 0.0), court.circle, "none", GREY, WIDTH))
    return "".join(parts)


def _half(court: Court, turn: _Turn, bottom: float) -> list[str]:
    edge, key, throw = court.width / 2, court.key / 2, court.free_throw
    ring = (0.0, court.ring)
    shapes: list[list[Point]] = [
        [(-edge, bottom), (-edge, 0.0), (edge, 0.0), (edge, bottom)],
        [(-key, 0.0), (-key, throw), (key, throw), (key, 0.0)],
        _arc((0.0, throw), court.circle, -90, 90),
    ]
    if court.three is not None:
        x, angle = court.three_x, court.three_angle
        shapes.append([(-x, 0.0), *_arc(ring, court.three, -angle, angle), (x, 0.0)])
    if court.no_charge is not None:
        radius = court.no_charge
        legs = [(-radius, court.board), *_arc(ring, radius, -90, 90), (radius, court.board)]
        shapes.append(legs)
    parts = [line([turn(point) for point in shape], WIDTH, GREY) for shape in shapes]
    board = court.board_width / 2
    ends = [turn((-board, court.board)), turn((board, court.board))]
    parts.append(line(ends, WIDTH * 1.7, GREY))
    parts.append(disc(turn(ring), court.ring_radius, "none", GREY, WIDTH * 1.3))
    return parts


def _arc(center: Point, radius: float, start: float, end: float) -> list[Point]:
    """Return points of an arc; 0 degrees points into the court, positive ones to the right."""
    count = max(6, math.ceil(abs(end - start) / 5))
    angles = [math.radians(start + (end - start) * k / count) for k in range(count + 1)]
    return [(center[0] + radius * math.sin(a), center[1] + radius * math.cos(a)) for a in angles]
