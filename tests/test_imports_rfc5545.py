"""RFC 5545's own examples of recurrence (section 3.8.5.3), expanded as the standard lists them.

Every example that stays within days is here, with the standard's DTSTART and zone; those that
repeat within an hour are refused by design. Each is also held against dateutil.
"""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from dateutil.rrule import rrulestr

from curriculum.gym.imports.expand import Window
from tests.ical_import import event, read

ZONE = "America/New_York"

EXAMPLES: tuple[tuple[str, str, str], ...] = (
    ("19970902", "FREQ=DAILY;COUNT=10", "1997: 9/2-11"),
    (
        "19970902",
        "FREQ=DAILY;UNTIL=19971224T000000Z",
        "1997: 9/2-30 10/1-31 11/1-30 12/1-23",
    ),
    ("19970902", "FREQ=DAILY;INTERVAL=10;COUNT=5", "1997: 9/2 9/12 9/22 10/2 10/12"),
    (
        "19980101",
        "FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA",
        "1998: 1/1-31 1999: 1/1-31 2000: 1/1-31",
    ),
    (
        "19980101",
        "FREQ=DAILY;UNTIL=20000131T140000Z;BYMONTH=1",
        "1998: 1/1-31 1999: 1/1-31 2000: 1/1-31",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;COUNT=10",
        "1997: 9/2 9/9 9/16 9/23 9/30 10/7 10/14 10/21 10/28 11/4",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;UNTIL=19971224T000000Z",
        (
            "1997: 9/2 9/9 9/16 9/23 9/30 10/7 10/14 10/21 10/28 11/4 11/11 11/18 11/25 12/2 12/9"
            " 12/16 12/23"
        ),
    ),
    (
        "19970902",
        "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH",
        "1997: 9/2 9/4 9/9 9/11 9/16 9/18 9/23 9/25 9/30 10/2",
    ),
    (
        "19970902",
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        "1997: 9/2 9/4 9/9 9/11 9/16 9/18 9/23 9/25 9/30 10/2",
    ),
    (
        "19970901",
        "FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR",
        (
            "1997: 9/1 9/3 9/5 9/15 9/17 9/19 9/29 10/1 10/3 10/13 10/15 10/17 10/27 10/29 10/31"
            " 11/10 11/12 11/14 11/24 11/26 11/28 12/8 12/10 12/12 12/22"
        ),
    ),
    (
        "19970902",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        "1997: 9/2 9/4 9/16 9/18 9/30 10/2 10/14 10/16",
    ),
    (
        "19970905",
        "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
        "1997: 9/5 10/3 11/7 12/5 1998: 1/2 2/6 3/6 4/3 5/1 6/5",
    ),
    (
        "19970905",
        "FREQ=MONTHLY;UNTIL=19971224T000000Z;BYDAY=1FR",
        "1997: 9/5 10/3 11/7 12/5",
    ),
    (
        "19970907",
        "FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU",
        "1997: 9/7 9/28 11/2 11/30 1998: 1/4 1/25 3/1 3/29 5/3 5/31",
    ),
    (
        "19970922",
        "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
        "1997: 9/22 10/20 11/17 12/22 1998: 1/19 2/16",
    ),
    (
        "19970902",
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15",
        "1997: 9/2 9/15 10/2 10/15 11/2 11/15 12/2 12/15 1998: 1/2 1/15",
    ),
    (
        "19970930",
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
        "1997: 9/30 10/1 10/31 11/1 11/30 12/1 12/31 1998: 1/1 1/31 2/1",
    ),
    (
        "19970910",
        "FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15",
        "1997: 9/10-15 1999: 3/10-13",
    ),
    (
        "19970610",
        "FREQ=YEARLY;COUNT=10;BYMONTH=6,7",
        "1997: 6/10 7/10 1998: 6/10 7/10 1999: 6/10 7/10 2000: 6/10 7/10 2001: 6/10 7/10",
    ),
    (
        "19970310",
        "FREQ=YEARLY;INTERVAL=2;COUNT=10;BYMONTH=1,2,3",
        "1997: 3/10 1999: 1/10 2/10 3/10 2001: 1/10 2/10 3/10 2003: 1/10 2/10 3/10",
    ),
    (
        "19970101",
        "FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200",
        "1997: 1/1 4/10 7/19 2000: 1/1 4/9 7/18 2003: 1/1 4/10 7/19 2006: 1/1",
    ),
    (
        "19970805",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",
        "1997: 8/5 8/10 8/19 8/24",
    ),
    (
        "19970805",
        "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU",
        "1997: 8/5 8/17 8/19 8/31",
    ),
    ("19970904", "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "1997: 9/4 10/7 11/6"),
    (
        "20070115",
        "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
        "2007: 1/15 1/30 2/15 3/15 3/30",
    ),
)
"""Examples that end: first date at 09:00, rule, and the dates that the standard lists."""

ENDLESS: tuple[tuple[str, str, str, str], ...] = (
    ("19970902", "FREQ=DAILY;INTERVAL=2", "1997-09-12", "1997: 9/2 9/4 9/6 9/8 9/10 9/12"),
    (
        "19970902",
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU",
        "1998-02-16",
        "1997: 9/2 9/16 9/30 10/14 10/28 11/11 11/25 12/9 12/23 1998: 1/6 1/20 2/3",
    ),
    (
        "19970928",
        "FREQ=MONTHLY;BYMONTHDAY=-3",
        "1998-02-28",
        "1997: 9/28 10/29 11/28 12/29 1998: 1/29 2/26",
    ),
    (
        "19970902",
        "FREQ=MONTHLY;INTERVAL=2;BYDAY=TU",
        "1998-03-31",
        (
            "1997: 9/2 9/9 9/16 9/23 9/30 11/4 11/11 11/18 11/25 1998: 1/6 1/13 1/20 1/27 3/3 3/10"
            " 3/17 3/24 3/31"
        ),
    ),
    ("19970519", "FREQ=YEARLY;BYDAY=20MO", "1999-12-31", "1997: 5/19 1998: 5/18 1999: 5/17"),
    (
        "19970512",
        "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO",
        "1999-12-31",
        "1997: 5/12 1998: 5/11 1999: 5/17",
    ),
    (
        "19970313",
        "FREQ=YEARLY;BYMONTH=3;BYDAY=TH",
        "1999-12-31",
        "1997: 3/13 3/20 3/27 1998: 3/5 3/12 3/19 3/26 1999: 3/4 3/11 3/18 3/25",
    ),
    (
        "19970605",
        "FREQ=YEARLY;BYDAY=TH;BYMONTH=6,7,8",
        "1997-12-31",
        "1997: 6/5 6/12 6/19 6/26 7/3 7/10 7/17 7/24 7/31 8/7 8/14 8/21 8/28",
    ),
    (
        "19970913",
        "FREQ=MONTHLY;BYDAY=SA;BYMONTHDAY=7,8,9,10,11,12,13",
        "1998-06-30",
        "1997: 9/13 10/11 11/8 12/13 1998: 1/10 2/7 3/7 4/11 5/9 6/13",
    ),
    (
        "19961105",
        "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",
        "2004-12-31",
        "1996: 11/5 2000: 11/7 2004: 11/2",
    ),
    (
        "19970929",
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1998-03-31",
        "1997: 9/29 10/30 11/27 12/30 1998: 1/29 2/26 3/30",
    ),
)
"""Examples without end, up to the last date that the standard lists."""

FRIDAYS = "1998: 2/13 3/13 11/13 1999: 8/13 2000: 10/13"


def listed(text: str) -> list[dt.date]:
    """Return the dates of a list such as `1997: 9/2-11 10/1 1998: 1/2`."""
    dates, year = [], 0
    for word in text.split():
        if word.endswith(":"):
            year = int(word[:-1])
            continue
        month, _, days = word.partition("/")
        first, _, last = days.partition("-")
        numbers = range(int(first), int(last or first) + 1)
        dates += [dt.date(year, int(month), number) for number in numbers]
    return dates


def expanded(*lines: str, until: str = "2010-12-31") -> list[dt.datetime]:
    """Return every start of one event up to a date."""
    window = Window(dt.date(1996, 1, 1), dt.date.fromisoformat(until), ZONE, ZONE)
    reading = read(event(*lines), window=window)
    assert (reading.remarks, reading.skipped) == ((), ())
    return [one.start for one in reading.found]


@pytest.mark.parametrize(("first", "rule", "dates"), EXAMPLES)
def test_an_example_that_ends(first: str, rule: str, dates: str) -> None:
    """The dates are those of the standard, each at nine in the morning."""
    found = expanded(f"DTSTART;TZID={ZONE}:{first}T090000", f"RRULE:{rule}")

    assert found == [dt.datetime.combine(date, dt.time(9)) for date in listed(dates)]


@pytest.mark.parametrize(("first", "rule", "until", "dates"), ENDLESS)
def test_an_example_without_end(first: str, rule: str, until: str, dates: str) -> None:
    """The dates up to the last one listed are those of the standard."""
    found = expanded(f"DTSTART;TZID={ZONE}:{first}T090000", f"RRULE:{rule}", until=until)

    assert found == [dt.datetime.combine(date, dt.time(9)) for date in listed(dates)]


def test_every_friday_the_thirteenth() -> None:
    """The example that leaves its own first date out."""
    found = expanded(
        f"DTSTART;TZID={ZONE}:19970902T090000",
        f"EXDATE;TZID={ZONE}:19970902T090000",
        "RRULE:FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13",
        until="2000-12-31",
    )

    assert found == [dt.datetime.combine(date, dt.time(9)) for date in listed(FRIDAYS)]


def test_every_twenty_minutes_of_a_working_day() -> None:
    """Twenty-four times a day is the most that is followed; the standard's example has that."""
    found = expanded(
        f"DTSTART;TZID={ZONE}:19970902T090000",
        "RRULE:FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,20,40",
        until="1997-09-02",
    )
    first = dt.datetime.combine(dt.date(1997, 9, 2), dt.time(9))

    assert found == [first + dt.timedelta(minutes=20 * n) for n in range(24)]


@pytest.mark.parametrize(("first", "rule"), [(e[0], e[1]) for e in (*EXAMPLES, *ENDLESS)])
def test_the_examples_agree_with_dateutil(first: str, rule: str) -> None:
    """An independent expander gives the same instants, summer time and all."""
    start = dt.datetime.strptime(f"{first}T09", "%Y%m%dT%H").replace(tzinfo=ZoneInfo(ZONE))
    begin, end = (dt.datetime(year, 1, 1, tzinfo=ZoneInfo(ZONE)) for year in (1996, 2003))
    theirs = rrulestr(rule, dtstart=start).between(begin, end, inc=True)
    found = expanded(f"DTSTART;TZID={ZONE}:{first}T090000", f"RRULE:{rule}", until="2002-12-31")

    assert found == [one.replace(tzinfo=None) for one in theirs]
