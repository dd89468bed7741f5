"""Draw a drill as SVG text in the open convention of coaching manuals.

Attackers are numbered discs, filled when they hold the ball, defenders are X. A pass is dashed, a
cut solid, a dribble wavy, a screen ends in a bar, a shot is a double line, a handoff has two
strokes across it, a defender's way is thin. Numbers give the order. Shape carries every meaning, so
that it prints in black and white.
"""

import math
from functools import cache
from html import escape

from curriculum.court import curves
from curriculum.court.execute import execute
from curriculum.court.floor import court_lines
from curriculum.court.geometry import Point, court_named, distance
from curriculum.court.ink import INK, cross, disc, head, line, n, polygon, text
from curriculum.court.labels import Label
from curriculum.court.picture import Picture, compose
from curriculum.court.routing import Arrow, Mark
from curriculum.court.setup import set_up
from curriculum.court.wording import describe_frame
from curriculum.models.drills import Drill

_ACTION = 0.13
_THIN = 0.075
_EDGE = 0.1


@cache
def drill_svg(drill: Drill, court: str = "fiba", frame: int = 0, paper: str = "#ffffff") -> str:
    """Return one picture of a drill as a complete `<svg>` element.

    court: fiba, nfhs or mini. frame: which picture, from 0; IndexError beyond the last one.
    paper: the colour behind numbers, `var(--paper)` on a page with a dark mode. All ink is
    currentColor. Title and description are inside and in `aria-label`.
    """
    picture = drill_picture(drill, court, frame)
    left, top, right, bottom = picture.box
    name = escape(drill.name, quote=True)
    if drill.frames > 1:
        name += f" ({frame + 1} of {drill.frames})"
    words = escape(describe_frame(drill, frame), quote=True)
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" '
        f'viewBox="{n(left)} {n(top)} {n(right - left)} {n(bottom - top)}" '
        f'aria-label="{name}: {words}"><title>{name}</title><desc>{words}</desc>'
        f"{_drawing(picture, paper)}</svg>"
    )


def drill_picture(drill: Drill, court: str = "fiba", frame: int = 0) -> Picture:
    """Return the layout of one picture, for callers that measure it."""
    ground = court_named(court)
    floor, _ = set_up(drill, ground)
    lines = floor.lines if frame == 0 else {}
    return compose(drill, execute(drill, ground), frame, lines, ground)


def _drawing(picture: Picture, paper: str) -> str:
    lines = court_lines(picture.court, picture.view == "full", picture.box[3])
    arrows = "".join(_arrow(arrow, picture, paper) for arrow in picture.arrows)
    marks = "".join(_mark(mark, picture, paper) for mark in picture.marks)
    labels = "".join(_label(label, picture, paper) for label in picture.labels)
    return lines + arrows + marks + labels


def _arrow(arrow: Arrow, picture: Picture, paper: str) -> str:
    do, way, scale = arrow.move.do, list(arrow.way), picture.scale
    if do == "turn":
        return _turn(way[0], picture)
    if do == "stop":
        return _stop(arrow, picture)
    arrives = curves.direction(way)
    if do == "handoff":
        half = curves.at(way, curves.length(way) / 2)[0]
        sides = [(half[0] + arrives[0] * d, half[1] + arrives[1] * d) for d in (-0.1, 0.1)]
        bars = [line(cross(each, arrives, 0.3 * scale), _ACTION * scale) for each in sides]
        return line(way, _ACTION * scale) + "".join(bars)
    if do == "screen":
        bar = line(cross(way[-1], arrives, 0.52 * scale), _ACTION * 1.5 * scale)
        return line(way, _ACTION * scale) + bar
    small = do in {"defend", "shot"}
    tip, end = head(way[-1], arrives, (0.38 if small else 0.46) * scale)
    body = _until(way, end)
    if do == "shot":
        wide = line(body, 0.26 * scale) + line(body, 0.11 * scale, paper)
        return wide + tip
    if do == "pass":
        dash = f"{n(0.3 * scale)} {n(0.19 * scale)}"
        return line(body, _ACTION * scale, dash=dash) + tip
    if do == "dribble":
        body = curves.wavy(body, 0.15 * scale)
    return line(body, (_THIN if do == "defend" else _ACTION) * scale) + tip


