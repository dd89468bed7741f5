"""Entries as iCalendar (RFC 5545, RFC 7986); the `icalendar` library does the writing."""

import datetime as dt
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from zoneinfo import ZoneInfo

from icalendar import Alarm, Calendar, Event, vDDDTypes, vDuration, vText

from curriculum.ledger import Published
from curriculum.outputs.ical.entries import Entry
from curriculum.outputs.ical.texts import calendar_name
from curriculum.outputs.ical.zones import timezone_component

COLOUR = "teal"
COLOUR_CODE = "#008080"
REFRESH = dt.timedelta(hours=1)
DAY = dt.timedelta(days=1)


@dataclass(frozen=True)
class Dated:
    """An entry with its bookkeeping.

    struck: whether its status says that it is cancelled; a view may show the words alone.
    """

    entry: Entry
    published: Published
    struck: bool


def feed_bytes(name: str, zone_name: str, dated: Sequence[Dated]) -> bytes:
    """Return a whole calendar as a client subscribes to it."""
    calendar = _calendar()
    title = calendar_name(name)
    # Two names, because older clients read only the second.
    calendar.add("NAME", vText(title))
    calendar.add("X-WR-CALNAME", vText(title))
    calendar.add("X-WR-TIMEZONE", vText(zone_name))
    calendar.add("COLOR", vText(COLOUR))
    calendar.add("X-APPLE-CALENDAR-COLOR", vText(COLOUR_CODE))
    refresh = vDuration(REFRESH)
    refresh.params["VALUE"] = "DURATION"
    calendar.add("REFRESH-INTERVAL", refresh)
    calendar.add("X-PUBLISHED-TTL", vDuration(REFRESH))
    if dated:
        calendar.add("LAST-MODIFIED", max(one.published.last_modified for one in dated))
    return _filled(calendar, dated)


def object_bytes(dated: Dated) -> bytes:
    """Return one entry as a CalDAV server stores it: a calendar object of its own (RFC 4791)."""
    return _filled(_calendar(), [dated])


def _calendar() -> Calendar:
    calendar = Calendar()
    calendar.add("VERSION", "2.0")
    release = ".".join(version("curriculum").split(".")[:2])
    calendar.add("PRODID", f"-//curriculum//Schedule {release}//EN")
    calendar.add("CALSCALE", "GREGORIAN")
    return calendar


def _filled(calendar: Calendar, dated: Sequence[Dated]) -> bytes:
    events = [_event(one) for one in dated]
    for zone_name in sorted({event["DTSTART"].params.get("TZID", "") for event in events} - {""}):
        first = min(one.entry.date for one in dated)
        last = max(one.entry.until for one in dated)
        calendar.add_component(timezone_component(zone_name, *_years(first, last)))
    for event in events:
        calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


def _years(first: dt.date, last: dt.date) -> tuple[dt.date, dt.date]:
    # Whole years, so that the first event of a season does not decide what its zone looks like.
    return dt.date(first.year, 1, 1), dt.date(last.year, 12, 31)


def _event(dated: Dated) -> Event:
    entry, book = dated.entry, dated.published
    event = Event()
    event.add("UID", entry.uid)
    event.add("DTSTAMP", book.last_modified)
    event.add("CREATED", book.created)
    event.add("LAST-MODIFIED", book.last_modified)
    event.add("SEQUENCE", book.sequence)
    for name, moment in zip(("DTSTART", "DTEND"), _times(entry), strict=True):
        event.add(name, moment)
    event.add("SUMMARY", entry.summary)
    optional = {"LOCATION": entry.location, "DESCRIPTION": entry.description, "URL": entry.url}
    for name, text in optional.items():
        if text:
            event.add(name, text)
    event.add("CATEGORIES", [entry.category])
    event.add("STATUS", "CANCELLED" if dated.struck else "CONFIRMED")
    free = entry.cancelled or entry.kind == "closure"
    event.add("TRANSP", "TRANSPARENT" if free else "OPAQUE")
    event.add("CLASS", "PUBLIC")
    if entry.alarm is not None and not entry.cancelled:
        event.add_component(_alarm(entry))
    return event


def _alarm(entry: Entry) -> Alarm:
    alarm = Alarm()
    alarm.add("ACTION", "DISPLAY")
    alarm.add("TRIGGER", -dt.timedelta(minutes=entry.alarm or 0))
    alarm.add("DESCRIPTION", entry.summary)
    alarm.add("UID", str(uuid.uuid5(uuid.UUID(entry.uid), "alarm")))
    return alarm


def _times(entry: Entry) -> Iterable[vDDDTypes]:
    if entry.start is None or entry.end is None:
        return vDDDTypes(entry.date), vDDDTypes(entry.until + DAY)
    zone = ZoneInfo(entry.zone)
    begin = dt.datetime.combine(entry.date, entry.start, zone)
    end = dt.datetime.combine(entry.until, entry.end, zone)
    if _plain(begin) and _plain(end):
        return vDDDTypes(begin), vDDDTypes(end)
    # A time that the clock skips or shows twice cannot be told by zone and wall clock.
    return vDDDTypes(begin.astimezone(dt.UTC)), vDDDTypes(end.astimezone(dt.UTC))


def _plain(moment: dt.datetime) -> bool:
    return moment.utcoffset() == moment.replace(fold=1).utcoffset()
