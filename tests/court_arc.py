"""What follows from a court's three-point line by arithmetic, written without its drawing."""

import math

from curriculum.court.geometry import Court, Point


def three_leg(court: Court) -> float:
    """Return where the straight parts end and the arc begins, in metres from the end line."""
    radius, x = court.three or 0.0, court.three_x
    return court.ring + math.sqrt(radius * radius - x * x)


def behind_arc(court: Court, point: Point) -> bool:
    """Whether a shot from a point counts three; never on a court without a three-point line."""
    if court.three is None:
        return False
    x, y = point
    beyond = math.hypot(x, y - court.ring) > court.three
    return abs(x) > court.three_x if y < three_leg(court) else beyond
