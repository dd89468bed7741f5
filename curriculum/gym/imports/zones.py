"""The names under which foreign calendars know time zones, as names of the IANA database."""

import datetime as dt
import hashlib
import re
from collections.abc import Iterable
from dataclasses import replace
from typing import cast
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from curriculum.gym.imports.lines import MOST_DATES, Line, Part
from curriculum.gym.imports.rules import fault_of

OFFSET = re.compile(r"[+-]([01]\d|2[0-3])[0-5]\d([0-5]\d)?")
LOCAL = re.compile(r"(19|20)\d{6}T\d{6}")


def zone_or_none(name: str) -> ZoneInfo | None:
    """Return a zone of the IANA database by its exact name, or None."""
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return None


def iana_name(name: str, hint: str = "") -> str | None:
    """Return the database's name for a zone's foreign name, or None.

    hint: another name that the file gives it. Understood are the database's own names, these at
    the end of a longer path (`/example.org/2026/Europe/Dublin`), and the names that Windows uses,
    with the territory that Unicode CLDR gives them first.
    """
    for text in (name, hint):
        plain = text.strip().strip('"')
        if zone_or_none(plain) is not None:
            return plain
        words = plain.strip("/").split("/")
        for count in (3, 2, 1):
            tail = "/".join(words[-count:])
            if plain.startswith("/") and zone_or_none(tail) is not None:
                return tail
    from icalendar.timezone.windows_to_olson import WINDOWS_TO_OLSON

    found = WINDOWS_TO_OLSON.get(name.strip())
    return found if found and zone_or_none(found) is not None else None


class Zones:
    """Gives every zone name of one calendar its meaning; `remarks` tells what was assumed.

    Zones that only the file itself describes keep that description, under a name made of its
    content: libraries remember such names from one file to the next.
    """

    def __init__(self, calendar: Part, fallback: str) -> None:
        own = iana_name(calendar.value("X-WR-TIMEZONE"))
        self.calendar_zone = own
        self.floating = own or fallback
        self.described: dict[str, Part] = {}
        self.remarks: list[tuple[int, str]] = []
        self._known: dict[str, str] = {}
        self._floats = False
        self._definitions = {part.value("TZID"): part for part in calendar.parts}

    def name_of(self, line: Line) -> str:
        """Return the zone of a time that is not in UTC, and remember what had to be assumed."""
        written = line.parameter("TZID")
        if not written:
            if not self._floats:
                self._floats = True
                says = f"times that name no zone were read as {self.floating}"
                self.remarks.append((line.number, says))
            return self.floating
        if written not in self._known:
            self._known[written] = self._meaning(written, line.number)
        return self._known[written]

    def _meaning(self, written: str, number: int) -> str:
        definition = self._definitions.get(written)
        hint = definition.value("X-LIC-LOCATION") if definition else ""
        name = iana_name(written, hint)
        if name is not None:
            return name
        described = _sound(definition) if definition else None
        if described is not None:
            text = "".join(described.text())
            label = f"described-{hashlib.sha256(text.encode()).hexdigest()[:12]}"
            tzid = Line(described.number, "TZID", (), label)
            self.described[label] = replace(described, lines=[tzid])
            return label
        says = (
            f"the time zone {written[:60]!r} is not known; its times were read as {self.floating}"
        )
        self.remarks.append((number, says))
        return self.floating


def _sound(definition: Part) -> Part | None:
    """Return a zone's own description without what could do harm; None when little is left."""
    parts = [part for part in map(_observance, definition.parts) if part is not None]
    if not parts or len(parts) != len(definition.parts) or len(parts) > 200:
        return None
    described = replace(definition, parts=parts)
    return described if _understood(described) else None


def _observance(part: Part) -> Part | None:
    needed = {name: part.first(name) for name in ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO")}
    start, before, after = (needed[name] for name in ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"))
    if start is None or before is None or after is None:
        return None
    rules, dates = part.every("RRULE"), part.every("RDATE")
    offsets = OFFSET.fullmatch(before.value) and OFFSET.fullmatch(after.value)
    yearly = all("FREQ=YEARLY" in rule.value.upper() for rule in rules)
    if not offsets or not yearly or len(rules) > 1 or _many(dates) > MOST_DATES:
        return None
    text = start.value.strip()
    text = f"{text}T000000" if len(text) == len("YYYYMMDD") else text
    # Some begin in 1601. A leap year, since month and day must stay what the rule is about.
    first = replace(start, value=max(text, f"1972{text[4:]}"), parameters=())
    if not LOCAL.fullmatch(first.value) or not _is_moment(first.value):
        return None
    if any(fault_of(rule.value) is not None for rule in rules):
        return None
    return replace(part, lines=[first, before, after, *rules, *dates], parts=[])


def _many(dates: Iterable[Line]) -> int:
    return sum(line.value.count(",") + 1 for line in dates)


def _is_moment(text: str) -> bool:
    try:
        dt.datetime.strptime(text, "%Y%m%dT%H%M%S")  # noqa: DTZ007
    except ValueError:
        return False
    return True


def _understood(described: Part) -> bool:
    """Whether the library can make a zone of it; what it raises otherwise is of many kinds."""
    from icalendar import Timezone

    text = "\r\n".join(described.text())
    try:
        zone = cast("Timezone", Timezone.from_ical(text)).to_tz()
        offset = dt.datetime(2027, 1, 1, tzinfo=zone).utcoffset()
    except (ValueError, TypeError, AttributeError, KeyError, IndexError, OverflowError):
        return False
    return offset is not None
