"""Lower bounds that no plan can beat: chains of needs, and minutes that do not fit."""

from curriculum.schedule.instance import COULD, MUST, SHOULD, Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import EARLY_RATE, FOCUS_SHARE, Tiers
from curriculum.schedule.windows import Windows, chain_lengths


def tier_bounds(tables: Tables, windows: Windows) -> Tiers:
    """Return a lower bound for each tier.

    Goals that no plan can reach in time, even alone, are counted as missed; comfort is bounded by
    the earliest days that the chains of needs allow.
    """
    instance = tables.instance
    missed = [0, 0, 0]
    late = 0
    for goal in instance.goals:
        if goal.job < 0:
            continue
        first = windows.first[goal.job][-1]
        if first < goal.limit:
            continue
        if goal.importance == MUST:
            day = instance.days[first] if first < instance.practices else instance.horizon
            late += goal.weight * max(1, day - goal.due)
            missed[MUST] += 1
        else:
            missed[goal.importance] += goal.weight
    changes = (0, 0) if instance.noticed else ()
    comfort = comfort_bound(instance, windows)
    return (missed[MUST], late, missed[SHOULD], *changes, missed[COULD], comfort)


def comfort_bound(instance: Instance, windows: Windows) -> int:
    """Return a lower bound of comfort: the early part by chains, less all possible focus credit."""
    days = 0
    for job, is_last in enumerate(instance.last):
        if is_last:
            first = windows.first[job][-1]
            day = instance.days[first] if first < instance.practices else instance.horizon
            days += instance.weight[job] * day
    return EARLY_RATE * days - most_focus(instance) // FOCUS_SHARE


def most_focus(instance: Instance) -> int:
    """Return the most focus minutes, by weight, that any plan can have."""
    best = [
        max((row[strand] for row in instance.focus), default=0)
        for strand in range(max(instance.strand, default=-1) + 1)
    ]
    return sum(
        best[instance.strand[job]] * instance.minutes[job] * instance.blocks[job]
        for job in range(len(instance.minutes))
    )


def practices_needed(tables: Tables) -> int:
    """Return a number of practices that no plan for everything asked for can do without.

    The largest of: all minutes over the longest practice, all blocks over the blocks per practice,
    all introductions over the introductions per practice, and the longest chain of needs. What is
    past is left out.
    """
    instance = tables.instance
    held: dict[int, int] = {}
    for job, _, _ in instance.held:
        held[job] = held.get(job, 0) + 1
    left = [count - held.get(job, 0) for job, count in enumerate(instance.blocks)]
    open_practices = range(instance.first_open, instance.practices)
    usable = max((instance.usable[p] for p in open_practices), default=0)
    changeover = min((instance.changeover[p] for p in open_practices), default=0)
    minutes = sum(left[job] * (instance.minutes[job] + changeover) for job in range(len(left)))
    new = sum(instance.introduces[job] and job not in held for job in range(len(left)))
    return max(
        -(-minutes // usable) if usable else 0,
        -(-sum(left) // instance.most_blocks),
        -(-new // instance.most_new),
        critical_path(tables) if not held else 0,
    )


def critical_path(tables: Tables) -> int:
    """Return the number of practices on the longest chain of blocks that wait for each other."""
    return max(chain_lengths(tables), default=0)
