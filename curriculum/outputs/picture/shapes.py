"""Shapes of a large picture as SVG text, in millimetres: boxes, lines that bend, words.

As in diagrams of drills: presentation attributes only, no ids, no style sheets, so that one string
works in browsers and on paper.
"""

from collections.abc import Sequence
from html import escape
from itertools import pairwise

FAMILY = "Barlow, 'Barlow Semi Condensed', 'Source Sans 3', 'Arial Narrow', Arial, sans-serif"

Point = tuple[float, float]


def n(value: float) -> str:
    """Return a length with two decimals at most.

    >>> n(3.0), n(10.456)
    ('3', '10.46')
    """
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def box(
    at: Point, size: Point, fill: str, ink: str, *, width: float = 0.35, dashed: bool = False
) -> str:
    """Return a box with rounded corners by its upper left corner."""
    dash = ' stroke-dasharray="1.6 1.1"' if dashed else ""
    return (
        f'<rect x="{n(at[0])}" y="{n(at[1])}" width="{n(size[0])}" height="{n(size[1])}" rx="1.2" '
        f'fill="{fill}" stroke="{ink}" stroke-width="{n(width)}"{dash}/>'
    )


def bend(points: Sequence[Point], ink: str, width: float, *, dashed: bool = False) -> str:
    """Return a line through points that leaves and reaches each of them level."""
    path = f"M{n(points[0][0])} {n(points[0][1])}"
    for (x0, y0), (x1, y1) in pairwise(points):
        if abs(y1 - y0) < 0.01:
            path += f"H{n(x1)}"
            continue
        half = (x0 + x1) / 2
        path += f"C{n(half)} {n(y0)} {n(half)} {n(y1)} {n(x1)} {n(y1)}"
    dash = ' stroke-dasharray="1.4 1"' if dashed else ""
    return f'<path d="{path}" fill="none" stroke="{ink}" stroke-width="{n(width)}"{dash}/>'


def tip(at: Point, size: float, ink: str) -> str:
    """Return the head of an arrow that points to the right."""
    x, y = at
    corners = [(x, y), (x - size, y - size * 0.42), (x - size, y + size * 0.42)]
    drawn = " ".join(f"{n(a)},{n(b)}" for a, b in corners)
    return f'<polygon points="{drawn}" fill="{ink}"/>'


def words(text: str, at: Point, size: float, ink: str, weight: int = 600, anchor: str = "") -> str:
    """Return words that begin at a point of their base line; `end` as the anchor: end there."""
    turned = f' text-anchor="{anchor}"' if anchor else ""
    return (
        f'<text x="{n(at[0])}" y="{n(at[1])}" font-family="{FAMILY}" font-size="{n(size)}" '
        f'font-weight="{weight}" fill="{ink}"{turned}>{escape(text)}</text>'
    )


def cut(text: str, most: int, lines: int = 1) -> list[str]:
    """Return words in lines of at most so many letters, the last one shortened visibly.

    >>> cut("Screen away in the motion", 12, 2)
    ['Screen away', 'in the moti…']
    """
    left = text.split()
    found: list[str] = []
    while left and len(found) < lines:
        line = left.pop(0)
        while left and len(line) + 1 + len(left[0]) <= most:
            line += f" {left.pop(0)}"
        if len(found) == lines - 1 and left:
            line = " ".join([line, *left])
        found.append(line)
    return [line if len(line) <= most else f"{line[: most - 1].rstrip()}…" for line in found]
