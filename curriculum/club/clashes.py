"""What cannot be between the teams of a club: a court taken twice, a coach in two places."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from curriculum.club.uses import Use, by_day
from curriculum.models.club import Club
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.wording import short_date

Kind = Literal["court", "coach", "hours"]


@dataclass(frozen=True, order=True)
class TeamClash:
    """One clash, and on how many dates it recurs.

    kind: a court, a coach, or a practice outside the hours in which the club has the gym.
    where: the gym and court, or the coach's name. times: on how many dates, the first one included.
    """

    date: dt.date
    kind: Kind
    where: str
    says: str
    times: int = 1

    @property
    def words(self) -> str:
        """It in a sentence."""
        more = f", and on {self.times - 1} more dates" if self.times > 1 else ""
        return f"{short_date(self.date)}, {self.where}: {self.says}{more}"


def clashes_of_teams(club: Club, uses: Sequence[Use]) -> tuple[TeamClash, ...]:
    """Return all clashes between teams; what recurs weekly is told once, at its first date."""
    found: dict[tuple[object, ...], TeamClash] = {}
    counts: dict[tuple[object, ...], int] = {}
    for day_clash in (*_courts(club, uses), *_coaches(club, uses), *_hours(club, uses)):
        key = (day_clash.kind, day_clash.where, day_clash.says, day_clash.date.weekday())
        found.setdefault(key, day_clash)
        counts[key] = counts.get(key, 0) + 1
    return tuple(
        sorted(
            TeamClash(clash.date, clash.kind, clash.where, clash.says, counts[key])
            for key, clash in found.items()
        )
    )


def _names(club: Club) -> dict[str, str]:
    return {team.id: team.name for team in club.team}


def _courts(club: Club, uses: Sequence[Use]) -> Iterator[TeamClash]:
    """Give every use of a day a court, the numbered ones first, and tell those that find none.

    A half joins another half where it can, so that whole courts stay free.
    """
    for (day, gym_id), today in sorted(by_day(uses).items()):
        gym = next(gym for gym in club.gym if gym.id == gym_id)
        placed: dict[int, list[Use]] = {number: [] for number in range(1, gym.courts + 1)}
        for use in sorted(today, key=lambda use: (use.number is None, use.span, -use.units)):
            numbers = [use.number] if use.number in placed else list(placed)
            room = {n: 2 - _taken(use, placed[n]) for n in numbers if n is not None}
            free = [number for number, left in room.items() if left >= use.units]
            if free:
                placed[min(free, key=lambda number: (room[number], number))].append(use)
            else:
                rivals = [
                    other
                    for number in room
                    for other in placed[number]
                    if other.span.overlaps(use.span)
                ]
                court = f" court {use.number}" if use.number and gym.courts > 1 else ""
                yield TeamClash(day, "court", f"{gym.name}{court}", _says(club, use, rivals))


def _taken(use: Use, there: Sequence[Use]) -> int:
    """Return the most halves that are taken at one moment of a use."""
    beside = [other for other in there if other.span.overlaps(use.span)]
    moments = [use.span.start, *(other.span.start for other in beside)]
    return max(
        sum(other.units for other in beside if other.span.contains(moment)) for moment in moments
    )


def _says(club: Club, use: Use, rivals: Sequence[Use]) -> str:
    others = ", ".join(_words(club, other) for other in rivals) or "the gym has no such court"
    return f"{_words(club, use)} finds no free court beside {others}"


def _words(club: Club, use: Use) -> str:
    kind = "'s game" if use.game else ""
    half = " (half)" if use.units == 1 else ""
    return f"{_names(club)[use.team]}{kind} {use.hours}{half}"


def _coaches(club: Club, uses: Sequence[Use]) -> Iterator[TeamClash]:
    names = {coach.id: coach.name for coach in club.coach}
    days: dict[tuple[dt.date, str], list[Use]] = {}
    for use in uses:
        for coach in use.coaches:
            days.setdefault((use.date, coach), []).append(use)
    for (day, coach), today in sorted(days.items()):
        for one, other in combinations(today, 2):
            if one.team != other.team and one.span.overlaps(other.span):
                says = f"is with {_words(club, one)} and with {_words(club, other)}"
                yield TeamClash(day, "coach", names.get(coach, coach), says)


def _hours(club: Club, uses: Sequence[Use]) -> Iterator[TeamClash]:
    """Tell practices outside the opening hours, in gyms for which any are stated."""
    names = {gym.id: gym.name for gym in club.gym}
    stated = {opening.gym for opening in club.opening}
    for use in uses:
        weekday = WEEKDAYS[use.date.weekday()]
        inside = any(
            opening.gym == use.gym
            and weekday in opening.weekdays
            and opening.start <= use.span.start.time()
            and use.span.end.time() <= opening.end
            for opening in club.opening
        )
        if use.gym in stated and not inside:
            says = f"{_words(club, use)} lies outside the hours in which the club has the gym"
            yield TeamClash(use.date, "hours", names[use.gym], says)
