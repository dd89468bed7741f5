"""Sheets of practices as PDF: one page a practice, alone or as a booklet."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.tables import Plain, as_data
from curriculum.practice.sheet import Sheet


def sheet_pdf(
    sheet: Sheet, timestamp: dt.datetime, paper: Paper = "a4", fonts: Path | None = None
) -> Printed:
    """Return the PDF of one practice; see `typeset` for the arguments."""
    return _pdf(f"{sheet.title}, {sheet.day}", [sheet], timestamp, paper, fonts)


def sheets_pdf(
    sheets: Sequence[Sheet], timestamp: dt.datetime, paper: Paper = "a4", fonts: Path | None = None
) -> Printed:
    """Return the PDF of many practices in the order given; ValueError when there is none."""
    if not sheets:
        raise ValueError("a booklet needs at least one sheet")
    return _pdf(f"{sheets[0].team}, {sheets[0].season}", sheets, timestamp, paper, fonts)


def _pdf(
    title: str, sheets: Sequence[Sheet], timestamp: dt.datetime, paper: Paper, fonts: Path | None
) -> Printed:
    data: dict[str, Plain] = {
        "title": title,
        "team": sheets[0].team,
        "sheets": as_data(tuple(sheets)),
    }
    return typeset("sheet.typ", data, paper, timestamp, fonts)
