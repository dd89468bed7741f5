"""Short ways to write foreign calendars and to read them within the winter of 2027."""

import datetime as dt

from curriculum.gym.imports.expand import Window, read_calendar
from curriculum.gym.imports.found import Reading

WINTER = Window(dt.date(2027, 1, 11), dt.date(2027, 4, 4), "Europe/Dublin", "Europe/Dublin")

EASTERN = """\
BEGIN:VTIMEZONE
TZID:Eastern
BEGIN:STANDARD
DTSTART:16011104T020000
RRULE:FREQ=YEARLY;BYDAY=1SU;BYMONTH=11
TZOFFSETFROM:-0400
TZOFFSETTO:-0500
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:16010311T020000
RRULE:FREQ=YEARLY;BYDAY=2SU;BYMONTH=3
TZOFFSETFROM:-0500
TZOFFSETTO:-0400
END:DAYLIGHT
END:VTIMEZONE"""


def event(*lines: str, uid: str = "one", title: str = "School play") -> str:
    """Return an event with these lines."""
    return "\n".join(["BEGIN:VEVENT", f"UID:{uid}", f"SUMMARY:{title}", *lines, "END:VEVENT"])


def calendar(*parts: str) -> bytes:
    """Return a calendar with these components and properties."""
    text = "\n".join(["BEGIN:VCALENDAR", "VERSION:2.0", *parts, "END:VCALENDAR", ""])
    return text.replace("\n", "\r\n").encode()


def read(*parts: str, window: Window = WINTER) -> Reading:
    """Return what a calendar with these parts holds within the winter."""
    return read_calendar(calendar(*parts), window)


def times(reading: Reading) -> list[str]:
    """Return each entry's start and end, the date of the end only where it is another day."""
    return [_words(one.start, one.end, whole=one.whole_days) for one in reading.found]


def _words(start: dt.datetime, end: dt.datetime | None, *, whole: bool) -> str:
    if whole:
        return f"{start:%m-%d} to {end:%m-%d}"
    if end is None:
        return f"{start:%m-%d %H:%M}"
    other_day = "" if end.date() == start.date() else f"{end:%m-%d} "
    return f"{start:%m-%d %H:%M}-{other_day}{end:%H:%M}"


def whys(reading: Reading) -> list[str]:
    """Return why entries were skipped."""
    return [one.why for one in reading.skipped]


def remarks(reading: Reading) -> list[str]:
    """Return the remarks on a file without their lines."""
    return [says for _, says in reading.remarks]
