"""What follows from an instance alone and is looked up again and again."""

from dataclasses import dataclass

from curriculum.schedule.instance import COULD, MUST, Instance


@dataclass(frozen=True)
class Tables:
    """Tables of an instance.

    next_day: for each practice the first one at least `gap` days later, the count for none.
    last_day: for each practice the last one at least `gap` days earlier, -1 for none.
    importance: for each job the strictest goal that it serves, pins counting as must.
    masks: for each job and block the practices in which it could stand if they held nothing else,
    one bit a practice; a past block has the one bit of its practice.
    past: for each job how many of its blocks are past; they are its first ones.
    """

    instance: Instance
    next_day: tuple[int, ...]
    last_day: tuple[int, ...]
    importance: tuple[int, ...]
    masks: tuple[tuple[int, ...], ...]
    past: tuple[int, ...]


def tables_of(instance: Instance) -> Tables:
    """Work out the tables of an instance."""
    days, gap = instance.days, instance.gap
    count = len(days)
    next_day = tuple(
        next((q for q in range(p, count) if days[q] >= days[p] + gap), count) for p in range(count)
    )
    last_day = tuple(
        next((q for q in range(p, -1, -1) if days[q] <= days[p] - gap), -1) for p in range(count)
    )
    past = [0] * len(instance.minutes)
    for job, _, _ in instance.held:
        past[job] += 1
    return Tables(
        instance, next_day, last_day, _importance(instance), _masks(instance), tuple(past)
    )


def _importance(instance: Instance) -> tuple[int, ...]:
    strictest = [COULD] * len(instance.minutes)
    for goal in instance.goals:
        if goal.job >= 0:
            strictest[goal.job] = min(strictest[goal.job], goal.importance)
    for pin in filter(instance.asks, instance.pins):
        strictest[pin.job] = MUST
    for job in reversed(range(len(strictest))):
        for needed in instance.needs[job]:
            strictest[needed] = min(strictest[needed], strictest[job])
    return tuple(strictest)


def _masks(instance: Instance) -> tuple[tuple[int, ...], ...]:
    opened = sum(1 << p for p in range(instance.first_open, instance.practices))
    loud = sum(1 << p for p, quiet in enumerate(instance.quiet) if not quiet)
    roomy = {
        minutes: sum(
            1 << p
            for p, usable in enumerate(instance.usable)
            if usable >= minutes + instance.changeover[p]
        )
        for minutes in set(instance.minutes)
    }
    masks: list[list[int]] = []
    for job, blocks in enumerate(instance.blocks):
        plain = opened & instance.allowed[job] & roomy[instance.minutes[job]]
        row = [plain] * blocks
        if instance.introduces[job]:
            row[0] &= loud
        masks.append(row)
    for job, number, practice in instance.held:
        masks[job][number - 1] = 1 << practice
    return tuple(tuple(row) for row in masks)


def lowest(mask: int, start: int) -> int:
    """Return the first practice of a mask at or after a start, -1 for none."""
    rest = mask >> start
    return start + (rest & -rest).bit_length() - 1 if rest else -1


def highest(mask: int, end: int) -> int:
    """Return the last practice of a mask at or before an end, -1 for none."""
    return (mask & ((1 << (end + 1)) - 1)).bit_length() - 1 if end >= 0 else -1
