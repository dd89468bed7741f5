"""Minutes of the fixed parts of one practice, and what they leave for teaching."""

from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.models.gymtimes import Parts
from curriculum.problems import Problem

FULL_LENGTH = 75
"""Minutes of the practice that the usual parts are made for; shorter ones get shorter parts."""

SCANT = 15
"""Teaching minutes below which the coach is warned."""


@dataclass(frozen=True)
class FixedParts:
    """Minutes of every fixed part; breaks is a number, break_minutes the length of each."""

    warm_up: int = 12
    scrimmage: int = 12
    cool_down: int = 5
    breaks: int = 2
    break_minutes: int = 2
    changeover: int = 1


USUAL = FixedParts()


def parts_of(minutes: int, tables: Sequence[Parts]) -> FixedParts:
    """Return the fixed parts of a practice of some minutes.

    tables: what the coach set, the most specific first; the first that names a part counts.

    A part that no table names is the usual one. In a practice under 75 minutes it is scaled by
    minutes / 75 and rounded down, breaks and break_minutes to at least 1. The changeover is never
    scaled: it is a cost of each block.
    """

    def part(name: str, at_least: int = 0) -> int:
        for table in tables:
            stated: int | None = getattr(table, name)
            if stated is not None:
                return stated
        usual: int = getattr(USUAL, name)
        return max(at_least, usual * min(minutes, FULL_LENGTH) // FULL_LENGTH)

    changeovers = (table.changeover for table in tables if table.changeover is not None)
    return FixedParts(
        warm_up=part("warm_up"),
        scrimmage=part("scrimmage"),
        cool_down=part("cool_down"),
        breaks=part("breaks", at_least=1),
        break_minutes=part("break_minutes", at_least=1),
        changeover=next(changeovers, USUAL.changeover),
    )


def teaching_minutes(minutes: int, parts: FixedParts) -> int:
    """Return the minutes that the fixed parts leave for teaching; below 0 when they do not fit."""
    fixed = parts.warm_up + parts.scrimmage + parts.cool_down
    return minutes - fixed - parts.breaks * parts.break_minutes


def usable_minutes(teaching: int, spare: int) -> int:
    """Return the teaching minutes that may be planned: less `spare` percent, rounded down."""
    return max(0, teaching) * (100 - spare) // 100


def teaching_problem(key: str, minutes: int, teaching: int) -> Problem | None:
    """Return a warning when hardly any teaching is left, an error when none is, else None."""
    if teaching >= SCANT:
        return None
    way_out = "shorten warm_up, scrimmage, cool_down or the breaks, or make the practice longer"
    if teaching <= 0:
        says = f"warm-up, scrimmage, cool-down and breaks take {minutes - teaching} minutes, so no"
        return Problem("", 0, key, f"{says} teaching is left", f"{minutes} minutes", way_out)
    says = f"only {teaching} of the practice's minutes are left for teaching"
    return Problem("", 0, key, says, f"{minutes} minutes", way_out, "warning")
