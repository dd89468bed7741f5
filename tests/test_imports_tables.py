"""Tables of dates as leagues and gyms send them: every form read, nothing guessed."""

import contextlib
import datetime as dt
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from curriculum.gym.imports.dates import DateError, clock_times, order_of, possible_dates
from curriculum.gym.imports.found import Found, Reading, RefusedError, Skipped
from curriculum.gym.imports.rows import read_rows
from curriculum.models.calendars import CalendarIn
from tests.ical_import import WINTER, remarks, times, whys

FIRST, LAST = WINTER.first, WINTER.last
CELL = st.one_of(
    st.text(alphabet="0123456789/-.: apmtonJanFebMar", max_size=12),
    st.sampled_from(["16/01/2027", "Sat 16/01/2027", "10:00", "5-7 pm", "2027-02-30", "A"]),
)
HEAD = "Date,Time,Home,Away\n"


def table(text: str, **changes: Any) -> Reading:
    """Return what a table of fixtures holds."""
    entry = CalendarIn(**{"file": "league.csv", "means": "games", **changes})
    return read_rows(text.encode(), entry, WINTER)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2027-01-13", {"year-first": "2027-01-13"}),
        ("2027-01-13 17:30:00", {"year-first": "2027-01-13"}),
        ("13/01/2027", {"day-first": "2027-01-13"}),
        ("1/13/27", {"month-first": "2027-01-13"}),
        ("13.1.2027", {"day-first": "2027-01-13"}),
        ("03/04/2027", {"day-first": "2027-04-03", "month-first": "2027-03-04"}),
        ("Sat 03/04/2027", {"day-first": "2027-04-03"}),
        ("Thursday, 03/04/2027", {"month-first": "2027-03-04"}),
    ],
)
def test_a_date_in_numbers_means_what_it_can_mean(text: str, expected: dict[str, str]) -> None:
    """Every order of day and month that gives a date; a weekday rules the wrong one out."""
    found = possible_dates(text, FIRST, LAST).by_order

    assert {order: day.isoformat() for order, day in found.items()} == expected


@pytest.mark.parametrize(
    "text",
    [
        *("13 Jan 2027", "13 January", "Wed 13 Jan", "Jan 13, 2027", "January 13"),
        *("Wednesday, January 13, 2027", "13-Jan-27", "13th January 2027", "13. Jan 2027"),
    ],
)
def test_a_date_with_its_month_in_letters_is_plain(text: str) -> None:
    """Without a year it is the season's."""
    assert possible_dates(text, FIRST, LAST).meanings == (dt.date(2027, 1, 13),)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "'' is no date"),
        ("TBC", "'TBC' is no date"),
        ("31/31/2027", "'31/31/2027' is no date"),
        ("30 Feb 2027", "'30 Feb 2027' is no date"),
        ("13 Ju 2027", "'13 Ju 2027' is no date"),
        ("13/01", "'13/01' is no date"),
        ("Sat 13/01/2027", "'Sat 13/01/2027' contradicts itself: 2027-01-13 is a Wednesday"),
    ],
)
def test_what_is_no_date(text: str, says: str) -> None:
    """A weekday that fits no reading is a contradiction, not a date."""
    with pytest.raises(DateError) as fault:
        possible_dates(text, FIRST, LAST)

    assert str(fault.value) == says


@pytest.mark.parametrize(
    ("texts", "order", "unclear"),
    [
        (["13/01/2027", "03/04/2027"], "day-first", None),
        (["01/13/2027", "03/04/2027"], "month-first", None),
        (["03/04/2027", "05/02/2027"], None, "03/04/2027"),
        (["03/03/2027"], "day-first", None),
        (["2027-01-13"], "year-first", None),
        ([], "day-first", None),
    ],
)
def test_a_column_is_written_in_one_order(
    texts: list[str], order: str | None, unclear: str | None
) -> None:
    """One date that can be read in one way only settles the others; else the question stays."""
    found = order_of([possible_dates(text, FIRST, LAST) for text in texts])

    assert (found[0], found[1] and found[1].text) == (order, unclear)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("17:30", "17:30"),
        ("17.30", "17:30"),
        ("17h30", "17:30"),
        ("17:30:00", "17:30"),
        ("5:30 PM", "17:30"),
        ("5.30pm", "17:30"),
        ("5 p.m.", "17:00"),
        ("12:15 am", "00:15"),
        ("noon", "12:00"),
        ("17:30-19:00", "17:30 19:00"),
        ("17:30 to 19:00", "17:30 19:00"),
        ("5:30-7 pm", "17:30 19:00"),
        ("11-1pm", "11:00 13:00"),
        ("10am – 12", "10:00 12:00"),
    ],
)
def test_a_time_of_day(text: str, expected: str) -> None:
    """The clock of 24 hours, of 12, with or without minutes, and spans."""
    found = " ".join(f"{one:%H:%M}" for one in clock_times(text) if one)

    assert found == expected


