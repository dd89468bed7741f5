"""One practice: the page for the gym, the record, and what two coaches said at once."""

import secrets
from collections import Counter
from collections.abc import Iterable
from typing import Any

from starlette.responses import Response

from curriculum.court.diagram import drill_svg
from curriculum.files.players import read_players
from curriculum.handouts.sheets import sheet_for, still_held
from curriculum.insight.follows import follows
from curriculum.models.plan import Plan, PlannedPractice
from curriculum.models.record import Conflict, Saved
from curriculum.outdated import calendar_changes, changes_words
from curriculum.practice.sheet import Sheet
from curriculum.practice.words import skill_name
from curriculum.problems import FaultyInputError
from curriculum.recording import Blank
from curriculum.records.database import RECORD_FILE, history, open_record
from curriculum.server.recordings import blank, keep
from curriculum.server.visits import RefusedError, Visit
from curriculum.workspace import Workspace

MOST_PICTURES = 60_000
"""Letters of pictures on one page; the later frames of a drill are left to the printed sheet."""


def practice(visit: Visit) -> Response:
    """Show a practice as it is used in the gym, with the form to record it."""
    space, plan = visit.planned()
    planned = find(still_held(space, plan), visit.path("practice"))
    if planned is None:
        return record(visit)
    sheet = sheet_for(space, plan, planned)
    asked = blank(space, plan, planned.id, visit.site.today(space))
    changes = calendar_changes(plan, space.gym)
    return visit.page(
        "practice.html",
        space=space,
        # What has become of this practice matters more here than what has of others.
        outdated=changes.get(planned.id) or changes_words(changes),
        sheet=sheet,
        pictures=_pictures(space, sheet),
        nodes=dict(enumerate(planned.blocks, start=1)),
        neighbours=_neighbours(plan, planned),
        **_form(visit, space, asked, asked.standing),
    )


def record(visit: Visit) -> Response:
    """Show the form alone, with what was recorded before."""
    space, plan = visit.planned()
    asked = blank(space, plan, visit.path("practice"), visit.site.today(space))
    return _record_page(visit, space, asked, asked.standing)


def save(visit: Visit) -> Response:
    """Record a practice; to a script it answers with data."""
    opening = visit.site.loosely()
    if opening.workspace is None:
        raise FaultyInputError(opening.problems)
    space, name = opening.workspace, visit.path("practice")
    if space.plan is None:
        raise RefusedError(404, "There is no plan yet.")
    try:
        kept = keep(visit, space, space.plan, name)
    except FaultyInputError as fault:
        if visit.wants_data:
            raise
        asked = blank(space, space.plan, name, visit.site.today(space))
        problems = [each.sentence for each in fault.problems]
        return _record_page(visit, space, asked, asked.standing, 422, problems=problems)
    if isinstance(kept.outcome, Conflict):
        where = f"/practice/{name}/conflict/{kept.outcome.aside.entry.client}"
        if visit.wants_data:
            standing = kept.outcome.standing
            by = standing.entry.by if standing else None
            return visit.data({"conflict": f"{visit.base}{where}", "by": by}, 409)
        return visit.go(where)
    if visit.wants_data:
        return visit.data({"version": kept.outcome.version, "again": kept.again})
    return visit.go(f"/practice/{name}/recorded")


def recorded(visit: Visit) -> Response:
    """Say what is recorded now, and what follows from it."""
    space, plan = visit.planned()
    asked = blank(space, plan, visit.path("practice"), visit.site.today(space))
    if asked.standing is None:
        raise RefusedError(404, "Nothing is recorded of this practice.")
    what = follows(asked.standing.entry)
    names = {block.skill: skill_name(space.library, block.skill) for block in asked.blocks}
    names |= {skill: skill_name(space.library, skill) for skill, _ in what.more}
    return visit.page(
        "recorded.html", space=space, asked=asked, saved=asked.standing, what=what, names=names
    )


