"""Edit the season's dates and goals, with the same checks as the command line."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from starlette.responses import Response

from curriculum.models.skills import STAGES
from curriculum.practice.words import skill_name
from curriculum.problems import FaultyInputError
from curriculum.server.edits import (
    Change,
    OutdatedError,
    adding,
    draft,
    edit,
    entries,
    removing,
    replacing,
    setting,
)
from curriculum.server.tables import FRAME, TABLES, Field, MistypedError, Table, Value, value_of
from curriculum.server.visits import RefusedError, Visit, plain
from curriculum.wording import clock, due_words, game_against, short_date
from curriculum.workspace import Workspace

ENDS = (("from", "until"), ("of", "date"))
"""Keys of two dates that belong together: a stretch of days, and a practice's old and new date."""


def overview(visit: Visit) -> Response:
    """Show what can be edited."""
    return _page(visit)


def frame(visit: Visit) -> Response:
    """Set the season's first and last day."""
    return _changed(visit, FRAME, lambda values: setting("season", values))


def change(visit: Visit) -> Response:
    """Add, change or take out an entry of a table."""
    table = TABLES.get(visit.path("table"))
    if table is None:
        raise RefusedError(404, "There is no such part of the season.")
    place, what = visit.said("place"), visit.said("do")
    number = int(place) if place.isascii() and place.isdecimal() and len(place) < 6 else -1
    if what == "remove":
        return _changed(visit, (), lambda _: removing(table.name, number))
    if what == "add":
        return _changed(visit, table.fields, lambda values: adding(table.name, values))
    return _changed(visit, table.fields, lambda values: replacing(table.name, number, values))


def _changed(visit: Visit, fields: tuple[Field, ...], make: Any) -> Response:
    values: dict[str, Value | None] = {}
    wrong = []
    for field in fields:
        try:
            values[field.key] = value_of(field, visit.said(field.key))
        except MistypedError as fault:
            wrong.append(str(fault))
    if wrong:
        return _page(visit, 422, wrong=wrong, typed=_typed(visit, fields))
    made: Change = make(values)
    try:
        edit(visit.site, visit.said("mark"), made)
    except OutdatedError:
        says = "Somebody else changed the season first. What stands now is shown; nothing was lost."
        return _page(visit, 409, wrong=[says])
    except FaultyInputError as fault:
        problems = plain(visit.site, fault.problems)
        return _page(visit, 422, problems=problems, typed=_typed(visit, fields))
    part = visit.request.path_params.get("table", "season")
    return visit.go(f"/edit?saved={part}#{part}")


@dataclass(frozen=True)
class Typed:
    """What was typed into a form that was refused, by field, so that it need not be typed again.

    part: the table, or the season. place: the entry's, "new" for one to be added.
    """

    part: str
    place: str
    values: Mapping[str, str]


def _typed(visit: Visit, fields: tuple[Field, ...]) -> Typed | None:
    if not fields:
        return None
    part = str(visit.request.path_params.get("table", "season"))
    values = {field.key: visit.said(field.key) for field in fields}
    return Typed(part, visit.said("place") or "new", values)


def _refill(typed: Typed | None, part: str, place: str, key: str, stands: Any) -> Any:
    """Return what a field is filled with: what was typed into it last, else what stands there."""
    if typed is None or (typed.part, typed.place) != (part, place):
        return stands
    return typed.values[key]


def _page(
    visit: Visit,
    code: int = 200,
    *,
    wrong: list[str] | None = None,
    problems: list[dict[str, object]] | None = None,
    typed: Typed | None = None,
) -> Response:
    now = draft(visit.site)
    document = now.document
    season = document.get("season")
    space = visit.site.opening().workspace
    return visit.page(
        "edit.html",
        code,
        mark=now.mark,
        frame=FRAME,
        frame_values=dict(season) if isinstance(season, dict) else {},
        tables=[
            (table, _shown(table, entries(document, table.name), space))
            for table in TABLES.values()
        ],
        skills=[(skill.id, skill.name, skill.strand) for skill in space.library.skills]
        if space
        else [],
        stages=STAGES,
        venues=[(venue.id, venue.name) for venue in space.season.venue] if space else [],
        games=[(game.id, game_against(game.opponent, game.date)) for game in space.season.game]
        if space
        else [],
        warnings=plain(visit.site, space.problems) if space else [],
        space=space,
        wrong=wrong or [],
        problems=problems or [],
        typed=typed,
        refill=partial(_refill, typed),
        saved=visit.request.query_params.get("saved", ""),
    )


def _shown(
    table: Table, found: list[dict[str, Any]], space: Workspace | None
) -> list[tuple[str, dict[str, Any]]]:
    """Return the entries with what each is called in a few words."""
    return [(_called(table, entry, space), entry) for entry in found]


def _called(table: Table, entry: dict[str, Any], space: Workspace | None) -> str:
    told = [key for pair in ENDS if pair[0] in entry for key in pair if key in entry]
    ends = dict.fromkeys(_words(_day(entry[key])) for key in told)
    parts = [" to ".join(ends)] if ends else []
    for field in table.fields:
        value = entry.get(field.key)
        if value is None or field.key in told or field.kind in ("tick", "number", "venue"):
            continue
        words = _words(value)
        if field.kind == "skill" and space is not None:
            words = skill_name(space.library, words)
        parts.append(_by(value, space) if field.kind == "by" else words)
    if "venue" in entry:
        parts.append(_venue(entry["venue"], space))
    return ", ".join(parts)


def _day(value: object) -> object:
    """Return the date of a practice that moves, which may stand beside its gym."""
    return value.get("date") if isinstance(value, Mapping) else value


def _venue(value: object, space: Workspace | None) -> str:
    """Return a gym by its name; one that the season does not know by its id."""
    venues = space.season.venue if space is not None else ()
    return next((venue.name for venue in venues if venue.id == value), f"{value}")


def _by(value: object, space: Workspace | None) -> str:
    """Return by when a goal is due; a game that the season does not know by its id."""
    if isinstance(value, dt.date):
        return due_words(value, None)
    games = space.season.game if space is not None else ()
    found = next((game for game in games if game.id == value), None)
    return due_words(found.date, found.opponent) if found else f"by {value}"


def _words(value: object) -> str:
    if isinstance(value, dt.date):
        return short_date(value)
    return clock(value) if isinstance(value, dt.time) else f"{value}"
