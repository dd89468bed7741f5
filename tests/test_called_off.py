"""A date that is called off, but on which nothing was planned, is told: it may be mistyped."""

import pytest

from curriculum.checks import called_off_problems
from curriculum.gym.slots import calendar_of
from tests.gym_season import MID_TERM, TO_THURSDAY, WEDNESDAY, written


def told(text: str) -> list[str]:
    """Return the warnings about dates called off in a season of Wednesdays."""
    of = written(WEDNESDAY + text)
    return [str(each) for each in called_off_problems(of, calendar_of(of))]


def off(date: str) -> str:
    """Return the table that calls a date off, written `02-03`."""
    return f"\n[[no_practice]]\ndate = 2027-{date}\n"


@pytest.mark.parametrize(
    ("text", "near"),
    [
        (off("01-19"), "2027-01-20"),
        (off("02-03") + off("02-11"), "2027-02-10"),
        (MID_TERM + off("02-16"), "2027-02-10, 2027-02-24"),
    ],
    ids=("one", "the second of two", "in a week without practice"),
)
def test_a_date_without_practice_names_those_nearby(text: str, near: str) -> None:
    """The practices of that week are named, or the two that are nearest."""
    number, date = text.count("[[no_practice]]"), text.rpartition("date = ")[2].strip()

    (warning,) = told(text)

    assert warning == (
        f"warning: no_practice[{number}].date: there is no practice on this date to call off "
        f"(found {date}); practices nearby: {near}"
    )


@pytest.mark.parametrize(
    "text",
    [
        off("01-20"),
        MID_TERM + off("02-17"),
        TO_THURSDAY + off("02-11"),
        off("05-05"),
        "\n[[no_practice]]\nfrom = 2027-01-21\nuntil = 2027-01-22\n",
    ],
    ids=("a practice", "closed anyway", "moved there", "outside, told elsewhere", "a stretch"),
)
def test_other_dates_are_not_told(text: str) -> None:
    """A practice that would have been there, held or not, makes the date a sound one."""
    assert told(text) == []
