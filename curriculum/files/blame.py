"""Which line a person would blame for what stopped the reading of TOML."""

import re
from dataclasses import dataclass

from curriculum.files.repairs import HEADER, IN_LIST, PAIR


@dataclass(frozen=True)
class Fault:
    """Where `tomllib` stopped, both counted from 0, and why."""

    line: int
    column: int
    message: str


def blamed(lines: tuple[str, ...], fault: Fault) -> int:
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
    if unclosed and begins_statement(lines, fault):
        return _statement(lines, fault.line - 1)
    return fault.line


def begins_statement(lines: tuple[str, ...], fault: Fault) -> bool:
    """Whether reading stopped at the beginning of a pair or of a header."""
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


def content_before(lines: tuple[str, ...], end: int) -> int:
    """Return the last line before `end` that is neither blank nor a comment, else 0."""
    numbers = range(end - 1, -1, -1)
    return next((n for n in numbers if lines[n].strip() and lines[n].lstrip()[0] != "#"), 0)
