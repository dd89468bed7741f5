"""Tiny random seasons under way: a past out of order, reviews held, pins, goals set twice."""

import datetime as dt
from dataclasses import replace
from random import Random

from curriculum.schedule.instance import GoalLimit, Instance, Pin
from curriculum.schedule.past import after_the_last, clear_of, needs_left, passed_over
from tests.bench.tiny import tiny

FIRST = dt.date(2027, 1, 11)


def worn(seed: int) -> Instance:
    """Return a season of four practices, some of them past; the same seed gives the same season.

    What was held need not have come after what it needs, as when a block was lost.
    """
    random = Random(seed)
    plain = tiny(seed, practices=4, blocks=4, pins=False)
    days, practices, jobs = plain.days, range(4), range(len(plain.minutes))
    opened = random.randint(1, 3)
    while opened < 4 and days[opened] == days[opened - 1]:
        opened += 1
    taken: set[tuple[int, int]] = set()
    held: list[tuple[int, int, int]] = []
    for job in jobs:
        for practice in range(opened):
            number = 1 + sum(each[0] == job for each in held)
            touched = plain.skill[job], days[practice]
            if number <= plain.blocks[job] and touched not in taken and random.random() < 0.5:
                held.append((job, number, practice))
                taken.add(touched)
    reviews = [
        (skill, practice)
        for skill in range(len(plain.chains))
        for practice in range(opened)
        if (skill, days[practice]) not in taken and random.random() < 0.3
    ]
    past, chains, asked = tuple(held), plain.chains, plain.blocks
    kept = after_the_last(tuple(reviews), past, chains, asked)
    dates = [FIRST + dt.timedelta(days=day) for day in days]
    clear = clear_of(past, kept, chains, dates, plain.gap, opened)
    unreviewed = passed_over(past, chains, asked)
    pins = []
    for _ in range(random.choice((0, 0, 1, 2))):
        day = random.choice(days)
        same = tuple(practice for practice in practices if days[practice] == day)
        pins.append(Pin(random.choice(jobs), random.choice((0, 0, 1, 2)), same))
    return replace(
        plain,
        first_open=opened,
        held=past,
        reviews_held=kept,
        needs=needs_left(plain.needs, past, chains, asked),
        allowed=tuple(
            0 if job in unreviewed else plain.allowed[job] & clear[plain.skill[job]] for job in jobs
        ),
        goals=tuple(_goal(random, days, job) for job in jobs for _ in range(random.randint(0, 2))),
        pins=tuple(pins),
        focus=tuple((random.choice((0, 2, 9)), random.choice((0, 5))) for _ in practices),
        review_after=random.choice(((), (2,), (2, 3), (5, 2))),
    )


def _goal(random: Random, days: tuple[int, ...], job: int) -> GoalLimit:
    limit = random.randint(0, len(days))
    due = days[limit - 1] if limit else 0
    return GoalLimit(job, limit, due, random.choice((0, 0, 1, 2)), random.randint(1, 3))