@pytest.mark.parametrize("text", ["", "TBC", "7", "7-8", "25:00", "13:00 pm", "530", "1-2-3"])
def test_what_is_no_time_of_day(text: str) -> None:
    """A bare hour could be morning or evening, so it is none."""
    with pytest.raises(DateError, match="is no time of day"):
        clock_times(text)


@pytest.mark.parametrize(
    "text",
    [
        "Date,Time,Home,Away\n16/01/2027,10:00,Kestrel Quay,Harbour Light\n",
        "Date;Time;Home;Away\n16/01/2027;10:00;Kestrel Quay;Harbour Light\n",
        "Date\tTime\tHome\tAway\n16/01/2027\t10:00\tKestrel Quay\tHarbour Light\n",
        "\ufeffDATE,Tip-off,Home team,Away team\n16/01/2027,10:00,Kestrel Quay,Harbour Light\n",
        "Fixtures 2027\n\nMatch date,Time,Home,Away\n2027-01-16,10 am,Kestrel Quay,Harbour Light\n",
        'Date,Time,Home,Away\n"Jan 16, 2027",10:00,Kestrel Quay,Harbour Light\n,,,\n',
    ],
)
def test_every_kind_of_table_is_read(text: str) -> None:
    """Commas, semicolons, tabs; headings after a title, in other words, with a mark before them."""
    reading = table(text)

    assert [(one.home, one.away) for one in reading.found] == [("Kestrel Quay", "Harbour Light")]
    assert (times(reading), reading.skipped) == (["01-16 10:00"], ())


def test_a_row_is_found_whole() -> None:
    """Every column that we know reaches the entry; the line is the row's own."""
    text = (
        "Number,Start date,Start,Minutes,Opponent,Home/Away,Location,Street\n"
        "7,2027-01-16,10:00,80,Harbour Light,A,Light Hall,3 Pier Road\n"
    )

    assert table(text).found == (
        Found(
            key="7",
            title="Harbour Light",
            line=2,
            start=dt.datetime.fromisoformat("2027-01-16T10:00"),
            end=dt.datetime.fromisoformat("2027-01-16T11:20"),
            place="Light Hall",
            address="3 Pier Road",
            side="A",
            opponent="Harbour Light",
        ),
    )


def test_dates_that_could_be_two_are_refused_with_the_question() -> None:
    """The first open date is named with both meanings and the two ways out."""
    with pytest.raises(RefusedError) as fault:
        table(f"{HEAD}03/04/2027,10:00,A,B\n05/02/2027,10:00,A,B\n")

    assert (fault.value.says, fault.value.line, fault.value.way_out) == (
        "03/04/2027 could be 4 March 2027 or 3 April 2027",
        2,
        (
            'write dates = "day-first" or dates = "month-first" in this [[calendar]], '
            "or give --dates with --import"
        ),
    )


@pytest.mark.parametrize(
    ("order", "expected"), [("day-first", "04-03 10:00"), ("month-first", "03-04 10:00")]
)
def test_the_season_file_answers_the_question(order: str, expected: str) -> None:
    """With the order stated, the table is read."""
    assert times(table(f"{HEAD}03/04/2027,10:00,A,B\n", dates=order)) == [expected]


