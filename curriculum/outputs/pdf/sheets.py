"""Sheets of practices as PDF: one page a practice, alone or as a booklet with contents."""

import datetime as dt
from collections.abc import Sequence
from pathlib import Path

from curriculum.models.drills import Drill
from curriculum.outputs.pdf.typeset import Paper, Printed, typeset
from curriculum.outputs.picture.drills import DEFAULT_COURT, drawn
from curriculum.outputs.tables import Plain, as_data
from curriculum.practice.sheet import Sheet
from curriculum.wording import counted, date_range, short_date


def sheet_pdf(
    sheet: Sheet,
    drills: Sequence[Drill],
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
    court: str = DEFAULT_COURT,
) -> Printed:
    """Return the PDF of one practice.

    drills: the library's. court: the one that diagrams show. See `typeset` for the others.
    """
    title = f"{sheet.title}, {sheet.day}"
    data = _data([sheet], drills, court) | {"title": title, "contents": False}
    return typeset("booklet.typ", data, paper, timestamp, fonts)


def booklet_pdf(
    sheets: Sequence[Sheet],
    drills: Sequence[Drill],
    timestamp: dt.datetime,
    paper: Paper = "a4",
    fonts: Path | None = None,
    court: str = DEFAULT_COURT,
) -> Printed:
    """Return the PDF of many practices behind a page of contents; ValueError when there is none."""
    if not sheets:
        raise ValueError("a booklet needs at least one sheet")
    dates = date_range(sheets[0].date, sheets[-1].date)
    data = _data(sheets, drills, court) | {
        "title": f"{sheets[0].team}, {sheets[0].season}",
        "subtitle": f"{counted(len(sheets), 'practice')}, {dates}",
        "contents": True,
    }
    return typeset("booklet.typ", data, paper, timestamp, fonts)


def _data(sheets: Sequence[Sheet], drills: Sequence[Drill], court: str) -> dict[str, Plain]:
    used = {row.drill.id for sheet in sheets for row in sheet.rows if row.drill}
    return {
        "team": sheets[0].team,
        "revision": sheets[0].revision,
        "sheets": [_sheet(sheet) for sheet in sheets],
        "pictures": as_data(drawn(drills, used, court)),
    }


def _sheet(sheet: Sheet) -> Plain:
    """Return a sheet as data, with words for each kit, and what it is about for the contents."""
    data = as_data(sheet)
    if isinstance(data, dict) and isinstance(data["rows"], list):
        data["short_day"] = short_date(sheet.date)
        data["about"] = sheet.title.replace("New today:", "New:")
        for row, told in zip(data["rows"], sheet.rows, strict=True):
            if told.drill and isinstance(row, dict) and isinstance(row["drill"], dict):
                row["drill"]["kit"] = list(told.drill.kit.words)
                row["drill"]["groups"] = told.drill.groups.replace(" %", "\u00a0%")
    return data
