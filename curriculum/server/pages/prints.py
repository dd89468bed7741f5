"""What can be downloaded: sheets and wall chart as PDF, the record as a table."""

import json
import threading
from pathlib import PurePath

from starlette.responses import Response

from curriculum.handouts.prints import prints_of
from curriculum.handouts.sheets import sheet_for, still_held
from curriculum.handouts.told import mark_as_told
from curriculum.outputs.pdf.sheets import sheet_pdf
from curriculum.outputs.pdf.typeset import Paper
from curriculum.records.database import RECORD_FILE, history, open_record
from curriculum.records.export import csv_text, history_data
from curriculum.server.pages.practice import find
from curriculum.server.pages.season import outdated
from curriculum.server.visits import RefusedError, Visit
from curriculum.workspace import Workspace

FILES = ("sheets.pdf", "season.pdf")

_typesetting = threading.Lock()
"""One print at a time: each takes seconds of a processor."""


def listing(visit: Visit) -> Response:
    """List what can be downloaded."""
    space, plan = visit.planned()
    recorded = bool(space.record.practices)
    return visit.page(
        "prints.html",
        space=space,
        plan=plan,
        held=still_held(space, plan),
        recorded=recorded,
        outdated=outdated(space),
    )


def whole(visit: Visit) -> Response:
    """Return the booklet of all sheets, or the wall chart."""
    wanted = visit.path("name")
    if wanted not in FILES:
        raise RefusedError(404, "There is no such print.")
    space, plan = visit.planned()
    paper = _paper(visit)
    found = next((each for each in prints_of(space, plan, paper) if each.name == wanted), None)
    if found is None:
        raise RefusedError(404, "No practice of the plan is held, so there is nothing to print.")
    with _typesetting:
        printed = found.make()
    _told(visit, space)
    return _file(printed.pdf, f"{space.season.season.id}-{wanted}", "application/pdf")


def sheet(visit: Visit) -> Response:
    """Return the sheet of one practice."""
    space, plan = visit.planned()
    planned = find(still_held(space, plan), visit.path("practice"))
    if planned is None:
        raise RefusedError(404, "No such practice is held.")
    page = sheet_for(space, plan, planned)
    with _typesetting:
        printed = sheet_pdf(page, space.library.drills, plan.made, _paper(visit))
    _told(visit, space)
    return _file(printed.pdf, f"{planned.id}.pdf", "application/pdf")


def record_table(visit: Visit) -> Response:
    """Return what is recorded as a table for a spreadsheet."""
    text = csv_text(visit.space().record.practices)
    return _file(text.encode("utf-8-sig"), "record.csv", "text/csv; charset=utf-8")


def record_data(visit: Visit) -> Response:
    """Return all submissions as data."""
    path = visit.space().folder / RECORD_FILE
    if not path.exists():
        raise RefusedError(404, "Nothing is recorded yet.")
    with open_record(path) as db:
        data = history_data(history(db))
    body = json.dumps(data, indent=2, ensure_ascii=False).encode()
    return _file(body, "record.json", "application/json")


def _paper(visit: Visit) -> Paper:
    return "letter" if visit.request.query_params.get("paper") == "letter" else "a4"


def _told(visit: Visit, space: Workspace) -> None:
    """Keep in the folder that people know the plan, once."""
    if space.ledger is None:
        with visit.site.writing:
            mark_as_told(space)


def _file(body: bytes, name: str, kind: str) -> Response:
    headers = {
        "Content-Disposition": f'attachment; filename="{PurePath(name).name}"',
        "Cache-Control": "private, no-store",
    }
    return Response(body, 200, headers, kind)
