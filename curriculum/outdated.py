"""Whether a plan still fits the calendar of its season, or the calendar has changed since."""

from collections.abc import Mapping

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.problems import Problem
from curriculum.wording import clock, counted, moment_words, named

CHANGED = "the calendar has changed since this plan was made"
MOST_NAMED = 3
"""Practices named in the sentence; more are counted."""


def calendar_changes(plan: Plan, gym: Gym) -> dict[str, str]:
    """Return what became of the practices that were changed since a plan was made, by their ids.

    The earliest comes first; each in words, e.g. `Fri 5 Feb 17:30 has moved`.
    """
    before = {each.id: (each.date, each.start, each.venue, each.end) for each in plan.practices}
    after = {each.id: (each.date, each.start, each.venue, each.end) for each in gym.practices}
    reasons = {each.id: each.why for each in gym.not_held}
    changed = [
        (where[0], one, where)
        for one, where in (*before.items(), *after.items())
        if before.get(one) != after.get(one)
    ]
    told = {}
    for _, one, (date, start, *_) in sorted(changed):
        when = moment_words(date, start)
        if one not in after:
            told[one] = f"{when} is not held any more ({reasons.get(one, 'no gym time')})"
        elif one not in before:
            told[one] = f"{when} is new"
        elif before[one][:-1] == after[one][:-1]:
            told[one] = f"{when} ends at {clock(after[one][-1])} now"
        else:
            told[one] = f"{moment_words(*before[one][:2])} has moved"
    return told


def changes_words(changes: Mapping[str, str]) -> str:
    """Return what became of practices in words, of the first ones in full; "" when none changed."""
    return named(list(changes.values()), most=MOST_NAMED)


def outdated_problems(plan: Plan, gym: Gym, folder: str) -> tuple[Problem, ...]:
    """Return one warning when practices have been lost, added or changed since a plan was made.

    folder: the season's, as the coach knows it, for the way out.
    """
    changes = calendar_changes(plan, gym)
    if not changes:
        return ()
    return (
        Problem(
            file=f"{folder}/plan.json",
            line=0,
            key="",
            says=f"{CHANGED}, {counted(len(changes), 'practice')}: {changes_words(changes)}",
            way_out=f"bring the plan up to date: curriculum plan {folder}",
            level="warning",
        ),
    )
