"""Parse TOML and go on behind a fault, so that all faults of a file are told at once."""

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from curriculum.files.positions import KeyPath, Mark, toml_marks
from curriculum.files.repairs import (
    HEADER,
    IN_LIST,
    PAIR,
    UNREADABLE_HEADER,
    out_of_reading,
    repairs,
    split_comment,
)
from curriculum.problems import Problem

_MOST = 50
"""Faults told at once; a file with more of them is no season file."""
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
"""Characters that TOML allows nowhere, not even in a comment."""
_DEEPEST = 20
"""Keys and list places on the way to a value; the formats of this program need six."""


Names = Callable[[], frozenset[str]]
"""Gives names of tables; asked for only where a table is written twice."""


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
class _Fault:
    """Where `tomllib` stopped, both counted from 0, and why."""

    line: int
    column: int
    message: str


@dataclass(frozen=True)
class _Note:
    """A fault in words, without its file; `line` counts from 0, `key` is "" where it is plain."""

    line: int
    says: str
    found: str
    way_out: str
    key: str = ""


@dataclass(frozen=True)
class _Edit:
    """The lines to read instead, and what is wrong with those that stand there.

    trusted: false when the tables below a line may no longer be the ones that were meant.
    """

    lines: tuple[str, ...]
    notes: tuple[_Note, ...]
    trusted: bool = True


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
    while isinstance(outcome, _Fault):
        step = _advance(lines, outcome, repeating) if len(notes) < _MOST else None
        if step is None:
            notes.append(_stop(lines, outcome))
            break
        edit, outcome = step
        lines = edit.lines
        notes.extend(edit.notes)
        trusted = trusted and edit.trusted
    marks: Mapping[KeyPath, Mark] = {} if isinstance(outcome, _Fault) else outcome.marks
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


def _attempt(lines: tuple[str, ...]) -> _Sound | _Fault:
    text = "\n".join(lines)
    try:
        sound = _Sound(tomllib.loads(text), toml_marks(text))
        too_deep = _is_deeper(sound.data, _DEEPEST)
    except RecursionError:
        return _Fault(_longest(lines), 0, "Nested too deeply")
    except ValueError as error:
        message = str(error)
        found = re.search(r"\(at line (\d+), column (\d+)\)$", message)
        if found:
            return _Fault(int(found[1]) - 1, int(found[2]) - 1, message)
        if "end of document" in message:
            return _Fault(_content_before(lines, len(lines)), 0, message)
        return _Fault(_longest(lines), 0, message)
    if not too_deep:
        return sound
    deep = [mark.line for path, mark in sound.marks.items() if len(path) > _DEEPEST]
    return _Fault(deep[0] - 1, 0, "Nested too deeply")


def _is_deeper(value: object, most: int) -> bool:
    """Whether some value lies more keys and list places deep."""
    if isinstance(value, dict):
        value = list(value.values())
    if most < 0 or not isinstance(value, list):
        return most < 0
    return any(_is_deeper(each, most - 1) for each in value)


def _advance(
    lines: tuple[str, ...], fault: _Fault, repeating: Names
) -> tuple[_Edit, _Sound | _Fault] | None:
    """Return the first edit after which reading gets further than before; None when none does."""
    at = _blamed(lines, fault)
    another_fault_there = None
    for edit in _edits(lines, fault, at, repeating):
        outcome = _attempt(edit.lines)
        if isinstance(outcome, _Sound) or outcome.line > fault.line:
            return edit, outcome
        now_at = _blamed(edit.lines, outcome)
        if now_at > at:
            return edit, outcome
        if now_at == at and outcome.message.split(" (at")[0] != fault.message.split(" (at")[0]:
            another_fault_there = another_fault_there or (edit, outcome)
    return another_fault_there


def _blamed(lines: tuple[str, ...], fault: _Fault) -> int:
    """Return the line that a person would blame, which is not always where the parser stopped."""
    if fault.message.startswith(("Unterminated", "Unescaped", "Expected \"'''\"")):
        return min(_opening(lines, fault.line), fault.line)
    if 'Expected "\'"' in fault.message:
        return next((n for n, line in enumerate(lines) if _opens_quote(line)), fault.line)
    if fault.message.startswith("Cannot "):
        return _statement(lines, fault.line)
    unclosed = fault.message.startswith(IN_LIST)
    if unclosed and "end of document" in fault.message:
        return _statement(lines, fault.line)
    if unclosed and _begins_statement(lines, fault):
        return _statement(lines, fault.line - 1)
    return fault.line


def _edits(lines: tuple[str, ...], fault: _Fault, at: int, repeating: Names) -> Iterator[_Edit]:
    header = HEADER.match(lines[at])
    content, _ = split_comment(lines[at])
    matching = content.count("[") == content.count("]")
    if fault.message.startswith("Cannot ") and header and matching:
        yield from _table_again(lines, at, header["name"], repeating)
    elif fault.message.startswith("Cannot ") and not header:
        yield _key_again(lines, at, fault.line)
    elif fault.message.startswith("Nested too deeply"):
        note = _Note(at, "lists are nested too deeply", "", "write them flat")
        yield _edit(lines, at, out_of_reading(lines[at]).line, note)
    elif fault.message.startswith(IN_LIST) and at < fault.line:
        yield from _open_list(lines, at, fault)
    elif fault.message.startswith(IN_LIST) and not lines[at][: fault.column].strip():
        yield _comma_before(lines, at)
    for repair in repairs(lines[at], fault.message):
        note = _Note(at, repair.says, repair.found, repair.way_out)
        trusted = repair.line != UNREADABLE_HEADER
        yield _edit(lines, at, repair.line, note, trusted=trusted)


