"""The part of a season that its must-goals and pins ask for, as a season of its own."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations, product

from curriculum.schedule.instance import MUST, GoalLimit, Instance, Pin


def either_way(instance: Instance) -> list[int]:
    """Return the pins without a number that can be meant in several ways, earliest first.

    Reviews of one skill are added in that order. Pins that say the same are honoured together.
    """
    found = [
        index
        for index, pin in enumerate(instance.pins)
        if instance.asks(pin)
        and not pin.number
        and (instance.last[pin.job] or _may_be_second(instance, index))
        and pin not in instance.pins[:index]
    ]
    return sorted(found, key=lambda index: instance.pins[index].practices)


def other_ways(instance: Instance, either: Sequence[int]) -> Iterator[Instance]:
    """Yield the season with some of these pins meant in another way, few of them first."""
    for count in range(1, len(either) + 1):
        for some in combinations(either, count):
            ways = [
                [_with_review] * instance.last[instance.pins[index].job]
                + [_as_second] * _may_be_second(instance, index)
                for index in some
            ]
            for way in product(*ways):
                other = instance
                for index, meant in zip(some, way, strict=True):
                    other = meant(other, index)
                yield other


def _may_be_second(instance: Instance, index: int) -> bool:
    """Whether a pin without a number may mean either the introduction of a skill or a later block.

    They differ, since an introduction is not allowed everywhere.
    """
    pin = instance.pins[index]
    introduced = any(job == pin.job for job, _, _ in instance.held)
    others = [each for each in filter(instance.asks, instance.pins) if each.job == pin.job]
    earliest = all(pin.practices <= each.practices for each in others)
    several = instance.blocks[pin.job] > 1
    return instance.introduces[pin.job] and not introduced and earliest and several


def _with_review(instance: Instance, index: int) -> Instance:
    """Return a season in which a pin without a number is honoured by a review, not by a block.

    So is any other pin that says the same. The review is one more job at the end, after all of its
    skill.
    """
    pin = instance.pins[index]
    skill = instance.skill[pin.job]
    job = len(instance.minutes)
    chains = list(instance.chains)
    chains[skill] = (*chains[skill], job)
    pins = [Pin(job, 1, pin.practices) if each == pin else each for each in instance.pins]
    return replace(
        instance,
        minutes=(*instance.minutes, instance.review_minutes),
        blocks=(*instance.blocks, 1),
        introduces=(*instance.introduces, False),
        skill=(*instance.skill, skill),
        strand=(*instance.strand, instance.strand[pin.job]),
        needs=(*instance.needs, (instance.chains[skill][-1],)),
        allowed=(*instance.allowed, instance.allowed[pin.job]),
        last=(*instance.last, False),
        weight=(*instance.weight, 1),
        chains=tuple(chains),
        pins=tuple(pins),
        former=(),
        former_reviews=(),
    )


def _as_second(instance: Instance, index: int) -> Instance:
    """Return a season in which a pin without a number means the second block of its stage."""
    pin = instance.pins[index]
    second = Pin(pin.job, 2, pin.practices)
    pins = tuple(second if each == pin else each for each in instance.pins)
    return replace(instance, pins=pins)


def demanded(instance: Instance) -> tuple[int, ...]:
    """Return for each job how many of its blocks the must-goals and the pins cannot do without.

    A pin asks for its block and those before it, not for the whole stage. What is held already
    asks for nothing more, not even for what was passed over below it.
    """
    held = Counter(job for job, _, _ in instance.held)
    wanted = [0] * len(instance.minutes)
    for goal in instance.goals:
        if goal.job >= 0 and goal.importance == MUST:
            wanted[goal.job] = instance.blocks[goal.job]
    for job in {pin.job for pin in filter(instance.asks, instance.pins)}:
        pinned = _pinned_blocks(instance, job, held[job])
        wanted[job] = max(wanted[job], min(pinned, instance.blocks[job]))
    for job in reversed(range(len(wanted))):
        if wanted[job]:
            past = held[job] >= wanted[job]
            for needed in instance.needs[job]:
                least = held[needed] if past else instance.blocks[needed]
                wanted[needed] = max(wanted[needed], min(least, instance.blocks[needed]))
    return tuple(wanted)


def _pinned_blocks(instance: Instance, job: int, held: int) -> int:
    """Return how many blocks of a job its pins ask for, those held before them counted.

    Pins without a number take a block of their own on each date, after what is past and after
    the numbered blocks pinned to earlier dates.
    """
    pins = [pin for pin in filter(instance.asks, instance.pins) if pin.job == job]
    numbered = [(pin.number, pin.practices) for pin in pins if pin.number]
    dates = {pin.practices for pin in pins if not pin.number} - {date for _, date in numbered}
    after = [number + sum(other > date for other in dates) for number, date in numbered]
    return max([held + len(dates), *after])


def restricted(instance: Instance, wanted: tuple[int, ...]) -> tuple[Instance, tuple[int, ...]]:
    """Return a season of only so many blocks of each job, and the old number of each of its jobs.

    Of the goals only must-goals on jobs that stay whole are kept. What is past stays past.
    """
    jobs = tuple(job for job, blocks in enumerate(wanted) if blocks)
    new = {job: index for index, job in enumerate(jobs)}
    skills = {old: n for n, old in enumerate(sorted({instance.skill[job] for job in jobs}))}
    chains = tuple(
        tuple(new[job] for job in chain if job in new)
        for skill, chain in enumerate(instance.chains)
        if skill in skills
    )
    ends = {chain[-1] for chain in chains}
    smaller = replace(
        instance,
        minutes=tuple(instance.minutes[job] for job in jobs),
        blocks=tuple(wanted[job] for job in jobs),
        introduces=tuple(instance.introduces[job] for job in jobs),
        skill=tuple(skills[instance.skill[job]] for job in jobs),
        strand=tuple(instance.strand[job] for job in jobs),
        needs=tuple(
            tuple(new[need] for need in instance.needs[job] if need in new) for job in jobs
        ),
        allowed=tuple(instance.allowed[job] for job in jobs),
        last=tuple(index in ends for index in range(len(jobs))),
        weight=tuple(instance.weight[job] for job in jobs),
        chains=chains,
        goals=tuple(
            GoalLimit(new[goal.job], goal.limit, goal.due, goal.importance, goal.weight)
            for goal in instance.goals
            if goal.importance == MUST and goal.job in new
        ),
        pins=tuple(
            Pin(new[pin.job], pin.number, pin.practices)
            for pin in filter(instance.asks, instance.pins)
            if pin.job in new
        ),
        held=tuple(
            (new[job], number, practice)
            for job, number, practice in instance.held
            if job in new and number <= wanted[job]
        ),
        reviews_held=(),
        former=(),
        former_reviews=(),
    )
    return smaller, jobs
