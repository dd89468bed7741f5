"""The one entrance: a club in, its weekly gym times out, with proof or gap and what is missing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from curriculum.club.allocate.asks import clock
from curriculum.club.allocate.clash import Clash, clash_of
from curriculum.club.allocate.exact import installed, share_out
from curriculum.club.allocate.greedy import greedy
from curriculum.club.allocate.score import NAMES, alone, missed, score
from curriculum.club.allocate.week import Option, Week, week_of_club
from curriculum.models.club import Club, ClubSlots, TeamSlot
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.models.season import Game

Effort = Literal["quick", "normal", "long"]
Engine = Literal["exact", "greedy"]

EFFORTS: dict[Effort, tuple[float, float, float]] = {
    "quick": (4.0, 4.0, 8.0),
    "normal": (10.0, 10.0, 40.0),
    "long": (60.0, 60.0, 240.0),
}
"""Deterministic time of each tier, a unit is about a second's work."""

ROUNDS: dict[Effort, int] = {"quick": 1, "normal": 2, "long": 6}
"""How often every team chooses anew where there is no solver."""


@dataclass(frozen=True)
class Tier:
    """What an allocation reaches and what none can beat; equal: proved best."""

    name: str
    value: int
    bound: int

    @property
    def proved(self) -> bool:
        """Whether no allocation is better, the tiers before being as they are."""
        return self.value == self.bound

    @property
    def gap(self) -> int:
        """How far the value may be from the best, in percent of the value, rounded up."""
        return -(-100 * (self.value - self.bound) // max(1, self.value))


@dataclass(frozen=True)
class Lack:
    """A team that gets less than it asks for: practices too few, minutes too few in all others."""

    team: str
    name: str
    practices: int
    minutes: int


@dataclass(frozen=True)
class Allocation:
    """A club's weekly gym times.

    lacks: teams that get less than they ask for. clash: why; None when nothing is lacking, or
    when no solver is there to tell.
    added, dropped: weekly times against last term's, in the order of the file.
    """

    slots: ClubSlots
    tiers: tuple[Tier, ...]
    engine: Engine
    lacks: tuple[Lack, ...]
    clash: Clash | None
    added: tuple[TeamSlot, ...]
    dropped: tuple[TeamSlot, ...]


def allocate(
    club: Club,
    *,
    last: ClubSlots | None = None,
    games: Mapping[str, Sequence[Game]] | None = None,
    effort: Effort = "normal",
    exact: bool | None = None,
) -> Allocation:
    """Share out a club's gym hours among its teams; the same club gives the same answer.

    last: last term's weekly times, of which as many as can be are kept.
    games: each team's games by its id. exact: False leaves the solver out even where it is there.
    """
    week = week_of_club(club, last, games)
    if installed() if exact is None else exact:
        first, second, third = share_out(week, greedy(week, 0), EFFORTS[effort])
        chosen, bounds, engine = third.chosen, (first.bound, second.bound, third.bound), "exact"
    else:
        chosen = greedy(week, ROUNDS[effort])
        bounds, engine = _plain_bounds(week, chosen), "greedy"
    reached = score(week, chosen)
    slots = _slots(week, chosen)
    lacks = _lacks(week, chosen)
    stood = last.slot if last else ()
    return Allocation(
        slots=slots,
        tiers=tuple(
            Tier(name, value, bound)
            for name, value, bound in zip(NAMES, reached, bounds, strict=True)
        ),
        engine="exact" if engine == "exact" else "greedy",
        lacks=lacks,
        clash=clash_of(club, week, EFFORTS[effort][0]) if lacks and engine == "exact" else None,
        added=tuple(each for each in slots.slot if last and not _same(each, stood)),
        dropped=tuple(each for each in stood if not _same(each, slots.slot)),
    )


def _plain_bounds(week: Week, chosen: Sequence[Option]) -> tuple[int, int, int]:
    """Return what counting alone proves: hours and days against wishes, each team as if alone."""
    there = sum(2 * (end - start) for spans in week.hours.values() for start, end in spans)
    asked = sum(ask.practices * ask.minutes * ask.units for ask in week.asks)
    days = [len({option.day for option in options}) for options in week.options]
    held = [sum(option.ask == ask for option in chosen) for ask in range(len(week.asks))]
    return (
        max(
            -(-(asked - there) // 2), sum(missed(week, ask, many) for ask, many in enumerate(days))
        ),
        0,
        sum(alone(week, ask, number) for ask, number in enumerate(held)),
    )


def _slots(week: Week, chosen: Sequence[Option]) -> ClubSlots:
    in_order = sorted(chosen, key=lambda option: (option.ask, option.day, option.start))
    return ClubSlots(
        slot=tuple(
            TeamSlot(
                team=week.asks[option.ask].team,
                weekday=WEEKDAYS[option.day],
                start=clock(option.start),
                minutes=option.minutes,
                gym=option.gym,
                number=option.court[1],
                court="full" if option.units > 1 else "half",
            )
            for option in in_order
        )
    )


def _lacks(week: Week, chosen: Sequence[Option]) -> tuple[Lack, ...]:
    found = []
    for number, ask in enumerate(week.asks):
        held = [option for option in chosen if option.ask == number]
        practices, minutes = ask.practices - len(held), sum(option.cut for option in held)
        if practices or minutes:
            found.append(Lack(ask.team, ask.name, practices, minutes))
    return tuple(found)


def _same(slot: TeamSlot, others: Sequence[TeamSlot]) -> bool:
    return any(
        (slot.team, slot.weekday, slot.start, slot.gym)
        == (other.team, other.weekday, other.start, other.gym)
        for other in others
    )
