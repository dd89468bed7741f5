"""Plan a season again with changes made to it: what remedies and what-ifs are tried with."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, replace

from curriculum.gym.practices import Former, Gym
from curriculum.gym.slots import calendar_of
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.schedule.changes import Change, apply
from curriculum.schedule.effort import Effort
from curriculum.schedule.instance import Held, Instance, build
from curriculum.schedule.solve import Result, solve
from curriculum.workload import Workload, workload_of


@dataclass(frozen=True)
class Setting:
    """All that a plan is made from.

    season: with everything that its calendar files add.
    today: practices before it are past and hold what `held` says; None when nothing is past.
    former: the plan that people know, None when they know none or it is to be forgotten.
    """

    season: Season
    library: Library
    gym: Gym
    today: dt.date | None = None
    held: Held | None = None
    former: Held | None = None


@dataclass(frozen=True)
class Trial:
    """A setting with the plan that came of it, in numbers."""

    setting: Setting
    workload: Workload
    instance: Instance
    result: Result


def changed(setting: Setting, changes: Iterable[Change]) -> Setting:
    """Return the setting with changes made to its season; practices keep their ids."""
    season = apply(setting.season, changes)
    former = [Former(one.id, one.date, one.start, one.venue) for one in setting.gym.practices]
    return replace(setting, season=season, gym=calendar_of(season, former))


def instance_of(setting: Setting) -> Instance:
    """Return a setting's problem in numbers."""
    workload = workload_of(setting.season, setting.library)
    return _built(setting, workload)


def _built(setting: Setting, workload: Workload) -> Instance:
    return build(setting.season, setting.gym, workload, setting.today, setting.held, setting.former)


def trial(setting: Setting, effort: Effort = "quick") -> Trial:
    """Plan a setting, quickly unless told otherwise."""
    workload = workload_of(setting.season, setting.library)
    instance = _built(setting, workload)
    return Trial(setting, workload, instance, solve(instance, effort))
