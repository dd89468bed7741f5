"""Fewest changes by exact search: stretches of the season free to move, nearest ones first."""

from dataclasses import replace

from curriculum.schedule.exact.goals import completed
from curriculum.schedule.exact.model import run
from curriculum.schedule.exact.polish import Polished, part, tier_frame
from curriculum.schedule.exact.season import season_model
from curriculum.schedule.finish import with_expected_reviews
from curriculum.schedule.instance import COULD, SHOULD
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Timetable, plan_value

REACHES = (8, 16, 32, 1_000)
"""Practices that are free to change from the first open one on, in turn."""

MOST_COLUMNS = 20_000
"""Larger parts are not searched."""


def fewest_changes(tables: Tables, plan: Timetable, effort: float, seed: int) -> Polished:
    """Look for a plan that misses no more and moves less of what people know.

    `bound` is the number of blocks moved that no plan can be below that misses no more must- and
    should-goals, None when it was not proven.
    """
    instance = tables.instance
    near = _near(tables, plan, effort, seed)
    plan, spent, bound = near.plan, near.effort, None
    if near.interrupted:
        return near
    whole = replace(tier_frame(instance, plan), stay=True)
    whole = replace(
        whole, hard=frozenset(n for n in whole.hard if instance.goals[n].importance < COULD)
    )
    for reach in REACHES:
        end = min(instance.practices, instance.first_open + reach)
        everything = end == instance.practices
        span = (1 << end) - (1 << instance.first_open)
        frame = whole if everything else replace(part(tables, plan, span), stay=True, prices={})
        model = season_model(tables, frame)
        if len(model.matrix.upper) > MOST_COLUMNS:
            break
        outcome = run(model.matrix, effort / len(REACHES), seed, model.hint(plan))
        spent += outcome.effort
        if outcome.values:
            found = with_expected_reviews(tables, model.timetable(outcome.values))
            if plan_value(instance, found) < plan_value(instance, plan):
                plan = found
        if outcome.interrupted:
            return Polished(plan, spent, interrupted=True)
        if everything:
            break
    return Polished(plan, spent, bound)


def _near(tables: Tables, plan: Timetable, effort: float, seed: int) -> Polished:
    """Place what must- and should-goals ask for, that alone, near where people expect it.

    The rest then goes back to its places as far as there is room.
    """
    instance = tables.instance
    frame = tier_frame(instance, plan)
    caps = {each: most for each, most in frame.caps.items() if each < COULD}
    frame = replace(frame, caps=caps, stay=True, with_comfort=False, goals_up_to=SHOULD)
    model = season_model(tables, frame)
    outcome = run(model.matrix, effort, seed, model.hint(plan))
    if outcome.values:
        found = completed(tables, model.timetable(outcome.values))
        plan = min((plan, *found), key=lambda each: plan_value(instance, each))
    return Polished(plan, outcome.effort, interrupted=outcome.interrupted)
