"""Calendars as a season names them: files that come in, and what goes out to phones."""

from typing import Annotated, Literal

from pydantic import Field

from curriculum.models.base import Id, Model, Text

Means = Literal["closures", "games", "practices"]
DateOrder = Literal["day-first", "month-first", "year-first"]
FreeTime = Literal["count", "skip"]
Column = Literal[
    "date",
    "until",
    "start",
    "end",
    "minutes",
    "title",
    "home",
    "away",
    "side",
    "opponent",
    "venue",
    "address",
    "id",
]
AlarmMinutes = Annotated[int, Field(ge=0, le=20160)]
EarlyMinutes = Annotated[int, Field(ge=0, le=300)]


class CalendarIn(Model):
    """One `[[calendar]]`: a file beside the season file, and what its entries mean here.

    venue: the gym that the entries are about; closures without it close every gym.
    only: entries count when their title holds one of these texts, capitals aside; empty: all do.
    free_time: whether entries marked as free time count; unset: they do, with a warning.
    minutes: length of an entry that states no end.
    timezone: zone of times that name none; unset: the file's own, else the season's.
    dates: order of day and month in a table of fixtures; needed only where it is not plain.
    team: our name as the table of fixtures writes it; unset: the season's `team.name`.
    columns: the table's own heading for a column, where ours does not find it.
    """

    file: Text
    means: Means
    venue: Id | None = None
    only: tuple[Text, ...] = ()
    free_time: FreeTime | None = None
    minutes: Annotated[int, Field(ge=10, le=300)] | None = None
    timezone: Text | None = None
    dates: DateOrder | None = None
    team: Text | None = None
    columns: dict[Column, Text] = Field(default_factory=dict)


class CalendarOut(Model):
    """The `[calendar_out]` table: what the calendars for phones say beside dates and places.

    name: the calendar's name on a phone; unset: the team's.
    bring, bring_to_games: what every player brings.
    arrive_before: minutes before the start at which players should be there.
    alarm: minutes before the start at which the phone rings; unset: it does not.
    link: a page about the season, repeated at the end of every description.
    games, closures: whether these stand in the calendar beside the practices.
    travel_minutes: shortest time between the end of one entry and the start of the next in
    another place, below which a warning is given.
    """

    name: (
        Annotated[str, Field(min_length=1, max_length=80, pattern=r"^[^,;\\\x00-\x1f]+$")] | None
    ) = None
    bring: tuple[Text, ...] = ()
    bring_to_games: tuple[Text, ...] = ()
    arrive_before: EarlyMinutes | None = None
    alarm: AlarmMinutes | None = None
    link: Annotated[str, Field(pattern=r"^https?://[!-~]+$", max_length=500)] | None = None
    games: bool = True
    closures: bool = False
    travel_minutes: Annotated[int, Field(ge=0, le=300)] = 30
