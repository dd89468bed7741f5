"""Make a season's plan, compare it with the one that stands, and write it."""

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from curriculum.happened import held_so_far, open_from
from curriculum.models.plan import Plan
from curriculum.problems import FaultyInputError, Problem
from curriculum.replan import setting_of
from curriculum.schedule.again import Setting, Trial, instance_of
from curriculum.schedule.assemble import assemble, drills_of
from curriculum.schedule.effort import Effort
from curriculum.schedule.explain.clash import Clash, clash_of
from curriculum.schedule.explain.remedies import Remedy, misses_and_remedies
from curriculum.schedule.solve import Progress, solve
from curriculum.store import mark_of, plan_bytes, plan_mark, replace_plan, same_but_time
from curriculum.workspace import PLAN_FILE, Workspace


@dataclass(frozen=True)
class Planned:
    """A plan that was made, and the one before it.

    fresh: it says something that the one before it does not, if only of its proof.
    clash: why the must-goals and pins cannot all be kept, None when the plan keeps them.
    remedies: what would help, each tried.
    """

    plan: Plan
    before: Plan | None
    fresh: bool
    trial: Trial
    clash: Clash | None = None
    remedies: tuple[Remedy, ...] = ()


def setting_of_space(space: Workspace, today: dt.date | None, *, fresh: bool = False) -> Setting:
    """Return what the next plan of a season is made from.

    Practices before `today` are past, and today's too once it is recorded. They hold what the
    record says, else what the plan says. Once people know the plan, changes to the rest count,
    unless a fresh start is asked for. Without a plan and a record all dates are open.
    """
    if space.plan is None and not space.record.practices:
        return Setting(space.season, space.library, space.gym)
    opening = open_from(space.record, today)
    held = held_so_far(space.record, space.plan, space.gym, opening) if opening else None
    if space.plan is None:
        return Setting(space.season, space.library, space.gym, opening, held)
    return setting_of(
        space.season,
        space.library,
        space.gym,
        space.plan,
        opening,
        published=space.published,
        fresh=fresh,
        held=held,
    )


def make_plan(
    space: Workspace,
    *,
    now: dt.datetime,
    today: dt.date | None,
    fresh: bool = False,
    effort: Effort = "quick",
    progress: Callable[[Progress], None] | None = None,
) -> Planned:
    """Plan a season and compare the plan with the one that stands; nothing is written."""
    setting = setting_of_space(space, today, fresh=fresh)
    instance = instance_of(setting)
    result = solve(instance, effort, progress=progress)
    made = Trial(setting, space.workload, instance, result)
    misses, remedies = misses_and_remedies(made)
    plan = assemble(
        space.season,
        space.gym,
        space.workload,
        instance,
        result,
        made=now,
        misses=misses,
        drills=drills_of(space.plan),
        revision=space.plan.revision if space.plan else 1,
    )
    clash = None
    if plan.status == "partial":
        clash = clash_of(space.season, space.library, space.gym, space.workload, instance, effort)
    if space.plan is None:
        return Planned(plan, None, True, made, clash, remedies)
    if not same_season(space.plan, plan):
        plan = plan.model_copy(update={"revision": space.plan.revision + 1})
    worth_writing = not same_but_time(space.plan, plan)
    return Planned(plan, space.plan, worth_writing, made, clash, remedies)


def same_season(first: Plan, second: Plan) -> bool:
    """Whether two plans tell people the same, whatever is proven and however misses are put.

    The order of blocks within a practice is told: a sheet shows it, under the plan's revision.
    """
    proof = {"proof": second.proof, "status": second.status, "misses": second.misses}
    missed = [[(miss.skill, miss.stage) for miss in plan.misses] for plan in (first, second)]
    return missed[0] == missed[1] and same_but_time(first.model_copy(update=proof), second)


def keep(space: Workspace, planned: Planned) -> Workspace:
    """Write a plan, unless it says just what the one in the folder says, and return the folder.

    Raises FaultyInputError, and writes nothing, when by now another plan stands in the folder than
    the one that it was made from.
    """
    path = space.folder / PLAN_FILE
    if not planned.fresh:
        if plan_mark(path) != space.plan_mark:
            raise FaultyInputError([displaced(path)])
        return space
    data = plan_bytes(planned.plan)
    if not replace_plan(path, data, space.plan_mark):
        raise FaultyInputError([displaced(path)])
    return replace(space, plan=planned.plan, plan_mark=mark_of(data))


def displaced(path: Path) -> Problem:
    """Return the problem of a plan that comes too late: another one was put in force meanwhile."""
    says = "another plan was put in force while this one was being made, so it was not written"
    return Problem(str(path), 0, "", says, "", "look at the one that stands, then plan again")