def _edit(lines: tuple[str, ...], at: int, new: str, *notes: _Note, trusted: bool = True) -> _Edit:
    return _Edit((*lines[:at], new, *lines[at + 1 :]), notes, trusted)


def _table_again(lines: tuple[str, ...], at: int, name: str, repeating: Names) -> Iterator[_Edit]:
    """Repair a header that stands twice: it is meant to repeat, or one of the two is too much."""
    single = re.compile(rf"\s*\[\s*{re.escape(name)}\s*\](?!\])")
    if name in repeating():
        says = "this table can stand several times, so it has double brackets"
        where = [number for number, line in enumerate(lines) if single.match(line)]
        notes = tuple(_Note(n, says, lines[n].strip(), f"write [[{name}]]") for n in where)
        edited = tuple(single.sub(f"[[{name}]]", line) for line in lines)
        yield _Edit(edited, notes)
    first = next((n for n in range(at - 1, -1, -1) if single.match(lines[n])), None)
    where_first = "" if first is None else f" (it begins in line {first + 1})"
    says = "this table stands twice"
    way_out = f"put its keys under the first one{where_first}"
    note = _Note(at, says, lines[at].strip(), way_out, name)
    yield _edit(lines, at, f"[{name}-again-{at + 1}]", note)


def _key_again(lines: tuple[str, ...], at: int, last: int) -> _Edit:
    """Pass over the second of two equal keys of a table, with all lines of its value."""
    pair = PAIR.match(lines[at])
    key = pair["key"] if pair else lines[at].strip()
    first = ""
    for number in range(at - 1, -1, -1):
        other = PAIR.match(lines[number])
        if HEADER.match(lines[number]):
            break
        if other and other["key"] == key:
            first = f"; the other one is in line {number + 1}"
    note = _Note(at, "this key stands twice in its table", lines[at].strip(), f"delete one{first}")
    passed = tuple("#" for _ in lines[at : last + 1])
    return _Edit((*lines[:at], *passed, *lines[last + 1 :]), (note,))


def _open_list(lines: tuple[str, ...], at: int, fault: _Fault) -> Iterator[_Edit]:
    """End a list that goes on into the next statement, behind the last line that belongs to it."""
    begun = "end of document" not in fault.message and _begins_statement(lines, fault)
    ends = _content_before(lines, fault.line) if begun else fault.line
    if ends > at:
        note = _Note(
            at, "the list that begins here is not closed", "", f"end line {ends + 1} with ]"
        )
        yield _edit(lines, ends, f"{lines[ends]}]", note)


def _invisible(at: int, line: str) -> _Note:
    found = _CONTROL.findall(line)[0]
    says = "an invisible control character stands in this line"
    return _Note(at, says, f"U+{ord(found):04X}", "delete it, or type the line again")


def _comma_before(lines: tuple[str, ...], at: int) -> _Edit:
    """End the last line before a list's value with the comma that is missing there."""
    before = _content_before(lines, at)
    content, comment = split_comment(lines[before])
    says = "a comma is missing at the end of this line of a list"
    note = _Note(before, says, content, f"write {content},")
    return _edit(lines, before, f"{content},{comment}", note)


def _stop(lines: tuple[str, ...], fault: _Fault) -> _Note:
    says = "reading stops here, because this line cannot be understood"
    at = _blamed(lines, fault)
    return _Note(at, says, lines[at].strip(), "correct it and what is told above, then look again")


def _begins_statement(lines: tuple[str, ...], fault: _Fault) -> bool:
    line = lines[fault.line]
    header = HEADER.match(line)
    if header and not header["name"].strip("\"'").replace(".", "").isdigit():
        return True
    return not line[: fault.column].strip() and bool(PAIR.match(line))


def _statement(lines: tuple[str, ...], at: int) -> int:
    """Return the line on which the statement that covers a line begins."""
    for number in range(at, -1, -1):
        if PAIR.match(lines[number]) or HEADER.match(lines[number]):
            return number
    return max(at, 0)


def _opening(lines: tuple[str, ...], last: int) -> int:
    """Return the line that opens a text in three quotes which nothing closes; else `last`."""
    opened: dict[str, int] = {}
    for number, line in enumerate(lines):
        if line.lstrip().startswith("#") and not opened:
            continue
        for quotes in re.findall(r"\"\"\"|'''", line):
            if quotes in opened:
                del opened[quotes]
            elif not opened:
                opened[quotes] = number
    return next(iter(opened.values()), last)


def _opens_quote(line: str) -> bool:
    pair = PAIR.match(line)
    return bool(re.match(r"(\s*\[{1,2}\s*)?'[^']*$", pair["value"] if pair else line))


def _content_before(lines: tuple[str, ...], end: int) -> int:
    """Return the last line before `end` that is neither blank nor a comment, else 0."""
    numbers = range(end - 1, -1, -1)
    return next((n for n in numbers if lines[n].strip() and lines[n].lstrip()[0] != "#"), 0)


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
