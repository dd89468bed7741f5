"""Every choice that the teams of a club have in a week, and how welcome each is.

A choice costs points of discomfort: for each half hour after the week's earliest hour, more for
younger teams; for the way from the team's home gym; for each date that a game takes away.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from curriculum.club.allocate.asks import (
    Ask,
    Court,
    Hours,
    asks_of,
    hours_of,
    minute,
    ways_of,
)
from curriculum.models.club import Club, ClubSlots, TeamSlot
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.models.season import Game

LATE_STEP = 30
"""Minutes of a later start that cost one point, times 1 for the oldest group, 2 for the next."""
WAY_STEP = 5
"""Minutes from the home gym that cost one point; another gym than home costs one more."""
GAME_RATE = 6
"""Points for each date on which a game takes the court or the team away."""
APART_RATE = 12
"""Points for two practices of a team on days that follow each other, round the week's end too."""


@dataclass(frozen=True)
class Option:
    """One way to hold one practice of one ask.

    cut: minutes that it is shorter than asked for. kept: it stood so last term.
    cost: discomfort in points.
    """

    ask: int
    day: int
    start: int
    minutes: int
    court: Court
    units: int
    cut: int
    kept: bool
    cost: int

    @property
    def end(self) -> int:
        """The minute after its last one."""
        return self.start + self.minutes

    @property
    def gym(self) -> str:
        """The gym that it is in."""
        return self.court[0]


@dataclass(frozen=True)
class Week:
    """A club's week. options: for each ask, in order of day, start, length and court.

    hours: when each court is the club's for practices, by court and day.
    ways: minutes between two gyms, rounded up to the grid.
    last: practices of last term, of teams that still ask; one is kept at the same day, start, gym.
    """

    asks: tuple[Ask, ...]
    options: tuple[tuple[Option, ...], ...]
    hours: Mapping[tuple[Court, int], tuple[Hours, ...]]
    grid: int
    ways: Mapping[tuple[str, str], int]
    last: int = 0


def week_of_club(
    club: Club,
    last: ClubSlots | None = None,
    games: Mapping[str, Sequence[Game]] | None = None,
) -> Week:
    """Return a club's week with every choice that each team has.

    last: last term's allocation. games: each team's games, by its id.
    """
    asks, hours = asks_of(club), hours_of(club)
    before = {_stood(slot) for slot in (last.slot if last else ())}
    maker = _Maker(club, hours, ways_of(club), games or {}, before)
    return Week(
        asks=asks,
        options=tuple(tuple(maker.options(number, ask)) for number, ask in enumerate(asks)),
        hours=hours,
        grid=club.club.grid,
        ways=maker.ways,
        last=sum(each[0] in {ask.team for ask in asks} for each in before),
    )


def _stood(slot: TeamSlot) -> tuple[str, int, int, str]:
    return slot.team, WEEKDAYS.index(slot.weekday), minute(slot.start), slot.gym


@dataclass(frozen=True)
class _Maker:
    """Makes the options of every ask."""

    club: Club
    hours: Mapping[tuple[Court, int], tuple[Hours, ...]]
    ways: Mapping[tuple[str, str], int]
    games: Mapping[str, Sequence[Game]]
    before: set[tuple[str, int, int, str]]

    def options(self, number: int, ask: Ask) -> Iterator[Option]:
        busy = self._busy(ask)
        found = [
            self._option(number, ask, day, start, minutes, court)
            for (court, day), spans in self.hours.items()
            if court[0] in ask.gyms
            for begin, end in spans
            for minutes in sorted({ask.minutes, ask.shortest}, reverse=True)
            for start in range(begin, min(end, ask.latest) - minutes + 1, self.club.club.grid)
            if not any(
                day == weekday and start < stop and begin_busy < start + minutes
                for weekday, begin_busy, stop in busy
            )
        ]
        yield from sorted(found, key=lambda each: (each.day, each.start, -each.minutes, each.court))

    def _busy(self, ask: Ask) -> tuple[tuple[int, int, int], ...]:
        return tuple(
            (WEEKDAYS.index(each.weekday), minute(each.start), minute(each.end))
            for each in self.club.busy
            if each.team == ask.team or each.coach in ask.coaches
        )

    def _option(
        self, number: int, ask: Ask, day: int, start: int, minutes: int, court: Court
    ) -> Option:
        earliest = min(span[0] for spans in self.hours.values() for span in spans)
        late = (start - earliest) // LATE_STEP * (1 + ask.rank)
        home = ask.gyms[0]
        away = self.ways[home, court[0]] // WAY_STEP + 1 if court[0] != home else 0
        lost = self._lost(ask, day, start, start + minutes, court)
        return Option(
            ask=number,
            day=day,
            start=start,
            minutes=minutes,
            court=court,
            units=ask.units,
            cut=ask.minutes - minutes,
            kept=(ask.team, day, start, court[0]) in self.before,
            cost=late + away + GAME_RATE * lost,
        )

    def _lost(self, ask: Ask, day: int, start: int, end: int, court: Court) -> int:
        """Return on how many dates a game of the team, or a home game in the gym, is in the way.

        Home games are taken to need the gym's last court.
        """
        dates = {game.date for game in self.games.get(ask.team, ()) if game.date.weekday() == day}
        last = next(gym.courts for gym in self.club.gym if gym.id == court[0])
        for games in self.games.values():
            for game in games:
                begin = minute(game.start)
                if (
                    game.home
                    and game.venue == court[0]
                    and court[1] == last
                    and game.date.weekday() == day
                    and start < begin + game.minutes
                    and begin < end
                ):
                    dates.add(game.date)
        return len(dates)