def test_rows_that_make_no_sense_are_skipped_with_their_reasons() -> None:
    """Each has its line; the sound row is used."""
    reading = table(
        f"{HEAD}16/01/2027,10:00,A,B\n,10:00,A,C\n17/01/2027,TBC,A,D\n18/01/2027,7,A,E\n"
        "Sat 19/01/2027,10:00,A,F\n"
    )

    assert (times(reading), reading.skipped) == (
        ["01-16 10:00"],
        (
            Skipped(3, "A - C", "it has no date"),
            Skipped(4, "A - D", "'TBC' is no time of day"),
            Skipped(5, "A - E", "'7' is no time of day"),
            Skipped(6, "A - F", "'Sat 19/01/2027' contradicts itself: 2027-01-19 is a Tuesday"),
        ),
    )


def test_a_date_that_contradicts_the_stated_order_is_skipped() -> None:
    """The thirteenth month is not quietly turned into a day."""
    reading = table(f"{HEAD}01/13/2027,10:00,A,B\n2027-01-14,10:00,A,B\n", dates="day-first")

    assert (times(reading), whys(reading)) == (
        ["01-14 10:00"],
        ["'01/13/2027' is no day-first date"],
    )


def test_closures_may_last_from_day_to_day() -> None:
    """Both days are included; without a time whole days are meant."""
    text = "From,To,Reason\n15/02/2027,19/02/2027,Half-term\n17/03/2027,,St Patrick\n"

    assert times(table(text, means="closures")) == ["02-15 to 02-20", "03-17 to 03-18"]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("2027-01-13 18:00,", "01-13 18:00"),
        ("2027-01-13T18:00:00,", "01-13 18:00"),
        ("13/01/2027 6:30 pm,", "01-13 18:30"),
        ("2027-01-13 18:00-19:30,", "01-13 18:00-19:30"),
        ("2027-01-13 18:00,2027-01-13 20:00", "01-13 18:00-20:00"),
        ("2027-01-13 00:00:00,", "01-13 to 01-14"),
    ],
)
def test_a_time_of_day_may_stand_behind_a_date(row: str, expected: str) -> None:
    """Midnight is what spreadsheets write behind every date."""
    found = table(f"From,To,Reason\n{row},School play\n", means="closures")

    assert (times(found), whys(found)) == ([expected], [])


def test_a_time_behind_a_date_that_is_none_is_no_whole_day() -> None:
    """A zone behind the time is not followed, and so the row is not used."""
    found = table("Date,Reason\n2027-01-13 18:00+05:00,Play\n", means="closures")

    assert (times(found), whys(found)) == ([], ["'18:00+05:00' is no time of day"])


@pytest.mark.parametrize(
    ("length", "expected"),
    [
        ("90", "01-13 18:00-19:30"),
        ("90 minutes", "01-13 18:00-19:30"),
        ("90m", "01-13 18:00-19:30"),
        ("1:30", "01-13 18:00-19:30"),
        ("01:30:00", "01-13 18:00-19:30"),
        ("1h30", "01-13 18:00-19:30"),
        ("1.5 hours", "01-13 18:00-19:30"),
        ("2 h", "01-13 18:00-20:00"),
        ("400", "01-13 18:00-01-14 00:40"),
    ],
)
def test_a_length_is_read_however_it_is_written(length: str, expected: str) -> None:
    """Also one that lasts into the next day."""
    found = table(f"Date,Time,Duration,Reason\n13/01/2027,18:00,{length},Play\n")

    assert (times(found), whys(found), remarks(found)[1:]) == ([expected], [], [])


@pytest.mark.parametrize("length", ["long", "0", "99:00", "2 days"])
def test_a_length_that_is_not_understood_is_told(length: str) -> None:
    """It is not passed over in silence as if none were stated."""
    found = table(f"Date,Time,Duration,Reason\n13/01/2027,18:00,{length},Play\n")

    assert times(found) == ["01-13 18:00"]
    assert remarks(found)[1:] == [f"Play: its length is not understood: {length!r}"]


def test_midnight_ends_a_day() -> None:
    """An end at 00:00 is the end of the day on which it starts."""
    assert times(table("Date,Start,End,Reason\n13/01/2027,20:00,00:00,Play\n")) == [
        "01-13 20:00-01-14 00:00"
    ]


