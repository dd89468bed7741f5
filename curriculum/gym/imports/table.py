"""A table of dates (CSV) as rows under the headings that we know."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from curriculum.gym.imports.found import RefusedError
from curriculum.models.calendars import Column

MOST_ROWS = 20_000
MOST_COLUMNS = 100
LAST_HEADING_LINE = 20
SEPARATORS = (",", ";", "\t")

HEADINGS: dict[Column, tuple[str, ...]] = {
    "date": ("date", "start date", "match date", "game date", "fixture date", "first day", "from"),
    "until": ("end date", "until", "last day", "to"),
    "start": ("start", "start time", "time", "from time", "tip off", "game time", "match time"),
    "end": ("end", "end time", "finish", "finish time", "to time"),
    "minutes": ("minutes", "length", "duration"),
    "title": ("title", "subject", "summary", "event", "description", "name", "reason", "fixture"),
    "home": ("home", "home team", "host"),
    "away": ("away", "away team", "visitors", "visitor", "guest"),
    "side": ("home away", "home or away", "h a", "side"),
    "opponent": ("opponent", "opposition", "versus", "vs", "against"),
    "venue": ("venue", "location", "gym", "hall", "court", "place", "where"),
    "address": ("address", "street"),
    "id": ("id", "number", "no", "game number", "match number", "fixture number", "code"),
}
"""Headings as people write them, signs and capitals aside; the first that a table has counts."""


@dataclass(frozen=True)
class Row:
    """One row: its line in the file, and the texts of the columns that we know."""

    line: int
    cells: Mapping[Column, str]

    def text(self, column: Column) -> str:
        """Return a cell, "" when the table has no such column."""
        return self.cells.get(column, "")


@dataclass(frozen=True)
class Table:
    """The rows below the headings, empty ones left out, and the columns that were found."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


def read_table(text: str, own: Mapping[Column, str]) -> Table:
    """Return the rows of a table; commas, semicolons or tabs part its cells.

    own: headings that the season file names for a column; they go before ours.

    Raises:
        RefusedError: It has no heading for dates, or passes a limit.

    """
    if not text.strip():
        raise RefusedError("the file is empty", way_out="export it again")
    separators = _separators(text)
    for separator in separators:
        table = _table(_split(text, separator), own)
        if table is not None:
            return table
    rows = _split(text, separators[0])
    first = rows[0] if rows else (0, [""])
    raise RefusedError(
        "no row of headings was found: one column must be the date, and one more be known",
        line=first[0],
        found=", ".join(first[1])[:120],
        way_out=(
            'name them in a [[calendar]] of the season file: columns = { date = "…", start = "…" }'
        ),
    )


def _table(rows: Sequence[tuple[int, list[str]]], own: Mapping[Column, str]) -> Table | None:
    """Return the rows below the headings; None when there are no headings."""
    for number, (line, cells) in enumerate(rows[:LAST_HEADING_LINE]):
        columns = _columns(cells, own)
        if "date" in columns and len(columns) > 1:
            missing = [name for name, heading in own.items() if name not in columns]
            if missing:
                says = f"no heading reads {own[missing[0]]!r}"
                raise RefusedError(says, line=line, found=", ".join(cells)[:120])
            body = rows[number + 1 :]
            found = tuple(_row(at, columns, cells) for at, cells in body if any(cells))
            return Table(tuple(columns), found)
    return None


def _split(text: str, separator: str) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    rows: list[tuple[int, list[str]]] = []
    line = 1
    try:
        for cells in reader:
            if len(rows) > MOST_ROWS:
                raise RefusedError(f"the table has more than {MOST_ROWS} rows", line=line)
            if len(cells) > MOST_COLUMNS:
                raise RefusedError(f"a row has more than {MOST_COLUMNS} columns", line=line)
            rows.append((line, [" ".join(cell.split()) for cell in cells]))
            line = reader.line_num + 1
    except csv.Error as fault:
        raise RefusedError("this is no table of text", line=line, found=str(fault)) from None
    return rows


def _separators(text: str) -> list[str]:
    """Return the signs that may part cells, first what is most often in the first lines.

    Signs within quotes do not count.
    """
    head = re.sub(r'"[^"]*"', "", "\n".join(text.splitlines()[:LAST_HEADING_LINE]))
    return sorted(SEPARATORS, key=lambda sign: (-head.count(sign), SEPARATORS.index(sign)))


def _columns(cells: Sequence[str], own: Mapping[Column, str]) -> dict[Column, int]:
    plain = [_plain(cell) for cell in cells]
    found: dict[Column, int] = {}
    for column, names in HEADINGS.items():
        wanted = (_plain(own[column]),) if column in own else names
        at = next((plain.index(name) for name in wanted if name in plain), None)
        if at is not None and at not in found.values():
            found[column] = at
    return found


def _plain(heading: str) -> str:
    return " ".join(re.sub(r"[^\w]+", " ", heading.casefold()).split())


def _row(line: int, columns: Mapping[Column, int], cells: Sequence[str]) -> Row:
    return Row(line, {name: cells[at] for name, at in columns.items() if at < len(cells)})
