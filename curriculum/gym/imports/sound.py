"""Foreign entries brought into a form that libraries read alike; what cannot be is skipped."""

import datetime as dt
import hashlib
import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from curriculum.gym.imports.found import Skipped
from curriculum.gym.imports.lines import MOST_DATES, Line, Part
from curriculum.gym.imports.rules import bounded, fault_of
from curriculum.gym.imports.zones import Zones
from curriculum.spans import DAY

MOMENT = re.compile(r"(\d{4})(\d{2})(\d{2})(?:T(\d{2})(\d{2})(\d{2})(Z?))?")
DURATION = re.compile(r"\+?P(\d{1,4}W|(\d{1,4}D)?(T(\d{1,4}H)?(\d{1,5}M)?(\d{1,6}S)?)?)")
YEARS = range(1970, 2101)
LINE_MARK = "X-CURRICULUM-LINE"
VERSION = {"SEQUENCE": re.compile(r"\d{1,9}"), "LAST-MODIFIED": re.compile(r"\d{8}T\d{6}Z")}
PLAIN = ("SUMMARY", "LOCATION", "STATUS", "TRANSP")


class Sound:
    """Takes the entries of calendars one by one; keeps remarks and what was skipped."""

    def __init__(self) -> None:
        self.skipped: list[Skipped] = []
        self.remarks: list[tuple[int, str]] = []
        self._numbers: set[tuple[str, int]] = set()

    def calendar(self, calendar: Part, zones: Zones) -> Part:
        """Return a calendar with nothing in it but sound entries and the zones they need."""
        events = [part for part in calendar.parts if part.name == "VEVENT"]
        sound = [event for event in (self.event(one, zones) for one in events) if event]
        self._dated(sound)
        self.remarks += zones.remarks
        head = [Line(0, "VERSION", (), "2.0"), Line(0, "PRODID", (), "import")]
        if zones.calendar_zone:
            head.append(Line(0, "X-WR-TIMEZONE", (), zones.calendar_zone))
        described = [zones.described[name] for name in sorted(zones.described)]
        return Part("VCALENDAR", calendar.number, head, [*described, *sound])

    def event(self, event: Part, zones: Zones) -> Part | None:
        """Return an entry with only what is understood; None when it was skipped."""
        start = event.first("DTSTART")
        moment = self._moment(start, zones) if start else None
        if start is None or moment is None:
            found = f"DTSTART is {start.value[:30]!r}" if start else "no DTSTART"
            self._skip(event, f"its start is not understood: {found}")
            return None
        whole = moment.parameter("VALUE") == "DATE"
        lines = [Line(event.number, LINE_MARK, (), f"{event.number}")]
        lines += self._times(event, moment, zones)
        lines += self._repeats(event, zones, _day(moment), whole=whole)
        lines += [line for name in PLAIN if (line := event.first(name)) is not None]
        lines += [
            line
            for name, form in VERSION.items()
            if (line := event.first(name)) and form.fullmatch(line.value.strip())
        ]
        return Part("VEVENT", event.number, [self._uid(event, moment), *lines])

    def _dated(self, events: Sequence[Part]) -> None:
        """Let a replacement that names only a date replace what its series has on that date."""
        starts = {
            event.value("UID"): start
            for event in events
            if event.first("RECURRENCE-ID") is None and (start := event.first("DTSTART"))
        }
        for event in events:
            replaced, start = event.first("RECURRENCE-ID"), starts.get(event.value("UID"))
            if replaced is None or start is None or replaced.parameter("VALUE") != "DATE":
                continue
            if start.parameter("VALUE") != "DATE":
                zone = start.parameter("TZID")
                moment = replace(replaced, value=f"{replaced.value}{start.value[8:]}")
                moment = moment.with_parameter("VALUE", None).with_parameter("TZID", zone)
                event.lines = [moment if line is replaced else line for line in event.lines]

    def _uid(self, event: Part, moment: Line) -> Line:
        uid = event.value("UID")
        if not uid:
            words = (moment.value, event.value("DTEND"), event.value("SUMMARY"))
            told = "\n".join((*words, event.value("LOCATION")))
            uid = "none-" + hashlib.sha256(told.encode()).hexdigest()[:20]
        return Line(event.number, "UID", (), uid)

    def _times(self, event: Part, start: Line, zones: Zones) -> list[Line]:
        """Return the start, and the end or length where it states one that makes sense."""
        written, length = event.first("DTEND"), event.first("DURATION")
        if written is not None:
            end = self._moment(written, zones)
            if end is None:
                self._remark(event, f"its end is not understood: {written.value[:30]!r}")
                return [start]
            if end.parameter("VALUE") != start.parameter("VALUE"):
                self._remark(event, "it starts and ends as different kinds of time")
                end = _like(start, end)
                if end.value[:15] <= start.value[:15]:
                    return [start]
            return self._ordered(event, start, end)
        if length is not None:
            text = length.value.strip().upper()
            if DURATION.fullmatch(text) and any(sign.isdigit() for sign in text):
                return [start, Line(length.number, "DURATION", (), text)]
            self._remark(event, f"its length is not understood: {length.value[:30]!r}")
        return [start]

    def _ordered(self, event: Part, start: Line, end: Line) -> list[Line]:
        comparable = start.parameters == end.parameters and start.value[-1:] == end.value[-1:]
        whole = start.parameter("VALUE") == "DATE"
        if start.value == end.value and comparable:
            if not whole:
                self._remark(event, "it ends when it starts; no end taken")
            return [start]
        if comparable and end.value < start.value:
            self._remark(event, "it ends before it starts; the two were taken the other way round")
            return [replace(end, name="DTSTART"), replace(start, name="DTEND")]
        return [start, end]

    def _repeats(self, event: Part, zones: Zones, start: dt.date, *, whole: bool) -> list[Line]:
        lines = []
        for rule in event.every("RRULE"):
            if not rule.value.strip():
                continue
            fault = fault_of(rule.value, start)
            if fault is None and len(event.every("RRULE")) > 4:
                fault = "it has more than four rules"
            if fault is None:
                lines.append(replace(rule, parameters=(), value=bounded(rule.value, whole=whole)))
            else:
                says = (
                    f"it repeats in a way that is not followed ({fault}); only the first is taken"
                )
                self._skip(event, says)
        if event.first("EXRULE") is not None:
            self._remark(event, "its exclusion rule (EXRULE) is not followed")
        for name in ("RDATE", "EXDATE"):
            lines += self._dates(event, event.every(name), zones)
        recurrence = event.first("RECURRENCE-ID")
        if recurrence is not None:
            moment = self._moment(recurrence, zones)
            if moment is None:
                self._remark(
                    event, f"which one it replaces is not understood: {recurrence.value[:30]!r}"
                )
            else:
                later = recurrence.parameter("RANGE") == "THISANDFUTURE"
                lines.append(moment.with_parameter("RANGE", "THISANDFUTURE" if later else None))
        return lines

    def _dates(self, event: Part, written: list[Line], zones: Zones) -> list[Line]:
        values = [replace(line, value=text) for line in written for text in line.value.split(",")]
        if len(values) > MOST_DATES:
            says = f"it names {len(values)} single dates, more than {MOST_DATES}"
            self._skip(event, f"{says}; they are not followed")
            return []
        lines = []
        for value in values:
            moment = (
                self._period(value, zones) if "/" in value.value else self._moment(value, zones)
            )
            if moment is None:
                says = f"a date of {value.name} is not understood: {value.value[:30]!r}"
                self._remark(event, says)
            else:
                lines.append(moment)
        return lines

    def _period(self, line: Line, zones: Zones) -> Line | None:
        first, _, second = line.value.partition("/")
        start = self._moment(replace(line, value=first), zones)
        length = second.strip().upper()
        end = self._moment(replace(line, value=second), zones)
        if start is None or start.parameter("VALUE") == "DATE":
            return None
        if end is not None and end.parameters == start.parameters:
            length = end.value
        elif not DURATION.fullmatch(length):
            return start
        whole = replace(start, value=f"{start.value}/{length}")
        return whole.with_parameter("VALUE", "PERIOD")

    def _moment(self, line: Line, zones: Zones) -> Line | None:
        """Return a date or time with its zone made plain; None when it is neither."""
        text = line.value.strip().upper()
        match = MOMENT.fullmatch(text)
        if match is None or int(match[1]) not in YEARS:
            return None
        try:
            dt.date(int(match[1]), int(match[2]), int(match[3]))
            dt.time(int(match[4] or 0), int(match[5] or 0), int(match[6] or 0))
        except ValueError:
            return None
        plain = replace(line, value=text, parameters=())
        if match[4] is None:
            return plain.with_parameter("VALUE", "DATE")
        return plain if match[7] else plain.with_parameter("TZID", zones.name_of(line))

    def _skip(self, event: Part, why: str) -> None:
        self.skipped.append(Skipped(event.number, event.value("SUMMARY")[:120], why))

    def _remark(self, event: Part, says: str) -> None:
        title = event.value("SUMMARY")[:60]
        self.remarks.append((event.number, f"{title}: {says}" if title else says))

    def unique(self, calendars: Sequence[Part]) -> None:
        """Give entries that share a UID and are none's replacement UIDs of their own, in place.

        Readers keep one of them without a word, and so a closure could be lost. Where such
        entries stand at the same time the one with the highest SEQUENCE is the newest and the
        others go.
        """
        groups: dict[str, list[Part]] = defaultdict(list)
        for event in (part for calendar in calendars for part in calendar.parts):
            if event.name == "VEVENT" and event.first("RECURRENCE-ID") is None:
                groups[event.value("UID")].append(event)
        gone: set[int] = set()
        for uid, group in groups.items():
            gone |= self._apart(uid, group) if len(group) > 1 else set()
        for calendar in calendars:
            calendar.parts = [part for part in calendar.parts if id(part) not in gone]

    def _apart(self, uid: str, group: list[Part]) -> set[int]:
        newest: dict[tuple[str, ...], Part] = {}
        gone: set[int] = set()
        for event in group:
            names = ("DTSTART", "DTEND", "DURATION", "RRULE")
            times = tuple(str(event.first(name)) for name in names)
            other = newest.get(times)
            if other is None or _version(event) >= _version(other):
                newest[times] = event
            lost = other if newest[times] is event else event
            if lost is not None:
                gone.add(id(lost))
                self._skip(lost, f"the same entry stands in the file again: UID {uid[:60]}")
        for number, event in enumerate(newest.values(), start=1):
            if number > 1:
                event.lines[0] = replace(event.lines[0], value=f"{uid}#{number}")
                self._remark(event, f"another entry has its UID {uid[:60]}; both are taken")
        return gone


def _like(start: Line, end: Line) -> Line:
    """Return the end of an entry as the same kind of time as its start."""
    if start.parameter("VALUE") != "DATE":
        return replace(start, name=end.name, value=f"{end.value}T000000{start.value[15:]}")
    after = _day(end) if end.value[9:15] == "000000" else _day(end) + DAY
    return replace(start, name=end.name, value=f"{after:%Y%m%d}")


def _day(moment: Line) -> dt.date:
    return dt.date(int(moment.value[:4]), int(moment.value[4:6]), int(moment.value[6:8]))


def _version(event: Part) -> tuple[int, str]:
    return int(event.value("SEQUENCE") or 0), event.value("LAST-MODIFIED")
