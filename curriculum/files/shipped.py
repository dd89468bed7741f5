"""Where the shipped library and demo seasons are, and which folders a season's library is in."""

from pathlib import Path
from typing import Literal

from curriculum.files.nearest import nearest
from curriculum.files.sources import SourceMap
from curriculum.models.drills import Drill
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.problems import Problem

SHIPPED = "shipped"
"""The word in `season.library` that stands for the shipped library."""


def shipped(kind: Literal["skills", "seasons"]) -> Path:
    """Return the folder that came with the program: inside the package, else of the checkout."""
    package = Path(__file__).parents[1]
    inside = package / SHIPPED / kind
    return inside if inside.is_dir() else package.parent / kind


def own_drills(library: Library, sources: SourceMap) -> tuple[Drill, ...]:
    """Return the drills of a library that did not come with the program."""
    home = shipped("skills")
    return tuple(
        drill
        for drill in library.drills
        if drill.id not in sources.skills or Path(sources.skills[drill.id][0].file).parent != home
    )


def library_folders(
    season: Season, season_folder: Path
) -> tuple[tuple[Path, ...], tuple[Problem, ...]]:
    """Return the folders of a season's library, and a problem for each that is not there.

    Without `library` it is the shipped one. With it, folders beside the season file stand in its
    place; "shipped" anywhere in the list adds it, always first, so that others can replace its
    skills. The problems have a key but no place yet (see `relocate`).
    """
    if season.season.library is None:
        return (shipped("skills"),), ()
    if not season.season.library:
        says, way_out = "names no folder", "delete the line to use the shipped library"
        return (), (Problem("", 0, "season.library", says, "[]", way_out),)
    folders = [shipped("skills")] if SHIPPED in season.season.library else []
    problems = []
    for number, name in enumerate(season.season.library, 1):
        if name == SHIPPED:
            continue
        folder = season_folder / name
        if folder.is_dir():
            folders.append(folder)
        else:
            key = f"season.library[{number}]"
            says = "there is no such folder beside the season file"
            way_out = _way_out(name, season_folder)
            problems.append(Problem("", 0, key, says, f'"{name}"', way_out))
    return tuple(folders), tuple(problems)


def _way_out(name: str, season_folder: Path) -> str:
    try:
        beside = [each.name for each in season_folder.iterdir() if each.is_dir()]
    except OSError:
        beside = []
    near = nearest(name, (*beside, SHIPPED))
    return f'did you mean "{near}"?' if near else 'make it, or write "shipped"'
