"""Find a place for the number of each arrow: on its line where there is room, else beside it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from curriculum.court import curves
from curriculum.court.geometry import Point, distance
from curriculum.court.routing import Arrow, Mark

RADIUS = 0.36
"""Half the size of a number in metres, on a half court."""

_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.27, 0.73, 0.2, 0.8)
_BESIDE = (0.52, 0.66, 0.82, 1.0, 1.25, 1.5)
_GAP = 0.05
_LONG_ENOUGH = 1.6
_LONG_WAVE = 3.2
"""Metres of line or of a dribble's wave below which a number on it would hide too much of it."""


@dataclass(frozen=True)
class Label:
    """The number of an arrow: its text, its middle, and its radius; nothing else may lie in it.

    on: the number of the arrow on whose line it sits, None when it stands beside.
    """

    text: str
    at: Point
    radius: float
    on: int | None


def place_labels(
    arrows: Sequence[Arrow], marks: Sequence[Mark], box: tuple[float, ...], scale: float
) -> tuple[Label, ...]:
    """Return a label for each arrow, in their order; the shortest arrows choose first."""
    order = sorted(range(len(arrows)), key=lambda n: (curves.length(arrows[n].way), n))
    found: dict[int, Label] = {}
    for n in order:
        best: tuple[float, Label] | None = None
        for label in _choices(arrows, n, scale):
            cost = _cost(label, n, arrows, marks, tuple(found.values()), box, scale)
            if best is None or cost < best[0]:
                best = cost, label
            if cost == 0.0:
                break
        if best is not None:
            found[n] = best[1]
    return tuple(found[n] for n in range(len(arrows)))


def _choices(arrows: Sequence[Arrow], n: int, scale: float) -> Iterator[Label]:
    """Yield places for a label, the best ones first."""
    arrow, size = arrows[n], RADIUS * scale
    text = str(arrow.move.number)
    whole = curves.length(arrow.way)
    if whole >= (_LONG_WAVE if arrow.move.do == "dribble" else _LONG_ENOUGH) * scale:
        for share in _ALONG:
            yield Label(text, curves.at(arrow.way, whole * share)[0], size, n)
    if whole == 0.0:
        x, y = arrow.way[0]
        for far in (1.15, 1.4, 1.7):
            for dx, dy in ((1, 0), (-1, 0), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (0, 1), (0, -1)):
                yield Label(text, (x + dx * far * scale, y + dy * far * scale), size, None)
        return
    for far in _BESIDE:
        for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.95):
            (x, y), (dx, dy) = curves.at(arrow.way, whole * share)
            for side in (1.0, -1.0):
                step = side * far * scale
                yield Label(text, (x - dy * step, y + dx * step), size, None)


def _cost(
    label: Label,
    n: int,
    arrows: Sequence[Arrow],
    marks: Sequence[Mark],
    others: Sequence[Label],
    box: tuple[float, ...],
    scale: float,
) -> float:
    """Return how much a label covers; 0 when it is free of everything but its own line."""
    gap = _GAP * scale
    cost = 0.0
    for mark in marks:
        cost += 10.0 * max(0.0, label.radius + gap - mark.distance(label.at))
    for other in others:
        cost += 10.0 * max(0.0, label.radius + other.radius + gap - distance(label.at, other.at))
    for m, arrow in enumerate(arrows):
        if m == n and label.on is not None:
            tip = distance(label.at, arrow.way[-1])
            cost += 10.0 * max(0.0, label.radius + 0.5 * scale - tip)
            continue
        near = min(distance(label.at, point) for point in arrow.way)
        wave = 0.16 * scale if arrow.move.do == "dribble" else 0.08 * scale
        cost += 6.0 * max(0.0, label.radius + wave - near)
    left, top, right, bottom = box
    x, y = label.at
    inside = left + label.radius < x < right - label.radius
    inside = inside and top + label.radius < y < bottom - label.radius
    return cost if inside else cost + 20.0
