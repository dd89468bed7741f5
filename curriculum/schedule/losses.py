"""What is missed when a practice is lost: quick plans and proofs first, planning anew last."""

from dataclasses import replace

from curriculum.schedule.explain.misses import met
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import MUST, Instance
from curriculum.schedule.rules import Order, closures, in_order_of_needs, orders
from curriculum.schedule.serial import schedule_in_order
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable, dropped_pins
from curriculum.schedule.windows import windows_of


def in_use(instance: Instance, timetable: Timetable, goals: tuple[int, ...]) -> frozenset[int]:
    """Return the practices that hold a block which one of these goals needs."""
    needed = closures(instance)
    jobs = frozenset().union(*(needed[instance.goals[goal].job] for goal in goals))
    return frozenset(practice for job in jobs for practice in timetable.blocks[job])


def _only(instance: Instance, goals: tuple[int, ...], *, as_must: bool) -> Instance:
    """Return the problem with these goals alone; the others keep their places as known ones."""
    return replace(
        instance,
        goals=tuple(
            replace(goal, job=-1)
            if index not in goals
            else replace(goal, importance=MUST)
            if as_must
            else goal
            for index, goal in enumerate(instance.goals)
        ),
    )


def ways_of(instance: Instance, timetable: Timetable, goals: tuple[int, ...]) -> list[Order]:
    """Return orders in which to place the jobs that these goals need: the plan's, then by rules."""
    needed = closures(instance)
    jobs = frozenset().union(*(needed[instance.goals[goal].job] for goal in goals))
    ends = [float(row[-1]) if row else float("inf") for row in timetable.blocks]
    tables = tables_of(instance)
    rules = orders(tables, windows_of(tables)).values()
    ways = [in_order_of_needs(instance, ends), *rules]
    return [tuple(job for job in way if job in jobs) for way in ways]


def missed_at_once(
    instance: Instance,
    timetable: Timetable,
    lost: int,
    goals: tuple[int, ...],
    ways: list[Order],
) -> tuple[int, ...] | None:
    """Return the goals missed without the lost practice, as far as quick plans and proofs tell.

    None when they do not tell. A way that has led to a plan comes first the next time.
    """
    tables = tables_of(instance)
    held = {
        (job, number): practice - (practice > lost)
        for job, row in enumerate(timetable.blocks)
        for number, practice in enumerate(row, start=1)
        if practice != lost and _pinned(instance, job, number, practice - (practice > lost))
    }
    found: list[tuple[tuple[int, ...], tuple[int, ...]]] = []
    for way in ways:
        run = schedule_in_order(tables, way, held)
        moved = Timetable(tuple(tuple(row) for row in run.placed), ())
        missed = tuple(goal for goal in goals if not met(instance, goal, moved))
        pins = max(0, len(dropped_pins(instance, moved)) - len(timetable.dropped))
        if not missed and not pins:
            ways.remove(way)
            ways.insert(0, way)
            return ()
        found.append(((pins, *_weights(instance, missed)), missed))
    verdict = decide(_only(instance, goals, as_must=True), "quick").verdict
    if verdict == "reachable":
        return ()
    least = min(found)[1]
    return least if verdict == "unreachable" and least else None


def _weights(instance: Instance, missed: tuple[int, ...]) -> tuple[int, ...]:
    """Return how much is missed of each importance, must first."""
    weights = [0, 0, 0]
    for goal in missed:
        weights[instance.goals[goal].importance] += instance.goals[goal].weight
    return tuple(weights)


def _pinned(instance: Instance, job: int, number: int, practice: int) -> bool:
    return any(
        pin.job == job and pin.number in (0, number) and practice in pin.practices
        for pin in instance.pins
    )


def missed_in_earnest(instance: Instance, goals: tuple[int, ...]) -> tuple[int, ...]:
    """Return the goals that planning anew misses."""
    result = solve(_only(instance, goals, as_must=False), "quick")
    return tuple(goal for goal in goals if not met(instance, goal, result.timetable))
