"""A plan is proposed, looked at, and only then accepted: by whom, and over what, is checked."""

import datetime as dt
import hashlib
import json
import secrets
import threading
from dataclasses import dataclass

from curriculum.inquiry import outlook_of
from curriculum.models.plan import Plan
from curriculum.planning import make_plan, same_season
from curriculum.problems import FaultyInputError
from curriculum.server import waiting
from curriculum.server.site import Site
from curriculum.server.waiting import Proposal
from curriculum.store import plan_bytes, replace_plan
from curriculum.workspace import PLAN_FILE, Workspace


@dataclass(frozen=True)
class Standing:
    """Where the making of a plan stands.

    running: one is being made. failed: what stood against the last one, "" when nothing did.
    stays: what the last one was computed from, as in `base_of`, when it told people just what the
    plan in force does, else "".
    """

    running: bool = False
    failed: str = ""
    stays: str = ""


class Planner:
    """Makes one proposal at a time, beside the requests."""

    def __init__(self, site: Site) -> None:
        self.site = site
        self._lock = threading.Lock()
        self._standing = Standing()
        self._worker: threading.Thread | None = None

    @property
    def standing(self) -> Standing:
        """Where the making of a plan stands."""
        return self._standing

    def begin(self) -> None:
        """Begin to make a proposal, unless one is being made."""
        with self._lock:
            if self._standing.running:
                return
            self._standing = Standing(running=True)
            self._worker = threading.Thread(target=self._make, name="planner", daemon=True)
            self._worker.start()

    def says_it_stays(self, space: Workspace) -> bool:
        """Whether the last proposal was that the plan in force stays, and nothing changed since."""
        stays = self._standing.stays
        return bool(stays) and stays == base_of(space, self.site)

    def wait(self) -> None:
        """Wait until no proposal is being made."""
        if self._worker is not None:
            self._worker.join()

    def _make(self) -> None:
        standing = Standing(failed="The plan could not be made; the log says more.")
        try:
            standing = self._proposed()
        except FaultyInputError as fault:
            standing = Standing(failed=" ".join(f"{each.sentence}." for each in fault.problems))
        finally:
            # Whatever else goes wrong ends this thread and stands in the log, but not the page,
            # which would wait for ever.
            self._standing = standing

    def _proposed(self) -> Standing:
        site = self.site
        opening = site.opening()
        if opening.workspace is None:
            raise FaultyInputError(opening.problems)
        space, now = opening.workspace, site.now()
        today = site.today(space)
        made = make_plan(space, now=now, today=today)
        if space.plan is not None and same_season(space.plan, made.plan):
            waiting.drop_proposal(site.state)
            return Standing(stays=base_of(space, site))
        risks = _newly_at_risk(space, made.plan, today)
        waiting.keep_proposal(
            site.state,
            Proposal(
                id=secrets.token_urlsafe(9),
                base=base_of(space, site),
                revision=space.plan.revision if space.plan else 0,
                plan=plan_bytes(made.plan).decode(),
                risks=json.dumps(risks),
                made=now,
            ),
        )
        return Standing()


def _newly_at_risk(space: Workspace, plan: Plan, today: dt.date) -> list[str]:
    """Return what is said of the goals that are at risk in a plan, and were not in the one before.

    Without one before: of all that are at risk.
    """
    before = outlook_of(space, space.plan, today).risks if space.plan else ()
    known = {(risk.skill, risk.stage, risk.by) for risk in before}
    return [
        risk.says
        for risk in outlook_of(space, plan, today).risks
        if (risk.skill, risk.stage, risk.by) not in known
    ]


def base_of(space: Workspace, site: Site) -> str:
    """Return a hash over all that a plan is computed from: files, record, plan in force, date."""
    parts = (
        space.season.model_dump_json(),
        space.library.model_dump_json(),
        plan_bytes(space.plan).decode() if space.plan else "",
        *(f"{saved.version} {saved.entry.model_dump_json()}" for saved in space.record.practices),
        f"{space.published} {site.today(space)}",
    )
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def accept(site: Site, proposal: str, revision: str) -> bool:
    """Put a proposed plan in force; False, and nothing is written, when it is out of date.

    revision: the plan that the coach was shown the difference to, 0 for none.
    """
    with site.writing:
        waits = waiting.proposal(site.state)
        opening = site.opening()
        if opening.workspace is None:
            raise FaultyInputError(opening.problems)
        space = opening.workspace
        if waits is None or (waits.id, f"{waits.revision}") != (proposal, revision):
            return False
        if waits.base != base_of(space, site):
            return False
        # A command may have written another plan since the folder was opened, a moment ago.
        if not replace_plan(space.folder / PLAN_FILE, waits.plan.encode(), space.plan_mark):
            return False
        waiting.drop_proposal(site.state)
    return True
