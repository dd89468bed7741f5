"""Judges the bytes of a calendar against RFC 5545 and RFC 7986 without any calendar library.

It shares no code with the writer, so that a fault of the library that writes is found here.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

WIDTH = 75
"""Octets that a line may have without its line break (RFC 5545 section 3.1)."""
LINE = re.compile(
    r'([A-Za-z0-9-]+)((?:;[A-Za-z0-9-]+=(?:"[^"]*"|[^";:,]*)(?:,(?:"[^"]*"|[^";:,]*))*)*):(.*)'
)
PARAMETER = re.compile(r';([A-Za-z0-9-]+)=((?:"[^"]*"|[^";:])*)')
FORMS = {
    "DATE-TIME": re.compile(r"\d{8}T\d{6}Z?"),
    "DATE": re.compile(r"\d{8}"),
    "UTC": re.compile(r"\d{8}T\d{6}Z"),
    "OFFSET": re.compile(r"[+-]\d{4}(\d{2})?"),
    "DURATION": re.compile(r"[+-]?P(\d+W|\d+D)?(T(?=\d)(\d+H)?(\d+M)?(\d+S)?)?"),
    "INTEGER": re.compile(r"[+-]?\d+"),
    "TEXT": re.compile(r"(?:[^\\,;]|\\[\\,;nN])*"),
    "WORDS": re.compile(r"(?:[^\\;]|\\[\\,;nN])*"),
    "URI": re.compile(r"[A-Za-z][A-Za-z0-9+.-]*:[!-~]+"),
}
PROPERTY_FORMS = {
    "DTSTAMP": "UTC", "CREATED": "UTC", "LAST-MODIFIED": "UTC",
    "SEQUENCE": "INTEGER", "SUMMARY": "TEXT", "DESCRIPTION": "TEXT", "LOCATION": "TEXT",
    "CATEGORIES": "WORDS", "URL": "URI", "UID": "TEXT", "NAME": "TEXT", "X-WR-CALNAME": "TEXT",
    "TZOFFSETFROM": "OFFSET", "TZOFFSETTO": "OFFSET", "TRIGGER": "DURATION",
    "REFRESH-INTERVAL": "DURATION", "X-PUBLISHED-TTL": "DURATION",
}  # fmt: skip
REQUIRED = {
    "VCALENDAR": ("PRODID", "VERSION"),
    "VEVENT": ("UID", "DTSTAMP", "DTSTART"),
    "VTIMEZONE": ("TZID",),
    "STANDARD": ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"),
    "DAYLIGHT": ("DTSTART", "TZOFFSETFROM", "TZOFFSETTO"),
    "VALARM": ("ACTION", "TRIGGER", "DESCRIPTION"),
}
ONCE = frozenset(
    {
        *("PRODID", "VERSION", "CALSCALE", "METHOD", "REFRESH-INTERVAL", "COLOR", "UID", "DTSTAMP"),
        *("DTSTART", "DTEND", "DURATION", "CLASS", "CREATED", "LAST-MODIFIED", "LOCATION", "GEO"),
        *("ORGANIZER", "PRIORITY", "SEQUENCE", "STATUS", "SUMMARY", "TRANSP", "URL", "TZID"),
        *("RECURRENCE-ID", "TZOFFSETFROM", "TZOFFSETTO", "ACTION", "TRIGGER"),
    }
)
STATUS = ("TENTATIVE", "CONFIRMED", "CANCELLED")


@dataclass
class _Component:
    name: str
    lines: list[tuple[str, dict[str, str], str]] = field(default_factory=list)
    parts: list["_Component"] = field(default_factory=list)

    def value(self, name: str) -> str | None:
        return next((value for own, _, value in self.lines if own == name), None)

    def walk(self) -> Iterator["_Component"]:
        yield self
        for part in self.parts:
            yield from part.walk()


def lint(data: bytes) -> tuple[str, ...]:
    """Return everything that is wrong with the bytes of a calendar; empty when nothing is."""
    found = list(_octets(data))
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as fault:
        return (*found, f"not UTF-8 at byte {fault.start}")
    root = _Component("")
    found += _tree(root, text.replace("\r\n ", "").split("\r\n"))
    if [part.name for part in root.parts] != ["VCALENDAR"] or root.lines:
        found.append("not exactly one VCALENDAR")
    for part in root.walk():
        found += _component(part)
    found += _whole(root)
    return tuple(found)


def _octets(data: bytes) -> Iterator[str]:
    if not data.endswith(b"\r\n"):
        yield "the last line does not end in CRLF"
    for number, line in enumerate(data.split(b"\r\n"), start=1):
        if len(line) > WIDTH:
            yield f"line {number} has {len(line)} octets"
        if any(octet < 32 or octet == 127 for octet in line):
            yield f"line {number} has a control character"
        if len(line) > 1 and line[0] == ord(" ") and 0x80 <= line[1] < 0xC0:
            yield f"line {number} begins within a character"


def _tree(root: _Component, lines: Iterable[str]) -> Iterator[str]:
    stack = [root]
    for line in lines:
        if not line:
            continue
        match = LINE.fullmatch(line)
        if match is None:
            yield f"not a content line: {line[:60]!r}"
            continue
        name, parameters, value = match[1].upper(), match[2], match[3]
        if name == "BEGIN":
            part = _Component(value.upper())
            stack[-1].parts.append(part)
            stack.append(part)
        elif name == "END":
            if len(stack) == 1 or stack[-1].name != value.upper():
                yield f"END:{value} closes nothing"
            else:
                stack.pop()
        else:
            pairs = {key.upper(): said.strip('"') for key, said in PARAMETER.findall(parameters)}
            stack[-1].lines.append((name, pairs, value))
    if len(stack) > 1:
        yield f"BEGIN:{stack[-1].name} is never closed"


def _component(part: _Component) -> Iterator[str]:
    names = [name for name, _, _ in part.lines]
    for name in REQUIRED.get(part.name, ()):
        if name not in names:
            yield f"{part.name} lacks {name}"
    for name in sorted(ONCE & set(names)):
        if names.count(name) > 1:
            yield f"{part.name} has {name} {names.count(name)} times"
    for name, parameters, value in part.lines:
        form = _form(name, parameters)
        if form is not None and not FORMS[form].fullmatch(value):
            yield f"{part.name} {name} is no {form}: {value[:40]!r}"
    if part.name == "VEVENT":
        yield from _event(part)


def _form(name: str, parameters: dict[str, str]) -> str | None:
    if name in ("DTSTART", "DTEND", "RECURRENCE-ID"):
        return parameters.get("VALUE", "DATE-TIME")
    return PROPERTY_FORMS.get(name)


def _event(event: _Component) -> Iterator[str]:
    start, end = event.value("DTSTART") or "", event.value("DTEND")
    if end is not None and len(end) != len(start):
        yield f"VEVENT ends as another kind of time than it starts: {start}, {end}"
    elif end is not None and end <= start:
        yield f"VEVENT ends before it has lasted: {start}, {end}"
    if event.value("STATUS") not in (None, *STATUS):
        yield f"VEVENT has an unknown STATUS: {event.value('STATUS')}"
    for name, parameters, value in event.lines:
        local = name in ("DTSTART", "DTEND") and "T" in value and not value.endswith("Z")
        if local and "TZID" not in parameters:
            yield f"VEVENT has a floating {name}: {value}"


def _whole(root: _Component) -> Iterator[str]:
    parts = list(root.walk())
    zones = {part.value("TZID") for part in parts if part.name == "VTIMEZONE"}
    used = {
        parameters["TZID"]
        for part in parts
        for _, parameters, _ in part.lines
        if "TZID" in parameters
    }
    for zone in sorted(used - zones):
        yield f"TZID {zone} has no VTIMEZONE"
    for part in parts:
        if part.name == "VTIMEZONE" and not part.parts:
            yield f"VTIMEZONE {part.value('TZID')} has neither STANDARD nor DAYLIGHT"
        for name, parameters, _ in part.lines:
            if name == "REFRESH-INTERVAL" and parameters.get("VALUE") != "DURATION":
                yield "REFRESH-INTERVAL lacks VALUE=DURATION (RFC 7986 section 5.7)"
    uids = [part.value("UID") for part in parts if part.name == "VEVENT"]
    for uid in sorted({uid for uid in uids if uid is not None and uids.count(uid) > 1}):
        yield f"two events share the UID {uid}"
