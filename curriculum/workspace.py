"""A season folder, opened: every file read, checked and put together."""

import datetime as dt
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

from curriculum.checks import (
    called_off_problems,
    known_pin_problems,
    loop_problems,
    pin_problems,
    unknown_game_problems,
)
from curriculum.club.inherit import heir_of
from curriculum.club.reading import club_file
from curriculum.files.checks import SeasonFiles, read_season_folder
from curriculum.files.season import season_file
from curriculum.files.shipped import own_drills
from curriculum.files.sources import relocate
from curriculum.gym.imports.imported import imported, placed, with_imported
from curriculum.gym.practices import Former, Gym
from curriculum.gym.slots import calendar_of
from curriculum.gym.travel import travel_problems
from curriculum.happened import recorded_ids, season_after, within
from curriculum.ledger import Ledger, read_ledger
from curriculum.models.drills import Drill
from curriculum.models.plan import Plan
from curriculum.models.record import NOTHING, Record
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.practice.soundness import drill_faults
from curriculum.problems import FaultyInputError, Problem, errors
from curriculum.records.database import RECORD_FILE, read_record
from curriculum.store import plan_mark, read_plan
from curriculum.wording import counted
from curriculum.workload import Workload, workload_of

PLAN_FILE = "plan.json"
LEDGER_FILE = "published.json"


@dataclass(frozen=True)
class Workspace:
    """A season folder, read and sound.

    plan: the plan that stands in the folder, None when there is none yet; plan_mark: the mark of
    its file, also where the plan is ignored.
    season: as the record leaves it, with more blocks where one was shaky; see `season_after`.
    ledger: what calendars have shown; None when nobody has been told a plan yet.
    record: what happened at practices, as far as it was recorded.
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
    record: Record = NOTHING
    plan_mark: str = ""

    @property
    def published(self) -> bool:
        """Whether anyone knows a plan of this season: told, or at work by it."""
        return self.ledger is not None or bool(self.record.practices)

    @property
    def import_problems(self) -> tuple[Problem, ...]:
        """The warnings about calendar files that were taken in, and about their entries."""
        files = {str(self.folder / entry.file) for entry in self.season.calendar}
        return tuple(
            problem
            for problem in self.problems
            if problem.file in files or problem.key.startswith("calendar[")
        )


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
        own = own_drills(files.library, files.library_sources)
        problems += relocate(faults_of(own), files.library_sources)
    # Taken before the plan is read: should another one take its place meanwhile, none is lost.
    mark = plan_mark(season_file(folder).parent / PLAN_FILE)
    plan, plan_problems = _present_plan(folder, ignore_plan=ignore_plan)
    problems += plan_problems
    if files.season is None or files.library is None or errors(problems):
        return Opening(None, tuple(sorted(problems)))
    home = season_file(folder).parent
    ledger = _present_ledger(home, files.season, plan, now, problems)
    record = _present_record(home, files.season, problems)
    brought = imported(files.season, home)
    complete = with_imported(files.season, brought)
    problems += relocate(
        [*brought.problems, *unknown_game_problems(complete)], files.season_sources
    )
    if errors(problems):
        return Opening(None, tuple(sorted(problems)))
    season = season_after(complete, files.library, record)
    gym = calendar_of(season, former=_former(plan, ledger, record))
    found = [
        *gym.problems,
        *travel_problems(season, gym),
        *known_pin_problems(season, files.library),
        *pin_problems(season, gym),
        *called_off_problems(season, gym),
    ]
    problems += relocate(placed(found, brought), files.season_sources)
    if errors(problems):
        return Opening(None, tuple(sorted(problems)))
    workload = workload_of(season, files.library)
    told = tuple(sorted(problems))
    space = Workspace(home, season, files.library, gym, workload, plan, ledger, told, record, mark)
    return Opening(space, told)


@lru_cache(maxsize=4)
def faults_of(drills: tuple[Drill, ...]) -> tuple[Problem, ...]:
    """Return what is wrong with drills, once for all seasons that share them."""
    return drill_faults(drills)


def read_files(folder: Path) -> SeasonFiles:
    """Read a season folder, completed by its club when it is the folder of one of its teams."""
    home = season_file(folder).parent
    if not season_file(folder).exists() and club_file(home).is_file():
        says = "this is the folder of a club, not of a season"
        way_out = "name the folder of one of its teams, or see `curriculum club --help`"
        return SeasonFiles(None, None, (Problem(str(home), 0, "", says, "", way_out),))
    try:
        heir = heir_of(home)
    except FaultyInputError as fault:
        return SeasonFiles(None, None, fault.problems)
    if heir is None:
        return read_season_folder(folder)
    files = read_season_folder(folder, heir.complete)
    return replace(files, problems=heir.placed(files.problems, str(season_file(folder))))


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


def _present_record(home: Path, season: Season, problems: list[Problem]) -> Record:
    """Return what is recorded within the season's dates."""
    record, faults = read_record(home / RECORD_FILE)
    problems += faults
    inside = within(record, season)
    outside = len(record.practices) - len(inside.practices)
    if outside:
        file = str(home / RECORD_FILE)
        says = "practices are recorded on dates outside the season, and count for nothing"
        way_out = "set the season's dates right, or begin a record of its own for a new season"
        problems.append(
            Problem(file, 0, "", says, counted(outside, "practice"), way_out, "warning")
        )
    return inside


def _former(plan: Plan | None, ledger: Ledger | None, record: Record) -> tuple[Former, ...]:
    """Return the practices that have an id already.

    From the plan, else from what was published; and those that were recorded.
    """
    if plan is not None:
        known = [Former(each.id, each.date, each.start, each.venue) for each in plan.practices]
    else:
        known = [
            Former(each.id, each.date, each.start, each.venue)
            for each in (ledger.practices if ledger else ())
            if each.start is not None and each.venue is not None
        ]
    ids = {former.id for former in known}
    return (*known, *(former for former in recorded_ids(record) if former.id not in ids))
