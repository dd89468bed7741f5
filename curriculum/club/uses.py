"""Who is in which of a club's gyms when, over a whole season: practices and home games."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from curriculum.gym.practices import Gym
from curriculum.models.club import Club, ClubSlots
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.spans import Span, span_of


@dataclass(frozen=True)
class Use:
    """One team's time in one gym.

    units: halves of a court that it takes. number: the court, None where nobody said which.
    """

    date: dt.date
    span: Span
    gym: str
    team: str
    coaches: tuple[str, ...]
    units: int
    number: int | None = None
    game: bool = False

    @property
    def minutes(self) -> int:
        """How long it lasts."""
        return int((self.span.end - self.span.start).total_seconds()) // 60

    @property
    def hours(self) -> str:
        """It as `17:30-18:45`."""
        return f"{self.span.start:%H:%M}-{self.span.end:%H:%M}"


def uses_of(club: Club, slots: ClubSlots, calendars: Mapping[str, Gym]) -> tuple[Use, ...]:
    """Return all times in the club's gyms in order of time, gym and team.

    calendars: the gym calendar of each team's season, by the team's id. Practices and games
    elsewhere are left out; a home game counts when the season names one of the club's gyms.
    """
    gyms = {gym.id for gym in club.gym}
    found: list[Use] = []
    for team in club.team:
        calendar = calendars.get(team.id)
        if calendar is None:
            continue
        for practice in calendar.practices:
            if practice.venue in gyms:
                span = span_of(practice.date, practice.start, practice.minutes)
                number = _number(slots, team.id, practice.date, practice.start, practice.venue)
                units = 2 if practice.court == "full" else 1
                found.append(
                    Use(practice.date, span, practice.venue, team.id, team.coaches, units, number)
                )
        for game in calendar.games:
            if game.home and game.venue in gyms:
                span = span_of(game.date, game.start, game.minutes)
                found.append(
                    Use(game.date, span, game.venue or "", team.id, team.coaches, 2, game=True)
                )
    return tuple(sorted(found, key=lambda use: (use.span, use.gym, use.team)))


def _number(slots: ClubSlots, team: str, day: dt.date, start: dt.time, gym: str) -> int | None:
    wanted = (team, WEEKDAYS[day.weekday()], start, gym)
    for slot in slots.slot:
        if (slot.team, slot.weekday, slot.start, slot.gym) == wanted:
            return slot.number
    return None


def by_day(uses: Iterable[Use]) -> dict[tuple[dt.date, str], list[Use]]:
    """Return the uses of each date and gym, in order of time."""
    found: dict[tuple[dt.date, str], list[Use]] = {}
    for use in uses:
        found.setdefault((use.date, use.gym), []).append(use)
    return found
