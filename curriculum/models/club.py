"""A club as its director writes it: gyms, age groups, teams, coaches, weekly hours, curricula."""

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field

from curriculum.models.base import Id, Model, Text
from curriculum.models.gymtimes import Closure, Holidays, Weekday
from curriculum.models.season import Importance
from curriculum.models.skills import Court, Stage

RuleSetName = Literal[
    "nba-usab", "nata", "aap", "england", "australia", "new-zealand", "germany-u12"
]
"""Published guidance that a club can hold itself to; what each says stands in `club.rulesets`."""

Age = Annotated[int, Field(ge=3, le=25)]
Courts = Annotated[int, Field(ge=1, le=12)]
Length = Annotated[int, Field(ge=30, le=240)]
PerWeek = Annotated[int, Field(ge=0, le=7)]


class ClubFrame(Model):
    """The `[club]` table.

    library: folders of skills beside this file, as in a season file; unset: the shipped ones.
    rules: published guidance to judge the club by; none: none is applied.
    grid: minutes between two possible starts of a practice.
    travel_minutes: time between two gyms for which no `[[way]]` stands.
    """

    id: Id
    name: Text
    library: tuple[Text, ...] | None = None
    rules: tuple[RuleSetName, ...] = ()
    grid: Annotated[int, Field(ge=5, le=60)] = 30
    travel_minutes: Annotated[int, Field(ge=0, le=180)] = 20


class ClubGym(Model):
    """A `[[gym]]`. Each court can be shared by two teams, half and half.

    baskets: those of one court, both ends together.
    """

    id: Id
    name: Text
    courts: Courts = 1
    baskets: Annotated[int, Field(ge=0, le=20)] = 2
    address: Text | None = None


class Opening(Model):
    """An `[[opening]]`: weekly hours in which the club has a gym, the end not included.

    courts: how many of the gym's courts the club has then; unset: all.
    """

    gym: Id
    weekdays: Annotated[tuple[Weekday, ...], Field(min_length=1)]
    start: dt.time
    end: dt.time
    courts: Courts | None = None


class GameHours(Model):
    """A `[[game_hours]]`: weekly hours kept free for home games; practices come second.

    courts: how many courts the games take; unset: all.
    """

    gym: Id
    weekday: Weekday
    start: dt.time
    end: dt.time
    courts: Courts | None = None


class Way(Model):
    """A `[[way]]`: minutes from one gym to another, the same in both directions."""

    from_: Annotated[Id, Field(alias="from")]
    to: Id
    minutes: Annotated[int, Field(ge=0, le=180)]


class AgeGroup(Model):
    """An `[[age_group]]`: who is in it, and the season that it usually has.

    ages: years of the youngest and the oldest player.
    weeks: of a season. practices: a week. minutes: of one practice.
    shortest: minutes of a practice that would still do; unset: `minutes`.
    court: what a team of this group practises on. latest: by when a practice ends.
    games: a week, at most. game_minutes: of one game.
    players: who usually come to a practice.
    """

    id: Id
    name: Text
    ages: tuple[Age, Age]
    weeks: Annotated[int, Field(ge=1, le=52)]
    practices: PerWeek
    minutes: Length
    shortest: Length | None = None
    court: Court = "full"
    latest: dt.time | None = None
    games: PerWeek = 1
    game_minutes: Annotated[int, Field(ge=10, le=180)] = 60
    players: Annotated[int, Field(ge=1, le=60)] = 10


class Coach(Model):
    """A `[[coach]]`, a grown-up who is named in the club's own pages."""

    id: Id
    name: Text


class ClubTeam(Model):
    """A `[[team]]`; its season stands in the folder of the same name.

    coaches: every one of them comes to every practice.
    gyms: those it may use, the one it calls home first; empty: all, in the order of the file.
    practices, minutes, shortest, court, latest: in place of the age group's.
    """

    id: Id
    name: Text
    age_group: Id
    coaches: tuple[Id, ...] = ()
    gyms: tuple[Id, ...] = ()
    practices: PerWeek | None = None
    minutes: Length | None = None
    shortest: Length | None = None
    court: Court | None = None
    latest: dt.time | None = None


class Busy(Model):
    """A `[[busy]]`: a coach or a team cannot come on a weekday, or within some hours of it."""

    coach: Id | None = None
    team: Id | None = None
    weekday: Weekday
    start: dt.time = dt.time(0, 0)
    end: dt.time = dt.time(23, 59)


class Club(Model):
    """A whole `club.toml`.

    Holidays and closures hold for every team; a closure's `venue` is a gym.
    """

    club: ClubFrame
    gym: tuple[ClubGym, ...]
    opening: tuple[Opening, ...] = ()
    game_hours: tuple[GameHours, ...] = ()
    way: tuple[Way, ...] = ()
    age_group: tuple[AgeGroup, ...]
    coach: tuple[Coach, ...] = ()
    team: tuple[ClubTeam, ...] = ()
    busy: tuple[Busy, ...] = ()
    holidays: Holidays | None = None
    closure: tuple[Closure, ...] = ()

    def group_of(self, team: ClubTeam) -> AgeGroup:
        """Return the age group of a team; KeyError when the club has none of that name."""
        for group in self.age_group:
            if group.id == team.age_group:
                return group
        raise KeyError(team.age_group)

    @property
    def ladder(self) -> tuple[AgeGroup, ...]:
        """The age groups, youngest first; groups of one age in the order of the file."""
        return tuple(sorted(self.age_group, key=lambda group: (group.ages[1], group.ages[0])))


class Reach(Model):
    """A `[[reach]]`: skills that an age group newly takes to a stage by its season's end.

    need: how much a team's season depends on them.
    """

    age_group: Id
    need: Importance = "should"
    unopposed: tuple[Id, ...] = ()
    guided: tuple[Id, ...] = ()
    live: tuple[Id, ...] = ()

    def cells(self) -> tuple[tuple[Id, Stage], ...]:
        """Return every skill with its stage, in the order of the file."""
        stages: tuple[tuple[Stage, tuple[Id, ...]], ...] = (
            ("unopposed", self.unopposed),
            ("guided", self.guided),
            ("live", self.live),
        )
        return tuple((skill, stage) for stage, skills in stages for skill in skills)


class ClubCurriculum(Model):
    """A whole `curriculum.toml`: what each age group adds to what the younger ones have reached."""

    reach: tuple[Reach, ...] = ()


class TeamSlot(Model):
    """A `[[slot]]` of `slots.toml`: one team's weekly gym time.

    court: all of it or half. number: which court of the gym, 1 is the first.
    """

    team: Id
    weekday: Weekday
    start: dt.time
    minutes: Length
    gym: Id
    number: Courts = 1
    court: Court = "full"


class ClubSlots(Model):
    """A whole `slots.toml`: the club's weekly gym times of one term."""

    slot: tuple[TeamSlot, ...] = ()
