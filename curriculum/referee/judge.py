"""The verdict on any plan: solved, edited by hand, or from an older file.

It shares nothing with the engine that makes plans, so that a fault there cannot hide here.
"""

import datetime as dt
from collections.abc import Callable, Iterator

from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.referee.cautions import long_gaps, usual_age, weekly_hours
from curriculum.referee.facts import Facts, read
from curriculum.referee.form import the_plan_itself
from curriculum.referee.goals import honest_goals, pins_and_the_past
from curriculum.referee.rules import (
    enough_of_all,
    inside_the_gym_time,
    new_in_small_bites,
    quiet_before_a_game,
)
from curriculum.referee.sequence import ladder, needs_come_first
from curriculum.referee.verdict import Breach, Verdict

Rule = Callable[[Facts], Iterator[Breach]]

RULES: tuple[Rule, ...] = (
    the_plan_itself,
    inside_the_gym_time,
    ladder,
    needs_come_first,
    new_in_small_bites,
    quiet_before_a_game,
    enough_of_all,
    pins_and_the_past,
    honest_goals,
)
CAUTIONS: tuple[Rule, ...] = (usual_age, long_gaps, weekly_hours)


def judge(
    plan: Plan, season: Season, library: Library, gym: Gym, today: dt.date | None = None
) -> Verdict:
    """Return every breach of a plan and every warning about it.

    Practices before `today` are past: they happened, and no rule is asked of them; without it
    nothing is past. Raises networkx.NetworkXUnfeasible when needs run in a loop, KeyError when a
    goal is due by a game that the season lacks: files that read without an error have neither.
    """
    facts = read(plan, season, library, gym, today)
    return Verdict(
        breaches=tuple(breach for rule in RULES for breach in rule(facts)),
        warnings=tuple(breach for caution in CAUTIONS for breach in caution(facts)),
    )
