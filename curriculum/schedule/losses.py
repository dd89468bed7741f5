"""What is missed when a practice is lost: quick plans and proofs first, planning anew last."""

from collections.abc import Iterator
from dataclasses import replace

from curriculum.schedule.effort import FULL_SIZE, Budget
from curriculum.schedule.explain.misses import met
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import MUST, Instance
from curriculum.schedule.rules import Order, closures, in_order_of_needs, orders
from curriculum.schedule.serial import schedule_in_order
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Timetable, dropped_pins
from curriculum.schedule.windows import windows_of

TRIES = 100
"""Orders tried in planning anew without one practice."""


def hanging_on(
    instance: Instance, timetable: Timetable, practice: int, goals: tuple[int, ...]
) -> tuple[int, ...]:
    """Return those of some goals that the loss of a practice could miss.

    They are reached there or later, and one of them needs a block that stands there.
    """
    later = tuple(
        goal
        for goal in goals
        if (job := instance.goals[goal].job) >= 0 and timetable.reached(instance, job) >= practice
    )
    needed = closures(instance)
    jobs = frozenset[int]().union(*(needed[instance.goals[goal].job] for goal in later))
    return later if any(practice in timetable.blocks[job] for job in jobs) else ()


def ways_of(instance: Instance, timetable: Timetable) -> list[Order]:
    """Return orders in which jobs may be placed: as in the plan that stands, then by rules."""
    tables = tables_of(instance)
    starts = [float(row[0]) if row else float("inf") for row in timetable.blocks]
    strict = [tables.importance[job] * 1e6 + start for job, start in enumerate(starts)]
    rules = orders(tables, windows_of(tables)).values()
    return [in_order_of_needs(instance, key) for key in (strict, starts)] + list(rules)


def missed_at_once(
    instance: Instance,
    timetable: Timetable,
    lost: int,
    goals: tuple[int, ...],
    ways: list[Order],
) -> tuple[int, ...] | None:
    """Return the goals missed without the lost practice, as far as quick plans and proofs tell.

    None when they do not tell.
    """
    least: tuple[tuple[int, ...], tuple[int, ...]] | None = None
    for way in _needed_only(instance, goals, ways):
        missed, pins = _missed_by(instance, timetable, lost, goals, way)
        if not missed and not pins:
            return ()
        value = (pins, *_weights(instance, missed)), missed
        least = value if least is None else min(least, value)
    verdict = decide(_only(instance, goals, as_must=True), "quick").verdict
    if verdict == "reachable":
        return ()
    return least[1] if least and least[1] and verdict == "unreachable" else None


def _needed_only(
    instance: Instance, goals: tuple[int, ...], ways: list[Order]
) -> Iterator[tuple[int, ...]]:
    """Yield each way with the jobs alone that these goals need."""
    needed = closures(instance)
    jobs = frozenset[int]().union(*(needed[instance.goals[goal].job] for goal in goals))
    for way in ways:
        yield tuple(job for job in way if job in jobs)


def _missed_by(
    instance: Instance,
    timetable: Timetable,
    lost: int,
    goals: tuple[int, ...],
    way: Order,
) -> tuple[tuple[int, ...], int]:
    """Return the goals that placing jobs in one order misses, and how many pins it gives up."""
    pinned = {
        (job, number): practice - (practice > lost)
        for job, row in enumerate(timetable.blocks)
        for number, practice in enumerate(row, start=1)
        if practice != lost and _pinned(instance, job, number, practice - (practice > lost))
    }
    run = schedule_in_order(tables_of(instance), way, pinned)
    plan = Timetable(run.placed, ())
    missed = tuple(goal for goal in goals if not met(instance, goal, plan))
    return missed, max(0, len(dropped_pins(instance, plan)) - len(timetable.dropped))


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
    items = min(FULL_SIZE, len(instance.minutes) + len(instance.chains))
    budget = Budget(tries=TRIES * FULL_SIZE**2 // max(1, items) ** 2)
    result = solve(_only(instance, goals, as_must=False), budget)
    return tuple(goal for goal in goals if not met(instance, goal, result.timetable))


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
