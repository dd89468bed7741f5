"""A season folder, opened: every file read, checked and put together."""

import datetime as dt
from dataclasses import dataclass, replace
from pathlib import Path

from curriculum.checks import known_pin_problems, loop_problems, pin_problems, reach_problems
from curriculum.club.inherit import heir_of
from curriculum.files.checks import SeasonFiles, read_season_folder
from curriculum.files.season import season_file
from curriculum.files.sources import relocate
from curriculum.gym.practices import Former, Gym
from curriculum.gym.slots import calendar_of
from curriculum.ledger import Ledger, read_ledger
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.referee.judge import judge
from curriculum.store import read_plan
from curriculum.workload import Workload, workload_of

PLAN_FILE = "plan.json"
LEDGER_FILE = "published.json"


@dataclass(frozen=True)
class Workspace:
    """A season folder, read and sound.

    plan: the plan that stands in the folder, None when there is none yet.
    ledger: what calendars have shown; None when nobody has been told a plan yet.
    problems: warnings only.
    """

    folder: Path
    season: Season
    library: Library
    gym: Gym
    workload: Workload
    plan: Plan | None
    ledger: Ledger | None
    problems: tuple[Problem, ...]

    @property
    def published(self) -> bool:
        """Whether anyone has been told a plan of this season."""
        return self.ledger is not None


@dataclass(frozen=True)
class Opening:
    """What opening a season folder gave: a workspace, or the problems that stand against it."""

    workspace: Workspace | None
    problems: tuple[Problem, ...]


def open_season(folder: Path, now: dt.datetime, *, ignore_plan: bool = False) -> Opening:
    """Read a season folder and everything it names; all problems of all files at once.

    ignore_plan: do as if no plan stood there (a faulty plan file is then no hindrance).
    """
    files = read_files(folder)
    problems = [*files.problems]
    if files.library is not None:
        problems += loop_problems(files.library, files.library_sources)
    plan, plan_problems = _present_plan(folder, ignore_plan=ignore_plan)
    problems += plan_problems
    if files.season is None or files.library is None or errors(problems):
        return Opening(None, tuple(sorted(problems)))
    home = season_file(folder).parent
    ledger = _present_ledger(home, files.season, plan, now, problems)
    gym = calendar_of(files.season, former=_former(plan, ledger))
    found = [
        *gym.problems,
        *known_pin_problems(files.season, files.library),
        *pin_problems(files.season, gym),
    ]
    problems += relocate(found, files.season_sources)
    if errors(problems):
        return Opening(None, tuple(sorted(problems)))
    workload = workload_of(files.season, files.library)
    told = tuple(sorted(problems))
    space = Workspace(home, files.season, files.library, gym, workload, plan, ledger, told)
    return Opening(space, told)


def read_files(folder: Path) -> SeasonFiles:
    """Read a season folder, completed by its club when it is the folder of one of its teams."""
    try:
        heir = heir_of(season_file(folder).parent)
    except FaultyInputError as fault:
        return SeasonFiles(None, None, fault.problems)
    if heir is None:
        return read_season_folder(folder)
    files = read_season_folder(folder, heir.complete)
    return replace(files, problems=heir.placed(files.problems, str(season_file(folder))))


def check_folder(folder: Path, now: dt.datetime) -> tuple[Problem, ...]:
    """Return all that is wrong with a season folder, goals out of reach and plan breaches too."""
    opening = open_season(folder, now)
    space = opening.workspace
    if space is None:
        return opening.problems
    sources = read_files(folder).season_sources
    found = reach_problems(space.season, space.library, space.gym)
    return (*opening.problems, *relocate(found, sources), *breaches(space, space.plan))


def breaches(space: Workspace, plan: Plan | None) -> tuple[Problem, ...]:
    """Return what the referee finds in a plan as problems of its file; none without a plan."""
    if plan is None:
        return ()
    verdict = judge(plan, space.season, space.library, space.gym)
    file = str(space.folder / PLAN_FILE)
    way_out = "make the plan anew with `curriculum plan`, or undo the edit"
    return tuple(
        Problem(file, 0, breach.rule, breach.says, "", way_out) for breach in verdict.breaches
    )


def _present_plan(folder: Path, *, ignore_plan: bool) -> tuple[Plan | None, tuple[Problem, ...]]:
    path = season_file(folder).parent / PLAN_FILE
    if ignore_plan or not path.exists():
        return None, ()
    return read_plan(path)


def _present_ledger(
    home: Path, season: Season, plan: Plan | None, now: dt.datetime, problems: list[Problem]
) -> Ledger | None:
    if not (home / LEDGER_FILE).exists():
        return None
    revision = plan.revision if plan else 1
    ledger, faults = read_ledger(home / LEDGER_FILE, season.season.id, now, revision)
    problems += faults
    return ledger


def _former(plan: Plan | None, ledger: Ledger | None) -> tuple[Former, ...]:
    """Return the practices that have an id already: from the plan, else from what was published."""
    if plan is not None:
        return tuple(Former(each.id, each.date, each.start, each.venue) for each in plan.practices)
    return tuple(
        Former(each.id, each.date, each.start, each.venue)
        for each in (ledger.practices if ledger else ())
        if each.start is not None and each.venue is not None
    )
