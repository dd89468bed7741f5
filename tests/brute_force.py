"""Every plan of a tiny season, one after another: the slow judge of what cannot be done."""

from curriculum.schedule.instance import MUST, Instance, Pin
from curriculum.schedule.rules import closures


def keeps_all(instance: Instance) -> bool:
    """Whether any plan meets all must-goals and keeps all pins, every hard rule obeyed.

    Written from the rules alone: blocks are tried in every practice, in order of their needs. A job
    that only a pin asks for may stop after any of its blocks. What is past stays where it was.
    """
    return _place(instance, 0, [], _wanted(instance))


def _wanted(instance: Instance) -> tuple[frozenset[int], frozenset[int]]:
    """Return the jobs that must be whole, and those that may be taught in part."""
    needed = closures(instance)
    goals = {g.job for g in instance.goals if g.job >= 0 and g.importance == MUST}
    pinned = {pin.job for pin in instance.pins}
    whole = frozenset().union(*(needed[job] for job in goals))
    whole |= frozenset().union(*(needed[job] - {job} for job in pinned))
    return whole, frozenset(pinned) - whole


def _place(
    instance: Instance,
    job: int,
    placed: list[tuple[int, ...]],
    wanted: tuple[frozenset[int], frozenset[int]],
) -> bool:
    if job == len(instance.minutes):
        return _pins_kept(instance, placed)
    whole, part = wanted
    if job not in whole and job not in part:
        return _place(instance, job + 1, [*placed, ()], wanted)
    fewest = instance.blocks[job] if job in whole else 0
    return any(
        _place(instance, job + 1, [*placed, row], wanted)
        for row in _rows(instance, job, placed, fewest, _held(instance, job))
    )


def _held(instance: Instance, job: int) -> tuple[int, ...]:
    return tuple(practice for each, _, practice in sorted(instance.held) if each == job)


def _rows(
    instance: Instance,
    job: int,
    placed: list[tuple[int, ...]],
    fewest: int,
    row: tuple[int, ...],
) -> "list[tuple[int, ...]]":
    """Return the ways to hold a job's blocks from a certain number on."""
    found = [row] if len(row) >= fewest else []
    if len(row) == instance.blocks[job]:
        return [row] if _in_time(instance, job, row) else []
    for practice in range(instance.first_open, instance.practices):
        if _may_stand(instance, job, len(row) + 1, practice, placed, row):
            found += _rows(instance, job, placed, fewest, (*row, practice))
    return found


def _in_time(instance: Instance, job: int, row: tuple[int, ...]) -> bool:
    return all(
        row[-1] < goal.limit
        for goal in instance.goals
        if goal.job == job and goal.importance == MUST
    )


def _may_stand(
    instance: Instance,
    job: int,
    number: int,
    practice: int,
    placed: list[tuple[int, ...]],
    row: tuple[int, ...],
) -> bool:
    introduces = number == 1 and instance.introduces[job]
    there = [
        (other, n)
        for other, held in enumerate([*placed, row])
        for n, place in enumerate(held, start=1)
        if place == practice
    ]
    new = sum(n == 1 and instance.introduces[other] for other, n in there)
    minutes = sum(instance.minutes[other] + instance.changeover[practice] for other, _ in there)
    free = instance.usable[practice] - minutes
    return (
        bool(instance.allowed[job] >> practice & 1)
        and free >= instance.minutes[job] + instance.changeover[practice]
        and len(there) < instance.most_blocks
        and not (introduces and (instance.quiet[practice] or new >= instance.most_new))
        and _after_all(instance, job, practice, placed, row)
    )


def _after_all(
    instance: Instance,
    job: int,
    practice: int,
    placed: list[tuple[int, ...]],
    row: tuple[int, ...],
) -> bool:
    days = instance.days
    if row:
        return days[practice] - days[row[-1]] >= instance.gap
    for needed in instance.needs[job]:
        end = placed[needed][-1]
        if instance.skill[needed] == instance.skill[job]:
            if days[practice] - days[end] < instance.gap:
                return False
        elif practice < end + (not instance.within):
            return False
    return True


def _pins_kept(instance: Instance, placed: list[tuple[int, ...]]) -> bool:
    """Whether each pin has a block, or, if it names no number, a review that can stand there."""
    open_pins = [
        pin
        for pin in instance.pins
        if not any(
            practice in pin.practices and pin.number in (0, number)
            for number, practice in enumerate(placed[pin.job], start=1)
        )
    ]
    return _reviewed(instance, placed, open_pins, [])


def _reviewed(
    instance: Instance,
    placed: list[tuple[int, ...]],
    pins: list[Pin],
    reviews: list[tuple[int, int]],
) -> bool:
    """Whether reviews, as (job, practice), can be added for all of these pins."""
    if not pins:
        return True
    pin, *others = pins
    whole = len(placed[pin.job]) == instance.blocks[pin.job]
    if pin.number or not instance.last[pin.job] or not whole:
        return False
    return any(
        _review_fits(instance, placed, pin.job, practice, reviews)
        and _reviewed(instance, placed, others, [*reviews, (pin.job, practice)])
        for practice in pin.practices
    )


def _review_fits(
    instance: Instance,
    placed: list[tuple[int, ...]],
    job: int,
    practice: int,
    reviews: list[tuple[int, int]],
) -> bool:
    there = [
        instance.minutes[other]
        for other, row in enumerate(placed)
        for place in row
        if place == practice
    ]
    there += [instance.review_minutes for _, place in reviews if place == practice]
    room = instance.usable[practice] - sum(there) - instance.changeover[practice] * len(there)
    days = instance.days
    held = [place for other, place in reviews if other == job]
    return (
        room >= instance.review_minutes + instance.changeover[practice]
        and len(there) < instance.most_blocks
        and bool(instance.allowed[job] >> practice & 1)
        and days[practice] - days[placed[job][-1]] >= instance.gap
        and all(abs(days[practice] - days[place]) >= instance.gap for place in held)
    )
