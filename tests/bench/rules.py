"""An independent reading of the hard rules over numbers, and the best plan of tiny seasons.

Written from the rules themselves; shares nothing with the engine but the data of an instance.
"""

from collections.abc import Iterator
from itertools import combinations, product

from curriculum.schedule.instance import Instance, Pin
from curriculum.schedule.timetable import Tiers, Timetable, tiers


def breaches(instance: Instance, plan: Timetable) -> list[str]:
    """Return what a plan breaks; what is past is exempt."""
    return [*_order(instance, plan), *_practices(instance, plan), *_reviews(instance, plan)]


def _order(instance: Instance, plan: Timetable) -> Iterator[str]:
    held = {(job, number) for job, number, _ in instance.held}
    for job, number, practice in instance.held:
        if len(plan.blocks[job]) < number or plan.blocks[job][number - 1] != practice:
            yield f"past block {number} of job {job} is not where it was"
    for job, placed in enumerate(plan.blocks):
        if len(placed) > instance.blocks[job]:
            yield f"job {job} has too many blocks"
        for number, practice in enumerate(placed, start=1):
            if (job, number) not in held:
                yield from _place(instance, job, number, practice)
                yield from _needs(instance, plan, job, practice)
            if number > 1 and (job, number) not in held:
                days = instance.days[practice] - instance.days[placed[number - 2]]
                if days < instance.gap or practice <= placed[number - 2]:
                    yield f"blocks {number - 1} and {number} of job {job} are too close"


def _place(instance: Instance, job: int, number: int, practice: int) -> Iterator[str]:
    if practice < instance.first_open:
        yield f"block {number} of job {job} is in the past"
    if not instance.allowed[job] >> practice & 1:
        yield f"block {number} of job {job} lacks players, baskets or court"
    if number == 1 and instance.introduces[job] and instance.quiet[practice]:
        yield f"job {job} is introduced before a game"


def _needs(instance: Instance, plan: Timetable, job: int, practice: int) -> Iterator[str]:
    for needed in instance.needs[job]:
        ends = plan.blocks[needed]
        if len(ends) < instance.blocks[needed]:
            yield f"job {job} is held without job {needed}"
        elif instance.skill[needed] == instance.skill[job]:
            if instance.days[practice] - instance.days[ends[-1]] < instance.gap:
                yield f"job {job} is held too soon after job {needed}"
        elif practice < ends[-1] + (0 if instance.within else 1):
            yield f"job {job} is held before job {needed} is reached"


def _practices(instance: Instance, plan: Timetable) -> Iterator[str]:
    for practice in range(instance.first_open, instance.practices):
        here = [
            (job, number)
            for job, placed in enumerate(plan.blocks)
            for number, at in enumerate(placed, start=1)
            if at == practice
        ]
        reviews = sum(practice in row for row in plan.reviews)
        minutes = sum(instance.minutes[job] for job, _ in here) + reviews * instance.review_minutes
        minutes += (len(here) + reviews) * instance.changeover[practice]
        if (here or reviews) and minutes > instance.usable[practice]:
            yield f"practice {practice} holds {minutes} minutes"
        if len(here) + reviews > instance.most_blocks:
            yield f"practice {practice} holds {len(here) + reviews} blocks"
        if sum(number == 1 and instance.introduces[job] for job, number in here) > (
            instance.most_new
        ):
            yield f"practice {practice} introduces too much"


def _reviews(instance: Instance, plan: Timetable) -> Iterator[str]:
    for skill, reviews in enumerate(plan.reviews):
        end = instance.chains[skill][-1]
        past = [practice for each, practice in instance.reviews_held if each == skill]
        if [p for p in reviews if p < instance.first_open] != sorted(past):
            yield f"past reviews of skill {skill} are not where they were"
        if len(set(reviews)) < len(reviews) or sorted(reviews) != list(reviews):
            yield f"reviews of skill {skill} are out of order"
        whole = len(plan.blocks[end]) == instance.blocks[end]
        before = plan.blocks[end][-1] if whole else -1
        for practice in reviews:
            if practice < instance.first_open:
                before = practice
                continue
            if not whole or practice <= before:
                yield f"skill {skill} is reviewed before it is reached"
            elif instance.days[practice] - instance.days[before] < instance.gap:
                yield f"a review of skill {skill} is too close to what it follows"
            if not instance.allowed[end] >> practice & 1:
                yield f"a review of skill {skill} lacks players, baskets or court"
            before = practice


def best_of_all(instance: Instance) -> tuple[int, Tiers]:
    """Return the fewest pins dropped and the tiers of the best of all plans, by trying them all.

    Only for very small seasons: every set of places of every block and review is looked at.
    """
    best: tuple[int, Tiers] | None = None
    reviewed = tuple(
        tuple(practice for each, practice in instance.reviews_held if each == skill)
        for skill in range(len(instance.chains))
    )
    choices = [_block_rows(instance, job) for job in range(len(instance.blocks))]
    for blocks in product(*choices):
        plan = Timetable(blocks, reviewed)
        if breaches(instance, plan):
            continue
        goals = tiers(instance, plan)[:-1]
        if best is not None and not instance.pins and goals > best[1][:-1]:
            continue
        rows = [_review_rows(instance, plan, skill) for skill in range(len(plan.reviews))]
        for reviews in product(*rows):
            full = Timetable(blocks, reviews)
            value = (_dropped(instance, full), tiers(instance, full))
            if (best is None or value < best) and not breaches(instance, full):
                best = value
    if best is None:
        raise ValueError("not even an empty plan keeps the rules")
    return best


def _block_rows(instance: Instance, job: int) -> list[tuple[int, ...]]:
    past = tuple(practice for each, _, practice in instance.held if each == job)
    left = instance.blocks[job] - len(past)
    counts = range(left + 1) if instance.pins else sorted({0, left})
    later = range(instance.first_open, instance.practices)
    return [past + places for count in counts for places in combinations(later, count)]


def _dropped(instance: Instance, plan: Timetable) -> int:
    return sum(not _honoured(instance, plan, pin) for pin in instance.pins)


def _honoured(instance: Instance, plan: Timetable, pin: Pin) -> bool:
    """Whether the very block stands there, or, without a number, any block or review of it."""
    if pin.practices[-1] < instance.first_open:
        return True
    placed = plan.blocks[pin.job]
    if pin.number:
        return len(placed) >= pin.number and placed[pin.number - 1] in pin.practices
    reviews = plan.reviews[instance.skill[pin.job]] if instance.last[pin.job] else ()
    return any(practice in pin.practices for practice in (*placed, *reviews))


def _review_rows(instance: Instance, plan: Timetable, skill: int) -> list[tuple[int, ...]]:
    end = instance.chains[skill][-1]
    if len(plan.blocks[end]) < instance.blocks[end]:
        return [()]
    later = range(plan.blocks[end][-1] + 1, instance.practices)
    most = len(instance.review_after) + len(instance.pins) + len(instance.reviews_held)
    return [row for count in range(most + 1) for row in combinations(later, count)]
