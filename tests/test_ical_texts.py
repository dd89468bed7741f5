"""Any text whatever goes through every field of a calendar and comes back as it was meant."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from curriculum.ledger import Ledger
from curriculum.models.calendars import CalendarOut
from curriculum.models.gymtimes import Venue
from curriculum.outputs.ical.feed import calendar_bytes
from curriculum.outputs.ical.lint import lint
from curriculum.outputs.ical.texts import calendar_name, clean, one_line
from tests.ical_season import LIBRARY, NOW, closure, cup, lost, plan, practice, season

NASTY = st.one_of(
    st.text(max_size=60),
    st.text(alphabet=",;:\\\"'\r\n\t\x00\x07\u2028\u2029\ufeff🏀Żé한", max_size=60),
    st.sampled_from(["x" * 300, "🏀" * 75, "\r\nEND:VEVENT\r\nBEGIN:VEVENT", "=cmd|' /C calc'!A0"]),
)
FIELD = NASTY.map(lambda text: f"a{text}"[:290].strip())


@given(words=st.lists(FIELD, min_size=7, max_size=7))
def test_every_field_carries_any_text(words: list[str]) -> None:
    """The bytes are sound, and the library reads back each title, place and description."""
    team, venue, address, bring, opponent, reason, why = words
    of = season(
        name=team,
        calendar_out=CalendarOut(bring=(bring,), closures=True, alarm=30),
        game=(cup(opponent=opponent, address=address),),
    )
    of = of.model_copy(update={"venue": (Venue(id="north-gym", name=venue),)})
    planned = plan(practice("01-13"), practice("01-15"), of=of)
    _, ledger = calendar_bytes(planned, of, LIBRARY, Ledger(season="x"), NOW)
    planned = plan(
        practice("01-13"),
        of=of,
        not_held=(lost("01-15", why),),
        closures=(closure("02-15", "02-19", reason),),
    )
    data, _ = calendar_bytes(planned, of, LIBRARY, ledger, NOW)
    found = lint(data)
    read = Calendar.from_ical(data).events

    assert found == ()
    assert [str(event["SUMMARY"]) for event in read] == [
        one_line(f"{team}: practice"),
        f"CANCELLED: {one_line(f'{team}: practice')}",
        one_line(f"{team}: game at {opponent}"),
        one_line(f"{team}: no practice ({reason})"),
    ]
    assert str(read[0]["DESCRIPTION"]) == clean(f"Bring: {bring}.")
    assert str(read[2].get("LOCATION", "")) == one_line(address)


@given(NASTY)
def test_clean_text_holds_no_control_characters_and_stays_clean(text: str) -> None:
    """Cleaning twice is cleaning once, and only line feeds are left."""
    once = clean(text)

    assert clean(once) == once
    assert {sign for sign in once if unicodedata.category(sign) == "Cc"} <= {"\n"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a\r\nb\rc\u2028d", "a\nb\nc\nd"),
        ("a\tb\x00c\x85d", "a bcd"),
        ("e\u0301", "\u00e9"),
        ("\ud800x", "x"),
    ],
)
def test_clean_text(text: str, expected: str) -> None:
    """Line breaks of every kind are one kind, control characters go, letters are composed."""
    assert clean(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Under-12, girls; north\\east\n2027", "Under-12 girls north east 2027"),
        ("x" * 100, "x" * 80),
        (";,", "Calendar"),
    ],
)
def test_a_calendars_name_needs_no_escape(text: str, expected: str) -> None:
    """Clients show the backslashes of an escaped name, so it holds nothing to escape."""
    assert calendar_name(text) == expected
