"""What a foreign calendar says, in every form in which gyms and schools have said it."""

import datetime as dt

import pytest

from curriculum.gym.imports.expand import Window, read_calendar
from curriculum.gym.imports.found import Found, Reading, RefusedError, Skipped
from tests.ical_import import EASTERN, WINTER, calendar, event, read, remarks, times, whys

EVENING = ("DTSTART;TZID=Europe/Dublin:20270113T173000", "DTEND;TZID=Europe/Dublin:20270113T184500")
FLOATING = "times that name no zone were read as Europe/Dublin"


def test_a_single_event_is_found_whole() -> None:
    """Title, place, line and time, by the season's wall clock."""
    place = r"LOCATION:North Gym\, Quay Road"

    assert read(event(*EVENING, place)) == Reading(
        found=(
            Found(
                key="one",
                title="School play",
                line=3,
                start=dt.datetime.fromisoformat("2027-01-13T17:30"),
                end=dt.datetime.fromisoformat("2027-01-13T18:45"),
                place="North Gym, Quay Road",
            ),
        )
    )


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("DTSTART;VALUE=DATE:20270215", "DTEND;VALUE=DATE:20270220"), ["02-15 to 02-20"]),
        (("DTSTART:20270215", "DTEND:20270220"), ["02-15 to 02-20"]),
        (("DTSTART;VALUE=DATE:20270317",), ["03-17 to 03-18"]),
        (("DTSTART;VALUE=DATE:20270317", "DTEND;VALUE=DATE:20270317"), ["03-17 to 03-18"]),
        (("DTSTART;VALUE=DATE:20270317", "DURATION:P2D"), ["03-17 to 03-19"]),
        (("DTSTART:20270113T173000Z", "DURATION:PT90M"), ["01-13 17:30-19:00"]),
        (("DTSTART:20270113T173000Z",), ["01-13 17:30"]),
        (("DTSTART:20270113T230000Z", "DTEND:20270114T010000Z"), ["01-13 23:00-01-14 01:00"]),
        (("DTSTART;TZID=America/New_York:20270113T173000",), ["01-13 22:30"]),
        (("DTSTART;TZID=Eastern Standard Time:20270113T173000",), ["01-13 22:30"]),
        (("DTSTART;TZID=/example.org/20270101/America/New_York:20270113T173000",), ["01-13 22:30"]),
        (('DTSTART;VALUE=DATE-TIME;TZID="Europe/Dublin":20270113T173000',), ["01-13 17:30"]),
        (("dtstart;tzid=Europe/Dublin:20270113t173000",), ["01-13 17:30"]),
        (("DTSTART;TZID=Europe/Dublin:20270113T17\n 3000",), ["01-13 17:30"]),
    ],
)
def test_every_way_to_say_when(lines: tuple[str, ...], expected: list[str]) -> None:
    """Whole days with exclusive end, no end, lengths, zones by their many names; no remark."""
    reading = read(event(*lines))

    assert (times(reading), reading.remarks, reading.skipped) == (expected, (), ())


