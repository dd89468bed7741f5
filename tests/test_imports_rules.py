"""Recurrence rules are judged before anything expands them, and expanded as dateutil does."""

import datetime as dt

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.gym.imports.rules import DAYS, bounded, fault_of
from tests.ical_import import WINTER, event, read


@pytest.mark.parametrize(
    ("rule", "fault"),
    [
        ("FREQ=WEEKLY", None),
        ("freq=weekly;byday=mo", None),
        ("FREQ=MONTHLY;BYDAY=-1FR", None),
        ("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13", None),
        ("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", None),
        ("FREQ=YEARLY;BYYEARDAY=-1;BYMONTH=12", None),
        ("", "it repeats without freq"),
        ("FREQ=FORTNIGHTLY", "it repeats fortnightly"),
        ("FREQ=DAILY;FREQ=WEEKLY", "it states something twice"),
        ("FREQ=DAILY;X-OWN=1", "X-OWN is not understood"),
        ("FREQ=DAILY;INTERVAL=501", "INTERVAL is 501, not from 1 to 500"),
        ("FREQ=DAILY;INTERVAL=-1", "INTERVAL is -1, not from 1 to 500"),
        ("FREQ=DAILY;COUNT=٣", "COUNT is ٣, not from 1 to 5000"),
        ("FREQ=DAILY;COUNT=3;UNTIL=20270201", "it has both COUNT and UNTIL"),
        ("FREQ=DAILY;UNTIL=20271301", "UNTIL is 20271301"),
        ("FREQ=DAILY;UNTIL=", "UNTIL is "),
        ("FREQ=YEARLY;BYMONTH=13", "BYMONTH holds 13"),
        ("FREQ=YEARLY;BYMONTHDAY=0", "BYMONTHDAY holds 0"),
        ("FREQ=MONTHLY;BYDAY=54MO", "BYDAY holds 54MO"),
        ("FREQ=MONTHLY;BYDAY=XX", "BYDAY holds XX"),
        ("FREQ=WEEKLY;WKST=XX", "WKST is XX"),
        ("FREQ=DAILY;BYHOUR=1,2,3,4,5;BYMINUTE=0,1,2,3,4", "it repeats 25 times a day"),
        ("FREQ=DAILY;BYMONTH=4,6;BYMONTHDAY=31", "no date fits it"),
        ("FREQ=MONTHLY;BYDAY=MO,TU;BYSETPOS=2", None),
        ("FREQ=MONTHLY;BYMONTHDAY=1;BYSETPOS=3", "BYSETPOS 3 is more than there can be"),
        ("FREQ=WEEKLY;BYDAY=MO;BYSETPOS=1", "BYSETPOS is followed in months and years only"),
    ],
)
def test_what_is_followed_and_what_is_not(rule: str, fault: str | None) -> None:
    """The reason is the end of a sentence that a coach reads."""
    assert fault_of(rule) == fault


@pytest.mark.parametrize(
    ("start", "fault"), [("2027-01-11", None), ("2027-01-12", "no date fits it")]
)
def test_whole_weeks_of_days_must_meet_their_weekday(start: str, fault: str | None) -> None:
    """Every fourteenth day from a Tuesday is never a Monday."""
    rule = "FREQ=DAILY;INTERVAL=14;BYDAY=MO"

    assert fault_of(rule, dt.date.fromisoformat(start)) == fault


@pytest.mark.parametrize(
    ("rule", "whole", "expected"),
    [
        ("FREQ=WEEKLY;UNTIL=20270201", False, "FREQ=WEEKLY;UNTIL=20270201T235959"),
        ("FREQ=WEEKLY;UNTIL=20270201", True, "FREQ=WEEKLY;UNTIL=20270201"),
        ("FREQ=WEEKLY;UNTIL=20270201T180000Z", False, "FREQ=WEEKLY;UNTIL=20270201T180000Z"),
        ("FREQ=WEEKLY;UNTIL=20270201T180000Z", True, "FREQ=WEEKLY;UNTIL=20270201"),
        ("FREQ=WEEKLY;UNTIL=99991231", False, "FREQ=WEEKLY"),
        (" freq=weekly ;; byday=mo, tu;", False, "FREQ=WEEKLY;BYDAY=MO,TU"),
    ],
)
def test_a_rules_end_is_made_plain(rule: str, whole: bool, expected: str) -> None:
    """A mere date includes its evening, and the year 9999 means never."""
    assert bounded(rule, whole=whole) == expected


def some(values: range | tuple[str, ...], most: int = 4) -> st.SearchStrategy[str]:
    """Return lists of values as rules write them."""
    choices = st.sampled_from([str(value) for value in values if value != 0])
    return st.lists(choices, min_size=1, max_size=most, unique=True).map(",".join)


PARTS = {
    "INTERVAL": st.integers(1, 5).map(str),
    "BYMONTH": some(range(1, 13)),
    "BYMONTHDAY": some(range(-31, 32)),
    "BYDAY": some(DAYS),
    "BYHOUR": some(range(24)),
    "BYSETPOS": some(range(-3, 4), 2),
    "WKST": st.sampled_from(DAYS),
}


@given(
    frequency=st.sampled_from(("DAILY", "WEEKLY", "MONTHLY", "YEARLY")),
    parts=st.fixed_dictionaries({}, optional=PARTS),
    end=st.sampled_from(("", ";COUNT=7", ";UNTIL=20270301T120000Z")),
    day=st.dates(dt.date(2025, 1, 1), dt.date(2027, 2, 1)),
)
@settings(max_examples=80, deadline=None)
def test_any_rule_that_is_followed_expands_as_dateutil_expands_it(
    frequency: str, parts: dict[str, str], end: str, day: dt.date
) -> None:
    """Within the season the instants are the same, those before and after it are not given."""
    rule = f"FREQ={frequency}" + "".join(f";{k}={v}" for k, v in parts.items()) + end
    start = dt.datetime.combine(day, dt.time(18), dt.UTC)
    if fault_of(rule, day) is not None:
        return
    first = dt.datetime.combine(WINTER.first, dt.time(), dt.UTC)
    last = dt.datetime.combine(WINTER.last, dt.time(22, 59), dt.UTC)
    theirs = set(rrulestr(rule, dtstart=start).between(first, last, inc=True))
    # A rule that its own start does not obey includes that start all the same (RFC 5545, 3.8.5.3).
    theirs |= {start} if first <= start <= last else set()
    reading = read(event(f"DTSTART:{start:%Y%m%dT%H%M%SZ}", f"RRULE:{rule}"))

    found = sorted(one.key.partition("/")[2] for one in reading.found)
    assert found == sorted(f"{one:%Y%m%dT%H%M%SZ}" for one in theirs)
