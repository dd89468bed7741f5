"""The lines on a sheet that protect the players: supervision and the usual cautions."""

from curriculum.wording import counted

RATIOS = ((3, 4), (8, 6), (12, 8), (18, 10))
"""(oldest age in years, children per adult): CPSU/NSPCC minimum ratios for ages 2-3, 4-8, 9-12 and
13-18. The rules of a governing body come before them. https://thecpsu.org.uk"""

FEWEST_ADULTS = 2
"""However few the children, by the same source."""

CAUTIONS = (
    "Knock to the head: stop, no more play today, get medical advice before any return.",
    "Hot hall: shorter work, more rest and water; stop when anyone feels unwell.",
)

MOVE = (
    "Run easily, then faster, with stops and turns.",
    "Jump, land softly on two feet, then on one: knees over toes, hold.",
    "Balance on one foot and pass. Squats, lunges, plank.",
)
"""Running, landing, balance and strength in general words; common practice."""

MOVE_SOURCE = (
    "Better still the published SHRed Injuries Basketball warm-up (10 min, 13 exercises): 36 % "
    "fewer ankle and knee injuries at ages 11 to 18 (IRR 0.64, Emery et al. 2022)."
)
"""Emery et al. (2022), JOSPT, doi 10.2519/jospt.2022.10959: IRR 0.64, 95 % CI 0.51 to 0.79. Its
exercises are its own; none of them is described here."""


def children_per_adult(age: int) -> int | None:
    """Return how many children of an age one adult may look after; None for grown-ups."""
    return next((ratio for oldest, ratio in RATIOS if age <= oldest), None)


def adults_needed(children: int, youngest: int) -> int | None:
    """Return the fewest adults for a group, by its youngest member; None for grown-ups.

    >>> adults_needed(25, 13)
    3
    """
    ratio = children_per_adult(youngest)
    return None if ratio is None else max(FEWEST_ADULTS, -(-children // ratio))


def supervision(children: int, ages: tuple[int, int], coaches: int) -> str:
    """Return the supervision line of a sheet; "" for a team of grown-ups."""
    youngest = min(ages)
    needed = adults_needed(children, youngest)
    if needed is None:
        return ""
    span = f"{youngest}" if youngest == max(ages) else f"{youngest} to {max(ages)}"
    line = (
        f"At least {counted(needed, 'adult')} for {counted(children, 'player')} aged {span}: 1 for "
        f"{children_per_adult(youngest)}, never under {FEWEST_ADULTS} (CPSU/NSPCC); local rules "
        "come first."
    )
    missing = needed - coaches
    if missing > 0:
        have = counted(coaches, "coach") if coaches == 1 else f"{coaches} coaches"
        line += f" You have {have}: find {counted(missing, 'more adult')}."
    return line