def _until(way: list[Point], end: Point) -> list[Point]:
    """Return a way that ends under the head of its arrow."""
    tip = way[-1]
    reach = distance(tip, end)
    kept = [point for point in way[:-1] if distance(point, tip) > reach]
    return [*(kept or way[:1]), end]


def _turn(at: Point, picture: Picture) -> str:
    """Return a small arrow round a player who pivots."""
    scale = picture.scale
    radius = 0.9 * scale
    way = [
        (at[0] + radius * math.cos(a / 10), at[1] + radius * math.sin(a / 10))
        for a in range(-14, 9)
    ]
    tip, end = head(way[-1], curves.direction(way), 0.4 * scale)
    return line(_until(way, end), _ACTION * 0.8 * scale) + tip


def _stop(arrow: Arrow, picture: Picture) -> str:
    """Return two strokes where a player stops on two feet, under the player or across the way."""
    scale, at = picture.scale, arrow.way[0]
    before = [
        other.way
        for other in picture.arrows
        if other.move.by == arrow.move.by
        and other.move.number <= arrow.move.number
        and len(other.way) > 1
        and other.move.do in {"cut", "dribble", "rebound"}
    ]
    heading = curves.direction(before[-1]) if before else (0.0, 1.0)
    start = 0.16 if before else 0.85
    strokes = []
    for far in (start, start + 0.2):
        point = (at[0] + heading[0] * far * scale, at[1] + heading[1] * far * scale)
        strokes.append(line(cross(point, heading, 0.34 * scale), _ACTION * 0.8 * scale))
    return "".join(strokes)


def _mark(mark: Mark, picture: Picture, paper: str) -> str:
    scale, (x, y), size = picture.scale, mark.at, mark.radius
    if mark.kind == "attacker":
        fill, ink = (INK, paper) if mark.ball else (paper, INK)
        drawn = disc(mark.at, size - _EDGE * scale / 2, fill, INK, _EDGE * scale)
        return drawn + text(mark.who, mark.at, 0.84 * scale, ink)
    if mark.kind == "waiting":
        return disc(mark.at, size - 0.03 * scale, paper, INK, 0.06 * scale)
    if mark.kind == "cone":
        corners = [
            (x, y - size),
            (x + size * 0.9, y + size * 0.7),
            (x - size * 0.9, y + size * 0.7),
        ]
        return polygon(corners, paper, INK, 0.08 * scale)
    ball = disc((x + size * 0.95, y - size * 0.75), 0.17 * scale, INK) if mark.ball else ""
    if mark.kind == "coach":
        half = size * 0.82
        corners = [
            (x - half, y - half),
            (x + half, y - half),
            (x + half, y + half),
            (x - half, y + half),
        ]
        square = polygon(corners, paper, INK, 0.08 * scale)
        return square + text(mark.who, mark.at, 0.76 * scale) + ball
    return _cross(mark, picture, paper) + ball


def _cross(mark: Mark, picture: Picture, paper: str) -> str:
    """Return a defender: an X, with its number beside it when there are several."""
    scale, (x, y) = picture.scale, mark.at
    arm = 0.36 * scale
    several = sum(other.kind == "defender" for other in picture.marks) > 1
    if several:
        x -= 0.12 * scale
    strokes = [[(x - arm, y - arm), (x + arm, y + arm)], [(x - arm, y + arm), (x + arm, y - arm)]]
    drawn = disc(mark.at, mark.radius, paper) if _is_run_over(mark, picture) else ""
    drawn += "".join(line(stroke, 0.15 * scale) for stroke in strokes)
    if several:
        drawn += text(mark.who[1:], (x + 0.54 * scale, y + 0.18 * scale), 0.5 * scale)
    return drawn


def _is_run_over(mark: Mark, picture: Picture) -> bool:
    return any(mark.distance(point) < 0 for arrow in picture.arrows for point in arrow.way)


def _label(label: Label, picture: Picture, paper: str) -> str:
    halo = disc(label.at, label.radius, paper)
    return halo + text(label.text, label.at, 0.74 * picture.scale, weight=600)
