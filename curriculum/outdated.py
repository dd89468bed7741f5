"""Whether a plan still fits the calendar of its season, or the calendar has changed since."""

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.problems import Problem
from curriculum.wording import counted, moment_words, named

MOST_NAMED = 3
"""Practices named in the sentence; more are counted."""


def outdated_problems(plan: Plan, gym: Gym, folder: str) -> tuple[Problem, ...]:
    """Return one warning when practices have been lost, added or moved since a plan was made.

    folder: the season's, as the coach knows it, for the way out.
    """
    before = {each.id: (each.date, each.start, each.venue) for each in plan.practices}
    after = {each.id: (each.date, each.start, each.venue) for each in gym.practices}
    reasons = {each.id: each.why for each in gym.not_held}
    changed = [
        (where[0], one, where)
        for one, where in (*before.items(), *after.items())
        if before.get(one) != after.get(one)
    ]
    if not changed:
        return ()
    told = {}
    for _, one, (date, start, _) in sorted(changed):
        when = moment_words(date, start)
        if one not in after:
            told[one] = f"{when} is not held any more ({reasons.get(one, 'no gym time')})"
        elif one not in before:
            told[one] = f"{when} is new"
        else:
            told[one] = f"{moment_words(*before[one][:2])} has moved"
    words = named(list(told.values()), most=MOST_NAMED)
    says = f"the calendar has changed since this plan was made, {counted(len(told), 'practice')}"
    return (
        Problem(
            file=f"{folder}/plan.json",
            line=0,
            key="",
            says=f"{says}: {words}",
            way_out=f"bring the plan up to date: curriculum plan {folder}",
            level="warning",
        ),
    )