def conflict(visit: Visit) -> Response:
    """Show both versions of two coaches, and let this one decide with both before the eyes."""
    space, plan = visit.planned()
    name, client = visit.path("practice"), visit.path("client")
    asked = blank(space, plan, name, visit.site.today(space))
    with open_record(space.folder / RECORD_FILE) as db:
        mine = next((one for one in history(db, name) if one.entry.client == client), None)
    if mine is None:
        raise RefusedError(404, "Nothing of this was kept.")
    return _record_page(visit, space, asked, mine, theirs=asked.standing)


def _what_became(space: Workspace, practice: str) -> str:
    """Return what has become of a practice in the calendar since the plan was made."""
    return calendar_changes(space.plan, space.gym).get(practice, "") if space.plan else ""


def find(practices: Iterable[PlannedPractice], practice: str) -> PlannedPractice | None:
    """Return a practice by its id."""
    return next((each for each in practices if each.id == practice), None)


def _record_page(
    visit: Visit,
    space: Workspace,
    asked: Blank,
    filled: Saved | None,
    code: int = 200,
    *,
    theirs: Saved | None = None,
    problems: list[str] | None = None,
) -> Response:
    path = space.folder / RECORD_FILE
    versions: tuple[Saved, ...] = ()
    if path.exists():
        with open_record(path) as db:
            versions = history(db, asked.practice)
    strands: dict[str, list[tuple[str, str]]] = {}
    for skill in space.library.skills:
        strands.setdefault(skill.strand, []).extend(
            (f"{skill.id}@{stage}", f"{skill.name}, {stage}") for stage in skill.stages
        )
    return visit.page(
        "record.html",
        code,
        space=space,
        versions=versions,
        theirs=theirs,
        problems=problems or [],
        outdated=_what_became(space, asked.practice),
        has_sheet=space.plan is not None
        and find(still_held(space, space.plan), asked.practice) is not None,
        strands=strands,
        **_form(visit, space, asked, filled),
    )


def _form(visit: Visit, space: Workspace, asked: Blank, filled: Saved | None) -> dict[str, Any]:
    """Return what the form is filled with: an entry that stands or was set aside, or nothing."""
    players, _ = read_players(space.folder)
    said = {block.node: block for block in filled.entry.blocks} if filled else {}
    lost = filled is not None and filled.entry.status == "lost"
    return {
        "asked": asked,
        "said": {} if lost else said,
        "entry": filled.entry if filled else None,
        "players": players,
        "client": secrets.token_urlsafe(12),
        "names": {block.skill: skill_name(space.library, block.skill) for block in asked.blocks},
        "venue": next(
            (each.name for each in space.season.venue if each.id == asked.venue), asked.venue
        ),
        "early": asked.date > visit.site.today(space),
    }


def _pictures(space: Workspace, sheet: Sheet) -> dict[str, list[str]]:
    """Return the pictures of the drills, first frames first, as far as a phone's page may grow."""
    drills = {drill.id: drill for drill in space.library.drills}
    wanted = [row.drill.id for row in sheet.rows if row.drill]
    times = Counter(wanted)
    found: dict[str, list[str]] = {each: [] for each in times}
    spent = 0
    most = max((drills[each].frames for each in times), default=0)
    for frame in range(most):
        for each in times:
            if frame < drills[each].frames and len(found[each]) == frame:
                svg = drill_svg(drills[each], frame=frame, paper="var(--paper)")
                if spent + len(svg) * times[each] <= MOST_PICTURES:
                    found[each].append(svg)
                    spent += len(svg) * times[each]
    return found


def _neighbours(plan: Plan, planned: PlannedPractice) -> tuple[str | None, str | None]:
    ids = [each.id for each in plan.practices]
    place = ids.index(planned.id)
    before = ids[place - 1] if place else None
    return before, ids[place + 1] if place + 1 < len(ids) else None
