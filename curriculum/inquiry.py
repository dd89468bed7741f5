"""Questions about a season that change nothing: why, what if, and what one lost practice costs."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from curriculum.happened import open_from
from curriculum.models.plan import Plan
from curriculum.models.skills import Stage
from curriculum.planning import setting_of_space
from curriculum.problems import FaultyInputError
from curriculum.risk import FULL, Depth, Outlook, outlook
from curriculum.schedule.again import instance_of
from curriculum.schedule.effort import Effort
from curriculum.schedule.explain.why import Why, why
from curriculum.schedule.instance import held_of
from curriculum.schedule.reread import timetable_of
from curriculum.whatif.forms import parse
from curriculum.whatif.outcome import Outcome, tried
from curriculum.workspace import Workspace


def why_about(
    space: Workspace,
    plan: Plan,
    skill: str,
    stage: Stage | None,
    date: dt.date | None,
    today: dt.date | None,
) -> Why:
    """Explain where a plan's blocks of a skill stand; what is past is fixed."""
    instance = instance_of(setting_of_space(space, today))
    timetable = timetable_of(plan, space.gym, space.workload, instance)
    return why(space.library, space.gym, space.workload, instance, timetable, skill, stage, date)


def what_if(
    space: Workspace,
    plan: Plan,
    texts: Sequence[str],
    *,
    now: dt.datetime,
    today: dt.date | None,
    effort: Effort = "quick",
) -> Outcome:
    """Plan the season with changes in plain words and compare; nothing is written.

    The present plan is kept to as far as the changes let it, so that the difference is theirs.
    Raises FaultyInputError with every text that is not understood.
    """
    changes, problems = parse(texts, space.season, space.library, space.gym)
    if problems:
        raise FaultyInputError(problems)
    setting = replace(setting_of_space(space, today), former=held_of(plan))
    return tried(setting, plan, changes, now, effort)


def outlook_of(space: Workspace, plan: Plan, today: dt.date | None, depth: Depth = FULL) -> Outlook:
    """Return the goals that losing a single remaining practice would miss."""
    opening = open_from(space.record, today)
    return outlook(space.season, space.library, space.gym, space.workload, plan, opening, depth)
