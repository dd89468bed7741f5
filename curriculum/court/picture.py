"""Everything that one diagram shows, in metres on the page: marks, arrows and their numbers.

The page has the near basket on top and y growing downward, as the court itself; a full court lies
on its side with the near basket on the left. Arrows find their own way round players and other
arrows, and numbers their own place, so that nothing covers anything.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.court.curves import length
from curriculum.court.geometry import FIBA, Court, Point
from curriculum.court.labels import Label, place_labels
from curriculum.court.routing import Arrow, Mark, MarkKind, route
from curriculum.court.scene import Execution, Frame, Move
from curriculum.models.drills import Drill, is_attacker, is_coach, is_cone

DEPTH = 9.9
"""Metres of the court that a half-court picture shows at least."""

MARGIN = 0.25
_SIZES: dict[MarkKind, float] = {
    "attacker": 0.62,
    "defender": 0.56,
    "coach": 0.6,
    "cone": 0.34,
    "waiting": 0.3,
}
_STEP = 0.8
"""Metres; a defender's adjustment shorter than this is no move worth an arrow."""

_FULL_COURT_SCALE = 1.6
"""Marks on a full court are drawn larger, so that they can be read on the same width of paper."""

Box = tuple[float, float, float, float]
"""Left, top, right and bottom of a picture."""


@dataclass(frozen=True)
class Picture:
    """One frame of a drill, laid out. scale: how much larger than on a half court marks are."""

    court: Court
    view: Literal["half", "full"]
    scale: float
    box: Box
    marks: tuple[Mark, ...]
    arrows: tuple[Arrow, ...]
    labels: tuple[Label, ...]


def compose(
    drill: Drill, played: Execution, index: int, lines: dict[str, Point], court: Court = FIBA
) -> Picture:
    """Lay out one frame; `lines` are the places at which lines of waiting players begin.

    Moves of a step or less that a defender makes to stay in place are not drawn; the others are
    numbered without gaps through all frames.
    """
    frame, numbers = played.frames[index], _numbers(played)
    view = drill.court
    scale = _FULL_COURT_SCALE if view == "full" else 1.0
    turned = _turned if view == "full" else _as_it_is
    marks = [_mark(who, turned(at), frame, scale) for who, at in frame.stand]
    moves = [_on_page(move, turned, numbers) for move in frame.moves if _shows(move)]
    inner = _box(court, view, marks, moves, scale)
    for name in sorted(lines):
        marks += _waiting(turned(lines[name]), marks, inner, scale)
    box = _box(court, view, marks, moves, scale)
    arrows = route(moves, marks, box, scale)
    labels = place_labels(arrows, marks, box, scale)
    return Picture(court, view, scale, box, tuple(marks), arrows, labels)


def _as_it_is(point: Point) -> Point:
    return point


def _turned(point: Point) -> Point:
    return point[1], -point[0]


def _shows(move: Move) -> bool:
    """Whether a move is drawn: not so a rebound that falls into the hands of who stands there."""
    if move.do == "defend":
        return length(move.path) >= _STEP
    return move.do != "rebound" or len(move.path) > 1


def _numbers(played: Execution) -> dict[int, int]:
    """Return the numbers under which the steps of a drill are drawn."""
    shown = {move.number for frame in played.frames for move in frame.moves if _shows(move)}
    return {step: number for number, step in enumerate(sorted(shown), 1)}


def _on_page(move: Move, turned: Callable[[Point], Point], numbers: dict[int, int]) -> Move:
    path = tuple(turned(point) for point in move.path)
    return replace(move, path=path, number=numbers[move.number])


def _mark(who: str, at: Point, frame: Frame, scale: float) -> Mark:
    kind: MarkKind = "defender"
    if is_attacker(who):
        kind = "attacker"
    elif is_coach(who):
        kind = "coach"
    elif is_cone(who):
        kind = "cone"
    return Mark(who, kind, at, _SIZES[kind] * scale, who in frame.holders)


def _waiting(start: Point, marks: list[Mark], box: Box, scale: float) -> list[Mark]:
    """Return the first three of a line, away from whoever stands there already."""
    size = _SIZES["waiting"] * scale
    steps = [(0.0, 1.0), (1.0, 0.0), (-1.0, 0.0), (0.7, 0.7), (-0.7, 0.7), (0.0, -1.0)]
    choices = []
    for order, (dx, dy) in enumerate(steps):
        step = size * 2.35
        at = [(start[0] + dx * step * n, start[1] + dy * step * n) for n in range(3)]
        near = sum(mark.distance(point) < size + 0.1 for mark in marks for point in at)
        left, top, right, bottom = box
        deep = bottom + 2.0 if scale == 1.0 else bottom - size
        off = sum(not (left + size < x < right - size and top + size < y < deep) for x, y in at)
        choices.append((near * 2 + off * 3, order, at))
    best = min(choices)[2]
    return [Mark("", "waiting", point, size, False) for point in best]


def _box(court: Court, view: str, marks: list[Mark], moves: list[Move], scale: float) -> Box:
    half = court.width / 2 + MARGIN
    if view == "full":
        left, top, right, bottom = -MARGIN, -half, court.length + MARGIN, half
    else:
        left, top, right, bottom = -half, -MARGIN, half, DEPTH
    room = 0.12 * scale
    places = [(mark.at, mark.radius + room) for mark in marks]
    places += [(point, 0.3 * scale) for move in moves for point in move.path]
    for (x, y), size in places:
        left, top = min(left, x - size), min(top, y - size)
        right, bottom = max(right, x + size), max(bottom, y + size)
    return left, top, right, bottom
