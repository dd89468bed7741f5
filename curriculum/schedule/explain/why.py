"""Why each block of a skill stands where it does, what the skill unlocks, what losing it costs."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass, replace

from curriculum.gym.practices import Gym
from curriculum.models.plan import Kind
from curriculum.models.skills import Library, Stage
from curriculum.schedule.explain.costs import Cost, Waiting, cost_of
from curriculum.schedule.explain.earlier import Present, bar
from curriculum.schedule.explain.limits import limits_of
from curriculum.schedule.explain.words import names_of
from curriculum.schedule.instance import Instance, Pin
from curriculum.schedule.solve import solve
from curriculum.schedule.timetable import (
    COMFORT,
    Timetable,
    early,
    late,
    tier_names,
    tiers,
    uneven,
)
from curriculum.wording import counted, listed
from curriculum.workload import Workload

MOST_TRIALS = 8
"""Plans made, at most, to see what gets worse when a block moves to an earlier practice."""


@dataclass(frozen=True)
class Earlier:
    """Practices, one after another, in which a block does not stand for one and the same reason.

    first, last: their first and last date. practices: how many.
    rule: the rule that forbids it as the plan stands, by the referee's name; "" for none.
    says: the reason, with dates, names and numbers.
    tried: what came of planning again with the block there, "" when that was not tried.
    """

    first: dt.date
    last: dt.date
    practices: int
    rule: str
    says: str
    tried: str = ""


@dataclass(frozen=True)
class BlockWhy:
    """A block and why it does not stand earlier; the practices nearest to it come first.

    earlier is empty when it stands in the first practice that is left.
    """

    stage: Stage
    number: int
    of: int
    kind: Kind
    date: dt.date
    earlier: tuple[Earlier, ...]


@dataclass(frozen=True)
class Why:
    """The answer about one skill.

    note: why there is nothing to explain, else "".
    unlocks: stages of other skills that wait for it, with the date on which each starts.
    losing: what it costs when the skill is not taught.
    """

    skill: str
    name: str
    note: str
    blocks: tuple[BlockWhy, ...]
    unlocks: tuple[Waiting, ...]
    losing: tuple[str, ...]


def why(
    library: Library,
    gym: Gym,
    workload: Workload,
    instance: Instance,
    timetable: Timetable,
    skill: str,
    stage: Stage | None = None,
    date: dt.date | None = None,
) -> Why:
    """Explain the blocks of a skill, of one stage or of one date when these are given.

    timetable must keep the rules of the instance. KeyError when the library lacks the skill.
    """
    name = library.skill(skill).name
    present = Present(limits_of(instance), gym, workload, names_of(library), timetable)
    jobs = [index for index, job in enumerate(workload.jobs) if job.skill == skill]
    wanted = [index for index in jobs if stage in (None, workload.jobs[index].stage)]
    if not wanted:
        return Why(skill, name, _absent(workload, name, skill, stage), (), (), ())
    blocks = tuple(_blocks(present, wanted, date))
    costs = [_cost(present, index) for index in jobs]
    unlocks = {each.node: each for cost in costs for each in cost.waits if each.node[0] != skill}
    note = "" if blocks else _no_block(name, stage, date)
    losing = (*_own_goals(present, jobs[0]), *costs[0].says)
    return Why(skill, name, note, blocks, tuple(unlocks.values()), losing)


def _own_goals(present: Present, job: int) -> Iterator[str]:
    """Yield the goals on a skill's first stage; those on its others wait for it already."""
    for index, goal in enumerate(present.limits.instance.goals):
        if goal.job == job:
            yield f"{present.names.goal(present.workload.targets[index])} is missed"


def _cost(present: Present, index: int) -> Cost:
    node = present.workload.jobs[index].node
    limits, names = present.limits, present.names
    return cost_of(limits, present.gym, present.workload, names, present.timetable, node)


def _absent(workload: Workload, name: str, skill: str, stage: Stage | None) -> str:
    what = f"{name} {stage}" if stage else name
    if any(node[0] == skill and stage in (None, node[1]) for node in workload.known):
        return f"{what} is known already, so it is not taught"
    return f"no goal asks for {what}"


def _no_block(name: str, stage: Stage | None, date: dt.date | None) -> str:
    what = f"{name} {stage}" if stage else name
    return f"{what} has no block on that date" if date else f"{what} is not taught in this plan"


def _blocks(present: Present, jobs: list[int], date: dt.date | None) -> Iterator[BlockWhy]:
    chosen = [
        (index, number, place)
        for index in jobs
        for number, place in enumerate(present.timetable.blocks[index], start=1)
        if date in (None, present.gym.practices[place].date)
        and place >= present.limits.instance.first_open
    ]
    share = max(1, MOST_TRIALS // max(1, len(chosen)))
    for index, number, place in chosen:
        job = present.workload.jobs[index]
        kind: Kind = "introduce" if job.introduces and number == 1 else "build"
        day = present.gym.practices[place].date
        earlier = tuple(_merged(_earlier(present, index, number, place, share)))
        yield BlockWhy(job.stage, number, job.blocks, kind, day, earlier)


def _earlier(present: Present, job: int, number: int, place: int, trials: int) -> Iterator[Earlier]:
    """Yield the reason for each earlier practice, nearest first; the first few are also tried."""
    for practice in reversed(range(present.limits.instance.first_open, place)):
        day = present.gym.practices[practice].date
        found = bar(present, job, number, practice)
        tried = ""
        if not found.firm and trials > 0:
            trials -= 1
            tried = _tried(present, job, number, practice)
        yield Earlier(day, day, 1, found.rule, found.says, tried)


def _merged(reasons: Iterator[Earlier]) -> Iterator[Earlier]:
    """Join neighbours that have the same reason; they come latest first."""
    last: Earlier | None = None
    for each in reasons:
        if last and (each.rule, each.says, each.tried) == (last.rule, last.says, last.tried):
            last = replace(last, first=each.first, practices=last.practices + 1)
            continue
        if last:
            yield last
        last = each
    if last:
        yield last


def _tried(present: Present, job: int, number: int, practice: int) -> str:
    """Plan again with a block pinned to a practice and say which tier gets worse first."""
    instance = present.limits.instance
    pins = (*instance.pins, Pin(job, number, (practice,)))
    result = solve(replace(instance, pins=pins), "quick")
    if len(pins) - 1 in result.timetable.dropped:
        return "no plan was found with it there"
    if len(result.timetable.dropped) > len(present.timetable.dropped):
        return "with it there, a pin is given up"
    names = tier_names(noticed=instance.noticed)
    before, after = tiers(instance, present.timetable), tiers(instance, result.timetable)
    for name, was, now in zip(names, before, after, strict=True):
        if now > was:
            worse = f"with it there, {name} would be {now} instead of {was}"
            if name == COMFORT:
                worse += _less_comfortable(instance, present.timetable, result.timetable)
            return f"{worse} (best plan tried)"
        if now < was:
            break
    return "a plan with it there is no worse"


def _less_comfortable(instance: Instance, before: Timetable, after: Timetable) -> str:
    """Return what makes a plan less comfortable: the parts that are worse, days by weight."""
    days = early(instance, after) - early(instance, before)
    reviews = late(instance, after) - late(instance, before)
    worse = []
    if days > 0:
        worse.append(f"skills are taught {counted(days, 'day')} later in all")
    if reviews > 0:
        worse.append(f"reviews and long gaps are {counted(reviews, 'day')} later in all")
    if uneven(instance, after) > uneven(instance, before):
        worse.append("practices are less even")
    return f": {listed(worse)}" if worse else ""