@pytest.mark.parametrize(
    ("lines", "expected", "remark"),
    [
        (("DTSTART:20270113T173000",), ["01-13 17:30"], FLOATING),
        (
            ("DTSTART;TZID=Foo/Bar:20270113T173000",),
            ["01-13 17:30"],
            "the time zone 'Foo/Bar' is not known; its times were read as Europe/Dublin",
        ),
        (
            ("DTSTART:20270113T184500Z", "DTEND:20270113T173000Z"),
            ["01-13 17:30-18:45"],
            "School play: it ends before it starts; the two were taken the other way round",
        ),
        (
            ("DTSTART:20270113T173000Z", "DTEND:20270113T173000Z"),
            ["01-13 17:30"],
            "School play: it ends when it starts; no end taken",
        ),
        (
            ("DTSTART;VALUE=DATE:20270215", "DTEND:20270219T160000Z"),
            ["02-15 to 02-20"],
            "School play: it starts and ends as different kinds of time",
        ),
        (
            ("DTSTART:20270113T173000Z", "DTEND:soon"),
            ["01-13 17:30"],
            "School play: its end is not understood: 'soon'",
        ),
        (
            ("DTSTART:20270113T173000Z", "DURATION:PT-2H"),
            ["01-13 17:30"],
            "School play: its length is not understood: 'PT-2H'",
        ),
        (
            ("DTSTART:20270113T173000Z", "EXRULE:FREQ=DAILY"),
            ["01-13 17:30"],
            "School play: its exclusion rule (EXRULE) is not followed",
        ),
    ],
)
def test_what_a_file_leaves_open_is_remarked_upon(
    lines: tuple[str, ...], expected: list[str], remark: str
) -> None:
    """The entry is used as told, and one sentence tells how it was read."""
    reading = read(event(*lines))

    assert (times(reading), remarks(reading)) == (expected, [remark])


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        # Weekly over the change to summer time in New York and in Dublin, two weeks apart.
        (
            ("DTSTART;TZID=America/New_York:20270303T120000", "RRULE:FREQ=WEEKLY;COUNT=5"),
            ["03-03 17:00", "03-10 17:00", "03-17 16:00", "03-24 16:00", "03-31 17:00"],
        ),
        # An end that is a mere date includes that day's evening.
        (
            ("DTSTART:20270113T193000Z", "RRULE:FREQ=WEEKLY;UNTIL=20270127"),
            ["01-13 19:30", "01-20 19:30", "01-27 19:30"],
        ),
        (
            ("DTSTART;VALUE=DATE:20270113", "RRULE:FREQ=WEEKLY;UNTIL=20270120T120000Z"),
            ["01-13 to 01-14", "01-20 to 01-21"],
        ),
        (
            (
                "DTSTART:20270113T193000Z",
                "RRULE:FREQ=WEEKLY;COUNT=4",
                "EXDATE:20270120T193000Z",
                "RDATE:20270121T200000Z,20270122T200000Z",
            ),
            [
                *("01-13 19:30", "01-21 20:00", "01-22 20:00", "01-27 19:30"),
                "02-03 19:30",
            ],
        ),
        (
            ("DTSTART:20270113T193000Z", "RDATE;VALUE=PERIOD:20270121T200000Z/PT3H"),
            ["01-13 19:30", "01-21 20:00-23:00"],
        ),
        # A rule that began long ago and names a far end that means "never".
        (
            ("DTSTART:19980107T193000Z", "RRULE:FREQ=MONTHLY;BYDAY=1WE;UNTIL=99991231T000000Z"),
            ["02-03 19:30", "03-03 19:30"],
        ),
        (("DTSTART:20270113T193000Z", "RRULE:"), ["01-13 19:30"]),
        (("DTSTART:20270113T193000Z", "RRULE: FREQ=WEEKLY ; COUNT=1;"), ["01-13 19:30"]),
    ],
)
def test_repetitions(lines: tuple[str, ...], expected: list[str]) -> None:
    """Rules, single dates and exceptions, expanded within the season only."""
    reading = read(event(*lines))

    assert (times(reading), reading.remarks, reading.skipped) == (expected, (), ())


def test_a_moved_and_a_cancelled_repetition() -> None:
    """One of the series is at another time, another does not take place and says so."""
    reading = read(
        event("DTSTART:20270113T193000Z", "RRULE:FREQ=WEEKLY;COUNT=3"),
        event("RECURRENCE-ID:20270120T193000Z", "DTSTART:20270121T200000Z", title="Moved"),
        event("RECURRENCE-ID:20270127T193000Z", "DTSTART:20270127T193000Z", "STATUS:CANCELLED"),
    )

    assert [
        (one.start.strftime("%m-%d %H:%M"), one.title, one.cancelled) for one in reading.found
    ] == [
        ("01-13 19:30", "School play", False),
        ("01-21 20:00", "Moved", False),
        ("01-27 19:30", "School play", True),
    ]


