"""Why a pin could not be honoured, in one sentence."""

from curriculum.gym.practices import Gym
from curriculum.models.season import Pin, Season
from curriculum.schedule.explain.limits import Limits
from curriculum.schedule.explain.shortages import lacking
from curriculum.schedule.explain.words import Names
from curriculum.schedule.instance import Instance
from curriculum.schedule.timetable import Timetable
from curriculum.wording import named, short_date
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
    if job.introduces and number == 1 and job.blocks == 1 and instance.quiet[place]:
        return f"{name}: nothing new is introduced in the last practice before a game"
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
    return f"{name} does not fit with the other pins and the must-goals"


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
