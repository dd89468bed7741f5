"""When and where a team practises: gyms, weekly times, single dates, closures and holidays."""

import datetime as dt
from typing import Annotated, Literal

from pydantic import Field, field_validator

from curriculum.models.base import Id, Model, Text
from curriculum.models.skills import Court

Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
WEEKDAYS: tuple[Weekday, ...] = (
    "monday",
    "tuesday",
    "wednesday",
    "thursday",
    "friday",
    "saturday",
    "sunday",
)

Players = Annotated[int, Field(ge=1, le=60)]
Minutes = Annotated[int, Field(ge=0, le=300)]


class Parts(Model):
    """Minutes of a practice's fixed parts; what stands nowhere is left open (None).

    breaks: how many water breaks; break_minutes: the length of each.
    changeover: minutes added to every teaching block.
    """

    warm_up: Minutes | None = None
    scrimmage: Minutes | None = None
    cool_down: Minutes | None = None
    breaks: Annotated[int, Field(ge=0, le=10)] | None = None
    break_minutes: Annotated[int, Field(ge=0, le=30)] | None = None
    changeover: Annotated[int, Field(ge=0, le=15)] | None = None


class Venue(Model):
    """A gym. `baskets` are all that hang in it."""

    id: Id
    name: Text
    baskets: Annotated[int, Field(ge=0, le=20)] = 2
    address: Text | None = None


class GymTime(Parts):
    """What slots, extra practices and moved ones share: when, how long, where, with what."""

    start: dt.time
    minutes: Annotated[int, Field(ge=15, le=300)]
    venue: Id
    court: Court = "full"
    baskets: Annotated[int, Field(ge=0, le=20)] | None = None
    expected: Players | None = None


class Slot(GymTime):
    """A weekly gym time, from and until dates included, every n weeks.

    The weeks are counted from the week of `from`, else of the season's start.
    """

    weekday: Weekday
    from_: Annotated[dt.date | None, Field(alias="from")] = None
    until: dt.date | None = None
    every: Annotated[int, Field(ge=1, le=8)] = 1


class PracticeOn(GymTime):
    """One extra practice."""

    date: dt.date


class NoPractice(Model):
    """A date, or a stretch of dates with both ends included, without practice."""

    date: dt.date | None = None
    from_: Annotated[dt.date | None, Field(alias="from")] = None
    until: dt.date | None = None
    reason: Text = "called off"


class LostPractice(NoPractice):
    """One practice that was lost, by its id; it comes from the record and stands in no file.

    The reason stays the default: what the coach wrote may be about a child, and calendars show
    this one.
    """

    practice: str


class MoveOf(Model):
    """The practice that moves: its date, and its venue where two stand on that date."""

    date: dt.date
    venue: Id | None = None


class Move(Parts):
    """A practice that moves; what is left out stays as it was. It keeps its id.

    `of` is a date, or a table with date and venue.
    """

    of: MoveOf
    date: dt.date
    start: dt.time | None = None
    minutes: Annotated[int, Field(ge=15, le=300)] | None = None
    venue: Id | None = None
    court: Court | None = None
    baskets: Annotated[int, Field(ge=0, le=20)] | None = None
    expected: Players | None = None

    @field_validator("of", mode="before")
    @classmethod
    def _bare_date(cls, value: object) -> object:
        return {"date": value} if isinstance(value, dt.date) else value


class Holidays(Model):
    """Public holidays of a country, by the `holidays` library."""

    country: Annotated[str, Field(min_length=2, max_length=60)]
    subdivision: str = ""
    close_gym: bool = True


class Closure(Model):
    """A closed gym: from and until both included; without `venue` every gym is closed."""

    from_: Annotated[dt.date, Field(alias="from")]
    until: dt.date
    reason: Text = "closed"
    venue: Id | None = None
