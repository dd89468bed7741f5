"""Overlaps, midnight, games and clock changes."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from curriculum.gym.clashes import clock_fault
from curriculum.gym.slots import calendar_of
from tests.gym_season import WEDNESDAY, sentences, written

ONCE = WEDNESDAY + "until = 2027-01-13\n"

GAME = """
[[game]]
id = "cup-1"
date = 2027-01-13
start = 18:30:00
opponent = "Harbour Gulls"
home = false
"""


def found(text: str, **frame: object) -> list[str]:
    """Return what the calendar of these tables finds wrong."""
    return sentences(calendar_of(written(text, **frame)))


def test_two_practices_in_one_gym() -> None:
    """Two practices that overlap in one gym are an error that names both."""
    assert found(ONCE + ONCE.replace("17:30", "18:44")) == [
        (
            "slot[2].start: Wed 13 Jan 18:44-19:59 in north-gym overlaps slot[1], "
            "Wed 13 Jan 17:30-18:45 in north-gym (found 18:44); "
            "change the time of one, or cut it short"
        )
    ]


def test_one_team_in_two_gyms() -> None:
    """The same team cannot practise in two gyms at once."""
    south = ONCE.replace("17:30", "17:00").replace("north-gym", "south-hall")

    assert found(ONCE + south) == [
        (
            "slot[1].start: Wed 13 Jan 17:30-18:45 in north-gym overlaps slot[2], "
            "Wed 13 Jan 17:00-18:15 in south-hall (found 17:30); "
            "one team cannot be in two gyms: change the time of one, or call it off"
        )
    ]


def test_practices_that_only_touch() -> None:
    """A practice may begin at the minute at which another ends."""
    assert found(ONCE + ONCE.replace("17:30", "18:45")) == []


def test_a_weekly_overlap_is_reported_once() -> None:
    """Two slots that overlap in twelve weeks make one problem, at the first date."""
    (sentence,) = found(WEDNESDAY + WEDNESDAY.replace("17:30", "18:00"))

    assert "Wed 13 Jan" in sentence


def test_an_overlap_with_what_is_not_held() -> None:
    """A practice that is called off is in nobody's way."""
    closure = """
[[closure]]
from = 2027-01-13
until = 2027-01-13
venue = "north-gym"
"""
    south = ONCE.replace("north-gym", "south-hall")

    assert found(ONCE + south + closure) == []


def test_a_moved_practice_that_overlaps() -> None:
    """A move into another practice is blamed, not the slots."""
    move = "[[move]]\nof = 2027-01-13\ndate = 2027-01-20\nstart = 18:00:00\n"

    assert found(WEDNESDAY + move) == [
        (
            "move[1].start: Wed 20 Jan 18:00-19:15 in north-gym overlaps slot[1], "
            "Wed 20 Jan 17:30-18:45 in north-gym (found 18:00); "
            "change the time of one, or cut it short"
        )
    ]


@pytest.mark.parametrize(("start", "faulty"), [("22:44", False), ("22:45", True), ("23:30", True)])
def test_past_midnight(start: str, faulty: bool) -> None:
    """A practice ends before midnight; the fault of a slot is reported once."""
    expected = [
        (
            f"slot[1].minutes: a practice from {start} would not end before midnight (found 75); "
            "start earlier or make it shorter"
        )
    ]

    assert found(WEDNESDAY.replace("17:30", start)) == (expected if faulty else [])


def test_a_game_that_overlaps_a_practice() -> None:
    """A game during a practice that is held is a warning."""
    assert found("[teaching]\npractice_on_game_day = true\n" + ONCE + GAME) == [
        (
            "warning: game[1].start: the game overlaps a practice: slot[1], "
            "Wed 13 Jan 17:30-18:45 in north-gym (found Wed 13 Jan 18:30); "
            "move the practice, or call it off with [[no_practice]]"
        )
    ]


def test_a_game_after_the_practice() -> None:
    """A game that starts when the practice ends is in order."""
    game = GAME.replace("18:30", "18:45")

    assert found("[teaching]\npractice_on_game_day = true\n" + ONCE + game) == []


