"""The objective of the exact model: comfort and changes, exactly as the evaluator counts them.

A day is late when something is due and not yet held; written day by day, each late day is the
difference of two literals, which keeps the linear relaxation tight.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from itertools import pairwise

from curriculum.schedule.exact.constraints import Load
from curriculum.schedule.exact.variables import FALSE, TRUE, Matrix, Step, Sum
from curriculum.schedule.instance import Instance
from curriculum.schedule.timetable import EARLY_RATE, FOCUS_SHARE, LATE_RATE, PAIR_RATE

SCALE = FOCUS_SHARE
"""Comfort is modelled times this, so that a tenth of a focus minute is a whole number."""


def comfort_of(objective: int) -> int:
    """Return the comfort that an objective stands for: the evaluator rounds focus down."""
    return -(-objective // SCALE)


def add_day(total: Sum, instance: Instance, step: Step, coefficient: int) -> None:
    """Add the day of a block, the horizon when it is held nowhere."""
    days = (*instance.days, instance.horizon)
    total.constant += coefficient * instance.horizon
    for practice, literal in enumerate(step):
        total.add(literal, -coefficient * (days[practice + 1] - days[practice]))


def add_late(
    matrix: Matrix,
    instance: Instance,
    step: Step,
    earlier: Step,
    after: int,
    given: Iterable[int] = (),
) -> None:
    """Add the days by which a block comes later than so many days after an earlier one.

    A block that is held nowhere counts as held on the horizon. An earlier one that is held nowhere
    makes nothing late. given: literals without which nothing is late.
    """
    days = instance.days
    costs: dict[tuple[int, int], int] = {}
    for day in range(days[0] + after if days else instance.horizon, instance.horizon):
        ready, now = bisect_right(days, day - after) - 1, bisect_right(days, day) - 1
        cause = earlier[ready] if ready >= 0 else FALSE
        held = step[now] if now >= 0 else FALSE
        if cause != FALSE and held not in (TRUE, cause):
            costs[cause, held] = costs.get((cause, held), 0) + SCALE * LATE_RATE
    conditions = [literal for literal in given if literal != TRUE]
    if FALSE in conditions:
        return
    for (cause, held), cost in costs.items():
        if conditions:
            row = Sum()
            row.add(cause, 1)
            row.add(held, -1)
            for literal in conditions:
                row.add(literal, 1)
            excess = matrix.measure()
            row.add(excess, -1)
            matrix.at_most(row, len(conditions))
            matrix.objective.add(excess, cost)
        elif cause == TRUE:
            matrix.objective.constant += cost
            matrix.objective.add(held, -cost)
        elif held == FALSE:
            matrix.objective.add(cause, cost)
        else:
            excess = matrix.column()
            matrix.excesses.append((cause, held, excess))
            matrix.objective.add(excess, cost)


def held_before(step: Sequence[int], days: Sequence[int], day: int) -> int:
    """Return the literal of a block being held before a day; days: of each literal its last day.

    A review is due only if what it follows is held early enough before the season's end, and when
    one is not due those after it are not due either, even if it is held. Where the next one follows
    no sooner than the one before, that goes without saying.
    """
    place = bisect_left(days, day) - 1
    return step[place] if place >= 0 else FALSE


def add_uneven(matrix: Matrix, instance: Instance, loads: Iterable[Load]) -> None:
    """Add minutes above the target, same-strand pairs and focus of all blocks."""
    here: list[list[Load]] = [[] for _ in range(instance.practices)]
    for load in loads:
        for practice in load.places:
            here[practice].append(load)
    for practice, some in enumerate(here):
        minutes = Sum()
        strands: dict[int, list[Load]] = {}
        for load in some:
            minutes.add_held(load.step, practice, load.minutes)
            strands.setdefault(load.strand, []).append(load)
            weight = instance.focus[practice][load.strand]
            if weight:
                matrix.objective.add_held(load.step, practice, -weight * load.minutes)
        _add_over(matrix, instance, minutes, sum(load.minutes for load in some))
        # What is past may have held more blocks than are allowed now.
        most = instance.most_blocks if practice >= instance.first_open else len(some)
        for alike in strands.values():
            _add_pairs(matrix, alike, practice, min(len(alike), most))


def _add_over(matrix: Matrix, instance: Instance, minutes: Sum, most: int) -> None:
    highest = most - instance.target
    if highest <= 0:
        return
    excess = matrix.measure(highest)
    matrix.objective.add(excess, SCALE)
    minutes.add(excess, -1)
    matrix.at_most(minutes, instance.target)


def _add_pairs(matrix: Matrix, alike: Sequence[Load], practice: int, most: int) -> None:
    """Add the pairs among so many blocks at most: n blocks make n (n - 1) / 2 pairs."""
    if most < 2:
        return
    pairs = matrix.measure(most * (most - 1) // 2)
    matrix.objective.add(pairs, SCALE * PAIR_RATE)
    for held in range(1, most):
        row = Sum()
        for load in alike:
            row.add_held(load.step, practice, held)
        row.add(pairs, -1)
        matrix.at_most(row, held * (held + 1) // 2)


def add_comfort(
    matrix: Matrix,
    instance: Instance,
    steps: Sequence[Sequence[Step]],
    reviews: Sequence[Sequence[Step]],
) -> None:
    """Add early and late, SCALE times: the last stages' days, gaps, and reviews in a chain."""
    for job, last in enumerate(instance.last):
        if last:
            rate = SCALE * EARLY_RATE * instance.weight[job]
            add_day(matrix.objective, instance, steps[job][-1], rate)
    for skill, chain in enumerate(instance.chains):
        blocks = [step for job in chain for step in steps[job]]
        for earlier, step in pairwise(blocks):
            add_late(matrix, instance, step, earlier, instance.stretch, step[-1:])
        before = steps[chain[-1]][-1]
        due: list[tuple[int, int]] = []
        for step, after in zip(reviews[skill], instance.review_after, strict=False):
            longer = [literal for days, literal in due if days > after]
            add_late(matrix, instance, step, before, after, longer)
            due.append((after, held_before(before, instance.days, instance.horizon - after)))
            before = step


def add_moves(
    matrix: Matrix,
    instance: Instance,
    steps: Sequence[Sequence[Step]],
    reviews: Sequence[Sequence[Step]],
) -> None:
    """Add blocks and reviews that leave the practice where people expect them, soon ones more.

    A block moved costs more than all that can be won by moving others later.
    """
    count = instance.practices
    each = move_price(instance)
    for job, stood in enumerate(instance.former):
        for step, former in zip(steps[job], stood, strict=False):
            if former < instance.first_open:
                continue
            for practice in range(count):
                if practice != former:
                    soon = each + count - min(practice, former)
                    matrix.objective.add_held(step, practice, soon)
            matrix.objective.constant += each + count - former
            matrix.objective.add(step[-1], -(each + count - former))
    for skill, expected in enumerate(instance.former_reviews):
        for former in expected:
            if former < instance.first_open:
                continue
            gone = matrix.measure()
            row = Sum()
            for step in reviews[skill]:
                row.add_held(step, former, -1)
            row.add(gone, -1)
            matrix.at_most(row, -1)
            matrix.objective.add(gone, each + count - former)


def move_price(instance: Instance) -> int:
    """Return what a moved block costs where a practice's nearness costs 1."""
    blocks = sum(instance.blocks) + sum(len(row) for row in instance.former_reviews)
    return 1 + instance.practices * (blocks + 1)
