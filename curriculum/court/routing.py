"""Lead each arrow from its start to its end, round the marks and beside the other arrows."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from curriculum.court import curves
from curriculum.court.geometry import Point, distance
from curriculum.court.scene import Move

MarkKind = Literal["attacker", "defender", "coach", "cone", "waiting"]

_BENDS: dict[str, tuple[float, ...]] = {
    "pass": (0.0, 0.06, -0.06, 0.12, -0.12),
    "handoff": (0.0,),
    "shot": (0.0, 0.12, -0.12, 0.2, -0.2),
    "dribble": (0.0, 0.08, -0.08, 0.16, -0.16, 0.26, -0.26),
}
_FREE_BENDS = (0.0, 0.09, -0.09, 0.17, -0.17, 0.27, -0.27, 0.38, -0.38)
_CLEAR = 0.14
"""Metres between an arrow and a mark that it passes or meets."""

_APART = 0.3
"""Metres between two arrows that run side by side."""

Route = list[Point]


@dataclass(frozen=True)
class Mark:
    """Somebody or something drawn: a disc, an X, a square, a triangle; `radius` around `at`."""

    who: str
    kind: MarkKind
    at: Point
    radius: float
    ball: bool

    def distance(self, point: Point) -> float:
        """Return how far a point lies from the mark's edge; negative inside."""
        return distance(self.at, point) - self.radius


@dataclass(frozen=True)
class Arrow:
    """One move and the line that is drawn for it, from its first visible point to its tip."""

    move: Move
    way: tuple[Point, ...]


def route(
    moves: Sequence[Move], marks: Sequence[Mark], box: tuple[float, ...], scale: float
) -> tuple[Arrow, ...]:
    """Return an arrow for each move, in their order.

    Passes and shots are led first, because they stay nearly straight.
    """
    order = sorted(range(len(moves)), key=lambda n: (_rank(moves[n]), n))
    ways: dict[int, Route] = {}
    for n in order:
        ways[n] = _best(moves, n, marks, list(ways.values()), box, scale)
    return tuple(Arrow(moves[n], tuple(ways[n])) for n in range(len(moves)))


def _rank(move: Move) -> int:
    if move.do in {"pass", "shot", "handoff"}:
        return 0
    return 1 if move.via else 2


def _best(
    moves: Sequence[Move],
    n: int,
    marks: Sequence[Mark],
    others: Sequence[Route],
    box: tuple[float, ...],
    scale: float,
) -> Route:
    move = moves[n]
    if len(move.path) == 1:
        return [move.path[0]]
    first = not any(other.by == move.by and len(other.path) > 1 for other in moves[:n])
    trim = _trimmer(move, marks, _met(moves, n), first, scale)
    best: tuple[float, Route] | None = None
    for order, way in enumerate(_candidates(move, scale)):
        line = trim(way)
        cost = _cost(line, move, marks, others, box, scale)
        total = cost + 0.3 * order
        if best is None or total < best[0]:
            best = total, line
        if cost == 0.0:
            break
    return best[1] if best else list(move.path)


def _candidates(move: Move, scale: float) -> list[Route]:
    start, end = move.path[0], move.path[-1]
    if move.via:
        turns = _apart(move.path, scale) if distance(start, end) < 0.5 else list(move.path)
        return [curves.rounded(turns) if move.round else curves.straight(turns)]
    if distance(start, end) < 0.05:
        return [[start, end]]
    return [curves.bent(start, end, bend) for bend in _BENDS.get(move.do, _FREE_BENDS)]


def _apart(path: Sequence[Point], scale: float) -> list[Point]:
    """Return a way out and back whose two legs do not cover each other."""
    (x, y), (far_x, far_y) = path[0], path[1]
    far = distance(path[0], path[1]) or 1.0
    dx, dy = -(far_y - y) / far * 0.34 * scale, (far_x - x) / far * 0.34 * scale
    return [(x + dx, y + dy), *path[1:-1], (x - dx, y - dy)]


def _met(moves: Sequence[Move], n: int) -> bool:
    """Whether a pass ends at a player who has moved, so that an arrow's tip is there already."""
    return any(other.by == moves[n].to and len(other.path) > 1 for other in moves[:n])


def _trimmer(
    move: Move, marks: Sequence[Mark], met: bool, first: bool, scale: float
) -> Callable[[Route], Route]:
    """Return what cuts off the parts of a way that lie under a mark or another arrow's tip."""
    clear = _CLEAR * scale

    met_there = [mark for mark in marks if mark.distance(move.path[-1]) < clear]

    def covered(point: Point) -> bool:
        return any(mark.distance(point) < clear for mark in met_there)

    front_gap = 0.0 if first else 0.22 * scale
    back_gap = 0.45 * scale if met and move.do == "pass" else 0.0
    if move.do == "shot":
        front_gap, back_gap = min(front_gap, 0.12 * scale), 0.1 * scale
    if move.do == "handoff":
        front_gap = back_gap = 0.3 * scale

    def trim(way: Route) -> Route:
        own = [mark for mark in marks if mark.who == move.by]
        front = 0
        while first and front < len(way) // 2 and any(m.distance(way[front]) < clear for m in own):
            front += 1
        back = len(way) - 1
        while move.do != "shot" and back > front + 1 and covered(way[back]):
            back -= 1
        kept = way[front : back + 1]
        whole = curves.length(kept)
        if whole < 0.4 * scale and move.do != "handoff":
            return kept if len(kept) > 1 else [way[0], way[-1]]
        return curves.trimmed(kept, min(front_gap, 0.3 * whole), min(back_gap, 0.4 * whole))

    return trim


def _cost(
    way: Route,
    move: Move,
    marks: Sequence[Mark],
    others: Sequence[Route],
    box: tuple[float, ...],
    scale: float,
) -> float:
    """Return how bad a way is: what it runs over, what it runs along, whether it leaves the box."""
    cost = 0.0
    for mark in marks:
        own = bool(mark.who) and mark.who == move.by
        near = way[len(way) // 3 :] if own else way[:-2]
        closest = min((mark.distance(point) for point in near), default=9.0)
        cost += 5.0 * max(0.0, _CLEAR * scale - closest) / scale
        cost += 4.0 if closest < 0 else 0.0
    for other in others:
        cost += _shared(way, other, scale)
    left, top, right, bottom = box
    cost += sum(not (left < x < right and top < y < bottom) for x, y in way) * 2.0
    return cost


def _shared(way: Route, other: Route, scale: float) -> float:
    """Return the cost of running along another way; where both begin or end it costs less."""
    cost, reach, points = 0.0, _APART * scale, way[::2]
    left, right = min(x for x, _ in points) - reach, max(x for x, _ in points) + reach
    top, bottom = min(y for _, y in points) - reach, max(y for _, y in points) + reach
    beside = [(x, y) for x, y in other[::2] if left < x < right and top < y < bottom]
    if not beside:
        return cost
    ends = (other[0], other[-1])
    for point in points:
        nearest = min([math.dist(point, each) for each in beside])
        if nearest < reach:
            at_end = min(distance(point, end) for end in ends) < 0.7 * scale
            cost += (0.1 if at_end else 0.5) * (1 - nearest / reach)
    return cost
