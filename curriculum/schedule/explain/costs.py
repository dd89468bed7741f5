"""What a missed stage would cost: what waits for it, and which goals hang on it."""

import datetime as dt
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.schedule.explain.limits import Limits
from curriculum.schedule.explain.words import Names
from curriculum.schedule.timetable import Timetable
from curriculum.schedule.windows import windows_of
from curriculum.wording import counted, named, short_date
from curriculum.workload import Workload

MOST_NAMED = 3
"""Names in one sentence; more are counted."""


@dataclass(frozen=True)
class Waiting:
    """A stage that waits for another, directly or not, and the date on which it starts, if any."""

    node: Node
    date: dt.date | None


@dataclass(frozen=True)
class Hanging:
    """A goal that hangs on a stage.

    goal: its index among the season's goals.
    latest: the last practice in which the stage can be reached so that the goal can still be met;
    None when it is too late already.
    """

    goal: int
    latest: dt.date | None


@dataclass(frozen=True)
class Cost:
    """What missing a stage would cost.

    waits: what waits for it, in order of date. goals: other goals that hang on it, by latest date.
    says: the same in sentences.
    """

    node: Node
    waits: tuple[Waiting, ...]
    goals: tuple[Hanging, ...]
    says: tuple[str, ...]


def cost_of(
    limits: Limits, gym: Gym, workload: Workload, names: Names, timetable: Timetable, node: Node
) -> Cost:
    """Return what it costs when a stage of the workload is missed; KeyError for any other."""
    jobs = {job.node: index for index, job in enumerate(workload.jobs)}
    job = jobs[node]
    behind = [other for other, needed in enumerate(limits.needed) if job in needed and other != job]
    waits = sorted(
        (Waiting(workload.jobs[other].node, _start(gym, timetable, other)) for other in behind),
        key=lambda each: (each.date or dt.date.max, each.node),
    )
    goals = sorted(
        (
            Hanging(index, _latest(limits, gym, job, index))
            for index, goal in enumerate(limits.instance.goals)
            if goal.job in behind
        ),
        key=lambda each: (each.latest or dt.date.min, each.goal),
    )
    says = tuple(_sentences(workload, names, node, waits, goals))
    return Cost(node, tuple(waits), tuple(goals), says)


def _start(gym: Gym, timetable: Timetable, job: int) -> dt.date | None:
    row = timetable.blocks[job]
    return gym.practices[row[0]].date if row else None


def _latest(limits: Limits, gym: Gym, job: int, index: int) -> dt.date | None:
    """Return the last date on which a job can be reached for a goal to be met, as its needs go."""
    instance, goal = limits.instance, limits.instance.goals[index]
    ends = [instance.practices] * len(instance.minutes)
    ends[goal.job] = goal.limit
    # What else waits for the stage may come too late without any harm to this goal.
    asked = [each in limits.needed[goal.job] for each in range(len(instance.minutes))]
    last = windows_of(limits.tables, limits=ends, required=asked).last[job][-1]
    return gym.practices[last].date if last >= 0 else None


def _sentences(
    workload: Workload, names: Names, node: Node, waits: list[Waiting], goals: list[Hanging]
) -> list[str]:
    name = names.stage(node)
    if not waits:
        return [f"nothing else waits for {name}"]
    skills = list(dict.fromkeys(names.skills.get(each.node[0], each.node[0]) for each in waits))
    first = next((each.date for each in waits if each.date), None)
    when = f", the first on {short_date(first)}" if first else ""
    verb = "waits" if len(waits) == 1 else "wait"
    whose = f"{counted(len(waits), 'stage')} of {named(skills, most=MOST_NAMED)}"
    says = [f"{whose} {verb} for {name}{when}"]
    for each in goals:
        goal = names.goal(workload.targets[each.goal])
        if each.latest is None:
            says.append(f"{goal} is out of reach already")
        else:
            says.append(f"{goal} is missed if it is reached after {short_date(each.latest)}")
    return says
