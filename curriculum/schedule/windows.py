"""Earliest and latest practices of every block, capacity left aside: bounds and priorities."""

from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.schedule.instance import Instance
from curriculum.schedule.tables import Tables, highest, lowest

Rows = tuple[tuple[int, ...], ...]
"""One number for each job and block."""


@dataclass(frozen=True)
class Windows:
    """For each job and block, practices between which it can stand.

    first: the earliest practice by needs, gaps, quiet practices and courts; the count of practices
    when there is none. Valid for every plan that keeps the rules.
    last: the latest practice that still lets every goal behind it be in time; -1 for none.
    """

    first: Rows
    last: Rows


def windows_of(
    tables: Tables,
    masks: Rows | None = None,
    limits: Sequence[int] | None = None,
    required: Sequence[bool] | None = None,
) -> Windows:
    """Work out the windows of all blocks, forward by needs and backward from the limits.

    masks: the practices of each block, those of the tables unless pins narrow them.
    limits: how many of the first practices count for each job, those of its goals unless given.
    required: the jobs that must be reached, all unless given; the others put no limit on anything.
    """
    masks = tables.masks if masks is None else masks
    limits = goal_limits(tables.instance) if limits is None else limits
    return Windows(_forward(tables, masks), _backward(tables, masks, limits, required))


def goal_limits(instance: Instance, importance: int = 2) -> list[int]:
    """Return for each job how many practices count for its goals of this importance or stricter."""
    limits = [instance.practices] * len(instance.minutes)
    for goal in instance.goals:
        if goal.job >= 0 and goal.importance <= importance:
            limits[goal.job] = min(limits[goal.job], goal.limit)
    return limits


def _forward(tables: Tables, masks: Rows) -> Rows:
    instance = tables.instance
    count = instance.practices
    first: list[tuple[int, ...]] = []
    for job, needs in enumerate(instance.needs):
        start = 0
        for needed in needs:
            start = max(start, after(tables, needed, job, first[needed][-1]))
        row = []
        for number in range(instance.blocks[job]):
            if number < tables.past[job]:
                place = masks[job][number].bit_length() - 1
            else:
                place = lowest(masks[job][number], start) if start < count else -1
                place = count if place < 0 else place
            row.append(place)
            start = max(start, tables.next_day[place] if place < count else count)
        first.append(tuple(row))
    return tuple(first)


def after(tables: Tables, needed: int, job: int, end: int) -> int:
    """Return the first practice in which a job may start when what it needs ends at `end`."""
    if end >= tables.instance.practices:
        return tables.instance.practices
    if tables.instance.skill[needed] == tables.instance.skill[job]:
        return tables.next_day[end]
    return end + (not tables.instance.within)


def before(tables: Tables, needed: int, job: int, start: int) -> int:
    """Return the last practice in which a need may end so that a job can start at `start`."""
    if start < 0:
        return -1
    if tables.instance.skill[needed] == tables.instance.skill[job]:
        return tables.last_day[start]
    return start - (not tables.instance.within)


def _backward(
    tables: Tables, masks: Rows, limits: Sequence[int], required: Sequence[bool] | None
) -> Rows:
    instance = tables.instance
    end = [limit - 1 for limit in limits]
    last: list[tuple[int, ...]] = [()] * len(instance.minutes)
    for job in reversed(range(len(instance.minutes))):
        row = [instance.practices - 1] * instance.blocks[job]
        latest = end[job]
        if required is not None and not required[job]:
            last[job] = tuple(row)
            continue
        for number in reversed(range(instance.blocks[job])):
            if number < tables.past[job]:
                row[number] = masks[job][number].bit_length() - 1
                continue
            latest = highest(masks[job][number], latest)
            row[number] = latest
            latest = tables.last_day[latest] if latest >= 0 else -1
        last[job] = tuple(row)
        if tables.past[job] < instance.blocks[job]:
            start = row[tables.past[job]]
            for needed in instance.needs[job]:
                end[needed] = min(end[needed], before(tables, needed, job, start))
    return tuple(last)


def chain_lengths(tables: Tables) -> tuple[int, ...]:
    """Return for each job the practices from its first block to the end of all that waits for it.

    Blocks of one skill stand in practices of their own; a stage that waits for another skill stands
    in a later practice too, unless needs may be met within a practice.
    """
    instance = tables.instance
    behind = [0] * len(instance.minutes)
    lengths = [0] * len(instance.minutes)
    for job in reversed(range(len(instance.minutes))):
        lengths[job] = instance.blocks[job] + behind[job]
        for needed in instance.needs[job]:
            apart = instance.skill[needed] == instance.skill[job] or not instance.within
            behind[needed] = max(behind[needed], lengths[job] - (not apart))
    return tuple(lengths)
