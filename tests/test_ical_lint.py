"""The lint finds each fault that clients have been seen to stumble over, and nothing in ours."""

import pytest

from curriculum.ledger import Ledger
from curriculum.outputs.ical.feed import calendar_bytes
from curriculum.outputs.ical.lint import lint
from tests.ical_season import LIBRARY, NOW, plan, practice, season

SOUND, _ = calendar_bytes(
    plan(practice("01-13")), season(name="Żółw " * 20), LIBRARY, Ledger(season="x"), NOW
)
EVENT = SOUND[SOUND.index(b"BEGIN:VEVENT") : SOUND.index(b"END:VEVENT") + 12]


def test_our_own_bytes_are_sound() -> None:
    """Long names of two-byte letters are folded between letters."""
    assert lint(SOUND) == ()


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        (b"VERSION:2.0\r\n", b"", "VCALENDAR lacks VERSION"),
        (b"\r\nUID:", b"\r\nX-UID:", "VEVENT lacks UID"),
        (b"CLASS:PUBLIC", b"CLASS:" + b"X" * 70, "has 76 octets"),
        (b"\r\nCLASS", b"\nCLASS", "control character"),
        (b"CLASS:PUBLIC", b"CLASS:PUB\x00LIC", "control character"),
        (b"END:VTIMEZONE\r\n", b"", "closes nothing"),
        (b"END:VCALENDAR\r\n", b"", "never closed"),
        (b"TZID:Europe/Dublin", b"TZID:Europe/London", "TZID Europe/Dublin has no VTIMEZONE"),
        (b";VALUE=DURATION", b"", "REFRESH-INTERVAL lacks VALUE=DURATION"),
        (b"DTSTART;TZID=Europe/Dublin:2027", b"DTSTART:2027", "floating DTSTART"),
        (b"20270113T184500", b"20270113T173000", "ends before it has lasted"),
        (b"STATUS:CONFIRMED", b"STATUS:Confirmed", "unknown STATUS"),
        (b"SEQUENCE:0", b"SEQUENCE:none", "SEQUENCE is no INTEGER"),
        (b"SEQUENCE:0", b"SEQUENCE:0\r\nSEQUENCE:1", "has SEQUENCE 2 times"),
        (b"North Gym\\,", b"North Gym;", "LOCATION is no TEXT"),
        (b"DTSTAMP:20270105T090000Z", b"DTSTAMP:20270105T090000", "DTSTAMP is no UTC"),
        (b"END:VCALENDAR\r\n", EVENT + b"END:VCALENDAR\r\n", "two events share the UID"),
        (b"BEGIN:VCALENDAR", b"BEGIN:VCARD", "not exactly one VCALENDAR"),
        (b"CLASS:PUBLIC", b"CLASS PUBLIC", "not a content line"),
        (b"CLASS:PUBLIC", b"CLASS:\xff", "not UTF-8"),
    ],
)
def test_each_fault_is_found(old: bytes, new: bytes, found: str) -> None:
    """One thing is broken at a time, and named."""
    broken = SOUND.replace(old, new)

    assert broken != SOUND
    assert [fault for fault in lint(broken) if found in fault] != []


def test_a_letter_that_is_folded_apart_is_found() -> None:
    """RFC 5545 allows it, but several readers then show two broken letters."""
    broken = SOUND.replace("Ż".encode(), b"\xc5\r\n \xbb", 1)

    assert [fault for fault in lint(broken) if "within a character" in fault] != []


def test_nothing_at_all_is_no_calendar() -> None:
    """An empty answer would wipe a phone's calendar, so it is never sound."""
    assert lint(b"") == ("the last line does not end in CRLF", "not exactly one VCALENDAR")
