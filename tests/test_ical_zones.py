"""The zone rules that calendars carry, held against the zone database."""

import datetime as dt
import io
import zoneinfo
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from dateutil.tz import tzical

from curriculum.outputs.ical.zones import onsets, timezone_component

FIRST, LAST = dt.date(2027, 1, 11), dt.date(2027, 6, 30)


def text_of(zone: str) -> str:
    """Return the VTIMEZONE of a zone as text."""
    written: bytes = timezone_component(zone, FIRST, LAST).to_ical()
    return written.decode().replace("\r\n", "\n")


def test_a_zone_with_summer_time_is_two_yearly_rules() -> None:
    """New York: the onsets stand in the offset before them (RFC 5545 section 3.6.5)."""
    assert text_of("America/New_York") == (
        "BEGIN:VTIMEZONE\n"
        "TZID:America/New_York\n"
        "BEGIN:DAYLIGHT\n"
        "DTSTART:20260308T020000\n"
        "RRULE:FREQ=YEARLY;BYDAY=2SU;BYMONTH=3\n"
        "TZNAME:EDT\n"
        "TZOFFSETFROM:-0500\n"
        "TZOFFSETTO:-0400\n"
        "END:DAYLIGHT\n"
        "BEGIN:STANDARD\n"
        "DTSTART:20261101T020000\n"
        "RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=11\n"
        "TZNAME:EST\n"
        "TZOFFSETFROM:-0400\n"
        "TZOFFSETTO:-0500\n"
        "END:STANDARD\n"
        "END:VTIMEZONE\n"
    )


def test_a_zone_without_summer_time_is_one_offset() -> None:
    """Seoul has the same offset all year."""
    assert text_of("Asia/Seoul") == (
        "BEGIN:VTIMEZONE\n"
        "TZID:Asia/Seoul\n"
        "BEGIN:STANDARD\n"
        "DTSTART:20260101T000000\n"
        "TZNAME:KST\n"
        "TZOFFSETFROM:+0900\n"
        "TZOFFSETTO:+0900\n"
        "END:STANDARD\n"
        "END:VTIMEZONE\n"
    )


def test_a_zone_without_yearly_rules_names_each_onset() -> None:
    """Casablanca changes its clock around Ramadan, which no rule of RFC 5545 tells."""
    text = text_of("Africa/Casablanca")

    assert "RRULE" not in text
    assert [line for line in text.splitlines() if line.startswith("DTSTART")] == [
        "DTSTART:20260101T000000",
        "DTSTART:20260215T030000",
        "DTSTART:20260322T020000",
        "DTSTART:20270207T030000",
        "DTSTART:20270314T020000",
    ]


def probes(zone: ZoneInfo) -> list[dt.datetime]:
    """Return wall-clock times: each noon, and each hour of the days on which the offset changes."""
    noon = dt.datetime.combine(FIRST, dt.time(12), dt.UTC)
    noons = [noon + dt.timedelta(days=n) for n in range((LAST - FIRST).days)]
    moments = list(noons)
    for one, other in pairwise(noons):
        if one.astimezone(zone).utcoffset() != other.astimezone(zone).utcoffset():
            moments += [one + dt.timedelta(hours=n) for n in range(24)]
    return [moment.astimezone(zone).replace(tzinfo=None) for moment in moments]


def test_every_zone_of_the_database_is_told_right() -> None:
    """An independent reader (dateutil) finds the database's offset on every day of the season."""
    wrong = []
    names = sorted(zoneinfo.available_timezones() - {"Factory", "localtime"})
    for name in names:
        zone = ZoneInfo(name)
        read = tzical(io.StringIO(text_of(name))).get(name)
        pairs = [(w.replace(tzinfo=read), w.replace(tzinfo=zone)) for w in probes(zone)]
        if any(one.utcoffset() != other.utcoffset() for one, other in pairs if plain(other)):
            wrong.append(name)

    assert (len(names) > 400, wrong) == (True, [])


def plain(moment: dt.datetime) -> bool:
    """Whether a wall-clock time stands for one moment only."""
    return moment.utcoffset() == moment.replace(fold=1).utcoffset()


@pytest.mark.parametrize(
    ("zone", "expected"),
    [
        ("Europe/Dublin", [(dt.datetime.fromisoformat("2027-03-28T01:00"), 0, 60)]),
        ("Australia/Lord_Howe", [(dt.datetime.fromisoformat("2027-04-04T02:00"), 660, 630)]),
        ("Asia/Seoul", []),
    ],
)
def test_onsets_are_found_to_the_minute(
    zone: str, expected: list[tuple[dt.datetime, int, int]]
) -> None:
    """Half-hour steps too, each by the wall clock before it."""
    begin, end = (dt.datetime.combine(day, dt.time()) for day in (FIRST, LAST))
    minute = dt.timedelta(minutes=1)
    found = onsets(ZoneInfo(zone), begin, end)

    assert [(one.local, one.before // minute, one.after // minute) for one in found] == expected
