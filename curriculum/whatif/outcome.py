"""What would be if a season changed: it is planned again and compared, and nothing is written."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.replan import Difference, difference
from curriculum.risk import Outlook, outlook
from curriculum.schedule.again import Setting, changed, trial
from curriculum.schedule.assemble import assemble
from curriculum.schedule.changes import Change
from curriculum.schedule.effort import Effort
from curriculum.schedule.explain.misses import misses_of
from curriculum.schedule.explain.words import names_of
from curriculum.workload import workload_of


@dataclass(frozen=True)
class Outcome:
    """What would be: the plan with the changes, and how it differs from the present one.

    outlook: what is at risk in the changed season.
    notes: what the changed calendar does not allow though the present one does, and the pins that
    it takes away; a sentence each, without a full stop.
    """

    plan: Plan
    difference: Difference
    outlook: Outlook
    notes: tuple[str, ...]


def tried(
    setting: Setting,
    present: Plan,
    changes: Sequence[Change],
    made: dt.datetime,
    effort: Effort = "quick",
) -> Outcome:
    """Plan a season with changes and compare it with the present plan; nothing is written.

    Goals at risk are compared as well. Raises networkx.NetworkXUnfeasible when needs run in a loop.
    """
    after = trial(changed(setting, changes), effort)
    season, gym, library = after.setting.season, after.setting.gym, setting.library
    misses = misses_of(season, library, gym, after.workload, after.instance, after.result)
    plan = assemble(
        season, gym, after.workload, after.instance, after.result, made=made, misses=misses
    )
    now = workload_of(setting.season, library)
    today = setting.today
    before = outlook(setting.season, library, setting.gym, now, present, today)
    would_be = outlook(season, library, gym, after.workload, plan, today)
    risky, still = _stages(before), _stages(would_be)
    # What was not looked into is not called safe.
    still = still if would_be.checked == would_be.remaining else still | risky
    return Outcome(
        plan=plan,
        difference=difference(present, plan, risky, still),
        outlook=would_be,
        notes=tuple(dict.fromkeys(_notes(setting, season, gym))),
    )


def _stages(found: Outlook) -> frozenset[Node]:
    return frozenset((risk.skill, risk.stage) for risk in found.risks)


def _notes(before: Setting, season: Season, gym: Gym) -> Iterator[str]:
    """Yield what is wrong with calendar and pins once a season is changed, and was not before."""
    known = {(each.says, each.found) for each in before.gym.problems}
    for problem in gym.problems:
        if (problem.says, problem.found) not in known:
            yield f"{problem.says} ({problem.found})" if problem.found else problem.says
    names = names_of(before.library)
    dates = {practice.date for practice in gym.practices}
    for pin in season.pin:
        if pin.date not in dates and pin.date in {each.date for each in before.gym.practices}:
            yield f"{names.pin(pin)} counts for nothing: no practice is held then any more"
