"""The part of a season that its must-goals and pins ask for, as a season of its own."""

from dataclasses import replace

from curriculum.schedule.instance import MUST, GoalLimit, Instance, Pin


def with_review(instance: Instance, index: int) -> Instance:
    """Return a season in which a pin without a number is honoured by a review, not by a block.

    The review is one more job at the end, after all of its skill.
    """
    pin = instance.pins[index]
    skill = instance.skill[pin.job]
    job = len(instance.minutes)
    chains = list(instance.chains)
    chains[skill] = (*chains[skill], job)
    pins = list(instance.pins)
    pins[index] = Pin(job, 1, pin.practices)
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


def demanded(instance: Instance) -> tuple[int, ...]:
    """Return for each job how many of its blocks the must-goals and the pins cannot do without.

    A pin asks for its block and those before it, not for the whole stage.
    """
    wanted = [0] * len(instance.minutes)
    for goal in instance.goals:
        if goal.job >= 0 and goal.importance == MUST:
            wanted[goal.job] = instance.blocks[goal.job]
    loose: dict[int, set[tuple[int, ...]]] = {}
    for pin in filter(instance.asks, instance.pins):
        wanted[pin.job] = max(wanted[pin.job], min(pin.number, instance.blocks[pin.job]))
        if not pin.number:
            loose.setdefault(pin.job, set()).add(pin.practices)
    for job, pins in loose.items():
        wanted[job] = max(wanted[job], min(len(pins), instance.blocks[job]))
    for job in reversed(range(len(wanted))):
        if wanted[job]:
            for needed in instance.needs[job]:
                wanted[needed] = instance.blocks[needed]
    return tuple(wanted)


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
        needs=tuple(tuple(new[need] for need in instance.needs[job]) for job in jobs),
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
