"""Read a club folder: the club, its curriculum and its weekly gym times, every fault located."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import TypeVar

from curriculum.club.checks import check_club
from curriculum.files.library import read_library
from curriculum.files.nearest import suggest
from curriculum.files.reading import read
from curriculum.files.season import SEASON_FILE
from curriculum.files.shipped import SHIPPED, shipped
from curriculum.files.sources import SourceMap
from curriculum.models.club import Club, ClubCurriculum, ClubSlots, TeamSlot
from curriculum.models.skills import STAGES, Library
from curriculum.problems import FaultyInputError, Problem, errors

M = TypeVar("M", ClubCurriculum, ClubSlots)

CLUB_FILE = "club.toml"
CURRICULUM_FILE = "curriculum.toml"
SLOTS_FILE = "slots.toml"


@dataclass(frozen=True)
class ClubFiles:
    """A club folder, read.

    curriculum, slots: empty when their files do not stand there.
    library: the club's skills, None when its files are faulty or were not asked for.
    """

    folder: Path
    club: Club
    curriculum: ClubCurriculum
    slots: ClubSlots
    library: Library | None = None
    problems: tuple[Problem, ...] = ()
    sources: SourceMap = field(default_factory=SourceMap)
    curriculum_sources: SourceMap = field(default_factory=SourceMap)
    slots_sources: SourceMap = field(default_factory=SourceMap)

    def season_folder(self, team: str) -> Path:
        """Return the folder of a team's season."""
        return self.folder / team


def club_file(folder_or_file: Path) -> Path:
    """Return the club file of a club folder; a file of that name stands for itself."""
    return folder_or_file if folder_or_file.name == CLUB_FILE else folder_or_file / CLUB_FILE


def _begin(folder: Path) -> str:
    """Return how to come by a club, for a folder that holds none."""
    if (folder / SEASON_FILE).is_file():
        return "this is the folder of a season: leave out `club`, or name the folder of a club"
    return f"copy the demo club with `curriculum new {folder} --from kestrel-quay-club`"


def club_folder_of(season_folder: Path) -> Path | None:
    """Return the club folder that a season folder stands in, None when it stands in none."""
    folder = season_folder.resolve().parent
    return folder if (folder / CLUB_FILE).is_file() else None


def clubs_in(folder_or_file: Path) -> tuple[Path, ...]:
    """Return the club folder itself, or all club folders in a federation's folder, by name.

    The folder itself comes back where there is no club either, to be told as missing.
    """
    folder = club_file(folder_or_file).parent
    if (folder / CLUB_FILE).exists() or not folder.is_dir():
        return (folder,)
    inside = sorted(each for each in folder.iterdir() if (each / CLUB_FILE).is_file())
    return tuple(inside) or (folder,)


def read_club(folder_or_file: Path, *, with_library: bool = True) -> ClubFiles:
    """Read a club folder.

    with_library: also read the club's skills, and check the curriculum against them.

    Raises:
        FaultyInputError: Anything in its files is wrong; all problems of all of them are told.

    """
    path = club_file(folder_or_file)
    folder = path.parent
    reading = read(path, Club, _begin(folder))
    problems = [*reading.problems]
    curriculum, curriculum_problems, curriculum_sources = _optional(
        folder / CURRICULUM_FILE, ClubCurriculum, ClubCurriculum()
    )
    slots, slots_problems, slots_sources = _optional(folder / SLOTS_FILE, ClubSlots, ClubSlots())
    problems += [*curriculum_problems, *slots_problems]
    library = None
    if reading.value is not None:
        problems += [
            problem
            for problem in check_club(reading.value, reading.sources)
            if not any(f"no [[{table}]]" in problem.says for table in reading.left_out)
        ]
        if reading.sound is not None:
            problems += _names(reading.sound, curriculum, slots, curriculum_sources, slots_sources)
        if with_library:
            library, faults = _library(reading.value, folder, reading.sources)
            problems += faults
    if library is not None:
        problems += _skills(curriculum, library, curriculum_sources)
    if reading.sound is None or errors(problems):
        raise FaultyInputError(problems)
    return ClubFiles(
        folder=folder,
        club=reading.sound,
        curriculum=curriculum,
        slots=slots,
        library=library,
        problems=tuple(sorted(problems)),
        sources=reading.sources,
        curriculum_sources=curriculum_sources,
        slots_sources=slots_sources,
    )