@pytest.mark.parametrize("date", ["2027-01-10", "2027-04-05"])
def test_a_game_outside_the_season(date: str) -> None:
    """A game before the first or after the last day is an error."""
    assert found(ONCE + GAME.replace("2027-01-13", date)) == [
        (
            "game[1].date: the date lies outside the season, which runs from 2027-01-11 "
            f"to 2027-04-04 (found {date}); change the date, or the season's start or end"
        )
    ]


# Directive 2000/84/EC: summer time begins at 1.00 GMT on the last Sunday of March and ends at
# 1.00 GMT on that of October. Energy Policy Act of 2005, section 110: second Sunday of March to
# first of November, at 2 o'clock. Standard Time Act 1987 (NSW): first Sundays of October and April.
@pytest.mark.parametrize(
    ("zone", "moment", "fault"),
    [
        ("Europe/Dublin", "2027-03-28 00:59", None),
        ("Europe/Dublin", "2027-03-28 01:00", "missing"),
        ("Europe/Dublin", "2027-03-28 01:59", "missing"),
        ("Europe/Dublin", "2027-03-28 02:00", None),
        ("Europe/Dublin", "2027-03-28 17:30", None),
        ("Europe/Dublin", "2027-10-31 00:59", None),
        ("Europe/Dublin", "2027-10-31 01:00", "twice"),
        ("Europe/Dublin", "2027-10-31 01:59", "twice"),
        ("Europe/Dublin", "2027-10-31 02:00", None),
        ("Europe/Berlin", "2027-03-28 02:30", "missing"),
        ("Europe/Berlin", "2027-10-31 02:30", "twice"),
        ("America/New_York", "2027-03-14 02:30", "missing"),
        ("America/New_York", "2027-11-07 01:30", "twice"),
        ("Australia/Sydney", "2027-10-03 02:30", "missing"),
        ("Australia/Sydney", "2027-04-04 02:30", "twice"),
        ("UTC", "2027-03-28 01:30", None),
    ],
)
def test_clock_fault(zone: str, moment: str, fault: str | None) -> None:
    """The hour that is skipped in spring is missing, the hour repeated in autumn is there twice."""
    assert clock_fault(ZoneInfo(zone), dt.datetime.fromisoformat(moment)) == fault


def test_a_practice_while_the_clock_changes() -> None:
    """A practice or game at a time that the clock skips is warned of, on that date only."""
    night = WEDNESDAY.replace("wednesday", "sunday").replace("17:30", "01:30")
    game = GAME.replace("01-13", "03-28").replace("18:30", "01:15")

    assert found("[teaching]\npractice_on_game_day = true\n" + night + game) == [
        (
            "warning: game[1].start: the game overlaps a practice: slot[1], "
            "Sun 28 Mar 01:30-02:45 in north-gym (found Sun 28 Mar 01:15); "
            "move the practice, or call it off with [[no_practice]]"
        ),
        (
            "warning: slot[1].start: the clock skips this time, because summer time begins "
            "(found Sun 28 Mar 01:30); choose another time for this date"
        ),
        (
            "warning: game[1].start: the clock skips this time, because summer time begins "
            "(found Sun 28 Mar 01:15); choose another time for this date"
        ),
    ]


def test_a_practice_in_the_hour_that_comes_twice() -> None:
    """A start in the repeated hour is warned of too."""
    night = WEDNESDAY.replace("wednesday", "sunday").replace("17:30", "01:30")
    (sentence,) = found(
        night + "from = 2027-10-31",
        start=dt.date(2027, 10, 25),
        end=dt.date(2027, 11, 7),
    )

    assert sentence.startswith("warning: slot[1].start: the clock shows this time twice")


@pytest.mark.parametrize("name", ["Europe/Dublyn", "../etc/passwd", "Europe", ""])
def test_an_unknown_time_zone(name: str) -> None:
    """A name that is no time zone is a problem, not a crash."""
    season = written(ONCE)
    frame = season.season.model_copy(update={"timezone": name})
    gym = calendar_of(season.model_copy(update={"season": frame}))

    assert sentences(gym) == [
        (
            f"season.timezone: no such time zone{f' (found {name})' if name else ''}; "
            "write a name of the IANA time zone database, such as Europe/Dublin"
        )
    ]
