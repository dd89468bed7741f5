"""A club's curriculum as tables for a spreadsheet: CSV, or XLSX with the library for it."""

import csv
import io
import re
import zipfile
from importlib import import_module
from typing import Any

from curriculum.club.curricula.matrix import Matrix
from curriculum.problems import FaultyInputError, Problem

RISKY = ("=", "+", "-", "@", "\t", "\r")
"""What a spreadsheet would take for a formula at the start of a cell."""

MOMENT = re.compile(rb">\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ<")


def matrix_rows(matrix: Matrix) -> tuple[tuple[str, ...], ...]:
    """Return the matrix as rows of text, a heading first; a star marks what is newly reached."""
    head = ("strand", "skill", "id", *(name for _, name in matrix.groups))
    rows = [
        (
            _safe(row.strand),
            _safe(row.name),
            row.skill,
            *(f"{cell.stage}{' *' if cell.new else ''}" if cell else "" for cell in row.cells),
        )
        for row in matrix.rows
    ]
    return (head, *rows)


def matrix_csv(matrix: Matrix) -> bytes:
    """Return a CSV file with a byte order mark, without which spreadsheets misread accents."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(matrix_rows(matrix))
    return text.getvalue().encode("utf-8-sig")


def matrix_xlsx(matrix: Matrix, title: str) -> bytes:
    """Return an XLSX file with one sheet; newly reached stages are bold.

    Raises FaultyInputError when the library for it is not installed.
    """
    try:
        openpyxl: Any = import_module("openpyxl")
        styles: Any = import_module("openpyxl.styles")
    except ImportError as fault:
        says = "XLSX files need the library openpyxl, which is not installed"
        way_out = 'install it with pip install "curriculum[xlsx]", or write a CSV file'
        raise FaultyInputError([Problem("", 0, "--xlsx", says, "", way_out)]) from fault
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = title[:31]
    bold = styles.Font(bold=True)
    for row in matrix_rows(matrix):
        sheet.append([cell.removesuffix(" *") for cell in row])
        for cell, text in zip(sheet[sheet.max_row], row, strict=True):
            if sheet.max_row == 1 or text.endswith(" *"):
                cell.font = bold
    sheet.freeze_panes = "D2"
    data = io.BytesIO()
    book.save(data)
    return _without_clock(data)


def _without_clock(data: io.BytesIO) -> bytes:
    """Return the file without the moment of its making, so that equal tables give equal bytes."""
    timeless = io.BytesIO()
    with zipfile.ZipFile(data) as made, zipfile.ZipFile(timeless, "w", zipfile.ZIP_DEFLATED) as new:
        for name in made.namelist():
            content = made.read(name)
            if name == "docProps/core.xml":
                content = MOMENT.sub(b">2000-01-01T00:00:00Z<", content)
            new.writestr(zipfile.ZipInfo(name), content)
    return timeless.getvalue()


def _safe(text: str) -> str:
    return f"'{text}" if text.startswith(RISKY) else text
