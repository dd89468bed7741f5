"""Rows of the exact model: order of blocks, gym time, blocks and introductions a practice, pins."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from curriculum.schedule.exact.variables import FALSE, Matrix, Step, Sum
from curriculum.schedule.instance import Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.windows import before


@dataclass(frozen=True)
class Load:
    """A block or review as it counts in a practice."""

    step: Step
    minutes: int
    introduces: bool


def order(matrix: Matrix, tables: Tables, steps: Sequence[Sequence[Step]]) -> None:
    """Let blocks of a job, stages of a skill and needs follow each other; steps by job, number."""
    instance = tables.instance
    for job, needs in enumerate(instance.needs):
        past, row = tables.past[job], steps[job]
        for number in range(max(1, past), len(row)):
            _apart(matrix, tables.last_day, row[number], row[number - 1])
        if past < len(row):
            for needed in needs:
                ends = tuple(before(tables, needed, job, p) for p in range(instance.practices))
                _apart(matrix, ends, row[past], steps[needed][-1])


def _apart(matrix: Matrix, latest: Sequence[int], later: Step, earlier: Step) -> None:
    """Let a block held by practice p ask for the earlier one by `latest[p]`."""
    last = FALSE
    for practice, literal in enumerate(later):
        if literal != last:
            end = latest[practice]
            matrix.imply(literal, earlier[end] if end >= 0 else FALSE)
            last = literal


def capacity(matrix: Matrix, instance: Instance, loads: Iterable[Load]) -> None:
    """Keep minutes, blocks and introductions of every open practice within their limits.

    Minutes are limited to the most that blocks of these lengths can fill.
    """
    loads = tuple(loads)
    for practice in range(instance.first_open, instance.practices):
        changeover = instance.changeover[practice]
        here = [load for load in loads if _movable(load.step, practice)]
        minutes, blocks, new = Sum(), Sum(), Sum()
        for load in here:
            minutes.add_held(load.step, practice, load.minutes + changeover)
            blocks.add_held(load.step, practice, 1)
            if load.introduces:
                new.add_held(load.step, practice, 1)
        sizes = [load.minutes + changeover for load in here]
        usable, most = instance.usable[practice], instance.most_blocks
        if sum(sizes) > usable:
            matrix.at_most(minutes, most_filled(tuple(sorted(set(sizes))), usable, most))
        if len(here) > most:
            matrix.at_most(blocks, most)
        if sum(load.introduces for load in here) > instance.most_new:
            matrix.at_most(new, instance.most_new)


def _movable(step: Step, practice: int) -> bool:
    """Whether a block may stand in this very practice."""
    return step[practice] != (step[practice - 1] if practice else FALSE)


def most_filled(sizes: Sequence[int], usable: int, most: int) -> int:
    """Return the most minutes that at most so many blocks of these sizes fill of the usable ones.

    >>> most_filled((9, 11), 37, 5)
    36
    """
    reach = 1
    limit = (1 << (max(0, usable) + 1)) - 1
    for _ in range(most):
        wider = reach
        for size in sizes:
            wider |= reach << size & limit
        if wider == reach:
            break
        reach = wider
    return reach.bit_length() - 1


def pins(matrix: Matrix, instance: Instance, steps: Sequence[Sequence[Step]]) -> None:
    """Let a block of each pin's job, or its very number, stand in one of the pin's practices."""
    for pin in instance.pins:
        row = steps[pin.job]
        numbers = (pin.number - 1,) if pin.number else range(len(row))
        standing = Sum()
        for number in numbers:
            for practice in pin.practices:
                standing.add_held(row[number], practice, -1)
        matrix.at_most(standing, -1)
