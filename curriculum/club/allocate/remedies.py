"""What would help teams that clash: each change is tried, and told only when it works."""

import datetime as dt
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from curriculum.club.allocate.asks import FULL, Ask, asks_of, clock, minute
from curriculum.club.allocate.exact import can_all
from curriculum.club.allocate.week import week_of_club
from curriculum.models.club import AgeGroup, Club, ClubTeam, Opening

LATER = 30
"""Minutes by which a later end is tried."""
LONGER = 60
"""Minutes by which longer opening hours are tried."""
SHORTER = 15
"""Minutes by which shorter practices are tried, down to `LEAST`."""
LEAST = 45
LAST_MINUTE = 24 * 60 - 1

Change = tuple[str, Club]
"""A change in words, and the club as it would be."""


@dataclass(frozen=True)
class Remedy:
    """A change that was tried, and with which all teams of a clash get what they ask for.

    everyone: then every other team of the club does so too.
    """

    words: str
    everyone: bool


def remedies(club: Club, teams: Sequence[str], effort: float) -> tuple[Remedy, ...]:
    """Return the changes with any one of which all these teams get what they ask for.

    Those that help the whole club come first, then cheap ones. effort: deterministic time of each
    trial.
    """
    found = list(_remedies(club, teams, effort))
    return tuple(sorted(found, key=lambda remedy: not remedy.everyone))


def _remedies(club: Club, teams: Sequence[str], effort: float) -> Iterator[Remedy]:
    members = [team for team in club.team if team.id in teams]
    asks = {ask.team: ask for ask in asks_of(club)}
    changes = chain(
        _shorter(club, members, asks),
        _later(club, members),
        _longer(club, members, asks),
        _other_coach(club, members),
        _half(club, members, asks),
        _fewer(club, members, asks),
    )
    for words, trial in changes:
        week = week_of_club(trial)
        numbers = [number for number, ask in enumerate(week.asks) if ask.team in teams]
        if can_all(week, numbers, effort) in ("optimal", "feasible"):
            everyone = can_all(week, range(len(week.asks)), effort)
            yield Remedy(words, everyone in ("optimal", "feasible"))


def _shorter(club: Club, members: Sequence[ClubTeam], asks: Mapping[str, Ask]) -> Iterator[Change]:
    for team in members:
        minutes = asks[team.id].minutes - SHORTER
        if minutes >= LEAST:
            changes = {"minutes": minutes, "shortest": None}
            yield f"practices of {minutes} minutes for {team.name}", _with(club, team, changes)


def _later(club: Club, members: Sequence[ClubTeam]) -> Iterator[Change]:
    for group in {team.age_group: club.group_of(team) for team in members}.values():
        if group.latest is not None and minute(group.latest) + LATER <= LAST_MINUTE:
            latest = clock(minute(group.latest) + LATER)
            words = f"practices of {group.name} until {latest:%H:%M}"
            yield words, _with_latest(club, group, latest)


def _longer(club: Club, members: Sequence[ClubTeam], asks: Mapping[str, Ask]) -> Iterator[Change]:
    wanted = {gym for team in members for gym in asks[team.id].gyms}
    names = {gym.id: gym.name for gym in club.gym}
    for opening in club.opening:
        end = minute(opening.end) + LONGER
        if opening.gym in wanted and end <= LAST_MINUTE:
            days = ", ".join(day.capitalize() for day in opening.weekdays)
            words = f"{names[opening.gym]} open until {clock(end):%H:%M} on {days}"
            yield words, _with_opening(club, opening, clock(end))


def _other_coach(club: Club, members: Sequence[ClubTeam]) -> Iterator[Change]:
    names = {coach.id: coach.name for coach in club.coach}
    for team in members:
        for coach in team.coaches:
            if any(coach in other.coaches for other in members if other != team):
                others = tuple(each for each in team.coaches if each != coach)
                words = f"somebody else in {names[coach]}'s place with {team.name}"
                yield words, _with(club, team, {"coaches": others})


def _half(club: Club, members: Sequence[ClubTeam], asks: Mapping[str, Ask]) -> Iterator[Change]:
    for team in members:
        if asks[team.id].units == FULL:
            yield f"half a court for {team.name}", _with(club, team, {"court": "half"})


def _fewer(club: Club, members: Sequence[ClubTeam], asks: Mapping[str, Ask]) -> Iterator[Change]:
    for team in members:
        left = asks[team.id].practices - 1
        if left >= 0:
            number = f"{left or 'no'} practice{'s' if left > 1 else ''}"
            yield f"{number} a week for {team.name}", _with(club, team, {"practices": left})


def _with(club: Club, team: ClubTeam, changes: Mapping[str, object]) -> Club:
    changed = team.model_copy(update=dict(changes))
    teams = tuple(changed if each == team else each for each in club.team)
    return club.model_copy(update={"team": teams})


def _with_latest(club: Club, group: AgeGroup, latest: dt.time) -> Club:
    changed = group.model_copy(update={"latest": latest})
    groups = tuple(changed if each == group else each for each in club.age_group)
    return club.model_copy(update={"age_group": groups})


def _with_opening(club: Club, opening: Opening, end: dt.time) -> Club:
    changed = opening.model_copy(update={"end": end})
    openings = tuple(changed if each == opening else each for each in club.opening)
    return club.model_copy(update={"opening": openings})
