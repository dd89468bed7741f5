"""One team on one day: games at once, ways too short, games in gyms that are closed or unknown."""

import datetime as dt
from typing import Any

import pytest

from curriculum.gym.slots import calendar_of
from curriculum.gym.travel import travel_problems
from curriculum.models.calendars import CalendarOut
from curriculum.models.gymtimes import Closure, PracticeOn, Slot
from curriculum.models.season import Game, Season
from tests.ical_season import cup, season

SATURDAY = dt.date(2027, 1, 30)


def on_saturday(start: str, minutes: int = 60, venue: str = "north-gym") -> PracticeOn:
    """Return an extra practice on the day of the cup game."""
    time = dt.time.fromisoformat(start)
    return PracticeOn(date=SATURDAY, start=time, minutes=minutes, venue=venue)


def found(of: Season) -> list[tuple[str, str, str]]:
    """Return key, level and what was found of every warning."""
    problems = travel_problems(of, calendar_of(of))
    return [(one.key, one.level, one.found) for one in problems]


def home(start: str, game_id: str, **changes: Any) -> Game:
    """Return a game of an hour in the north gym on the day of the cup game."""
    time = dt.time.fromisoformat(start)
    plain = {"id": game_id, "start": time, "home": True, "venue": "north-gym", "address": None}
    return cup(**{**plain, **changes})


def test_games_at_once_are_reported_at_the_later() -> None:
    """Two games that overlap are one warning."""
    of = season(game=(home("10:00", "one"), home("10:30", "two")))

    assert found(of) == [("game[2].start", "warning", "10:30")]


def test_games_one_after_the_other_in_one_gym_are_fine() -> None:
    """A tournament in one place needs no travel, however early players should arrive."""
    of = season(game=(home("10:00", "one"), home("11:00", "two", arrive_before=45)))

    assert found(of) == []


@pytest.mark.parametrize(
    ("practice_end", "arrive_before", "expected"),
    [
        ("09:30", None, []),
        ("09:31", None, [("game[1].start", "warning", "29 minutes")]),
        ("09:15", 45, [("game[1].start", "warning", "0 minutes")]),
    ],
)
def test_a_way_that_is_too_short_is_reported(
    practice_end: str, arrive_before: int | None, expected: list[tuple[str, str, str]]
) -> None:
    """Thirty minutes must lie between the practice's end and the arrival elsewhere."""
    end = dt.time.fromisoformat(practice_end)
    minutes = end.hour * 60 + end.minute - 8 * 60
    of = season(
        game=(cup(arrive_before=arrive_before),),
        practice_on=(on_saturday("08:00", minutes),),
        calendar_out=CalendarOut(),
    )

    assert found(of) == expected


def test_the_season_sets_the_time_that_a_way_takes() -> None:
    """With ten minutes of travel asked for, fifteen are enough."""
    of = season(practice_on=(on_saturday("08:45"),), calendar_out=CalendarOut(travel_minutes=10))

    assert found(of) == []


def test_a_weekly_way_is_reported_once() -> None:
    """Two weekly gym times that are too close are one warning, not twelve."""
    slots = tuple(
        Slot(weekday="monday", start=dt.time(hour), minutes=60, venue=venue)
        for hour, venue in ((17, "north-gym"), (18, "south-gym"))
    )

    assert found(season(game=(), slot=slots)) == [("slot[2].start", "warning", "0 minutes")]


def test_a_home_game_whose_place_is_not_stated_is_not_guessed() -> None:
    """Without venue and address nobody can tell whether the way is long."""
    of = season(game=(home("10:00", "one", venue=None),), practice_on=(on_saturday("08:55"),))

    assert found(of) == []


def test_a_game_in_a_closed_gym_is_reported() -> None:
    """A closure of the gym on the date of a home game is worth a question."""
    closed = Closure(from_=SATURDAY, until=SATURDAY, reason="polling station", venue="north-gym")

    assert found(season(game=(home("10:00", "one"),), closure=(closed,))) == [
        ("game[1].date", "warning", "2027-01-30")
    ]


def test_a_game_in_an_unknown_gym_is_an_error() -> None:
    """A venue must be one of the season's gyms."""
    assert found(season(game=(home("10:00", "one", venue="old-gym"),))) == [
        ("game[1].venue", "error", "old-gym")
    ]
