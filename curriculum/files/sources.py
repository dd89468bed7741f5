"""Where the elements of a season or library are written, so that later problems get a line."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from curriculum.files.positions import KeyPath, Mark
from curriculum.files.syntax import key_text
from curriculum.problems import Level, Problem

_LONGEST_VALUE = 40


@dataclass(frozen=True)
class SourceMap:
    """The places of one file's elements, or of a library's skills over many files.

    file: the file as the coach knows it; "" for a library.
    marks: where each element of the file is written.
    names: what messages call an element in place of its path, such as a skill's id.
    skills: for a library, the file of each skill and the skill's path in it.
    """

    file: str = ""
    marks: Mapping[KeyPath, Mark] = field(default_factory=dict)
    names: Mapping[KeyPath, str] = field(default_factory=dict)
    skills: Mapping[str, tuple["SourceMap", KeyPath]] = field(default_factory=dict)

    def line(self, *path: str | int) -> int:
        """Return the 1-based line of an element, else of the nearest one around it, else 0.

        Places in a list count from 0: `line("goal", 2, "skill")`.
        """
        for length in range(len(path), 0, -1):
            if mark := self.marks.get(path[:length]):
                return mark.line
        return 0

    def place(self, skill: str, *path: str | int) -> tuple[str, int]:
        """Return file and line of a skill, or of an element in it; ("", 0) for an unknown skill."""
        if skill not in self.skills:
            return "", 0
        source, start = self.skills[skill]
        return source.file, source.line(*start, *path)

    def text(self, *path: str | int) -> str:
        """Return a value as it is written, on one line and shortened; "" when it stands nowhere."""
        mark = self.marks.get(path)
        line = " ".join(mark.text.split()) if mark else ""
        return line if len(line) <= _LONGEST_VALUE else f"{line[: _LONGEST_VALUE - 1]}…"

    def key(self, *path: str | int) -> str:
        """Return an element's path as messages write it: `slot[2].minutes`, counted from 1."""
        written = self._written(path)
        for length in range(len(written), 0, -1):
            if name := self.names.get(written[:length]):
                rest = key_text(written[length:])
                return f"{name}.{rest}" if rest else name
        return key_text(written)

    def _written(self, path: KeyPath) -> KeyPath:
        """Return the path that an element has in the file, also when others were left out."""
        for length in range(len(path), 0, -1):
            if mark := self.marks.get(path[:length]):
                return (*mark.path, *path[length:])
        return path

    def problem(
        self,
        path: KeyPath,
        says: str,
        way_out: str = "",
        *,
        found: str | None = None,
        level: Level = "error",
    ) -> Problem:
        """Return a problem at an element; what is found there is its value as written."""
        text = self.text(*path) if found is None else found
        return Problem(self.file, self.line(*path), self.key(*path), says, text, way_out, level)


def relocate(problems: Iterable[Problem], sources: SourceMap) -> tuple[Problem, ...]:
    """Give file and line to the problems that have none, by their key.

    A season's sources know keys such as `slot[2].minutes`, a library's such as
    `give-and-go.live.needs[1]`. A problem whose key they do not know stays as it is, so that a
    mixed list can go through both.
    """
    return tuple(each if each.file else _located(each, sources) for each in problems)


def key_path(key: str) -> KeyPath:
    """Return the path of a key as messages write it; places count from 0 again."""
    parts = re.findall(r"([^.\[\]]+)|\[(\d+)\]", key)
    return tuple(name or int(number) - 1 for name, number in parts)


def _located(problem: Problem, sources: SourceMap) -> Problem:
    path = key_path(problem.key)
    first = path[0] if path else ""
    if isinstance(first, str) and first in sources.skills:
        file, line = sources.place(first, *path[1:])
        return replace(problem, file=file, line=line)
    if sources.file and (not path or not sources.skills):
        return replace(problem, file=sources.file, line=sources.line(*path))
    return problem
