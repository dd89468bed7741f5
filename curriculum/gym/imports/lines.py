"""Foreign iCalendar text taken apart within limits, so that no library meets hostile text.

A strict reader would refuse most of what gyms and schools send, and none of the libraries has a
limit, so only the shape is read here and only what calendars need is kept.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace

from curriculum.gym.imports.found import RefusedError

MOST_LINES = 400_000
MOST_SIGNS = 65_536
MOST_DEPTH = 4
MOST_EVENTS = 20_000
MOST_DATES = 2_000
MOST_PROPERTIES = 2_500

NAME = re.compile(r"[A-Za-z0-9-]+(?=[:;])")
HEAD = re.compile(r'(?:[^":]|"[^"]*")*')
TIME = re.compile(r":(\d{8}[^:]*)$")
TIMES = frozenset({"DTSTART", "DTEND", "RECURRENCE-ID", "EXDATE", "RDATE"})
PARAMETER = re.compile(r';([A-Za-z0-9-]+)=((?:"[^"]*"|[^";])*)')

KEPT: dict[str, frozenset[str]] = {
    "VCALENDAR": frozenset({"X-WR-TIMEZONE"}),
    "VEVENT": frozenset(
        {"UID", "SUMMARY", "LOCATION", "DTSTART", "DTEND", "DURATION", "STATUS", "TRANSP"}
        | {"RRULE", "RDATE", "EXDATE", "EXRULE", "RECURRENCE-ID", "SEQUENCE", "LAST-MODIFIED"}
    ),
    "VTIMEZONE": frozenset({"TZID", "X-LIC-LOCATION"}),
    "STANDARD": frozenset({"TZOFFSETFROM", "TZOFFSETTO", "DTSTART", "RRULE", "RDATE", "TZNAME"}),
}
KEPT["DAYLIGHT"] = KEPT["STANDARD"]
INSIDE = {
    "VCALENDAR": ("VEVENT", "VTIMEZONE"),
    "VTIMEZONE": ("STANDARD", "DAYLIGHT"),
}
PARAMETERS = frozenset({"TZID", "VALUE", "RANGE"})


@dataclass(frozen=True)
class Line:
    """One property: its first line in the file, its name in capitals, what stands behind it."""

    number: int
    name: str
    parameters: tuple[tuple[str, str], ...]
    value: str

    def parameter(self, name: str) -> str | None:
        """Return a parameter without its quotes, or None."""
        return next((value for key, value in self.parameters if key == name), None)

    def with_parameter(self, name: str, value: str | None) -> "Line":
        """Return the line with a parameter set; None takes it away."""
        kept = tuple(pair for pair in self.parameters if pair[0] != name)
        return replace(self, parameters=kept if value is None else (*kept, (name, value)))

    def __str__(self) -> str:
        """Return the line as iCalendar writes it, unfolded."""
        parameters = "".join(f';{name}="{value}"' for name, value in self.parameters)
        return f"{self.name}{parameters}:{self.value}"


@dataclass
class Part:
    """A component between BEGIN and END; what is of no use here has been left out."""

    name: str
    number: int
    lines: list[Line] = field(default_factory=list)
    parts: list["Part"] = field(default_factory=list)

    def first(self, name: str) -> Line | None:
        """Return the first property of a name, or None."""
        return next((line for line in self.lines if line.name == name), None)

    def value(self, name: str) -> str:
        """Return the value of the first property of a name, "" when there is none."""
        line = self.first(name)
        return line.value.strip() if line else ""

    def every(self, name: str) -> list[Line]:
        """Return all properties of a name."""
        return [line for line in self.lines if line.name == name]

    def text(self) -> Iterator[str]:
        """Return the component line by line."""
        yield f"BEGIN:{self.name}"
        yield from map(str, self.lines)
        for part in self.parts:
            yield from part.text()
        yield f"END:{self.name}"


def unfolded(text: str) -> Iterator[tuple[int, str]]:
    """Return each logical line with the number of its first physical line.

    Any kind of line break ends a line; a line that begins with blank or tab continues the one
    before. What is longer than any honest line, such as an attached picture, is cut.
    """
    first, parts, size = 0, [""], 0
    for number, line in enumerate(re.split(r"\r\n|\n|\r", text), start=1):
        if number > MOST_LINES:
            raise RefusedError(f"the file has more than {MOST_LINES} lines", line=number)
        if first and line[:1] in (" ", "\t"):
            if size < MOST_SIGNS:
                parts.append(line[1:])
                size += len(line)
        else:
            if first:
                yield first, "".join(parts)[:MOST_SIGNS]
            first, parts, size = number, [line], len(line)
    yield first, "".join(parts)[:MOST_SIGNS]


def content_line(number: int, text: str) -> Line | None:
    """Return a property taken apart; None when the text has no name and no colon."""
    name = NAME.match(text)
    if name is None:
        return None
    head = HEAD.match(text)
    end = head.end() if head and text[head.end() : head.end() + 1] == ":" else text.find(":")
    if name[0].upper() in TIMES and (time := TIME.search(text)):
        # A zone such as `(UTC+00:00) Dublin` should be in quotes, and often is not.
        end = time.start()
    if end < 0:
        return None
    parameters = tuple(
        (key.upper(), value.replace('"', "").strip())
        for key, value in PARAMETER.findall(text[name.end() : end])
        if key.upper() in PARAMETERS
    )
    return Line(number, name[0].upper(), parameters, text[end + 1 :])


class Reader:
    """Takes text apart into calendars; `remarks` tells what was left out, with line numbers."""

    def __init__(self) -> None:
        self.calendars: list[Part] = []
        self.remarks: list[tuple[int, str]] = []
        self.unused: dict[str, int] = {}
        self._stack: list[Part] = []
        self._closed: list[str] = []
        self._events = 0

    def read(self, text: str) -> None:
        """Read a whole file.

        Raises:
            RefusedError: It is no calendar, is cut off, or passes a limit.

        """
        for number, line in unfolded(text):
            if line.strip():
                self._line(number, line.lstrip())
        if not self.calendars:
            says = "this is no calendar file: it has no BEGIN:VCALENDAR"
            raise RefusedError(says, way_out="export it again as iCalendar (.ics)")
        if self._stack:
            says = "the file is cut off: its last calendar is never closed"
            raise RefusedError(says, line=self._stack[0].number, way_out="fetch it again")

    def _line(self, number: int, text: str) -> None:
        line = content_line(number, text)
        if line is None:
            if self._stack and not self._closed:
                self.remarks.append((number, f"not a line of a calendar, left out: {text[:60]!r}"))
        elif line.name == "BEGIN":
            self._begin(number, line.value.strip().upper())
        elif line.name == "END":
            self._end(number, line.value.strip().upper())
        elif self._stack and not self._closed and line.name in KEPT[self._stack[-1].name]:
            here = self._stack[-1]
            if len(here.lines) >= MOST_PROPERTIES:
                raise RefusedError(f"more than {MOST_PROPERTIES} lines in one entry", line=number)
            here.lines.append(line)

    def _begin(self, number: int, name: str) -> None:
        if name == "VEVENT":
            # Whatever was open in the entry before, an entry never stands in it.
            self._closed.clear()
        if len(self._stack) + len(self._closed) >= MOST_DEPTH:
            raise RefusedError(f"entries within entries, more than {MOST_DEPTH} deep", line=number)
        if name == "VEVENT" and self._stack and self._stack[-1].name == "VEVENT":
            self.remarks.append((self._stack[-1].number, "an entry that is never closed, left out"))
            self._stack.pop()
            self._stack[-1].parts.pop()
        if name == "VCALENDAR" and self._stack:
            says = "a calendar is cut off: the next one begins before it is closed"
            raise RefusedError(says, line=number, way_out="fetch the file again")
        part = Part(name, number)
        if not self._stack and name == "VCALENDAR":
            self.calendars.append(part)
            self._stack.append(part)
        elif self._stack and not self._closed and name in INSIDE.get(self._stack[-1].name, ()):
            self._count(name, number)
            self._stack[-1].parts.append(part)
            self._stack.append(part)
        elif self._stack:
            self._closed.append(name)
            self.unused[name] = self.unused.get(name, 0) + 1

    def _count(self, name: str, number: int) -> None:
        self._events += name == "VEVENT"
        if self._events > MOST_EVENTS:
            raise RefusedError(f"the file has more than {MOST_EVENTS} entries", line=number)

    def _end(self, number: int, name: str) -> None:
        if self._closed:
            if self._closed[-1] == name:
                self._closed.pop()
                return
            if name in self._closed:
                del self._closed[self._closed.index(name) :]
                return
            self._closed.clear()
        names = [part.name for part in self._stack]
        if name not in names:
            if self._stack:
                self.remarks.append((number, f"END:{name} closes nothing and was left out"))
            return
        while self._stack[-1].name != name:
            lost = self._stack.pop()
            self._stack[-1].parts.pop()
            self.remarks.append((lost.number, "an entry that is never closed, left out"))
        self._stack.pop()


def lines_of(calendars: Iterable[Part]) -> str:
    """Return calendars as text."""
    return "\r\n".join(line for calendar in calendars for line in calendar.text()) + "\r\n"
