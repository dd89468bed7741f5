"""Earliest and latest practices of every block, capacity left aside: bounds and priorities."""

from dataclasses import dataclass

from curriculum.schedule.serial import Tables


@dataclass(frozen=True)
class Windows:
    """For each job and block, practices between which it can stand.

    first: the earliest practice by needs, gaps, quiet practices and courts; the count of practices
    when there is none. Valid for every plan that keeps the rules.
    last: the latest practice that still lets every goal behind it be in time; -1 for none.
    """

    first: tuple[tuple[int, ...], ...]
    last: tuple[tuple[int, ...], ...]


def windows_of(tables: Tables) -> Windows:
    """Work out the windows of all blocks, forward by needs and backward from the goals."""
    return Windows(_forward(tables), _backward(tables))


def _alone(tables: Tables, job: int, number: int, practice: int) -> bool:
    """Whether a block could stand in a practice that held nothing else."""
    instance = tables.instance
    introduces = number == 1 and instance.introduces[job]
    return (
        practice >= instance.first_open
        and bool(instance.allowed[job] >> practice & 1)
        and instance.usable[practice] >= instance.minutes[job] + instance.changeover[practice]
        and not (introduces and instance.quiet[practice])
    )


def _forward(tables: Tables) -> tuple[tuple[int, ...], ...]:
    instance = tables.instance
    count = instance.practices
    held = {(job, number): practice for job, number, practice in instance.held}
    first: list[tuple[int, ...]] = []
    for job, needs in enumerate(instance.needs):
        start = 0
        for needed in needs:
            end = first[needed][-1]
            if end >= count:
                start = count
            elif instance.skill[needed] == instance.skill[job]:
                start = max(start, tables.next_day[end])
            else:
                start = max(start, end + (not instance.within))
        row = []
        for number in range(1, instance.blocks[job] + 1):
            if (job, number) in held:
                start = held[job, number]
            else:
                start = next(
                    (p for p in range(start, count) if _alone(tables, job, number, p)), count
                )
            row.append(start)
            start = tables.next_day[start] if start < count else count
        first.append(tuple(row))
    return tuple(first)


def _backward(tables: Tables) -> tuple[tuple[int, ...], ...]:
    instance = tables.instance
    end = [instance.practices - 1] * len(instance.minutes)
    for goal in instance.goals:
        if goal.job >= 0:
            end[goal.job] = min(end[goal.job], goal.limit - 1)
    last: list[tuple[int, ...]] = [()] * len(instance.minutes)
    for job in reversed(range(len(instance.minutes))):
        row = []
        latest = end[job]
        for number in range(instance.blocks[job], 0, -1):
            latest = next((p for p in range(latest, -1, -1) if _alone(tables, job, number, p)), -1)
            row.append(latest)
            latest = tables.last_day[latest] if latest >= 0 else -1
        last[job] = tuple(reversed(row))
        start = row[-1]
        for needed in instance.needs[job]:
            if instance.skill[needed] == instance.skill[job]:
                bound = tables.last_day[start] if start >= 0 else -1
            else:
                bound = start - (not instance.within) if start >= 0 else -1
            end[needed] = min(end[needed], bound)
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
