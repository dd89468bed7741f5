"""Gym times written out date by date."""

import datetime as dt

import pytest

from curriculum.gym.bookings import bookings_of
from curriculum.gym.practices import At
from tests.gym_season import WEDNESDAY, day, extra, written


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ("", "01-13 01-20 01-27 02-03 02-10 02-17 02-24 03-03 03-10 03-17 03-24 03-31"),
        ("from = 2027-02-10\nuntil = 2027-02-24", "02-10 02-17 02-24"),
        ("from = 2027-02-11\nuntil = 2027-02-23", "02-17"),
        ("from = 2026-12-01\nuntil = 2027-01-20", "01-13 01-20"),
        ("from = 2027-03-24\nuntil = 2027-09-01", "03-24 03-31"),
        ("from = 2027-05-01", ""),
        # Every second week, counted from the week of Monday 11 January.
        ("every = 2", "01-13 01-27 02-10 02-24 03-10 03-24"),
        # … from the week of Monday 18 January.
        ("every = 2\nfrom = 2027-01-20", "01-20 02-03 02-17 03-03 03-17 03-31"),
        # … from the same week, whose own Wednesday comes before the Thursday.
        ("every = 2\nfrom = 2027-01-21", "02-03 02-17 03-03 03-17 03-31"),
        # … from the week of Monday 4 January, before the season.
        ("every = 2\nfrom = 2027-01-06", "01-20 02-03 02-17 03-03 03-17 03-31"),
        ("every = 3\nuntil = 2027-03-01", "01-13 02-03 02-24"),
    ],
)
def test_dates_of_a_slot(keys: str, expected: str) -> None:
    """A slot stands on its weekday within season, from and until, every n weeks."""
    bookings, problems = bookings_of(written(WEDNESDAY + keys))

    assert (" ".join(f"{one.date:%m-%d}" for one in bookings), problems) == (expected, ())


def test_first_and_last_day_of_the_season_count() -> None:
    """A Monday slot stands on the first day, a Sunday slot on the last."""
    season = written(
        WEDNESDAY.replace("wednesday", "monday") + WEDNESDAY.replace("wednesday", "sunday")
    )
    bookings, _ = bookings_of(season)

    assert (bookings[0].date, bookings[-1].date) == (day("01-11"), day("04-04"))


def test_extra_practices_stand_in_between() -> None:
    """An extra practice takes its place in order of date and start, and names its table."""
    season = written(
        WEDNESDAY + "until = 2027-01-20\n" + extra("01-20", "south-hall") + extra("01-16")
    )
    bookings, problems = bookings_of(season)

    assert [(one.key, one.words, one.dated) for one in bookings] == [
        ("slot[1]", "Wed 13 Jan 17:30-18:45 in north-gym", False),
        ("practice_on[2]", "Sat 16 Jan 16:00-17:15 in north-gym", True),
        ("practice_on[1]", "Wed 20 Jan 16:00-17:15 in south-hall", True),
        ("slot[1]", "Wed 20 Jan 17:30-18:45 in north-gym", False),
    ]
    assert problems == ()


def test_a_slot_comes_before_an_extra_practice() -> None:
    """At one moment in one gym, a fault, the slot comes first, so that it keeps the plain id."""
    same = extra("01-13").replace("16:00", "17:30").replace("75", "60")
    season = written(WEDNESDAY + "until = 2027-01-13\n" + same)
    bookings, _ = bookings_of(season)

    assert [one.source for one in bookings] == ["slot[1]", "practice_on[1]"]


def test_an_extra_practice_outside_the_season() -> None:
    """It is left out, and the season's dates are named."""
    bookings, problems = bookings_of(written(extra("04-05")))

    assert bookings == ()
    assert [str(problem) for problem in problems] == [
        (
            "practice_on[1].date: the date lies outside the season, which runs from 2027-01-11 "
            "to 2027-04-04 (found 2027-04-05); change the date, or the season's start or end"
        )
    ]


def test_a_season_that_ends_before_it_starts() -> None:
    """Such a season has no dates, and nothing crashes."""
    season = written(WEDNESDAY, start=day("02-01"), end=day("01-01"))

    assert bookings_of(season) == ((), ())


def test_where_it_was_first_planned() -> None:
    """A booking knows where and when it stands and first stood."""
    (booking,), _ = bookings_of(written(WEDNESDAY + "until = 2027-01-13"))

    assert booking.at == booking.first == At(day("01-13"), dt.time(17, 30), "north-gym")
