"""The calendars that other projects test themselves with: understood or refused, never a traceback.

The files come with the installed packages icalendar and recurring-ical-events, whose own expansion
is the measure. Where ours differs on purpose, the reason stands here.
"""

import contextlib
import datetime as dt
import importlib.util
import warnings
from collections import Counter
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import icalendar
import pytest
import recurring_ical_events
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.gym.imports.expand import Window, read_calendar
from curriculum.gym.imports.found import RefusedError

ZONE = ZoneInfo("Europe/Dublin")
PACKAGES = ("icalendar", "recurring_ical_events")

DIFFERENT = {
    "bad_rrule_missing_until_event.ics": "a rule with a misspelt UNTIL: they drop the event",
    "end_before_start_event.ics": "swapped times, of which they keep the end's zone",
    "Germany_Holidays.ics": "one-day events with DTEND on the same day last a day, not nothing",
    "example.ics": "one-day events with DTEND on the same day last a day, not nothing",
    "invalid_duration.ics": "an event that lasts longer than the calendar: they drop it",
    "issue_128_only_first_event.ics": "COUNT=-1 is taken by them for endless; we refuse the rule",
    "issue_165_missing_event.ics": "a blank within BYDAY: they drop the event",
    "issue_201_mixed_datetime_and_date.ics": "a start with and an end without time of day",
    "issue_526_calendar_with_different_events.ics": "an unknown zone, which we remark upon",
    "issue_526_calendar_with_event_subset.ics": "an unknown zone, which we remark upon",
    "issue_526_calendar_with_events.ics": "an unknown zone, which we remark upon",
    "issue_526_calendar_with_shuffeled_events.ics": "an unknown zone, which we remark upon",
}
"""Files that we read otherwise than the library on purpose."""


def corpus() -> list[Path]:
    """Return every calendar file within the installed packages."""
    found: list[Path] = []
    for package in PACKAGES:
        spec = importlib.util.find_spec(package)
        for folder in spec.submodule_search_locations or [] if spec else []:
            found += sorted(Path(folder).rglob("*.ics"))
    return found


CORPUS = corpus()
DECADE = Window(dt.date(2015, 1, 1), dt.date(2024, 12, 31), ZONE.key, ZONE.key)


def test_there_is_a_corpus() -> None:
    """The packages bring at least two hundred files, so that the tests below mean something."""
    assert len(CORPUS) > 200


def test_every_file_is_understood_or_refused() -> None:
    """No file raises anything but a refusal, and most are understood."""
    fates: Counter[str] = Counter()
    for path in CORPUS:
        try:
            read_calendar(path.read_bytes(), DECADE)
        except RefusedError as fault:
            fates[fault.says.partition(":")[0]] += 1
        else:
            fates["understood"] += 1

    assert set(fates) <= {
        "understood",
        "this is no calendar file",
        "the file is cut off",
        "its entries would repeat more than 20000 times within the season",
    }
    assert fates["understood"] > 0.7 * len(CORPUS)


def local(moment: dt.date) -> dt.datetime:
    """Return a moment by the clock of the test's zone; dates are midnights."""
    if not isinstance(moment, dt.datetime):
        return dt.datetime.combine(moment, dt.time())
    aware = moment if moment.tzinfo else moment.replace(tzinfo=ZONE)
    return aware.astimezone(ZONE).replace(tzinfo=None, fold=0)


def theirs(data: bytes) -> list[tuple[dt.datetime, dt.datetime]] | None:
    """Return what the library finds within the decade; None when it raises."""
    found: list[tuple[dt.datetime, dt.datetime]] = []
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        try:
            for one in icalendar.Calendar.from_ical(data, multiple=True):
                query = recurring_ical_events.of(one, skip_bad_series=True)
                events: list[Any] = query.between(DECADE.begin, DECADE.end)
                found += [(local(event.start), local(event.end)) for event in events]
        except Exception:  # noqa: BLE001
            return None
    return sorted(found)


def test_expansion_agrees_with_the_library() -> None:
    """Start and end of every entry in ten years are the library's, save the files named above."""
    differing, compared = set(), 0
    for path in CORPUS:
        data = path.read_bytes()
        try:
            reading = read_calendar(data, DECADE)
        except RefusedError:
            continue
        expected = theirs(data)
        ours = sorted((one.start, one.end or one.start) for one in reading.found)
        compared += bool(expected)
        if expected is not None and ours != expected:
            differing.add(path.name)

    assert differing <= set(DIFFERENT)
    assert compared > 100


SMALL = [path.read_bytes() for path in CORPUS if path.stat().st_size < 2_000]


@given(
    data=st.sampled_from(SMALL),
    cuts=st.lists(st.tuples(st.integers(0, 2_000), st.integers(0, 2_000)), max_size=3),
    noise=st.binary(max_size=8),
)
@settings(max_examples=150, deadline=None)
def test_damaged_files_are_understood_or_refused(
    data: bytes, cuts: list[tuple[int, int]], noise: bytes
) -> None:
    """Pieces are copied to other places and noise is put in; nothing but a refusal is raised."""
    for start, length in cuts:
        data = data[:length] + noise + data[start : start + length] + data[length:]
    with contextlib.suppress(RefusedError):
        read_calendar(data, DECADE)


@pytest.mark.parametrize("name", sorted(DIFFERENT))
def test_files_that_differ_are_still_there(name: str) -> None:
    """A reason without its file would hide a new difference."""
    assert name in {path.name for path in CORPUS}
