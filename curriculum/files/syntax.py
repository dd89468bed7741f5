"""Parse TOML and go on behind a fault, so that all faults of a file are told at once."""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from curriculum.files.blame import Fault, blamed, content_before
from curriculum.files.positions import KeyPath, Mark, toml_marks
from curriculum.files.repairs import HEADER, PAIR, UNREADABLE_HEADER
from curriculum.files.rewriting import Edit, Names, Note, edits
from curriculum.problems import Problem

_MOST = 50
"""Faults told at once; a file with more of them is no season file."""
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
"""Characters that TOML allows nowhere, not even in a comment."""
_DEEPEST = 20
"""Keys and list places on the way to a value; the formats of this program need six."""


@dataclass(frozen=True)
class Parsed:
    """A text as far as it can be understood.

    data: the values; None when too little can be read to judge them.
    problems: what is not TOML; each line in `spoiled` has one, and is not read as it stands.
    """

    data: Mapping[str, object] | None
    marks: Mapping[KeyPath, Mark]
    problems: tuple[Problem, ...] = ()
    spoiled: frozenset[int] = frozenset()


@dataclass(frozen=True)
class _Sound:
    data: Mapping[str, object]
    marks: Mapping[KeyPath, Mark]


def parse(text: str, file: str, repeating: Names = frozenset) -> Parsed:
    """Parse a text; `repeating` gives the tables that are written `[[name]]`, when asked."""
    written = text.split("\n")
    lines = tuple(_CONTROL.sub("", line) for line in written)
    notes = [_invisible(n, line) for n, line in enumerate(written) if _CONTROL.search(line)]
    trusted = True
    outcome = _attempt(lines)
    while isinstance(outcome, Fault):
        step = _advance(lines, outcome, repeating) if len(notes) < _MOST else None
        if step is None:
            notes.append(_stop(lines, outcome))
            break
        edit, outcome = step
        lines = edit.lines
        notes.extend(edit.notes)
        trusted = trusted and edit.trusted
    marks: Mapping[KeyPath, Mark] = {} if isinstance(outcome, Fault) else outcome.marks
    keys = _keys_by_line(marks) if notes else {}
    problems = []
    for note in sorted(dict.fromkeys(notes), key=lambda note: note.line):
        plain = keys.get(note.line + 1, "") if marks else _written_key(lines[note.line])
        problems.append(
            Problem(
                file, note.line + 1, note.key or plain, note.says, _short(note.found), note.way_out
            )
        )
    spoiled = frozenset(note.line + 1 for note in notes)
    data = outcome.data if isinstance(outcome, _Sound) and trusted else None
    return Parsed(data, marks, tuple(problems), spoiled)


def key_text(path: KeyPath) -> str:
    """Return a path as messages write it: `slot[2].minutes`, places counted from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if text else part
    return text


def _short(text: str) -> str:
    """Return a found value on one line and no longer than a message can bear."""
    line = " ".join(text.split())
    return line if len(line) <= 40 else f"{line[:39]}…"


def _attempt(lines: tuple[str, ...]) -> _Sound | Fault:
    text = "\n".join(lines)
    try:
        sound = _Sound(tomllib.loads(text), toml_marks(text))
        too_deep = _is_deeper(sound.data, _DEEPEST)
    except RecursionError:
        return Fault(_longest(lines), 0, "Nested too deeply")
    except ValueError as error:
        message = str(error)
        found = re.search(r"\(at line (\d+), column (\d+)\)$", message)
        if found:
            return Fault(int(found[1]) - 1, int(found[2]) - 1, message)
        if "end of document" in message:
            return Fault(content_before(lines, len(lines)), 0, message)
        return Fault(_longest(lines), 0, message)
    if not too_deep:
        return sound
    deep = [mark.line for path, mark in sound.marks.items() if len(path) > _DEEPEST]
    return Fault(deep[0] - 1, 0, "Nested too deeply")


def _is_deeper(value: object, most: int) -> bool:
    """Whether some value lies more keys and list places deep."""
    if isinstance(value, dict):
        value = list(value.values())
    if most < 0 or not isinstance(value, list):
        return most < 0
    return any(_is_deeper(each, most - 1) for each in value)


def _advance(
    lines: tuple[str, ...], fault: Fault, repeating: Names
) -> tuple[Edit, _Sound | Fault] | None:
    """Return the first edit after which reading gets further than before; None when none does."""
    at = blamed(lines, fault)
    another_fault_there = None
    for edit in edits(lines, fault, at, repeating):
        outcome = _attempt(edit.lines)
        if isinstance(outcome, _Sound) or outcome.line > fault.line:
            return edit, outcome
        now_at = blamed(edit.lines, outcome)
        if now_at > at:
            return edit, outcome
        if now_at == at and outcome.message.split(" (at")[0] != fault.message.split(" (at")[0]:
            another_fault_there = another_fault_there or (edit, outcome)
    return another_fault_there


def _invisible(at: int, line: str) -> Note:
    found = _CONTROL.findall(line)[0]
    says = "an invisible control character stands in this line"
    return Note(at, says, f"U+{ord(found):04X}", "delete it, or type the line again")


def _stop(lines: tuple[str, ...], fault: Fault) -> Note:
    says = "reading stops here, because this line cannot be understood"
    at = blamed(lines, fault)
    return Note(at, says, lines[at].strip(), "correct it and what is told above, then look again")


def _longest(lines: tuple[str, ...]) -> int:
    return max(range(len(lines)), key=lambda number: len(lines[number]))


def _keys_by_line(marks: Mapping[KeyPath, Mark]) -> dict[int, str]:
    keys: dict[int, str] = {}
    for path, mark in sorted(marks.items(), key=lambda item: len(item[0]), reverse=True):
        if f"[[{path[0]}]]" != UNREADABLE_HEADER:
            keys[mark.line] = key_text(path)
    return keys


def _written_key(line: str) -> str:
    pair = PAIR.match(line)
    return pair["key"] if pair and not HEADER.match(line) else ""
