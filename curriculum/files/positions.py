"""Find out where each element of a sound TOML or JSON text is written; values are not read here."""

import json
import re
import tomllib
from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

KeyPath = tuple[str | int, ...]
"""The way to an element: keys as text, places in a list as numbers from 0."""

_STRING = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\])*"|\'[^\']*\'', re.DOTALL
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_BARE_VALUE = re.compile(r"[^,\]}#\n]*")
_SPACE = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_BLANKS = re.compile(r"[ \t]*")


@dataclass(frozen=True)
class Mark:
    """Where an element is written: its path, the 1-based line of its key, and its value's text.

    text: the value exactly as it stands in the file; "" for a table with a header of its own.
    """

    path: KeyPath
    line: int
    text: str = ""


class LazyMarks(Mapping[KeyPath, Mark]):
    """The marks of a text, looked for when the first of them is asked for.

    Most texts are sound, so that nobody ever asks; looking takes longer than reading the values.
    """

    def __init__(self, look: Callable[[], Mapping[KeyPath, Mark]]) -> None:
        self._look = look

    @cached_property
    def _found(self) -> Mapping[KeyPath, Mark]:
        return self._look()

    def __getitem__(self, path: KeyPath) -> Mark:
        """Return the mark of an element; KeyError when it stands nowhere."""
        return self._found[path]

    def __iter__(self) -> Iterator[KeyPath]:
        """Iterate over the paths of all elements, in the order of the text."""
        return iter(self._found)

    def __len__(self) -> int:
        """Return the number of elements."""
        return len(self._found)


def toml_marks(text: str) -> LazyMarks:
    """Return the marks of all elements of a text that `tomllib` accepts."""

    def look() -> Mapping[KeyPath, Mark]:
        scanner = _Scanner(text, "=")
        scanner.document()
        return scanner.marks

    return LazyMarks(look)


def json_marks(text: str) -> LazyMarks:
    """Return the marks of all elements of a text that `json` accepts."""

    def look() -> Mapping[KeyPath, Mark]:
        scanner = _Scanner(text, ":")
        scanner.space()
        scanner.value((), scanner.line())
        return scanner.marks

    return LazyMarks(look)


class _Scanner:
    """Walks over a text once, from the start to the end."""

    def __init__(self, text: str, equals: str) -> None:
        self.text = text
        self.at = 0
        self.equals = equals
        self.marks: dict[KeyPath, Mark] = {}
        self._line_ends = [found.start() for found in re.finditer("\n", text)]
        self._elements: dict[KeyPath, int] = {}

    def line(self) -> int:
        return bisect_left(self._line_ends, self.at) + 1

    def space(self) -> None:
        self._skip(_SPACE)

    def document(self) -> None:
        """Mark every statement of a TOML text."""
        base: KeyPath = ()
        self.space()
        while self.at < len(self.text):
            if self._peek() == "[":
                base = self._header()
            else:
                self._pair(base)
            self.space()

    def value(self, path: KeyPath, line: int) -> None:
        """Mark a value, and everything in it, that begins here."""
        if self.at >= len(self.text):
            raise ValueError("this text is not sound: it ends before a value")
        start = self.at
        self.marks[path] = Mark(path, line)
        if self._peek() == "[":
            self._list(path)
        elif self._peek() == "{":
            self._table(path)
        else:
            self._skip(_STRING if self._peek() in "\"'" else _BARE_VALUE)
        self.marks[path] = Mark(path, line, self.text[start : self.at].rstrip())

    def _list(self, path: KeyPath) -> None:
        self.at += 1
        self.space()
        number = 0
        while self._peek() != "]":
            self.value((*path, number), self.line())
            number += 1
            self._comma()
        self.at += 1

    def _table(self, path: KeyPath) -> None:
        self.at += 1
        self.space()
        while self._peek() != "}":
            self._pair(path)
            self._comma()
        self.at += 1

    def _comma(self) -> None:
        self.space()
        if self._peek() == ",":
            self.at += 1
            self.space()

    def _pair(self, base: KeyPath) -> None:
        line = self.line()
        path = base
        for part in self._key():
            path = (*path, part)
            self.marks.setdefault(path, Mark(path, line))
        self.at += len(self.equals)
        self.space()
        self.value(path, line)

    def _header(self) -> KeyPath:
        """Mark a table's header and return the path of what stands below it."""
        line = self.line()
        width = 2 if self.text.startswith("[[", self.at) else 1
        self.at += width
        parts = self._key()
        self.at += width
        path: KeyPath = ()
        for depth, part in enumerate(parts, 1):
            path = (*path, part)
            if width == 2 and depth == len(parts):
                self._elements[path] = self._elements.get(path, 0) + 1
            self.marks.setdefault(path, Mark(path, line))
            if path in self._elements:
                path = (*path, self._elements[path] - 1)
        self.marks[path] = Mark(path, line)
        return path

    def _key(self) -> list[str]:
        """Read a key, dotted or not, up to what follows it."""
        parts = []
        while True:
            self._skip(_BLANKS)
            raw = self._skip(_STRING if self._peek() in "\"'" else _BARE_KEY)
            parts.append(self._unquoted(raw) if raw[:1] in {'"', "'"} else raw)
            self._skip(_BLANKS)
            if self._peek() != ".":
                return parts
            self.at += 1

    def _unquoted(self, raw: str) -> str:
        if self.equals == ":":
            return str(json.loads(raw))
        return str(tomllib.loads(f"key = {raw}")["key"])

    def _peek(self) -> str:
        return self.text[self.at : self.at + 1] or "\n"

    def _skip(self, pattern: re.Pattern[str]) -> str:
        found = pattern.match(self.text, self.at)
        if not found:
            raise ValueError(f"this text is not sound: offset {self.at}")
        self.at = found.end()
        return found[0]
