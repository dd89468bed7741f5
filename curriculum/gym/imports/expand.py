"""One foreign calendar file as dated entries within a span of dates."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import chain
from typing import Any
from zoneinfo import ZoneInfo

from curriculum.gym.imports.found import Found, Reading, RefusedError, Skipped
from curriculum.gym.imports.lines import Part, Reader, lines_of
from curriculum.gym.imports.octets import decoded
from curriculum.gym.imports.sound import LINE_MARK, Sound
from curriculum.gym.imports.zones import Zones
from curriculum.spans import DAY

MOST_TIMES = 20_000
"""Entries that one file may have within the span, repetitions counted."""
FAULTS = (
    *(ValueError, TypeError, AttributeError, LookupError, ArithmeticError, AssertionError),
    RecursionError,
)
"""What the libraries have been seen to raise on sound text, and what is like it."""
Read = Callable[[str], list[Found]]
TOLD = ("VTODO", "VJOURNAL", "VFREEBUSY", "VEVENT")


@dataclass(frozen=True)
class Window:
    """The dates that are wanted, both included, in a zone.

    fallback: the zone of times that name none.
    """

    first: dt.date
    last: dt.date
    zone: str
    fallback: str

    @property
    def begin(self) -> dt.datetime:
        """The first moment, with its zone."""
        return dt.datetime.combine(self.first, dt.time(), ZoneInfo(self.zone))

    @property
    def end(self) -> dt.datetime:
        """The moment after the last."""
        return dt.datetime.combine(self.last + DAY, dt.time(), ZoneInfo(self.zone))


def read_calendar(data: bytes, window: Window) -> Reading:
    """Return what a calendar file holds within a span of dates.

    Raises:
        RefusedError: It is no calendar, is cut off, or passes a limit.

    """
    text, notes = decoded(data)
    reader = Reader()
    reader.read(text)
    sound = Sound()
    calendars = [
        sound.calendar(calendar, Zones(calendar, window.fallback)) for calendar in reader.calendars
    ]
    sound.unique(calendars)
    _refuse_too_many(calendars, window)
    expansion = _Expansion(window)
    for calendar in calendars:
        expansion.add(calendar)
    left_out = [
        (0, f"{count} x {name} left out, since these are no events")
        for name, count in sorted(reader.unused.items())
        if name in TOLD
    ]
    return Reading(
        found=tuple(sorted(expansion.found, key=lambda one: (one.start, one.line, one.key))),
        skipped=tuple(sorted((*sound.skipped, *expansion.skipped), key=lambda one: one.line)),
        remarks=(
            *((0, note) for note in notes),
            *left_out,
            *_sorted(reader.remarks, sound.remarks),
        ),
        outside=expansion.outside,
    )


def _sorted(*remarks: list[tuple[int, str]]) -> list[tuple[int, str]]:
    return sorted(set(chain(*remarks)))


def _refuse_too_many(calendars: Iterable[Part], window: Window) -> None:
    """Refuse what would repeat too often, by an upper bound that costs nothing."""
    days = (window.last - window.first).days + 1
    total = 0
    for event in (part for calendar in calendars for part in calendar.parts):
        for rule in event.every("RRULE"):
            total += _most_times(rule.value, days)
            if total > MOST_TIMES:
                says = f"its entries would repeat more than {MOST_TIMES} times within the season"
                raise RefusedError(says, line=event.number, way_out="export fewer calendars")


def _most_times(rule: str, days: int) -> int:
    parts = dict(part.split("=", 1) for part in rule.split(";"))
    times = 1
    for name in ("BYHOUR", "BYMINUTE", "BYSECOND"):
        times *= parts.get(name, "").count(",") + 1
    weekly = parts["FREQ"] == "WEEKLY" and (days // 7 + 2) * (parts.get("BYDAY", "").count(",") + 1)
    return times * min(days, weekly or days)


class _Expansion:
    """Collects the times of entries; keys already seen are told apart by their line."""

    def __init__(self, window: Window) -> None:
        self.found: list[Found] = []
        self.skipped: list[Skipped] = []
        self.outside = 0
        self._window = window
        self._zone = ZoneInfo(window.zone)

    def add(self, calendar: Part) -> None:
        """Take in the entries of one calendar, each with every time that it takes place."""
        zones = [part for part in calendar.parts if part.name == "VTIMEZONE"]
        events = [part for part in calendar.parts if part.name == "VEVENT"]
        serial_uids = {one.value("UID") for one in events if _repeats(one)}
        single = [one for one in events if one.value("UID") not in serial_uids]
        serial = [one for one in events if one.value("UID") in serial_uids]
        head = Part(calendar.name, calendar.number, calendar.lines, zones)
        if single:
            self._tried(head, [[one] for one in single], self._singles)
        if serial:
            groups: dict[str, list[Part]] = {}
            for one in serial:
                groups.setdefault(one.value("UID"), []).append(one)
            self._tried(head, list(groups.values()), self._series)

    def _tried(self, head: Part, groups: list[list[Part]], read: Read) -> None:
        """Let the libraries read all groups at once, or else group by group.

        What cannot be read is skipped, never lost. The libraries raise whatever comes up.
        """
        part = Part(head.name, head.number, head.lines, [*head.parts, *chain(*groups)])
        try:
            entries = read(lines_of([part]))
        except FAULTS as fault:
            if len(groups) > 1:
                for group in groups:
                    self._tried(head, [group], read)
            else:
                for event in groups[0]:
                    self._skip(event, f"it cannot be read: {fault}")
            return
        for entry in entries:
            self._take(entry)

    def _singles(self, text: str) -> list[Found]:
        from icalendar import Calendar

        return [self._found(event, repeats=False) for event in Calendar.from_ical(text).events]

    def _series(self, text: str) -> list[Found]:
        import recurring_ical_events
        from icalendar import Calendar

        series = recurring_ical_events.of(Calendar.from_ical(text))
        times = series.between(self._window.begin, self._window.end)
        return [self._found(event, repeats=True) for event in times]

    def _skip(self, event: Part, why: str) -> None:
        self.skipped.append(Skipped(event.number, event.value("SUMMARY")[:120], why[:300]))

    def _take(self, found: Found) -> None:
        begin = dt.datetime.combine(self._window.first, dt.time())
        end = dt.datetime.combine(self._window.last + DAY, dt.time())
        lasts = found.end is not None and begin < found.end
        if found.start < end and (lasts or begin <= found.start):
            self.found.append(found)
        else:
            self.outside += 1

    def _found(self, event: Any, *, repeats: bool) -> Found:
        start = event["DTSTART"].dt
        end = _end(event, start)
        whole = not isinstance(start, dt.datetime)
        begins, ends = self._local(start), None if end is None else self._local(end)
        if ends is not None and ends <= begins:
            ends = None
        uid = _text(event, "UID")
        return Found(
            key=f"{uid}/{event['RECURRENCE-ID'].to_ical().decode()}" if repeats else uid,
            title=" ".join(_text(event, "SUMMARY").split())[:200],
            line=int(_text(event, LINE_MARK)),
            start=begins,
            end=begins + DAY if whole and ends is None else ends,
            whole_days=whole,
            place=" ".join(_text(event, "LOCATION").split())[:300],
            free=_text(event, "TRANSP").strip().upper() == "TRANSPARENT",
            cancelled=_text(event, "STATUS").strip().upper() == "CANCELLED",
        )

    def _local(self, moment: dt.date) -> dt.datetime:
        if not isinstance(moment, dt.datetime):
            return dt.datetime.combine(moment, dt.time())
        return moment.astimezone(self._zone).replace(tzinfo=None, fold=0)


def _repeats(event: Part) -> bool:
    names = ("RRULE", "RDATE", "EXDATE", "RECURRENCE-ID")
    return any(event.first(name) is not None for name in names)


def _end(event: Any, start: dt.date) -> dt.date | None:
    if "DTEND" in event:
        end: dt.date = event["DTEND"].dt
        return end
    if "DURATION" not in event:
        return None
    length: dt.timedelta = event["DURATION"].dt
    if not isinstance(start, dt.datetime):
        return start + dt.timedelta(days=length.days)
    # A length is time that passes, so it is counted in UTC.
    return start.astimezone(dt.UTC) + length


def _text(event: Any, name: str) -> str:
    value = event.get(name, "")
    return str(value[0] if isinstance(value, list) else value)