def test_the_headings_say_what_parts_the_cells() -> None:
    """More commas than semicolons in the titles do not make it a table with commas."""
    rows = "13/01/2027;18:00;A, B, C, D and E, all of them, in turn\n" * 3

    assert len(table("Date;Time;Title\n" + rows).found) == 3


def test_a_span_that_ends_before_it_starts_is_skipped() -> None:
    """Neither end is guessed."""
    text = "From,To,Start,End\n15/02/2027,14/02/2027,,\n15/02/2027,,10:00,9:00\n"

    assert whys(table(text, means="closures")) == [
        "it ends on 2027-02-14, before it starts on 2027-02-15",
        "it ends at 2027-02-15 09:00, not after its start",
    ]


def test_headings_may_be_named_in_the_season_file() -> None:
    """The coach says which column is which, in the table's own words."""
    text = "Wann,Uhrzeit,Gegner\n16.01.2027,10:00,Harbour Light\n"
    columns = {"date": "Wann", "start": "Uhrzeit", "opponent": "Gegner"}

    assert [one.opponent for one in table(text, columns=columns).found] == ["Harbour Light"]


@pytest.mark.parametrize(
    ("data", "columns", "says"),
    [
        (b"\n", {}, "the file is empty"),
        (b"some,words\nand,more\n", {}, "no row of headings was found"),
        (b"Date,Time\n", {"title": "Anlass"}, "no heading reads 'Anlass'"),
        (b"PK\x03\x04rest", {}, "this is a spreadsheet file, not text"),
        (b"Date,Time\n" + b"x," * 200, {}, "a row has more than 100 columns"),
        (b"Date,Time\n" + b"1,2\n" * 20_001, {}, "the table has more than 20000 rows"),
        (b'Date,Time\n"' + b"x" * 200_000, {}, "this is no table of text"),
    ],
)
def test_what_is_no_table_is_refused(data: bytes, columns: dict[str, str], says: str) -> None:
    """One sentence, whatever the file."""
    entry = CalendarIn(file="x.csv", means="games", columns=columns)  # type: ignore[arg-type]
    with pytest.raises(RefusedError, match=says):
        read_rows(data, entry, WINTER)


def test_the_table_tells_which_columns_it_understood() -> None:
    """So that a heading that was missed is seen in the preview."""
    assert remarks(table(f"{HEAD}16/01/2027,10:00,A,B\n")) == [
        "columns understood: date, start, home, away"
    ]


def test_a_time_before_seven_is_doubted() -> None:
    """`5:30` alone is half past five in the morning, and the coach is told."""
    reading = table(f"{HEAD}16/01/2027,5:30,A,B\n17/01/2027,5:30 am,A,B\n")

    assert reading.remarks[1:] == ((2, "A - B: 5:30 was read as 05:30 in the morning"),)


def test_a_table_may_be_in_another_zone() -> None:
    """Ten in Warsaw is nine in Dublin."""
    window = replace(WINTER, fallback="Europe/Warsaw")
    entry = CalendarIn(file="x.csv", means="games")
    reading = read_rows(f"{HEAD}16/01/2027,10:00,A,B\n".encode(), entry, window)

    assert times(reading) == ["01-16 09:00"]


def test_rows_outside_the_season_are_counted() -> None:
    """They are neither used nor silently dropped."""
    reading = table(f"{HEAD}16/12/2026,10:00,A,B\n16/01/2027,10:00,A,B\n")

    assert (times(reading), reading.outside) == (["01-16 10:00"], 1)


@given(st.lists(st.lists(CELL, max_size=6).map(",".join), max_size=6).map("\n".join))
@settings(deadline=None)
def test_any_table_is_read_or_refused(rows: str) -> None:
    """Whatever stands in the cells, nothing but a refusal is raised, and no row is lost."""
    text = f"{HEAD}{rows}\n"
    with contextlib.suppress(RefusedError):
        reading = table(text, means="closures")
        filled = [line for line in rows.split("\n") if line.strip(", \t")]
        assert len(reading.found) + len(reading.skipped) + reading.outside == len(filled)
