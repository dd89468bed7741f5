"""Improve a plan by exact search: a small season as a whole, windows of a large one.

Goals that the plan meets stay met; goals that it misses may be won. A plan is only taken when the
evaluator finds it better.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import chain as chained
from random import Random

from curriculum.schedule.exact.model import Mode, Outcome, run
from curriculum.schedule.exact.objective import comfort_of
from curriculum.schedule.exact.season import Frame, SeasonModel, review_count, season_model
from curriculum.schedule.instance import COULD, MUST, SHOULD, Instance
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, dropped_pins, plan_value

PRICES = {MUST: 10_000_000, SHOULD: 300_000, COULD: 10_000}
"""What winning a goal is worth in comfort, so that no comfort outweighs it."""

Report = Callable[[float, Timetable], None]
"""Told the effort spent and a better plan."""


@dataclass(frozen=True)
class Polished:
    """A plan no worse than the one given.

    bound: of comfort among plans that miss no more, None when nothing was proven.
    effort: deterministic effort spent.
    """

    plan: Timetable
    effort: float
    bound: int | None = None
    interrupted: bool = False


def met_goals(instance: Instance, plan: Timetable) -> frozenset[int]:
    """Return the goals, by index, that a plan meets in time."""
    return frozenset(
        index
        for index, goal in enumerate(instance.goals)
        if goal.job >= 0 and 0 <= plan.reached(instance, goal.job) < goal.limit
    )


def missed_goals(instance: Instance, plan: Timetable) -> dict[int, int]:
    """Return the goals missed for each importance: how many must-goals, the weight of others."""
    missed = {MUST: 0, SHOULD: 0, COULD: 0}
    met = met_goals(instance, plan)
    for index, goal in enumerate(instance.goals):
        if goal.job >= 0 and index not in met:
            missed[goal.importance] += goal.weight if goal.importance else 1
    return missed


def tier_frame(instance: Instance, plan: Timetable) -> Frame:
    """Return the frame of all plans that miss no more, tier by tier, than this one does."""
    missed = missed_goals(instance, plan)
    hard = frozenset(
        index
        for index, goal in enumerate(instance.goals)
        if goal.job >= 0 and not missed[goal.importance]
    )
    caps = {each: most for each, most in missed.items() if most}
    return Frame(hard, caps, dropped=len(dropped_pins(instance, plan)))


def whole(
    tables: Tables, plan: Timetable, effort: float, seed: int, mode: Mode = "plain"
) -> Polished:
    """Search the whole season for the most comfortable plan that misses no more.

    mode: what the effort is spent on, see `model.run`.
    """
    instance = tables.instance
    frame = replace(tier_frame(instance, plan), fillings=mode == "prove")
    model = season_model(tables, frame)
    outcome = run(model.matrix, effort, seed, model.hint(plan), mode=mode)
    better = _better(tables, model, outcome, plan)
    bound = None if outcome.verdict in ("unknown", "infeasible") else comfort_of(outcome.bound)
    return Polished(better, outcome.effort, bound, outcome.interrupted)


def _better(tables: Tables, model: SeasonModel, outcome: Outcome, plan: Timetable) -> Timetable:
    if not outcome.values:
        return plan
    found = model.timetable(outcome.values)
    return found if plan_value(tables.instance, found) < plan_value(tables.instance, plan) else plan


def windows(
    tables: Tables,
    plan: Timetable,
    effort: float,
    seed: int,
    report: Report | None = None,
    share: float = 0.5,
    blocks: int = 45,
) -> Polished:
    """Free a part of the plan at a time, the rest standing where it stands, until effort is spent.

    Parts are stretches of practices and groups of skills in turn. share: effort of one part.
    """
    spent, turn, random = 0.0, 0, Random(seed)  # noqa: S311 no secret
    if tables.instance.first_open >= tables.instance.practices or not any(plan.blocks):
        return Polished(plan, spent)
    while spent < effort:
        frame = _stretch(tables, plan, random, blocks) if turn % 3 else None
        frame = frame or _skills(tables, plan, random, blocks)
        model = season_model(tables, frame)
        outcome = run(model.matrix, share, seed + turn, model.hint(plan))
        better = _better(tables, model, outcome, plan)
        if better is not plan and report is not None:
            report(spent, better)
        plan = better
        spent += outcome.effort + 0.02
        turn += 1
        if outcome.interrupted:
            return Polished(plan, spent, interrupted=True)
    return Polished(plan, spent)


def _frame(
    tables: Tables, plan: Timetable, jobs: dict[tuple[int, int], bool], span: int, skills: set[int]
) -> Frame:
    """Return the frame in which only these blocks and the reviews of these skills are free."""
    instance = tables.instance
    fixed = {}
    for job, placed in enumerate(plan.blocks):
        for number in range(instance.blocks[job]):
            if (job, number) not in jobs:
                fixed[job, number] = placed[number] if number < len(placed) else -1
    reviews = {}
    for skill, placed in enumerate(plan.reviews):
        for number in range(review_count(instance, skill)):
            place = placed[number] if number < len(placed) else -1
            if skill not in skills or (place >= 0 and not span >> place & 1):
                reviews[skill, number] = place
    dropped = len(dropped_pins(instance, plan))
    met = met_goals(instance, plan)
    return Frame(met, {}, PRICES, dropped=dropped, blocks=fixed, reviews=reviews, span=span)


def _stretch(tables: Tables, plan: Timetable, random: Random, blocks: int) -> Frame | None:
    """Free everything in a stretch of practices, to move within it."""
    instance = tables.instance
    first = random.randrange(instance.first_open, instance.practices)
    held = [0] * instance.practices
    for practice in chained.from_iterable((*plan.blocks, *plan.reviews)):
        held[practice] += 1
    last, inside = first, held[first]
    while last + 1 < instance.practices and inside < blocks:
        last += 1
        inside += held[last]
    while first > instance.first_open and inside < blocks:
        first -= 1
        inside += held[first]
    span = (1 << (last + 1)) - (1 << first)
    return part(tables, plan, span)


def part(tables: Tables, plan: Timetable, span: int) -> Frame:
    """Return the frame in which all that stands in these practices may move among them."""
    jobs = {
        (job, number): True
        for job, placed in enumerate(plan.blocks)
        for number, practice in enumerate(placed)
        if span >> practice & 1
    }
    return _frame(tables, plan, jobs, span, set(range(len(tables.instance.chains))))


def _skills(tables: Tables, plan: Timetable, random: Random, blocks: int) -> Frame:
    """Free all of some skills, over the whole season; those that miss a goal come up often."""
    instance = tables.instance
    met = met_goals(instance, plan)
    missed = sorted(
        {instance.skill[g.job] for n, g in enumerate(instance.goals) if g.job >= 0 and n not in met}
    )
    skills = list(range(len(instance.chains)))
    random.shuffle(skills)
    if missed and random.random() < 0.5:
        first = random.choice(missed)
        skills.remove(first)
        skills.insert(0, first)
    chosen: set[int] = set()
    jobs: dict[tuple[int, int], bool] = {}
    size = 0
    for skill in skills:
        if size >= blocks // 3:
            break
        chosen.add(skill)
        for job in instance.chains[skill]:
            for number in range(instance.blocks[job]):
                jobs[job, number] = True
                size += 1
    return _frame(tables, plan, jobs, -1, chosen)
