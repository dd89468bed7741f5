"""Lines to be read in place of faulty ones, each with what is wrong with those that stand there."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from curriculum.files.blame import Fault, begins_statement, content_before
from curriculum.files.repairs import (
    HEADER,
    IN_LIST,
    PAIR,
    UNREADABLE_HEADER,
    out_of_reading,
    repairs,
    split_comment,
)

Names = Callable[[], frozenset[str]]
"""Gives names of tables; asked for only where a table is written twice."""


@dataclass(frozen=True)
class Note:
    """A fault in words, without its file; `line` counts from 0, `key` is "" where it is plain."""

    line: int
    says: str
    found: str
    way_out: str
    key: str = ""


@dataclass(frozen=True)
class Edit:
    """The lines to read instead, and what is wrong with those that stand there.

    trusted: false when the tables below a line may no longer be the ones that were meant.
    """

    lines: tuple[str, ...]
    notes: tuple[Note, ...]
    trusted: bool = True


def edits(lines: tuple[str, ...], fault: Fault, at: int, repeating: Names) -> Iterator[Edit]:
    """Yield ways to read on behind a fault that line `at` is to blame for, likely ones first."""
    header = HEADER.match(lines[at])
    content, _ = split_comment(lines[at])
    matching = content.count("[") == content.count("]")
    if fault.message.startswith("Cannot ") and header and matching:
        yield from _table_again(lines, at, header["name"], repeating)
    elif fault.message.startswith("Cannot ") and not header:
        yield _key_again(lines, at, fault.line)
    elif fault.message.startswith("Nested too deeply"):
        note = Note(at, "lists are nested too deeply", "", "write them flat")
        yield _edit(lines, at, out_of_reading(lines[at]).line, note)
    elif fault.message.startswith(IN_LIST) and at < fault.line:
        yield from _open_list(lines, at, fault)
    elif fault.message.startswith(IN_LIST) and not lines[at][: fault.column].strip():
        yield _comma_before(lines, at)
    for repair in repairs(lines[at], fault.message):
        note = Note(at, repair.says, repair.found, repair.way_out)
        trusted = repair.line != UNREADABLE_HEADER
        yield _edit(lines, at, repair.line, note, trusted=trusted)


def _edit(lines: tuple[str, ...], at: int, new: str, *notes: Note, trusted: bool = True) -> Edit:
    return Edit((*lines[:at], new, *lines[at + 1 :]), notes, trusted)


def _table_again(lines: tuple[str, ...], at: int, name: str, repeating: Names) -> Iterator[Edit]:
    """Repair a header that stands twice: it is meant to repeat, or one of the two is too much."""
    single = re.compile(rf"\s*\[\s*{re.escape(name)}\s*\](?!\])")
    if name in repeating():
        says = "this table can stand several times, so it has double brackets"
        where = [number for number, line in enumerate(lines) if single.match(line)]
        notes = tuple(Note(n, says, lines[n].strip(), f"write [[{name}]]") for n in where)
        edited = tuple(single.sub(f"[[{name}]]", line) for line in lines)
        yield Edit(edited, notes)
    first = next((n for n in range(at - 1, -1, -1) if single.match(lines[n])), None)
    where_first = "" if first is None else f" (it begins in line {first + 1})"
    says = "this table stands twice"
    way_out = f"put its keys under the first one{where_first}"
    note = Note(at, says, lines[at].strip(), way_out, name)
    yield _edit(lines, at, f"[{name}-again-{at + 1}]", note)


def _key_again(lines: tuple[str, ...], at: int, last: int) -> Edit:
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
    note = Note(at, "this key stands twice in its table", lines[at].strip(), f"delete one{first}")
    passed = tuple("#" for _ in lines[at : last + 1])
    return Edit((*lines[:at], *passed, *lines[last + 1 :]), (note,))


def _open_list(lines: tuple[str, ...], at: int, fault: Fault) -> Iterator[Edit]:
    """End a list that goes on into the next statement, behind the last line that belongs to it."""
    begun = "end of document" not in fault.message and begins_statement(lines, fault)
    ends = content_before(lines, fault.line) if begun else fault.line
    if ends > at:
        note = Note(
            at, "the list that begins here is not closed", "", f"end line {ends + 1} with ]"
        )
        yield _edit(lines, ends, f"{lines[ends]}]", note)


def _comma_before(lines: tuple[str, ...], at: int) -> Edit:
    """End the last line before a list's value with the comma that is missing there."""
    before = content_before(lines, at)
    content, comment = split_comment(lines[before])
    says = "a comma is missing at the end of this line of a list"
    note = Note(before, says, content, f"write {content},")
    return _edit(lines, before, f"{content},{comment}", note)
