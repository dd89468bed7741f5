"""Elements of a diagram as SVG text: lines, heads, discs, numbers.

One string has to work in browsers, in Typst and in other converters: presentation attributes only,
no ids, no style sheets, no markers; text is centred by an offset; ink is currentColor.
"""

from collections.abc import Sequence
from html import escape

from curriculum.court.curves import simplified
from curriculum.court.geometry import Point

UNIT = 40.0
"""SVG units per metre; large enough that no renderer meets fonts below its smallest size."""

INK = "currentColor"
FAMILY = "Barlow, 'Barlow Semi Condensed', 'Source Sans 3', Arial, sans-serif"


def n(value: float) -> str:
    """Return metres as SVG units, with one decimal at most.

    >>> n(1.25), n(0.62)
    ('50', '24.8')
    """
    rounded = round(value * UNIT, 1) + 0.0
    return f"{rounded:.1f}".removesuffix(".0")


def line(points: Sequence[Point], width: float, ink: str = INK, dash: str = "") -> str:
    """Return a line through points, with round joints."""
    path = "M" + "L".join(f"{n(x)} {n(y)}" for x, y in simplified(points))
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path d="{path}" fill="none" stroke="{ink}" stroke-width="{n(width)}" '
        f'stroke-linejoin="round" stroke-linecap="{"butt" if dash else "round"}"{dashed}/>'
    )


def polygon(
    points: Sequence[Point], fill: str = INK, stroke: str = "none", width: float = 0
) -> str:
    """Return a closed shape."""
    at = " ".join(f"{n(x)},{n(y)}" for x, y in points)
    edge = f' stroke="{stroke}" stroke-width="{n(width)}" stroke-linejoin="round"' if width else ""
    return f'<polygon points="{at}" fill="{fill}"{edge}/>'


def disc(at: Point, radius: float, fill: str, stroke: str = "none", width: float = 0.0) -> str:
    """Return a filled circle."""
    edge = f' stroke="{stroke}" stroke-width="{n(width)}"' if width else ""
    return f'<circle cx="{n(at[0])}" cy="{n(at[1])}" r="{n(radius)}" fill="{fill}"{edge}/>'


def text(words: str, at: Point, size: float, ink: str = INK, weight: int = 700) -> str:
    """Return text centred at a point; its height counts as that of a digit."""
    return (
        f'<text x="{n(at[0])}" y="{n(at[1] + 0.35 * size)}" font-family="{FAMILY}" '
        f'font-size="{n(size)}" font-weight="{weight}" text-anchor="middle" fill="{ink}">'
        f"{escape(words)}</text>"
    )


def head(tip: Point, way: Point, size: float) -> tuple[str, Point]:
    """Return an arrow's head, and where its line has to end."""
    (x, y), (dx, dy) = tip, way
    back = (x - dx * size, y - dy * size)
    half = size * 0.42
    left, right = cross(back, way, half)
    return polygon([tip, left, right]), (x - dx * size * 0.8, y - dy * size * 0.8)


def cross(at: Point, way: Point, half: float) -> tuple[Point, Point]:
    """Return the ends of a bar across a way."""
    (x, y), (dx, dy) = at, way
    return (x - dy * half, y + dx * half), (x + dy * half, y - dx * half)
