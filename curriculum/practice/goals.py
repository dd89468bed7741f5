"""Goals in words: by when, taught by when, and with how many days in hand."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from curriculum.graph import StageGraph, before
from curriculum.models.plan import GoalResult, Plan, PlannedGame, PlannedPractice
from curriculum.models.season import Importance, Season
from curriculum.models.skills import Library, Stage
from curriculum.practice.words import skill_name
from curriculum.wording import clock, due_words, short_date

Outcome = Literal["met", "missed", "known"]


@dataclass(frozen=True)
class GoalLine:
    """One goal as it is shown.

    by: the last day, for a goal due by a game the game's day. due: the same in words, with whom
    that game is played against.
    taught_by: the date in words, or why there is none. promise: the same as a phrase.
    slack_days: days from being taught to `by`, negative when late, None when never or known.
    """

    skill: str
    stage: Stage
    need: Importance
    by: dt.date
    due: str
    taught_by: str
    promise: str
    slack_days: int | None
    outcome: Outcome


@dataclass(frozen=True)
class NextGame:
    """The game that follows, in words, and the goals still open that are due by it."""

    date: dt.date
    when: str
    against: str
    days: int
    goals: tuple[GoalLine, ...]


def goal_lines(
    plan: Plan, season: Season, library: Library, goals: Iterable[GoalResult] | None = None
) -> tuple[GoalLine, ...]:
    """Return goals of a plan (all, unless some are given) in order of their due dates."""
    chosen = plan.goals if goals is None else goals
    lines = [_line(goal, plan, season, library) for goal in chosen]
    return tuple(sorted(lines, key=lambda line: (line.by, line.due, line.skill, line.stage)))


def _line(goal: GoalResult, plan: Plan, season: Season, library: Library) -> GoalLine:
    known = goal.met and goal.reached is None
    taught_by = "known already" if known else "not in this plan"
    promise = taught_by
    if goal.reached is not None:
        taught_by = short_date(goal.reached)
        promise = f"taught by {taught_by}" + ("" if goal.met else ", too late")
    return GoalLine(
        skill=skill_name(library, goal.skill),
        stage=goal.stage,
        need=goal.need,
        by=goal.by,
        due=due_words(goal.by, _opponent(goal, plan, season)),
        taught_by=taught_by,
        promise=promise,
        slack_days=None if goal.reached is None else (goal.by - goal.reached).days,
        outcome="known" if known else "met" if goal.met else "missed",
    )


def _opponent(goal: GoalResult, plan: Plan, season: Season) -> str | None:
    """Return who is played against in the game by which a goal is due; None without such a game.

    A plan itself tells only the date.
    """
    opponents = {game.id: game.opponent for game in plan.games if game.date == goal.by}
    for wanted in season.goal:
        same = (wanted.skill, wanted.stage) == (goal.skill, goal.stage)
        if same and isinstance(wanted.by, str) and wanted.by in opponents:
            return opponents[wanted.by]
    return None


def goals_here(plan: Plan, planned: PlannedPractice, graph: StageGraph) -> tuple[GoalResult, ...]:
    """Return the goals of the skills in a practice that are not yet due, or still to be reached.

    Where none of its skills has one, the first goal not yet due that waits for one of its blocks.
    """
    skills = {block.skill for block in planned.blocks}
    own = tuple(
        goal
        for goal in plan.goals
        if goal.skill in skills and planned.date <= max(goal.by, goal.reached or goal.by)
    )
    if own:
        return own
    today = {(block.skill, block.stage) for block in planned.blocks}
    waiting = [
        goal
        for goal in plan.goals
        if goal.by >= planned.date
        and (goal.skill, goal.stage) in graph
        and today & before(graph, (goal.skill, goal.stage))
    ]
    return tuple(sorted(waiting, key=lambda goal: (goal.by, goal.skill))[:1])


def next_game(
    plan: Plan, planned: PlannedPractice, season: Season, library: Library
) -> NextGame | None:
    """Return the first game that starts after a practice ends; None when no game is left."""
    after = (planned.date, planned.end)
    left = [game for game in plan.games if (game.date, game.start) >= after]
    if not left:
        return None
    game = min(left, key=lambda each: (each.date, each.start, each.id))
    due = [
        goal
        for goal in plan.goals
        if planned.date <= goal.by <= game.date
        and (goal.reached is None or goal.reached >= planned.date)
        and not (goal.met and goal.reached is None)
    ]
    return NextGame(
        date=game.date,
        when=f"{short_date(game.date)}, {clock(game.start)}",
        against=against(game),
        days=(game.date - planned.date).days,
        goals=goal_lines(plan, season, library, due),
    )


def against(game: PlannedGame) -> str:
    """Return `at home against Harbour Light`."""
    return f"{'at home' if game.home else 'away'} against {game.opponent}"
