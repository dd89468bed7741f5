"""Where a defender stands to guard, deny or help, and where a screener stops; common practice."""

from curriculum.court.geometry import Point, distance, toward
from curriculum.models.drills import Manner, is_cone, is_defender

ARM = 1.25
"""Metres between a defender and the player guarded; less, and the two overlap in a picture."""

FULL_COURT_ARM = 2.0

_NEAR_RING = 2.3


def stance(
    how: Manner,
    attacker: Point,
    ball: Point | None,
    ring: Point,
    start: Point | None = None,
    arm: float = ARM,
) -> Point:
    """Return a defender's place against an attacker.

    guard: on the way to the ring; under the ring, where the defender comes from, else on the side
    of the middle. deny: a step off, in the lane between ball and attacker. help: off toward the
    lane, between the attacker and the ball. arm: metres kept to the attacker.
    """
    if how == "deny" and ball is not None and distance(ball, attacker) > arm:
        return toward(toward(attacker, ball, arm * 0.95), ring, 0.45)
    if how == "help":
        return _help(attacker, ball, ring)
    if distance(attacker, ring) > _NEAR_RING:
        return toward(attacker, ring, arm)
    if start is not None and distance(start, attacker) > arm:
        return toward(attacker, start, arm)
    side = -1.0 if attacker[0] > ring[0] else 1.0
    return attacker[0] + side * arm, attacker[1]


def _help(attacker: Point, ball: Point | None, ring: Point) -> Point:
    x, y = attacker
    lane = 0.22 * x
    if ball is not None and abs(ball[0]) > 2.0 and ball[0] * x > 0:
        lane = 0.55 * x
    return lane, ring[1] + 0.5 * (y - ring[1]) + (0.35 if y > ring[1] else -0.35)


def make_room(at: dict[str, Point], gap: float) -> None:
    """Move defenders a little, in place, so that nobody stands closer to them than a gap.

    Attackers and coaches keep their places. A few rounds are enough; where there is no room at all
    what is left is small.
    """
    people = [who for who in at if not is_cone(who)]
    for _ in range(12):
        for who in people:
            for other in people:
                apart = distance(at[who], at[other])
                if is_defender(who) and who != other and apart < gap:
                    share = 0.5 if is_defender(other) else 1.0
                    at[who] = _away(at[who], at[other], (gap - apart) * share + 0.005)


def _away(point: Point, other: Point, far: float) -> Point:
    whole = distance(point, other)
    if whole < 1e-9:
        return point[0] + far, point[1]
    step = 1 + far / whole
    return other[0] + (point[0] - other[0]) * step, other[1] + (point[1] - other[1]) * step


def screening_place(start: Point, screened: Point) -> Point:
    """Return where a screener who comes from a start stops: an arm short of who is screened."""
    return toward(screened, start, ARM)


def beside(start: Point, target: Point) -> Point:
    """Return where somebody who runs up to a player stops."""
    return toward(target, start, ARM)
