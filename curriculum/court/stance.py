"""Where a defender stands to guard, deny or help, and where a screener stops; common practice."""

from curriculum.court.geometry import Point, distance, toward
from curriculum.models.drills import Manner

ARM = 1.25
"""Metres between a defender and the player guarded; less, and the two overlap in a picture."""

_NEAR_RING = 2.3


def stance(how: Manner, attacker: Point, ball: Point | None, ring: Point) -> Point:
    """Return a defender's place against an attacker.

    guard: on the way to the ring; under the ring, on the side of the middle or of the ball.
    deny: a step off, in the lane between ball and attacker. help: off toward the lane, between
    the attacker and the ball.
    """
    if how == "deny" and ball is not None and distance(ball, attacker) > ARM:
        return toward(toward(attacker, ball, ARM * 0.95), ring, 0.45)
    if how == "help":
        return _help(attacker, ball, ring)
    if distance(attacker, ring) > _NEAR_RING:
        return toward(attacker, ring, ARM)
    side = -1.0 if attacker[0] > ring[0] else 1.0
    if ball is not None and distance(ball, attacker) > ARM and abs(attacker[0]) < 0.3:
        side = 1.0 if ball[0] > attacker[0] else -1.0
    return attacker[0] + side * ARM, attacker[1]


def _help(attacker: Point, ball: Point | None, ring: Point) -> Point:
    x, y = attacker
    lane = 0.22 * x
    if ball is not None and abs(ball[0]) > 2.0 and ball[0] * x > 0:
        lane = 0.55 * x
    return lane, ring[1] + 0.5 * (y - ring[1]) + (0.35 if y > ring[1] else -0.35)


def screening_place(start: Point, screened: Point) -> Point:
    """Return where a screener who comes from a start stops: an arm short of who is screened."""
    return toward(screened, start, ARM * 0.85) if start != screened else start


def beside(start: Point, target: Point) -> Point:
    """Return where somebody who runs up to a player stops."""
    return toward(target, start, ARM)
