"""The map of skills as one SVG picture: columns from left to right, shaded by when taught."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape

from curriculum.outputs.picture.layers import Layers, layers
from curriculum.outputs.picture.shapes import Point, bend, box, cut, n, tip, words
from curriculum.practice.skillmap import Shade, SkillMap, SkillNode

WIDE = 273.0
"""Millimetres across: an A4 page on its side, less its margins."""

HIGH = 168.0
"""Millimetres that the picture may be high on that page."""

EDGE = 0.5
"""Millimetres around the picture, so that the outer edges of its boxes are whole."""

ROOMY = 8.5
"""Millimetres of a box in which the week and the strand get a line of their own."""

INK = "#16181a"
GREY = "#6a6d70"

FILLS: dict[Shade, tuple[str, str]] = {
    "first": ("#0f4c5c", "#ffffff"),
    "second": ("#3c7282", "#ffffff"),
    "third": ("#a9c6ce", INK),
    "fourth": ("#e2ecee", INK),
    "known": ("#ffffff", INK),
    "left out": ("#ffffff", INK),
}
"""Paper and ink of a box; as greys they are 60, 104, 190, 234 and white, and the text on them has a
contrast of 5 to 1 or more."""


@dataclass(frozen=True)
class Sizes:
    """Measures of one picture in millimetres.

    pitch: from one box to the next in a column. letter: width of a letter as a share of its size.
    """

    box: Point
    gap: float
    pitch: float
    name: float
    small: float
    letter: float


def map_svg(skills: SkillMap, letter: float = 0.5) -> str:
    """Return the map as a complete `<svg>` element of the size of a page on its side.

    letter: how wide letters are drawn, as a share of their size; larger where the font is unknown.
    """
    laid = layers(tuple(node.skill for node in skills.nodes), skills.needs)
    sizes = _sizes(laid, letter)
    high = max(sizes.pitch, laid.height * sizes.pitch)
    told = f"What leads to what: {skills.summary}. Each arrow leads to the skill that needs it."
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="{n(-EDGE)} {n(-EDGE)} '
        f'{n(WIDE + 2 * EDGE)} {n(high + 2 * EDGE)}" '
        f'aria-label="{escape(told, quote=True)}">{_drawing(skills, laid, sizes)}</svg>'
    )


def _sizes(laid: Layers, letter: float) -> Sizes:
    count = max(1, laid.columns)
    pitch = min(15.0, HIGH / max(1.0, laid.height))
    gap = max(9.0, min(24.0, WIDE / count * 0.32))
    width = min(48.0, (WIDE - gap * (count - 1)) / count)
    gap = (WIDE - width * count) / max(1, count - 1)
    high = min(10.4, pitch * 0.84)
    name = 3.5 if high >= ROOMY else max(2.2, min(3.2, high * 0.37))
    return Sizes((width, high), gap, pitch, name, 2.6, letter)


def _drawing(skills: SkillMap, laid: Layers, sizes: Sizes) -> str:
    corners = {
        name: (column * (sizes.box[0] + sizes.gap), height * sizes.pitch - sizes.box[1] / 2)
        for name, column, height in laid.at
    }
    shades = {node.skill: node.shade for node in skills.nodes}
    lines = _lines(laid, corners, sizes)
    casing = "".join(bend(points, "#ffffff", 1.3) for _, points in lines)
    drawn = ""
    for end, points in lines:
        pale = shades[end] == "left out"
        last = points[-1]
        stop = [*points[:-1], (last[0] - 1.4, last[1])]
        drawn += bend(points, "#ffffff", 1.1) + bend(stop, GREY, 0.4, dashed=pale)
        drawn += tip(last, 1.9, INK)
    boxes = "".join(_box(node, corners[node.skill], sizes) for node in skills.nodes)
    return casing + drawn + boxes


_Line = tuple[str, list[Point]]


def _lines(laid: Layers, corners: Mapping[str, Point], sizes: Sizes) -> list[_Line]:
    """Return the way of each line with the node at its end; long ones run level past columns."""
    width, step = sizes.box[0], sizes.box[0] + sizes.gap
    beyond: dict[str, list[tuple[float, int]]] = {}
    before: dict[str, list[tuple[float, int]]] = {}
    for number, (start, end, ways) in enumerate(laid.ways):
        tops = [corners[start][1], *(way * sizes.pitch for way in ways), corners[end][1]]
        beyond.setdefault(start, []).append((tops[1], number))
        before.setdefault(end, []).append((tops[-2], number))
    leaves = _ports(beyond, corners, sizes)
    comes = _ports(before, corners, sizes)
    lines: list[_Line] = []
    for number, (start, end, ways) in enumerate(laid.ways):
        x = corners[start][0]
        points = [(x + width, leaves[number])]
        for place, way in enumerate(ways, 1):
            left = x + place * step
            points += [(left, way * sizes.pitch), (left + width, way * sizes.pitch)]
        lines.append((end, [*points, (corners[end][0], comes[number])]))
    return lines


def _ports(
    sides: Mapping[str, Sequence[tuple[float, int]]], corners: Mapping[str, Point], sizes: Sizes
) -> dict[int, float]:
    """Return the height at which each line meets its box, in the order in which lines come."""
    found = {}
    for name, lines in sides.items():
        step = min(1.7, sizes.box[1] * 0.8 / len(lines))
        top = corners[name][1] + sizes.box[1] / 2 - step * (len(lines) - 1) / 2
        for place, (_, number) in enumerate(sorted(lines)):
            found[number] = top + place * step
    return found


def _box(node: SkillNode, corner: Point, sizes: Sizes) -> str:
    """Return a box with its name and when it is taught; in a low one just the week's number."""
    fill, ink = FILLS[node.shade]
    high = sizes.box[1]
    drawn = box(
        corner,
        sizes.box,
        fill,
        INK,
        width=0.25 if node.shade == "known" else 0.4,
        dashed=node.shade == "left out",
    )
    x, room = corner[0] + 1.4, sizes.box[0] - 2.4
    if high >= ROOMY:
        letters = room / sizes.letter
        size = max(2.8, min(sizes.name, letters / len(node.name)))
        name = cut(node.name, int(letters / size))[0]
        told = f"{node.when} · {node.strand}"
        small = max(2.2, min(sizes.small, letters / 0.96 / len(told)))
        under = cut(told, int(letters / small / 0.96))[0]
        drawn += words(name, (x, corner[1] + high * 0.45), size, ink, 700)
        return drawn + words(under, (x, corner[1] + high * 0.81), small, ink, 500)
    number = node.when.removeprefix("week ") if node.when.startswith("week") else ""
    room -= 0.75 * sizes.name * len(number)
    size, lines = _in_two_lines(node.name, room, sizes)
    first = corner[1] + high / 2 + size * (0.34 if len(lines) == 1 else -0.16)
    for place, line in enumerate(lines):
        drawn += words(line, (x, first + place * size), size, ink, 700)
    if number:
        right = corner[0] + sizes.box[0] - 1.2
        at = (right, corner[1] + high / 2 + sizes.name * 0.34)
        drawn += words(number, at, sizes.name, ink, 500, anchor="end")
    return drawn


def _in_two_lines(name: str, room: float, sizes: Sizes) -> tuple[float, list[str]]:
    """Return a name in one or two lines with its size: smaller where it would be shortened."""
    for share in (1.0, 0.92, 0.85):
        size = sizes.name * share
        lines = cut(name, int(room / (size * sizes.letter)), 2)
        if not lines[-1].endswith("…"):
            break
    return size, lines
