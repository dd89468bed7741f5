"""The plan: what would change, why, and the word that puts it in force."""

import json

from starlette.responses import Response

from curriculum.models.plan import Plan
from curriculum.practice.agenda import STATUS_WORDS, agenda
from curriculum.practice.difference import difference
from curriculum.practice.soon import sooner
from curriculum.server import waiting
from curriculum.server.pages.season import outdated, recorded_since, remedies
from curriculum.server.replanning import Planner, accept, base_of
from curriculum.server.visits import RefusedError, Visit


def plan(visit: Visit) -> Response:
    """Show the proposal that waits, or how to get one."""
    space = visit.space()
    planner: Planner = visit.request.app.state.planner
    waits = waiting.proposal(visit.site.state)
    new = Plan.model_validate_json(waits.plan) if waits else None
    fresh = waits is not None and waits.base == base_of(space, visit.site)
    changes = None
    if new and space.plan:
        changes = difference(space.plan, new, space.season, space.library)
    shown = agenda(new, space.season, space.library, space.gym) if new and fresh else None
    lost = changes.goals_lost if changes else ()
    return visit.page(
        "plan.html",
        space=space,
        standing=planner.standing,
        stays=planner.says_it_stays(space),
        waits=waits,
        fresh=fresh,
        new=new,
        words=STATUS_WORDS[new.status] if new else "",
        changes=changes,
        told=sooner(changes, visit.site.today(space)) if changes else None,
        shown=shown,
        remedies=remedies(shown) if shown else (),
        misses=[miss for miss in shown.misses if miss.why not in lost] if shown else [],
        risks=json.loads(waits.risks) if waits else [],
        since=recorded_since(space),
        outdated=outdated(space),
        done=visit.request.query_params.get("done", "") == "accepted",
    )


def propose(visit: Visit) -> Response:
    """Begin to make a proposal."""
    visit.space()
    visit.request.app.state.planner.begin()
    return visit.go("/plan")


def take(visit: Visit) -> Response:
    """Put the proposal in force that the coach has seen, and no other."""
    if not accept(visit.site, visit.said("proposal"), visit.said("revision")):
        raise RefusedError(
            409,
            "The season, the record or the plan has changed since this was proposed, so it was not"
            " put in force. Look at a new proposal.",
        )
    return visit.go("/plan?done=accepted")


def drop(visit: Visit) -> Response:
    """Forget the proposal; the plan in force stays."""
    waiting.drop_proposal(visit.site.state)
    return visit.go("/plan")