def _optional(path: Path, model: type[M], empty: M) -> tuple[M, tuple[Problem, ...], SourceMap]:
    if not path.exists():
        return empty, (), SourceMap(str(path))
    reading = read(path, model, "delete it, or bring back a saved copy")
    return reading.value or empty, reading.problems, reading.sources


def _library(
    club: Club, folder: Path, sources: SourceMap
) -> tuple[Library | None, tuple[Problem, ...]]:
    names = club.club.library
    if names is None:
        library, problems, _ = read_library([shipped("skills")])
        return library, problems
    folders = [shipped("skills")] if SHIPPED in names else []
    folders += [folder / name for name in names if name != SHIPPED]
    missing = [
        sources.problem(
            ("club", "library", number),
            "there is no such folder beside the club file",
            f'make it, or write "{SHIPPED}"',
        )
        for number, name in enumerate(names)
        if name != SHIPPED and not (folder / name).is_dir()
    ]
    if missing:
        return None, tuple(missing)
    library, problems, _ = read_library(folders)
    return library, problems


def _names(
    club: Club,
    curriculum: ClubCurriculum,
    slots: ClubSlots,
    curriculum_sources: SourceMap,
    slots_sources: SourceMap,
) -> Iterator[Problem]:
    """Tell which age groups, teams and gyms of the two other files the club does not have."""
    groups = [group.id for group in club.age_group]
    for number, reach in enumerate(curriculum.reach):
        if reach.age_group not in groups:
            way_out = suggest(reach.age_group, groups, "add the [[age_group]] to club.toml")
            path = ("reach", number, "age_group")
            yield curriculum_sources.problem(path, "the club has no such age group", way_out)
    teams = [team.id for team in club.team]
    gyms = {gym.id: gym for gym in club.gym}
    for number, slot in enumerate(slots.slot):
        if slot.team not in teams:
            way_out = suggest(slot.team, teams, "add the [[team]] to club.toml")
            path = ("slot", number, "team")
            yield slots_sources.problem(path, "the club has no such team", way_out)
        if slot.gym not in gyms:
            way_out = suggest(slot.gym, tuple(gyms), "add the [[gym]] to club.toml")
            yield slots_sources.problem(
                ("slot", number, "gym"), "the club has no such gym", way_out
            )
        elif slot.number > gyms[slot.gym].courts:
            says = f"the gym's courts go from 1 to {gyms[slot.gym].courts}"
            path = ("slot", number, "number")
            yield slots_sources.problem(path, says, "correct the number of the court")


def _skills(curriculum: ClubCurriculum, library: Library, sources: SourceMap) -> Iterator[Problem]:
    """Tell which skills and stages of the curriculum the library does not have."""
    skills = {skill.id: skill for skill in library.skills}
    for number, reach in enumerate(curriculum.reach):
        for stage in STAGES:
            for place, name in enumerate(getattr(reach, stage)):
                path = ("reach", number, stage, place)
                if name not in skills:
                    way_out = suggest(name, tuple(skills), "`curriculum show --graph` lists all")
                    yield sources.problem(path, "no skill has this id", way_out)
                elif stage not in skills[name].stages:
                    has = ", ".join(skills[name].stages)
                    yield sources.problem(path, f"{name} has no stage {stage}", f"it has {has}")


def slots_of(files: ClubFiles, team: str) -> tuple[TeamSlot, ...]:
    """Return a team's weekly gym times in order of weekday and start."""
    return tuple(slot for slot in files.slots.slot if slot.team == team)
