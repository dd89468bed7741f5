"""Win missed goals by exact search, and bound how few can be missed, comfort left aside."""

from dataclasses import dataclass, replace

from curriculum.schedule.anneal import with_reviews
from curriculum.schedule.decode import Decoder
from curriculum.schedule.exact.model import run
from curriculum.schedule.exact.objective import SCALE
from curriculum.schedule.exact.polish import met_goals, missed_goals
from curriculum.schedule.exact.season import Frame, season_model
from curriculum.schedule.finish import with_expected_reviews
from curriculum.schedule.instance import MUST, Instance
from curriculum.schedule.rules import in_order_of_needs
from curriculum.schedule.sticky import known_order
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, dropped_pins, goal_tiers, plan_value

BY_FAR = 1_000_000
"""Days late that one must-goal outweighs."""


FEW = 40
"""Practices up to which it pays to choose a way to fill each."""


@dataclass(frozen=True)
class Goals:
    """A plan that misses no more, and how few can be missed.

    bound: goals missed (must) or their weight (should, could) that no plan can be below that misses
    no more of the stricter ones. days: the same for weighted days late of must-goals, for plans
    that miss no more of them than the bound.
    """

    plan: Timetable
    bound: int
    days: int
    effort: float
    interrupted: bool = False


def better_goals(
    tables: Tables, plan: Timetable, importance: int, effort: float, seed: int
) -> Goals:
    """Look for a plan that misses less of this importance and no more of the stricter ones."""
    instance = tables.instance
    missed = missed_goals(instance, plan)
    hard = frozenset(
        index
        for index, goal in enumerate(instance.goals)
        if goal.job >= 0 and goal.importance < importance and not missed[goal.importance]
    )
    caps = {each: most for each, most in missed.items() if each < importance and most}
    musts = importance == MUST
    frame = Frame(
        hard,
        caps,
        {importance: BY_FAR if musts else 1},
        days=int(musts),
        dropped=len(dropped_pins(instance, plan)),
        with_comfort=False,
        goals_up_to=importance,
        fillings=instance.practices <= FEW,
    )
    model = season_model(tables, frame)
    outcome = run(model.matrix, effort / 2, seed, model.hint(plan))
    if outcome.verdict in ("feasible", "unknown") and not outcome.interrupted:
        hint = outcome.values or model.hint(plan)
        proven = run(model.matrix, effort / 2, seed, hint, mode="prove")
        outcome = replace(proven, effort=outcome.effort + proven.effort)
    bound = -(-outcome.bound // SCALE) if outcome.verdict in ("optimal", "feasible") else 0
    bound, days = divmod(bound, BY_FAR) if musts else (bound, 0)
    better, spent, interrupted = plan, outcome.effort, outcome.interrupted
    if outcome.values and plan_goals(instance, model.timetable(outcome.values), importance) < (
        plan_goals(instance, plan, importance)
    ):
        found = model.timetable(outcome.values)
        for candidate in completed(tables, found):
            if plan_value(instance, candidate) < plan_value(instance, better):
                better = candidate
    return Goals(better, bound, days, spent, interrupted)


def plan_goals(instance: Instance, plan: Timetable, importance: int) -> tuple[int, ...]:
    """Return what a plan misses of this importance and stricter ones, and days late."""
    must, days, should, could = goal_tiers(instance, plan)
    return (must, days, should, could)[: importance + 2]


def completed(tables: Tables, found: Timetable) -> list[Timetable]:
    """Return plans that follow a solution of part of the jobs: its order, and its very places."""
    instance = tables.instance
    goals = met_goals(instance, found)
    wanted = {instance.goals[index].job for index in goals}
    for job in reversed(range(len(instance.minutes))):
        if job in wanted:
            wanted.update(instance.needs[job])
    starts = [float(row[0]) if row else 1e6 for row in found.blocks]
    order = in_order_of_needs(
        instance, [start if job in wanted else 1e6 for job, start in enumerate(starts)]
    )
    fixed = {
        (job, number): practice
        for job in sorted(wanted)
        for number, practice in enumerate(found.blocks[job], start=1)
    }
    if instance.noticed:
        decoder = Decoder(tables, fixed, sticky=True)
        return [
            with_expected_reviews(tables, decoder.timetable(decoder.decode(items)))
            for items in (known_order(instance), with_reviews(decoder, order))
        ]
    plans = []
    for decoder in (Decoder(tables), Decoder(tables, fixed)):
        items = with_reviews(decoder, order)
        plans.append(decoder.timetable(decoder.decode(items)))
    return plans
