"""Builders of small clubs, every field defaulted: one gym of one court, two age groups."""

import datetime as dt
from collections.abc import Iterable
from typing import Any

from curriculum.models.club import (
    AgeGroup,
    Club,
    ClubCurriculum,
    ClubFrame,
    ClubGym,
    ClubSlots,
    ClubTeam,
    Coach,
    Opening,
    Reach,
    TeamSlot,
)
from curriculum.models.gymtimes import WEEKDAYS, Weekday

DAYS = {day[:3]: day for day in WEEKDAYS}


def at(text: str) -> dt.time:
    """Return a time, written `17:30`."""
    return dt.time.fromisoformat(text)


def opening(gym: str, days: str, start: str, end: str, **others: Any) -> Opening:
    """Return weekly hours: `opening("north", "mon wed", "17:00", "19:00")`."""
    weekdays: tuple[Weekday, ...] = tuple(DAYS[day] for day in days.split())
    return Opening(gym=gym, weekdays=weekdays, start=at(start), end=at(end), **others)


def group(group_id: str, ages: tuple[int, int], **others: Any) -> AgeGroup:
    """Return an age group of ten weeks with one practice of 60 minutes a week."""
    plain = {"weeks": 10, "practices": 1, "minutes": 60}
    return AgeGroup(id=group_id, name=group_id.capitalize(), ages=ages, **{**plain, **others})


def team(team_id: str, age_group: str = "old", coaches: str = "", **others: Any) -> ClubTeam:
    """Return a team; coaches are ids with blanks between."""
    names = tuple(coaches.split())
    return ClubTeam(id=team_id, name=team_id.upper(), age_group=age_group, coaches=names, **others)


def club(*teams: ClubTeam, **tables: Any) -> Club:
    """Return a club that has the north gym on Mondays from 17:00 to 19:00."""
    coaches = sorted({name for each in teams for name in each.coaches})
    tables.setdefault("gym", (ClubGym(id="north", name="North Gym"),))
    tables.setdefault("opening", (opening("north", "mon", "17:00", "19:00"),))
    tables.setdefault("age_group", (group("young", (8, 9)), group("old", (14, 15))))
    frame = tables.pop("frame", {})
    return Club(
        club=ClubFrame(**{"id": "test-club", "name": "Test Club", "grid": 60, **frame}),
        coach=tuple(Coach(id=name, name=name.capitalize()) for name in coaches),
        team=teams,
        **tables,
    )


def slot(team_id: str, day: str, start: str, **others: Any) -> TeamSlot:
    """Return a weekly time of 60 minutes in the north gym: `slot("a", "mon", "17:00")`."""
    plain = {"minutes": 60, "gym": "north"}
    return TeamSlot(team=team_id, weekday=DAYS[day], start=at(start), **{**plain, **others})


def slots(*each: TeamSlot) -> ClubSlots:
    """Return weekly times as a file holds them."""
    return ClubSlots(slot=each)


def reach(age_group: str, **stages: Iterable[str]) -> Reach:
    """Return a column: `reach("young", guided=["pass"])`."""
    return Reach(age_group=age_group, **{name: tuple(each) for name, each in stages.items()})  # type: ignore[arg-type]


def columns(*each: Reach) -> ClubCurriculum:
    """Return a curriculum."""
    return ClubCurriculum(reach=each)
