"""Why the hours do not suffice: a smallest set of teams that clash, and what would help them."""

from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.club.allocate.asks import FULL, Ask
from curriculum.club.allocate.exact import can_all
from curriculum.club.allocate.remedies import Remedy, remedies
from curriculum.club.allocate.week import Week
from curriculum.models.club import Club


@dataclass(frozen=True)
class Clash:
    """Teams that cannot all have what they ask for, though any one fewer could.

    teams: what each asks for, in words. why: what they contend for.
    remedies: each tried, and with each of them all these teams get what they ask for.
    smallest: False when the search was cut short, so that fewer teams might clash already.
    """

    teams: tuple[str, ...]
    why: str
    remedies: tuple[Remedy, ...]
    smallest: bool


def clash_of(club: Club, week: Week, effort: float) -> Clash | None:
    """Return a clash; None when all teams together could have what they ask for, or none is known.

    effort: deterministic time of each question that the solver is asked.
    """
    every = tuple(range(len(week.asks)))
    if can_all(week, every, effort) != "infeasible":
        return None
    members, smallest = _smallest(week, every, effort)
    asks = [week.asks[ask] for ask in members]
    return Clash(
        teams=tuple(ask_words(ask) for ask in asks),
        why=_why(week, asks),
        remedies=remedies(club, [ask.team for ask in asks], effort),
        smallest=smallest,
    )


def ask_words(ask: Ask) -> str:
    """Return `Under-12 Girls, 2 practices of 75 minutes on a whole court`."""
    number = "1 practice" if ask.practices == 1 else f"{ask.practices} practices"
    court = "a whole court" if ask.units == FULL else "half a court"
    return f"{ask.name}, {number} of {ask.minutes} minutes on {court}"


def _smallest(week: Week, every: Sequence[int], effort: float) -> tuple[tuple[int, ...], bool]:
    """Return a set of asks that clashes and of which every smaller part does not.

    Teams are left out in shrinking bundles, as long as the rest still clashes.
    """
    kept, certain = list(every), True
    size = max(1, len(kept) // 2)
    while True:
        start = 0
        while start < len(kept):
            rest = kept[:start] + kept[start + size :]
            verdict = can_all(week, rest, effort) if rest else "optimal"
            if verdict == "infeasible":
                kept = rest
            else:
                certain = certain and (verdict != "unknown" or size > 1)
                start += size
        if size == 1:
            return tuple(kept), certain
        size = max(1, size // 2)


def _why(week: Week, asks: Sequence[Ask]) -> str:
    """Say what a clash is about: too few hours, hours cut up too much, shared coaches."""
    if len(asks) == 1:
        return "its hours, gyms and coaches leave too few days"
    minutes = sum(ask.practices * ask.minutes * ask.units for ask in asks)
    there = _there(week, asks)
    shared = sorted(
        {
            coach
            for one in asks
            for other in asks
            if one != other
            for coach in set(one.coaches) & set(other.coaches)
        }
    )
    hours = (
        f"together they ask for {minutes // 2} minutes of a whole court a week, and within their "
        f"hours their gyms have {there // 2}"
    )
    if minutes > there:
        return hours
    people = f"; {', '.join(shared)} cannot be in two places at once" if shared else ""
    return f"{hours}, which the lengths, days and latest ends of practices cut up too much{people}"


def _there(week: Week, asks: Sequence[Ask]) -> int:
    """Return the minutes of half courts that some of these teams could use."""
    total = 0
    for (court, _), spans in week.hours.items():
        latest = max((ask.latest for ask in asks if court[0] in ask.gyms), default=0)
        total += sum(2 * max(0, min(end, latest) - start) for start, end in spans)
    return total
