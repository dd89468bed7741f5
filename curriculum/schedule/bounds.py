"""Lower bounds that no plan can beat: chains of needs, and minutes that do not fit."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from curriculum.schedule.instance import COULD, MUST, SHOULD, Instance
from curriculum.schedule.rules import open_closures
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import EARLY_RATE, FOCUS_SHARE, Tiers
from curriculum.schedule.windows import Windows, chain_lengths


def tier_bounds(tables: Tables, windows: Windows) -> Tiers:
    """Return a lower bound for each tier.

    Goals that no plan can reach in time, even alone, are counted as missed, and so are as many
    must-goals as gym time up to their dates cannot hold together; comfort is bounded by the
    earliest days that the chains of needs allow.
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
    crowded = must_goals_crowded_out(instance)
    weights = sorted(goal.weight for goal in instance.goals if goal.importance == MUST)
    missed[MUST] = max(missed[MUST], crowded)
    late = max(late, sum(weights[:crowded]))
    changes = (0, 0) if instance.noticed else ()
    comfort = comfort_bound(instance, windows)
    return (missed[MUST], late, missed[SHOULD], *changes, missed[COULD], comfort)


def must_goals_crowded_out(instance: Instance) -> int:
    """Return how many must-goals at least cannot be in time for want of minutes.

    Of the jobs that the goals due by one date need together, dropping some goals saves at most the
    sum of their shares, where a job's minutes are shared out evenly among the goals that need it: a
    job is only saved when all of them are dropped. A late goal counts as dropped.
    """
    needed = open_closures(instance)
    held = Counter(job for job, _, _ in instance.held)
    changeover = min(instance.changeover[instance.first_open :], default=0)
    minutes = [
        (blocks - held[job]) * (instance.minutes[job] + changeover)
        for job, blocks in enumerate(instance.blocks)
    ]
    musts = [goal for goal in instance.goals if goal.job >= 0 and goal.importance == MUST]
    most = 0
    for limit in sorted({goal.limit for goal in musts}):
        due = [goal for goal in musts if goal.limit <= limit]
        asked = Counter(job for goal in due for job in needed[goal.job])
        excess = Fraction(sum(minutes[job] for job in asked))
        excess -= sum(max(0, usable) for usable in instance.usable[instance.first_open : limit])
        shares = sorted(
            (sum(Fraction(minutes[job], asked[job]) for job in needed[goal.job]) for goal in due),
            reverse=True,
        )
        dropped = 0
        while excess > 0 and dropped < len(shares):
            excess -= shares[dropped]
            dropped += 1
        most = max(most, dropped)
    return most


def comfort_bound(instance: Instance, windows: Windows) -> int:
    """Return a lower bound of comfort: the early part, less all possible focus credit.

    By the end of each practice only skills whose chains of needs allow it are reached, and only as
    many as gym time so far can hold of their own blocks.
    """
    open_minutes = open_blocks = 0
    weights = sum(instance.weight[job] for job, last in enumerate(instance.last) if last)
    ends = (*instance.days, instance.horizon)
    skills = [_own(instance, windows, chain) for chain in instance.chains]
    skills.sort(key=lambda own: Fraction(own.minutes, own.weight))
    total = weights * ends[0]
    for practice in range(instance.practices):
        if practice >= instance.first_open:
            open_minutes += max(0, instance.usable[practice])
            open_blocks += instance.most_blocks
        ready = [own for own in skills if own.first <= practice]
        by_minutes = _most_weight([(own.minutes, own.weight) for own in ready], open_minutes)
        few = sorted(ready, key=lambda own: Fraction(own.blocks, own.weight))
        by_blocks = _most_weight([(own.blocks, own.weight) for own in few], open_blocks)
        missing = weights - min(by_minutes, by_blocks)
        total += missing * (ends[practice + 1] - ends[practice])
    return EARLY_RATE * total - most_focus(instance) // FOCUS_SHARE


@dataclass(frozen=True)
class _Own:
    """What a skill needs of its own: minutes with changeovers and blocks not past, and when.

    Nothing once its last stage is held, though a stage below it may have been passed over.
    """

    minutes: int
    blocks: int
    weight: int
    first: int


def _own(instance: Instance, windows: Windows, chain: tuple[int, ...]) -> _Own:
    changeover = min(instance.changeover[instance.first_open :], default=0)
    held = [job for job, _, _ in instance.held]
    left = {job: instance.blocks[job] - held.count(job) for job in chain}
    if not left[chain[-1]]:
        left = dict.fromkeys(chain, 0)
    return _Own(
        minutes=sum(left[job] * (instance.minutes[job] + changeover) for job in chain),
        blocks=sum(left.values()),
        weight=instance.weight[chain[-1]],
        first=windows.first[chain[-1]][-1],
    )


def _most_weight(items: Sequence[tuple[int, int]], room: int) -> int:
    """Return no less than the most weight of items that fit, cheapest for their weight first."""
    weight = 0
    for size, worth in items:
        if size > room:
            return weight + (worth * room) // size + (worth * room % size > 0)
        room -= size
        weight += worth
    return weight


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

    The largest of: bins as long as the longest practice for blocks of their lengths, all blocks
    over the blocks per practice, all introductions over the introductions per practice, and the
    longest chain of needs. What is past is left out.
    """
    instance = tables.instance
    held: dict[int, int] = {}
    for job, _, _ in instance.held:
        held[job] = held.get(job, 0) + 1
    left = [count - held.get(job, 0) for job, count in enumerate(instance.blocks)]
    open_practices = range(instance.first_open, instance.practices)
    usable = max((instance.usable[p] for p in open_practices), default=0)
    changeover = min((instance.changeover[p] for p in open_practices), default=0)
    sizes = [
        instance.minutes[job] + changeover for job, count in enumerate(left) for _ in range(count)
    ]
    new = sum(instance.introduces[job] and job not in held for job in range(len(left)))
    return max(
        fewest_bins(sizes, usable),
        -(-sum(left) // instance.most_blocks),
        -(-new // instance.most_new),
        critical_path(tables) if not held else 0,
    )


def fewest_bins(sizes: Sequence[int], room: int) -> int:
    """Return a number of bins that items of these sizes cannot do without.

    The bound L2 of Martello and Toth (1990), Knapsack Problems, section 8.3: for each threshold,
    items too large to share a bin with one of at least that size stand alone, those above half a
    bin stand apart from each other, and the rest fills up what they leave. Items larger than a bin
    are left out.
    """
    items = [size for size in sizes if 0 < size <= room]
    best = 0
    for least in sorted({0, *(size for size in items if 2 * size <= room)}):
        alone = sum(size > room - least for size in items)
        halves = [size for size in items if room - least >= size and 2 * size > room]
        small = sum(size for size in items if least <= size and 2 * size <= room)
        spare = len(halves) * room - sum(halves)
        more = -(-max(0, small - spare) // room) if room else 0
        best = max(best, alone + len(halves) + more)
    return best


def critical_path(tables: Tables) -> int:
    """Return the number of practices on the longest chain of blocks that wait for each other."""
    return max(chain_lengths(tables), default=0)