def test_a_replacement_may_name_the_date_alone() -> None:
    """The repetition on that date is replaced, as one is taken out by its date."""
    reading = read(
        event("DTSTART;TZID=Europe/Dublin:20270113T193000", "RRULE:FREQ=WEEKLY;COUNT=3"),
        event("RECURRENCE-ID;VALUE=DATE:20270120", "DTSTART;TZID=Europe/Dublin:20270121T200000"),
    )

    assert times(reading) == ["01-13 19:30", "01-21 20:00", "01-27 19:30"]


def test_an_end_that_is_the_date_of_the_start_is_none() -> None:
    """It is not taken for midnight, so that the entry would begin there."""
    reading = read(event("DTSTART:20270113T193000Z", "DTEND;VALUE=DATE:20270113"))

    assert times(reading) == ["01-13 19:30"]
    assert remarks(reading) == ["School play: it starts and ends as different kinds of time"]


def test_a_zone_with_a_colon_needs_no_quotes() -> None:
    """Some programs write a zone by its difference from UTC and leave the quotes out."""
    zone = EASTERN.replace("TZID:Eastern", "TZID:(UTC-05:00) Eastern")
    reading = read(zone, event("DTSTART;TZID=(UTC-05:00) Eastern:20270113T123000"))

    assert (times(reading), remarks(reading)) == (["01-13 17:30"], [])


@pytest.mark.parametrize("line_break", ["\r\n", "\n"])
def test_a_letter_may_be_folded_in_two(line_break: str) -> None:
    """RFC 5545 section 3.1: some break lines within a character of several bytes."""
    data = calendar(event("DTSTART:20270113T193000Z", title="Caf\u00e9 \u2013 Zo\u00eb"))
    for letter in ("\u00e9", "\u2013", "\u00eb"):
        octets = letter.encode()
        data = data.replace(octets, octets[:1] + f"{line_break} ".encode() + octets[1:])
    reading = read_calendar(data, WINTER)

    assert [one.title for one in reading.found] == ["Caf\u00e9 \u2013 Zo\u00eb"]
    assert remarks(reading) == []


def test_a_change_of_this_and_all_later_repetitions() -> None:
    """RANGE=THISANDFUTURE moves the rest of the series (RFC 5545 section 3.8.4.4)."""
    reading = read(
        event("DTSTART:20270113T193000Z", "RRULE:FREQ=WEEKLY;COUNT=3"),
        event("RECURRENCE-ID;RANGE=THISANDFUTURE:20270120T193000Z", "DTSTART:20270120T203000Z"),
    )

    assert times(reading) == ["01-13 19:30", "01-20 20:30", "01-27 20:30"]


def test_a_repetitions_key_stays_when_the_series_moves_it() -> None:
    """Keys name the original time, so that a second reading finds the same entries."""
    reading = read(
        event("DTSTART:20270113T193000Z", "RRULE:FREQ=WEEKLY;COUNT=2"),
        event("RECURRENCE-ID:20270120T193000Z", "DTSTART:20270121T200000Z"),
    )

    assert [one.key for one in reading.found] == ["one/20270113T193000Z", "one/20270120T193000Z"]


@pytest.mark.parametrize(
    ("rule", "why"),
    [
        ("FREQ=SECONDLY", "it repeats secondly"),
        ("FREQ=DAILY;INTERVAL=0", "INTERVAL is 0, not from 1 to 500"),
        ("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", "no date fits it"),
        ("FREQ=YEARLY;RSCALE=CHINESE", "RSCALE is not understood"),
    ],
)
def test_a_rule_that_is_not_followed_keeps_its_first_time(rule: str, why: str) -> None:
    """The coach is told, and what is certain is kept."""
    reading = read(event("DTSTART:20270113T193000Z", f"RRULE:{rule}"))

    says = f"it repeats in a way that is not followed ({why}); only the first is taken"
    assert (times(reading), whys(reading)) == (["01-13 19:30"], [says])


@pytest.mark.parametrize(
    "start", ["DTSTART:soon", "DTSTART:20271341T000000", "DTSTART:T130000Z", "DTSTART:99990101"]
)
def test_an_event_without_a_sound_start_is_skipped_and_named(start: str) -> None:
    """The others are used; the skipped one has its line and its reason."""
    reading = read(event(start), event(*EVENING, uid="two"))
    value = start.partition(":")[2]

    why = f"its start is not understood: DTSTART is {value!r}"
    assert (times(reading), reading.skipped) == (
        ["01-13 17:30-18:45"],
        (Skipped(3, "School play", why),),
    )


