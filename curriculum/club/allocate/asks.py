"""What the teams of a club ask for, and which hours of which courts there are to share out.

Days count from 0, Monday; times are minutes after midnight.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.models.club import AgeGroup, Club, ClubTeam, GameHours
from curriculum.models.gymtimes import WEEKDAYS

FULL, HALF = 2, 1
"""Halves of a court that a practice takes."""

Court = tuple[str, int]
"""A gym's id and the number of one of its courts, from 1."""

Hours = tuple[int, int]
"""From a minute up to but not including another one."""


@dataclass(frozen=True)
class Ask:
    """What one team asks for.

    rank: 0 for the oldest age group; younger ones have higher ranks and practise earlier.
    latest: the minute by which a practice ends. gyms: those it may use, its home first.
    """

    team: str
    name: str
    rank: int
    practices: int
    minutes: int
    shortest: int
    units: int
    latest: int
    gyms: tuple[str, ...]
    coaches: tuple[str, ...]


def minute(time: dt.time) -> int:
    """Return a time as minutes after midnight."""
    return time.hour * 60 + time.minute


def clock(minutes: int) -> dt.time:
    """Return minutes after midnight as a time."""
    return dt.time(minutes // 60, minutes % 60)


def asks_of(club: Club) -> tuple[Ask, ...]:
    """Return what every team asks for, in the order of the file."""
    ladder = [group.id for group in club.ladder]
    return tuple(
        _ask(club, team, len(ladder) - 1 - ladder.index(team.age_group)) for team in club.team
    )


def _ask(club: Club, team: ClubTeam, rank: int) -> Ask:
    group = club.group_of(team)
    minutes = team.minutes or group.minutes
    shortest = team.shortest or (None if team.minutes else group.shortest) or minutes
    latest = team.latest or group.latest
    return Ask(
        team=team.id,
        name=team.name,
        rank=rank,
        practices=_practices(team, group),
        minutes=minutes,
        shortest=shortest,
        units=FULL if (team.court or group.court) == "full" else HALF,
        latest=24 * 60 if latest is None else minute(latest),
        gyms=team.gyms or tuple(gym.id for gym in club.gym),
        coaches=team.coaches,
    )


def _practices(team: ClubTeam, group: AgeGroup) -> int:
    return group.practices if team.practices is None else team.practices


def hours_of(club: Club) -> dict[tuple[Court, int], tuple[Hours, ...]]:
    """Return when each court can be practised on: its opening hours less the hours of games.

    Of an opening with fewer courts the first ones count; games take the last ones.
    """
    courts = {gym.id: gym.courts for gym in club.gym}
    found: dict[tuple[Court, int], list[Hours]] = {}
    for opening in club.opening:
        for number in range(1, (opening.courts or courts[opening.gym]) + 1):
            for weekday in opening.weekdays:
                key = ((opening.gym, number), WEEKDAYS.index(weekday))
                found.setdefault(key, []).append((minute(opening.start), minute(opening.end)))
    taken: dict[tuple[Court, int], list[Hours]] = {}
    for hours in club.game_hours:
        for number in _taken(hours, courts[hours.gym]):
            key = ((hours.gym, number), WEEKDAYS.index(hours.weekday))
            taken.setdefault(key, []).append((minute(hours.start), minute(hours.end)))
    return {
        key: tuple(_without(_merged(spans), taken.get(key, ())))
        for key, spans in sorted(found.items())
    }


def _taken(hours: GameHours, courts: int) -> range:
    return range(1 if hours.courts is None else courts - hours.courts + 1, courts + 1)


def _merged(spans: Iterable[Hours]) -> list[Hours]:
    merged: list[Hours] = []
    for start, end in sorted(spans):
        if merged and start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(end, merged[-1][1]))
        else:
            merged.append((start, end))
    return merged


def _without(spans: Iterable[Hours], taken: Iterable[Hours]) -> list[Hours]:
    left = list(spans)
    for begin, end in sorted(taken):
        cut: list[Hours] = []
        for start, stop in left:
            cut += [(start, min(stop, begin)), (max(start, end), stop)]
        left = [(start, stop) for start, stop in cut if start < stop]
    return left


def ways_of(club: Club) -> dict[tuple[str, str], int]:
    """Return the minutes between every two gyms, rounded up to the grid; 0 within one gym."""
    grid = club.club.grid
    ways = {
        (one.id, other.id): 0 if one == other else club.club.travel_minutes
        for one in club.gym
        for other in club.gym
    }
    for way in club.way:
        ways[way.from_, way.to] = ways[way.to, way.from_] = way.minutes
    return {pair: -(-minutes // grid) * grid for pair, minutes in sorted(ways.items())}
