"""Read a library of skills from its files, and check that its needs name what exists."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from curriculum.files.drills import (
    DrillTable,
    check_drill,
    fitted_drills,
    merged_drills,
    placed_drills,
)
from curriculum.files.nearest import suggest
from curriculum.files.placed import PlacedDrill, PlacedSkill, taken
from curriculum.files.positions import KeyPath
from curriculum.files.reading import read
from curriculum.files.sources import SourceMap
from curriculum.models.base import Model, Text
from curriculum.models.skills import STAGES, Library, Skill, SkillEntry
from curriculum.problems import Problem, errors
from curriculum.wording import listed

_NO_FILE = "name a folder that holds skill files"
_EMPTY = "write strand = and a [[skill]], or delete the file"


class SkillTable(SkillEntry):
    """A `[[skill]]` table.

    replaces: this skill takes the place of one of the same id in an earlier file.
    """

    replaces: bool = False


class LibraryFile(Model):
    """A whole file of skills and drills, all of one strand."""

    strand: Text
    skill: tuple[SkillTable, ...] = ()
    drill: tuple[DrillTable, ...] = ()


def read_library(
    folders: Sequence[Path],
) -> tuple[Library | None, tuple[Problem, ...], SourceMap]:
    """Return the skills and drills of all `*.toml` in some folders, file by file in sorted order.

    None when anything in them is wrong; then all problems of all files are told. A skill or drill
    that replaces another one takes its place in the order.
    """
    problems: list[Problem] = []
    placed: list[PlacedSkill] = []
    placed_too: list[PlacedDrill] = []
    faulty_ids: set[str] = set()
    faulty_skills: set[str] = set()
    for path in _files(folders, problems):
        reading = read(path, LibraryFile, _EMPTY)
        problems += reading.problems
        faulty_ids |= set(reading.sources.names.values())
        named = reading.sources.names.items()
        faulty_skills |= {name for path, name in named if path[0] == "skill"}
        if reading.value is not None:
            placed += _placed(reading.value, reading.sources, reading.sound is not None)
            placed_too += placed_drills(reading.value.drill, reading.sources)
    skills, taken = _merged(placed, problems)
    for entry in skills.values():
        problems += _check_stages(entry)
        problems += _check_needs(entry, skills, faulty_skills - set(skills))
    drills = merged_drills(placed_too, frozenset(skills), problems)
    drills = fitted_drills(drills, taken, problems)
    known = {name: entry.skill for name, entry in skills.items()}
    for drill in drills.values():
        problems += check_drill(drill, known, frozenset(drills), faulty_ids)
    skill_places = {n: (each.sources, ("skill", each.number)) for n, each in skills.items()}
    drill_places = {n: (each.sources, ("drill", each.number)) for n, each in drills.items()}
    sources = SourceMap(skills=skill_places | drill_places)
    told = tuple(sorted(problems))
    library = Library(
        skills=tuple(known.values()), drills=tuple(entry.drill for entry in drills.values())
    )
    return (None if errors(told) else library), told, sources


def _files(folders: Sequence[Path], problems: list[Problem]) -> Iterator[Path]:
    for folder in dict.fromkeys(folders):
        if not folder.is_dir():
            problems.append(Problem(str(folder), 0, "", "there is no such folder", "", _NO_FILE))
            continue
        files = sorted(path for path in folder.glob("*.toml") if not path.name.startswith("."))
        if not files:
            says = "this folder holds no skill file (*.toml)"
            problems.append(Problem(str(folder), 0, "", says, "", _NO_FILE))
        yield from files


def _placed(file: LibraryFile, sources: SourceMap, whole: bool) -> Iterator[PlacedSkill]:
    for number, entry in enumerate(file.skill):
        own = {name: getattr(entry, name) for name in SkillEntry.model_fields}
        skill = Skill(strand=file.strand, **own)
        yield PlacedSkill(skill, entry.replaces, sources, number, whole)


def _merged(
    placed: Sequence[PlacedSkill], problems: list[Problem]
) -> tuple[dict[str, PlacedSkill], tuple[PlacedSkill, ...]]:
    """Return the skills by id, and those of them that stand in the place of an earlier one."""
    skills: dict[str, PlacedSkill] = {}
    replaced: set[str] = set()
    for entry in placed:
        found = (*taken(entry, skills, "skill"),)
        problems += found
        if errors(found):
            continue
        if entry.id in skills:
            replaced.add(entry.id)
        skills[entry.id] = entry
    return skills, tuple(entry for name, entry in skills.items() if name in replaced)


def _check_stages(entry: PlacedSkill) -> Iterator[Problem]:
    if entry.whole and not entry.skill.stages:
        headers = [f"[skill.{stage}]" for stage in STAGES]
        way_out = f"add {listed(headers, 'or')} below it"
        yield entry.sources.problem(("skill", entry.number), "has no stage", way_out)


def _check_needs(
    entry: PlacedSkill, skills: Mapping[str, PlacedSkill], faulty_ids: set[str]
) -> Iterator[Problem]:
    """Check every need of a skill and of its stages; skills that are faulty themselves count."""
    start = ("skill", entry.number)
    lists: list[tuple[KeyPath, tuple[str, ...]]] = [((*start, "needs"), entry.skill.needs)]
    lists += [
        ((*start, stage, "needs"), entry.skill.work(stage).needs) for stage in entry.skill.stages
    ]
    for path, needs in lists:
        for place, need in enumerate(needs):
            name, _, stage = need.partition("@")
            at = (*path, place)
            if name == entry.skill.id:
                says = "a skill cannot need itself"
                way_out = "delete it; stages of one skill wait for each other anyway"
                yield entry.sources.problem(at, says, way_out)
            elif name not in skills:
                if name not in faulty_ids:
                    way_out = suggest(name, tuple(skills), "write the id of a skill of the library")
                    yield entry.sources.problem(at, "no skill has this id", way_out)
            elif stage and skills[name].whole and stage not in skills[name].skill.stages:
                has = listed(skills[name].skill.stages) or "no stage"
                says = f"{name} has no stage {stage}"
                yield entry.sources.problem(at, says, f"it has {has}")
