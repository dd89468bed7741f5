"""What an allocation is worth: minutes not given, changes, discomfort, and whether it is allowed.

Shares no code with the solver, so that it can check what the solver finds.
"""

from collections.abc import Sequence
from itertools import combinations, pairwise

from curriculum.club.allocate.week import APART_RATE, Option, Week

Score = tuple[int, int, int]
"""Minutes not given, practices of last term not kept, points of discomfort; smaller is better."""

NAMES = (
    "minutes asked for and not given, further ones of one team weighing more",
    "weekly times changed against last term",
    "discomfort: late hours, ways, days in a row, games in the way, unfair shares",
)

BEARABLE = 10
"""Points that a team may be worse off than it would be alone; beyond them points count double."""


def missed(week: Week, ask: int, held: int) -> int:
    """Return the weight of a team's missing practices: the second one counts twice, and so on."""
    lacking = max(0, week.asks[ask].practices - held)
    return week.asks[ask].minutes * lacking * (lacking + 1) // 2


def apart(days: Sequence[int]) -> int:
    """Return how many pairs of days follow each other in a week that repeats."""
    held = sorted(set(days))
    return sum((other - one) % 7 == 1 for one in held for other in held)


def cost_of(chosen: Sequence[Option]) -> int:
    """Return the discomfort of one team's choices, with their days in a row."""
    days = [option.day for option in chosen]
    return sum(option.cost for option in chosen) + APART_RATE * apart(days)


def alone(week: Week, ask: int, practices: int) -> int:
    """Return the least discomfort that a team could have with so many practices, were it alone."""
    cheapest: dict[int, int] = {}
    for option in week.options[ask]:
        cheapest[option.day] = min(option.cost, cheapest.get(option.day, option.cost))
    choices = (
        sum(cheapest[day] for day in days) + APART_RATE * apart(days)
        for days in combinations(sorted(cheapest), min(practices, len(cheapest)))
    )
    return min(choices, default=0)


def score(week: Week, chosen: Sequence[Option]) -> Score:
    """Return the three tiers of an allocation."""
    by_ask: list[list[Option]] = [[] for _ in week.asks]
    for option in chosen:
        by_ask[option.ask].append(option)
    wanted = sum(missed(week, ask, len(held)) for ask, held in enumerate(by_ask))
    wanted += sum(option.cut for option in chosen)
    changes = week.last - sum(option.kept for option in chosen)
    costs = [cost_of(held) for held in by_ask]
    regrets = [cost - alone(week, ask, len(by_ask[ask])) for ask, cost in enumerate(costs)]
    unfair = sum(max(0, regret - BEARABLE) for regret in regrets)
    return wanted, changes, sum(costs) + unfair


def conflict(week: Week, one: Option, other: Option) -> bool:
    """Whether two practices cannot both be held, courts left aside: one team, or a shared coach."""
    if one.day != other.day:
        return False
    if one.ask == other.ask:
        return True
    if not set(week.asks[one.ask].coaches) & set(week.asks[other.ask].coaches):
        return False
    way = week.ways[one.gym, other.gym]
    return one.start < other.end + way and other.start < one.end + way


def faults(week: Week, chosen: Sequence[Option]) -> tuple[str, ...]:
    """Return what is not allowed in an allocation, in words; empty when it keeps every rule."""
    found = []
    for one, other in combinations(chosen, 2):
        if conflict(week, one, other):
            names = f"{week.asks[one.ask].name} and {week.asks[other.ask].name}"
            found.append(f"{names}: one team or coach in two places on day {one.day}")
    by_court: dict[tuple[object, int], list[Option]] = {}
    for option in chosen:
        by_court.setdefault((option.court, option.day), []).append(option)
        if option not in week.options[option.ask]:
            found.append(f"{week.asks[option.ask].name}: outside its hours or gyms")
    for (court, day), options in by_court.items():
        ticks = sorted({o.start for o in options} | {o.end for o in options})
        for begin, _ in pairwise(ticks):
            if sum(o.units for o in options if o.start <= begin < o.end) > 2:
                found.append(f"court {court} is overfull on day {day} at minute {begin}")
    return tuple(sorted(found))
