"""Check a season as a whole, and read everything that a season folder names in one go."""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from curriculum.files.checks_calendar import check_calendar
from curriculum.files.checks_goals import check_against_library, check_goals
from curriculum.files.library import read_library
from curriculum.files.season import read_season_file, season_file
from curriculum.files.shipped import library_folders
from curriculum.files.sources import SourceMap, relocate
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.problems import Problem

_FOLLOWS = {"venue": ".venue", "game": ".by", "adjust": ".number"}
"""Keys that name an entry of a table; when one of its entries is faulty they cannot be judged."""


@dataclass(frozen=True)
class SeasonFiles:
    """A season with its library, and everything that is wrong in their files.

    season, library: None when anything in their own files is wrong.
    """

    season: Season | None
    library: Library | None
    problems: tuple[Problem, ...]
    season_sources: SourceMap = field(default_factory=SourceMap)
    library_sources: SourceMap = field(default_factory=SourceMap)


def check_season(
    season: Season, library: Library | None, sources: SourceMap
) -> tuple[Problem, ...]:
    """Return what does not fit inside a season and between it and its library, in file order.

    Without a library only the season itself is checked. What needs the dated gym calendar or the
    order of skills is checked where these are made.
    """
    problems = [*check_calendar(season, sources), *check_goals(season, sources)]
    if library is not None:
        problems += check_against_library(season, library, sources)
    return tuple(sorted(problems))


def _as_written(season: Season) -> Season:
    return season


@lru_cache(maxsize=4)
def _library_once(
    folders: tuple[Path, ...], stamp: tuple[tuple[str, int, int], ...]
) -> tuple[Library | None, tuple[Problem, ...], SourceMap]:
    """Read a library, once for as long as its files stay as they are: many seasons share one."""
    del stamp
    return read_library(folders)


def _stamp(folders: tuple[Path, ...]) -> tuple[tuple[str, int, int], ...]:
    """Return what changes when a file of a library does: names, times of writing, sizes."""
    files = sorted(path for folder in folders for path in folder.glob("*.toml"))
    states = [(path, path.stat()) for path in files if path.is_file()]
    return tuple((str(path), state.st_mtime_ns, state.st_size) for path, state in states)


def read_season_folder(
    folder_or_file: Path, complete: Callable[[Season], Season] = _as_written
) -> SeasonFiles:
    """Read a season and its library; every fault in any of their files is told at once.

    What is sound in a faulty season file is checked against the rest all the same.
    complete: adds what a season takes from elsewhere, such as its club, before it is checked.
    """
    reading = read_season_file(folder_or_file)
    if reading.value is not None:
        reading = replace(reading, value=complete(reading.value))
    if reading.value is None:
        return SeasonFiles(None, None, tuple(sorted(reading.problems)), reading.sources)
    folder = season_file(folder_or_file).parent
    folders, missing = library_folders(reading.value, folder)
    read = _library_once(folders, _stamp(folders)) if not missing else (None, (), None)
    library, faults, library_sources = read
    checked = check_season(reading.value, library, reading.sources)
    if reading.sound is None:
        checked = tuple(
            problem
            for problem in checked
            if problem.level == "error"
            and not any(problem.key.endswith(_FOLLOWS.get(name, "\n")) for name in reading.left_out)
        )
    own = [_with_the_id(problem, library) for problem in reading.problems]
    problems = {*own, *relocate(missing, reading.sources), *faults, *checked}
    return SeasonFiles(
        reading.sound,
        library,
        tuple(sorted(problems)),
        reading.sources,
        library_sources or SourceMap(),
    )


def _with_the_id(problem: Problem, library: Library | None) -> Problem:
    """Return a problem, with the right id to write where a skill's name stands in place of it.

    A reader without the library can only make an id of the name, and few skills are called so.
    """
    if library is None or not problem.key.endswith(".skill"):
        return problem
    name = problem.found.strip("\"'").casefold()
    ids = [skill.id for skill in library.skills if skill.name.casefold() == name]
    return replace(problem, way_out=f'write skill = "{ids[0]}"') if len(ids) == 1 else problem
