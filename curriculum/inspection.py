"""Everything that is wrong with a season folder, told before anybody plans with it."""

import datetime as dt
from pathlib import Path

from curriculum.checks import reach_problems
from curriculum.files.players import read_players
from curriculum.files.shipped import own_drills
from curriculum.files.sources import relocate
from curriculum.happened import open_from
from curriculum.models.plan import Plan
from curriculum.problems import Problem
from curriculum.referee.judge import judge
from curriculum.wording import counted
from curriculum.workspace import PLAN_FILE, Workspace, faults_of, open_season, read_files


def check_folder(folder: Path, now: dt.datetime) -> tuple[Problem, ...]:
    """Return all that is wrong with a season folder.

    Goals out of reach, breaches of the plan, faults of players.toml and of shipped drills too: to
    open a season, those drills are taken to be sound, for tests have judged them.
    """
    opening = open_season(folder, now)
    space = opening.workspace
    if space is None:
        return opening.problems
    files = read_files(folder)
    judged = frozenset(d.id for d in own_drills(space.library, files.library_sources))
    rest = tuple(drill for drill in space.library.drills if drill.id not in judged)
    faults = relocate(faults_of(rest), files.library_sources)
    found = reach_problems(space.season, space.library, space.gym)
    _, names = read_players(space.folder)
    broken = breaches(space, space.plan, now.date())
    return (*opening.problems, *names, *faults, *relocate(found, files.season_sources), *broken)


def breaches(space: Workspace, plan: Plan | None, today: dt.date) -> tuple[Problem, ...]:
    """Return what the referee finds in a plan as problems of its file; none without a plan.

    Once practices are recorded, the past is theirs and is not judged; what was recorded after the
    plan was made is one warning, for then another plan is due.
    """
    if plan is None:
        return ()
    past = open_from(space.record, today) if space.record.practices else None
    verdict = judge(plan, space.season, space.library, space.gym, past)
    file = str(space.folder / PLAN_FILE)
    since = sum(saved.at > plan.made for saved in space.record.practices)
    if verdict.breaches and since:
        says = "the plan does not follow yet what was recorded after it was made"
        way_out = "see what would change, and write it, with `curriculum plan`"
        return (Problem(file, 0, "", says, counted(since, "practice"), way_out, "warning"),)
    way_out = "make the plan anew with `curriculum plan`, or undo the edit"
    return tuple(
        Problem(file, 0, breach.rule, breach.says, "", way_out) for breach in verdict.breaches
    )
