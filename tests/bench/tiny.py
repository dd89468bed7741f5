"""Tiny random seasons in numbers, small enough to try every plan; some have a past, pins, gaps."""

from random import Random

from curriculum.schedule.instance import GoalLimit, Instance, Pin


def tiny(
    seed: int,
    *,
    practices: int = 5,
    skills: int = 3,
    blocks: int = 6,
    past: bool = False,
    pins: bool = True,
) -> Instance:
    """Return a random season of at most so many blocks; the same seed gives the same season."""
    random = Random(seed)
    days: list[int] = []
    day = random.randint(0, 2)
    for _ in range(practices):
        days.append(day)
        day += random.choice((0, 1, 2, 2, 3, 5)) if random.random() < 0.9 else 9
    horizon = days[-1] + random.randint(1, 3)
    chains: list[tuple[int, ...]] = []
    minutes: list[int] = []
    counts: list[int] = []
    needs: list[tuple[int, ...]] = []
    skill_of: list[int] = []
    introduces: list[bool] = []
    left = blocks
    for skill in range(skills):
        chain: list[int] = []
        known = random.random() < 0.2
        for stage in range(random.choice((1, 1, 2))):
            count = random.choice((1, 1, 2))
            if left < count + (skills - 1 - skill):
                if chain:
                    break
                count = 1
            left -= count
            job = len(minutes)
            others = [c[random.randrange(len(c))] for c in chains if random.random() < 0.4]
            needs.append(tuple(sorted({*others, *chain[-1:]})))
            minutes.append(random.choice((4, 5, 6, 8)))
            counts.append(count)
            skill_of.append(skill)
            introduces.append(stage == 0 and not known)
            chain.append(job)
        chains.append(tuple(chain))
    jobs = len(minutes)
    last = tuple(any(chain[-1] == job for chain in chains) for job in range(jobs))
    goals = []
    for job in range(jobs):
        if last[job] or random.random() < 0.3:
            limit = random.randint(1, practices)
            due = days[limit - 1]
            while limit < practices and days[limit] <= due:
                limit += 1
            goals.append(GoalLimit(job, limit, due, random.choice((0, 1, 2)), random.randint(1, 3)))
    first_open = random.randint(1, 2) if past else 0
    held: list[tuple[int, int, int]] = []
    if past:
        for job in range(jobs):
            before = [p for p in range(first_open) if not needs[job] and random.random() < 0.5][
                : counts[job]
            ]
            days_apart = [p for n, p in enumerate(before) if not n or days[p] > days[before[0]]]
            held += [(job, number, p) for number, p in enumerate(days_apart, start=1)]
    some_pins = []
    if pins and random.random() < 0.5:
        job = random.randrange(jobs)
        place = random.randrange(first_open, practices)
        number = random.choice((0, 1))
        some_pins.append(Pin(job, number, (place,)))
    everywhere = (1 << practices) - 1
    strands = [random.randint(0, 1) for _ in range(skills)]
    return Instance(
        days=tuple(days),
        usable=tuple(random.choice((8, 12, 14, 18)) for _ in days),
        changeover=(random.choice((0, 1)),) * practices,
        quiet=tuple(random.random() < 0.15 for _ in days),
        first_open=first_open,
        horizon=horizon,
        minutes=tuple(minutes),
        blocks=tuple(counts),
        introduces=tuple(introduces),
        skill=tuple(skill_of),
        strand=tuple(strands[skill] for skill in skill_of),
        needs=tuple(needs),
        allowed=tuple(
            everywhere
            if random.random() < 0.8
            else everywhere & ~(1 << random.randrange(practices))
            for _ in range(jobs)
        ),
        last=last,
        weight=tuple(random.randint(1, 3) for _ in range(jobs)),
        chains=tuple(chains),
        goals=tuple(goals),
        pins=tuple(some_pins),
        held=tuple(held),
        reviews_held=(),
        focus=tuple(tuple(random.choice((0, 0, 2)) for _ in range(2)) for _ in range(practices)),
        target=random.choice((5, 8, 10)),
        gap=random.choice((1, 1, 2)),
        stretch=random.choice((2, 4, 14)),
        most_blocks=random.choice((2, 3)),
        most_new=random.choice((1, 2)),
        within=random.random() < 0.3,
        review_after=random.choice(((), (2,), (2, 3))),
        review_minutes=random.choice((3, 4)),
    )
