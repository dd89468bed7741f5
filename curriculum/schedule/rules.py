"""Priority rules: orders of jobs for serial scheduling, each repaired to keep needs first."""

import heapq
from collections import Counter
from collections.abc import Sequence

from curriculum.schedule.instance import Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.windows import Windows, chain_lengths

Order = tuple[int, ...]


def orders(tables: Tables, windows: Windows) -> dict[str, Order]:
    """Return the orders of all rules by name; "strict" ones put must before should before could."""
    instance = tables.instance
    jobs = range(len(instance.minutes))
    latest = [windows.last[job][0] for job in jobs]
    chain = chain_lengths(tables)
    behind = work_behind(instance)
    keys: dict[str, list[float]] = {
        "latest start": [float(latest[job]) for job in jobs],
        "critical path": [float(-chain[job]) for job in jobs],
        "most work behind": [float(-behind[job]) for job in jobs],
        "weighted shortest": [
            instance.minutes[job] * instance.blocks[job] / instance.weight[job] for job in jobs
        ],
    }
    closure = cheapest_skill_first(instance)
    rank = {job: place for place, job in enumerate(closure)}
    keys["cheapest skill first"] = [float(rank[job]) for job in jobs]
    found: dict[str, Order] = {}
    for name, key in keys.items():
        found[name] = in_order_of_needs(instance, key)
        strict = [tables.importance[job] * 1e6 + key[job] for job in jobs]
        found[f"{name}, strict"] = in_order_of_needs(instance, strict)
    return found


def in_order_of_needs(instance: Instance, key: Sequence[float]) -> Order:
    """Return the jobs by ascending key, each after everything it needs; ties by index."""
    waiting = [len(needs) for needs in instance.needs]
    unlocks: list[list[int]] = [[] for _ in instance.needs]
    for job, needs in enumerate(instance.needs):
        for needed in needs:
            unlocks[needed].append(job)
    heap = [(key[job], job) for job, count in enumerate(waiting) if count == 0]
    heapq.heapify(heap)
    found = []
    while heap:
        _, job = heapq.heappop(heap)
        found.append(job)
        for unlocked in unlocks[job]:
            waiting[unlocked] -= 1
            if waiting[unlocked] == 0:
                heapq.heappush(heap, (key[unlocked], unlocked))
    return tuple(found)


def closures(instance: Instance) -> tuple[frozenset[int], ...]:
    """Return for each job everything that must be reached with it, itself included."""
    found: list[frozenset[int]] = []
    for job, needs in enumerate(instance.needs):
        found.append(frozenset({job}).union(*(found[needed] for needed in needs)))
    return tuple(found)


def open_closures(instance: Instance) -> tuple[frozenset[int], ...]:
    """Return for each job everything that still has to be reached with it, itself included.

    A job that is held in full waits for nothing more, not even for what was passed over below it.
    """
    held = Counter(job for job, _, _ in instance.held)
    found: list[frozenset[int]] = []
    for job, needs in enumerate(instance.needs):
        left = needs if held[job] < instance.blocks[job] else ()
        found.append(frozenset({job}).union(*(found[needed] for needed in left)))
    return tuple(found)


def work_behind(instance: Instance) -> tuple[int, ...]:
    """Return for each job the minutes of everything that waits for it, itself included."""
    behind = [0] * len(instance.minutes)
    for job, needed in enumerate(closures(instance)):
        for each in needed:
            behind[each] += instance.minutes[job] * instance.blocks[job]
    return tuple(behind)


def cheapest_skill_first(instance: Instance) -> Order:
    """Return the jobs skill by skill, next the one with most weight for its missing minutes."""
    needed = closures(instance)
    ends = [chain[-1] for chain in instance.chains]
    done: set[int] = set()
    found: list[int] = []
    while ends:
        cost = {
            end: sum(instance.minutes[job] * instance.blocks[job] for job in needed[end] - done)
            for end in ends
        }
        best = min(ends, key=lambda end: (cost[end] / instance.weight[end], end))
        fresh = sorted(needed[best] - done)
        found.extend(fresh)
        done.update(fresh)
        ends.remove(best)
    return tuple(found)


def pin_choices(instance: Instance, most: int = 12) -> tuple[dict[tuple[int, int], int], ...]:
    """Return ways to give pinned practices their block numbers, the most natural first.

    Pins with a number keep it. The others of a job get ascending free numbers in order of time,
    counted from the front or from the back. A pin on a date with two practices may mean either.
    """
    ways: list[dict[tuple[int, int], int]] = []
    for slot in (0, -1):
        for back in (False, True):
            way: dict[tuple[int, int], int] = {}
            for job in sorted({pin.job for pin in instance.pins}):
                way.update(_numbered(instance, job, slot, back=back))
            if way not in ways:
                ways.append(way)
    return tuple(ways[:most])


def _numbered(instance: Instance, job: int, slot: int, *, back: bool) -> dict[tuple[int, int], int]:
    pins = [pin for pin in instance.pins if pin.job == job]
    taken = {pin.number for pin in pins if pin.number}
    free = [n for n in range(1, instance.blocks[job] + 1) if n not in taken]
    open_pins = sorted((pin for pin in pins if not pin.number), key=lambda pin: pin.practices)
    numbers = free[max(0, len(free) - len(open_pins)) :] if back else free
    way = {(job, pin.number): pin.practices[slot] for pin in pins if pin.number}
    way.update(
        {
            (job, number): pin.practices[slot]
            for number, pin in zip(numbers, open_pins, strict=False)
        }
    )
    return way