def test_two_events_with_one_uid_are_both_kept() -> None:
    """Readers keep one of them without a word, and a closure would be lost."""
    reading = read(event(*EVENING), event("DTSTART;VALUE=DATE:20270317", title="St Patrick"))

    assert [(one.key, one.title) for one in reading.found] == [
        ("one", "School play"),
        ("one#2", "St Patrick"),
    ]
    assert remarks(reading) == ["St Patrick: another entry has its UID one; both are taken"]


def test_of_two_versions_of_one_event_the_newer_counts() -> None:
    """The same UID at the same time is one event; the higher SEQUENCE is the newer."""
    reading = read(
        event(*EVENING, "SEQUENCE:3", title="New"), event(*EVENING, "SEQUENCE:2", title="Old")
    )

    assert [one.title for one in reading.found] == ["New"]
    assert whys(reading) == ["the same entry stands in the file again: UID one"]


def test_an_event_without_uid_gets_one_from_its_content() -> None:
    """Reading again gives the same key, another event another."""
    parts = [event(*EVENING, title=title).replace("UID:one\n", "") for title in ("A", "B")]
    keys = [[one.key for one in read(*parts).found] for _ in range(2)]

    assert (keys[0] == keys[1], len(set(keys[0]))) == (True, 2)


def test_a_zone_that_only_the_file_describes_is_used() -> None:
    """Rules that begin in 1601, as office programs write them, are followed."""
    reading = read(
        EASTERN,
        event("DTSTART;TZID=Eastern:20270203T120000", "RRULE:FREQ=WEEKLY;INTERVAL=6;COUNT=2"),
    )

    assert (times(reading), reading.remarks) == (["02-03 17:00", "03-17 16:00"], ())


def test_zones_of_one_file_do_not_reach_the_next() -> None:
    """Libraries remember a zone's name; two files may mean different zones by it."""
    brazil = EASTERN.replace("-0400", "-0200").replace("-0500", "-0300")
    start = event("DTSTART;TZID=Eastern:20270203T120000")
    readings = [read(EASTERN, start), read(brazil, start), read(start)]

    assert [times(one) for one in readings] == [["02-03 17:00"], ["02-03 15:00"], ["02-03 12:00"]]


@pytest.mark.parametrize(
    "harm", ["RRULE:FREQ=SECONDLY", "TZOFFSETTO:+9900", "RRULE:FREQ=YEARLY;BYMONTH=99"]
)
def test_a_harmful_zone_is_not_used(harm: str) -> None:
    """A described zone that could run away or makes no sense is treated as unknown."""
    name = harm.partition(":")[0]
    old = next(line for line in EASTERN.splitlines() if line.startswith(name))
    reading = read(EASTERN.replace(old, harm), event("DTSTART;TZID=Eastern:20270203T120000"))

    assert (times(reading), remarks(reading)) == (
        ["02-03 12:00"],
        ["the time zone 'Eastern' is not known; its times were read as Europe/Dublin"],
    )


def test_the_calendars_own_zone_goes_before_the_seasons() -> None:
    """X-WR-TIMEZONE is what times without a zone mean, and what weekly UTC times follow."""
    reading = read(
        "X-WR-TIMEZONE:America/New_York",
        event("DTSTART:20270203T120000"),
        event("DTSTART:20270203T170000Z", "RRULE:FREQ=WEEKLY;INTERVAL=6;COUNT=2", uid="two"),
    )

    assert times(reading) == ["02-03 17:00", "02-03 17:00", "03-17 16:00"]


def test_a_source_may_have_another_zone_than_the_season() -> None:
    """Floating times are read in the zone that the season file gives the source."""
    window = Window(WINTER.first, WINTER.last, "Europe/Dublin", "Europe/Warsaw")

    assert times(read(event("DTSTART:20270203T120000"), window=window)) == ["02-03 11:00"]


