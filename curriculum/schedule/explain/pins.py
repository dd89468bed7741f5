"""Why a pin could not be honoured, in one sentence."""

from dataclasses import replace

from curriculum.gym.practices import Gym
from curriculum.models.season import Pin, Season
from curriculum.schedule.explain.limits import Limits
from curriculum.schedule.explain.shortages import lacking
from curriculum.schedule.explain.words import Names
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import Instance
from curriculum.schedule.timetable import Timetable
from curriculum.wording import counted, named, short_date
from curriculum.workload import Workload


def pin_of(season: Season, gym: Gym, workload: Workload, index: int) -> Pin:
    """Return the coach's pin behind the pin of an instance with this index."""
    jobs = {job.node for job in workload.jobs}
    dates = {practice.date for practice in gym.practices}
    usable = [pin for pin in season.pin if (pin.skill, pin.stage) in jobs and pin.date in dates]
    return usable[index]


def pin_words(
    limits: Limits,
    gym: Gym,
    workload: Workload,
    names: Names,
    index: int,
    pin: Pin,
    timetable: Timetable,
) -> str:
    """Return why the pin with an index is given up."""
    instance, numbered = limits.instance, limits.instance.pins[index]
    job, name = workload.jobs[numbered.job], names.pin(pin)
    practices = [gym.practices[practice] for practice in numbered.practices]
    lacks = lacking(job, practices)
    if lacks:
        return f"{name} {lacks}"
    place = max(numbered.practices)
    number = max(1, numbered.number)
    if number > job.blocks:
        return f"{name}: it takes {counted(job.blocks, 'block')}"
    quiet = all(instance.quiet[practice] for practice in numbered.practices)
    fresh = job.introduces and not limits.tables.past[numbered.job]
    if fresh and number == 1 and job.blocks == 1 and quiet:
        return f"{name}: nothing new is introduced in the last practice before a game"
    passed = _passed_over(limits, numbered.job)
    if passed >= 0:
        lower = names.stage(workload.jobs[passed].node)
        return f"{name}: it is not reviewed before {lower} is taught, which was passed over"
    first = limits.windows.first[numbered.job][number - 1]
    if first > place:
        when = (
            f"before {short_date(gym.practices[first].date)}"
            if first < instance.practices
            else "this season"
        )
        return f"{name}: what it needs cannot be taught {when}"
    others = _beside(instance, workload, names, index, timetable)
    if others:
        return f"{name} gives way to {named(others, most=3)} in that practice"
    alone = replace(instance, goals=(), pins=(numbered,))
    if decide(alone, "quick").verdict == "unreachable":
        return f"{name} cannot be kept even if nothing else is taught"
    return f"{name} does not fit with the other pins and the must-goals"


def _passed_over(limits: Limits, job: int) -> int:
    """Return a stage that was passed over below one that is held in full; -1 for none."""
    chain = limits.instance.chains[limits.instance.skill[job]]
    if limits.blocks_left(job):
        return -1
    return next((lower for lower in chain[: chain.index(job)] if limits.blocks_left(lower)), -1)


def _beside(
    instance: Instance, workload: Workload, names: Names, index: int, timetable: Timetable
) -> list[str]:
    """Return the stages that stand in the practices of a pin, longest first."""
    place = set(instance.pins[index].practices)
    found = [
        (-instance.minutes[job], names.stage(workload.jobs[job].node))
        for job, row in enumerate(timetable.blocks)
        if place & set(row) and job != instance.pins[index].job
    ]
    return [name for _, name in sorted(found)]
