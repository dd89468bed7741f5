"""Dates, numbers and lists in words."""

import datetime as dt

import pytest

from curriculum.wording import (
    counted,
    date_range,
    dated,
    due_words,
    few,
    listed,
    long_date,
    moment_words,
    named,
    plain_date,
    short_date,
    week_range,
)

THIRD = dt.date(2027, 2, 3)


def test_dates_from_short_to_long() -> None:
    """Dates are named without leading noughts, times with them."""
    said = [
        *(word(THIRD) for word in (short_date, dated, plain_date, long_date)),
        moment_words(dt.date(2027, 2, 11), dt.time(9, 5)),
    ]

    assert said == [
        "Wed 3 Feb",
        "Wed 3 Feb 2027",
        "3 February 2027",
        "Wednesday 3 February 2027",
        "Thu 11 Feb 09:05",
    ]


def test_when_something_is_due() -> None:
    """By a date, or before a game as a coach says it: against whom and when."""
    assert [due_words(THIRD, None), due_words(THIRD, "Harbour Gulls")] == [
        "by Wed 3 Feb",
        "before the game against Harbour Gulls on Wed 3 Feb",
    ]


def test_every_weekday_and_month_has_its_name() -> None:
    """Names follow the calendar the whole year round, as Python's own English names do."""
    year = [dt.date(2027, 1, 1) + dt.timedelta(days) for days in range(365)]

    assert [dated(day) for day in year] == [f"{day:%a} {day.day} {day:%b %Y}" for day in year]


def test_ranges() -> None:
    """A range of one stands as itself."""
    said = [
        date_range(THIRD, THIRD),
        date_range(THIRD, dt.date(2027, 3, 1)),
        week_range(3, 3),
        week_range(3, 5),
    ]

    assert said == ["Wed 3 Feb", "Wed 3 Feb to Mon 1 Mar", "week 3", "weeks 3 to 5"]


def test_numbers_with_nouns() -> None:
    """One is singular, all else plural."""
    assert [counted(number, "day") for number in (0, 1, 2)] == ["0 days", "1 day", "2 days"]


def test_lists_in_sentences() -> None:
    """The last word is joined by and, or."""
    words: tuple[list[str], ...] = ([], ["a"], ["a", "b"], ["a", "b", "c"])

    assert [listed(each) for each in words] == ["", "a", "a and b", "a, b and c"]
    assert [listed(each, "or") for each in words] == ["", "a", "a or b", "a, b or c"]


@pytest.mark.parametrize(
    ("words", "most", "joined"),
    [
        ([], 0, ""),
        (["a", "b", "c"], 0, "a, b and c"),
        (["a", "b", "c", "d"], 2, "a, b and 2 more"),
        (["a", "b"], 2, "a and b"),
        (["Cut, then fill", "b"], 0, "Cut, then fill and b"),
        (["Cut, then fill", "b", "c"], 0, "Cut, then fill; b and c"),
    ],
)
def test_names(words: list[str], most: int, joined: str) -> None:
    """Names are joined as one says them, the rest is counted."""
    assert named(words, most) == joined


def test_a_few_words() -> None:
    """The rest takes one of the places, and all stand where they fit."""
    words = ["a", "b", "c", "d"]

    assert [few(words, most) for most in (2, 3, 4)] == [
        "a and 3 more",
        "a, b and 2 more",
        "a, b, c and d",
    ]