def test_several_calendars_in_one_file_all_count() -> None:
    """Exports of several calendars are often glued together."""
    data = calendar(event(*EVENING)) + calendar(event("DTSTART;VALUE=DATE:20270317", uid="two"))

    assert times(read_calendar(data, WINTER)) == ["01-13 17:30-18:45", "03-17 to 03-18"]


@pytest.mark.parametrize(
    ("start", "end", "inside"),
    [
        ("20270110", "20270111", False),
        ("20270110", "20270112", True),
        ("20270404", "20270405", True),
        ("20270405", "20270406", False),
        ("20260101", "20280101", True),
        ("20270111T000000Z", "20270111T010000Z", True),
        ("20270110T230000Z", "20270111T000000Z", False),
        ("20270404T225900Z", "20270404T233000Z", True),
    ],
)
def test_only_the_seasons_own_days_count(start: str, end: str, inside: bool) -> None:
    """The season runs from 11 January to 4 April, both included; the clock is Dublin's."""
    reading = read(event(f"DTSTART:{start}", f"DTEND:{end}"))

    assert (len(reading.found), reading.outside) == (int(inside), int(not inside))


def test_no_calendar_order_matters() -> None:
    """The same events in another order are found alike, but for their lines."""
    parts = [
        event("DTSTART:20270113T193000Z", "RRULE:FREQ=WEEKLY;COUNT=3"),
        event("RECURRENCE-ID:20270120T193000Z", "DTSTART:20270121T200000Z", title="Moved"),
        event("DTSTART;VALUE=DATE:20270317", uid="two"),
        EASTERN,
        event("DTSTART;TZID=Eastern:20270203T120000", uid="three"),
    ]

    assert times(read(*parts)) == times(read(*reversed(parts)))


def test_broken_lines_are_left_out_and_named() -> None:
    """A line without a colon and an END without a BEGIN do no harm."""
    reading = read(event(*EVENING, "Bring your own towel"), "END:VEVENT")

    assert (times(reading), reading.remarks) == (
        ["01-13 17:30-18:45"],
        (
            (8, "not a line of a calendar, left out: 'Bring your own towel'"),
            (10, "END:VEVENT closes nothing and was left out"),
        ),
    )


def test_an_event_that_is_never_closed_is_named() -> None:
    """The event after it is used."""
    reading = read("BEGIN:VEVENT\nUID:open", event(*EVENING))

    assert (times(reading), reading.remarks) == (
        ["01-13 17:30-18:45"],
        ((3, "an entry that is never closed, left out"),),
    )


def test_what_is_no_event_is_counted() -> None:
    """To-dos and alarms are of no use here; the first are counted, the second go without saying."""
    alarm = "BEGIN:VALARM\nTRIGGER:nonsense\nEND:VALARM"
    reading = read(event(*EVENING, alarm), "BEGIN:VTODO\nPRIORITY:\nEND:VTODO")

    assert (times(reading), remarks(reading)) == (
        ["01-13 17:30-18:45"],
        ["1 x VTODO left out, since these are no events"],
    )


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"", "this is no calendar file: it has no BEGIN:VCALENDAR"),
        (b"<html><body>404 Not Found</body></html>", "this is no calendar file"),
        (calendar(event(*EVENING))[:-20], "the file is cut off"),
        (calendar(event(*EVENING))[:-20] + b"\r\n" + calendar(), "a calendar is cut off"),
    ],
)
def test_a_file_that_is_no_whole_calendar_is_refused(data: bytes, says: str) -> None:
    """An error page or half a file must not look like a calendar with few closures."""
    with pytest.raises(RefusedError, match=says):
        read_calendar(data, WINTER)


@pytest.mark.parametrize("coding", ["utf-8-sig", "utf-16", "cp1252"])
def test_every_common_encoding_is_read(coding: str) -> None:
    """A mark at the beginning, or the old encoding of Windows, which is remarked upon."""
    data = calendar(event(*EVENING, title="Fête")).decode().encode(coding)
    reading = read_calendar(data, WINTER)

    assert [one.title for one in reading.found] == ["Fête"]
    assert len(reading.remarks) == (coding == "cp1252")
