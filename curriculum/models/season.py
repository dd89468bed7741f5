"""One team's season as the coach writes it: frame, team, rules of teaching, goals and wishes."""

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field

from curriculum.models.base import Id, Model, Text
from curriculum.models.calendars import CalendarIn, CalendarOut, EarlyMinutes
from curriculum.models.gymtimes import (
    Closure,
    Holidays,
    LostPractice,
    Move,
    NoPractice,
    Parts,
    Players,
    PracticeOn,
    Slot,
    Venue,
)
from curriculum.models.skills import Stage

Level = Literal["easier", "as written", "harder"]
Importance = Literal["must", "should", "could"]
LoadRules = Literal["nba-usab", "nata", "aap"]

Weight = Annotated[int, Field(ge=1, le=9)]


class Frame(Model):
    """The `[season]` table: identity, first and last day (both included), time zone, libraries."""

    id: Id
    name: Text
    start: dt.date
    end: dt.date
    timezone: Text
    library: tuple[Text, ...] | None = None


class Team(Model):
    """The `[team]` table. `ages` are the youngest and the oldest player's years.

    balls: how many there are to bring; left out, one for each player who is expected.
    """

    name: Text
    ages: tuple[Annotated[int, Field(ge=3, le=99)], Annotated[int, Field(ge=3, le=99)]]
    players: Players
    expected: Players | None = None
    coaches: Annotated[int, Field(ge=1, le=20)] = 1
    balls: Annotated[int, Field(ge=1, le=60)] | None = None

    @property
    def usual(self) -> int:
        """How many players usually come: as stated, else four of five, rounded down."""
        return self.expected if self.expected is not None else max(1, self.players * 8 // 10)


class Group(Model):
    """A part of the team that gets its own version of a drill."""

    name: Text
    players: Players
    level: Level = "as written"


class Teaching(Model):
    """The `[teaching]` table: the rules that a plan obeys; see the rules' names in the referee."""

    new_skills: Annotated[int, Field(ge=1, le=99)] = 2
    blocks: Annotated[int, Field(ge=1, le=99)] = 5
    gap_days: Annotated[int, Field(ge=1, le=60)] = 1
    stretch_days: Annotated[int, Field(ge=1, le=365)] = 14
    quiet_before_game: bool = True
    build_within_practice: bool = False
    practice_on_game_day: bool = False
    review_after: tuple[Annotated[int, Field(ge=1, le=365)], ...] = (7, 14, 28)
    review_minutes: Annotated[int, Field(ge=1, le=60)] = 6
    spare: Annotated[int, Field(ge=0, le=90)] = 10


class Game(Model):
    """A game: it has an id so that goals can be due by it.

    venue: one of the season's gyms; address: a place elsewhere.
    arrive_before: minutes before the start at which players should be there.
    """

    id: Id
    date: dt.date
    start: dt.time
    minutes: Annotated[int, Field(ge=10, le=300)] = 60
    opponent: Text
    home: bool = True
    venue: Id | None = None
    address: Text | None = None
    arrive_before: EarlyMinutes | None = None


class Known(Model):
    """Where the team already stands; the lower stages of the skill are included."""

    skill: Id
    stage: Stage


class Adjust(Model):
    """This team needs more or less than the library says."""

    skill: Id
    stage: Stage
    blocks: Annotated[int, Field(ge=1, le=20)] | None = None
    minutes: Annotated[int, Field(ge=1, le=120)] | None = None


class Goal(Model):
    """A stage to be reached by a date or a game; without `by`, by the season's end."""

    skill: Id
    stage: Stage
    by: Id | dt.date | None = None
    need: Importance = "should"
    weight: Weight = 1


class Pin(Model):
    """The coach's word: a block of this stage (or this very number) is held on this date."""

    skill: Id
    stage: Stage
    date: dt.date
    number: Annotated[int, Field(ge=1, le=20)] | None = None


class Focus(Model):
    """Theme weeks: from and until both included."""

    from_: Annotated[dt.date, Field(alias="from")]
    until: dt.date
    strand: Text
    weight: Weight = 1


class Load(Model):
    """The `[load]` table: whose published guidance the weekly load is held against."""

    rules: LoadRules = "nba-usab"


class Season(Model):
    """A whole `season.toml`."""

    season: Frame
    team: Team
    group: tuple[Group, ...] = ()
    teaching: Teaching = Teaching()
    practice: Parts = Parts()
    venue: tuple[Venue, ...] = ()
    slot: tuple[Slot, ...] = ()
    practice_on: tuple[PracticeOn, ...] = ()
    no_practice: tuple[NoPractice, ...] = ()
    move: tuple[Move, ...] = ()
    holidays: Holidays | None = None
    closure: tuple[Closure, ...] = ()
    game: tuple[Game, ...] = ()
    calendar: tuple[CalendarIn, ...] = ()
    calendar_out: CalendarOut = CalendarOut()
    known: tuple[Known, ...] = ()
    adjust: tuple[Adjust, ...] = ()
    goal: tuple[Goal, ...] = ()
    pin: tuple[Pin, ...] = ()
    focus: tuple[Focus, ...] = ()
    load: Load = Load()

    def due(self, goal: Goal) -> dt.date:
        """Return the date by which a goal is due; KeyError when it names no game."""
        if goal.by is None:
            return self.season.end
        return goal.by if isinstance(goal.by, dt.date) else self.game_named(goal.by).date

    def game_named(self, game_id: str) -> Game:
        """Return the game with an id; KeyError when there is none."""
        for game in self.game:
            if game.id == game_id:
                return game
        raise KeyError(game_id)


def lost_dates(season: Season) -> frozenset[dt.date]:
    """Return the dates on which a practice was lost."""
    lost = (entry for entry in season.no_practice if isinstance(entry, LostPractice))
    return frozenset(entry.date for entry in lost if entry.date is not None)
