"""Put the drills of a library's files together, and check that they serve skills that exist."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from curriculum.files.nearest import suggest
from curriculum.files.placed import PlacedDrill, PlacedSkill, taken
from curriculum.files.sources import SourceMap
from curriculum.models.drills import Drill
from curriculum.models.skills import Skill
from curriculum.problems import Problem, errors
from curriculum.wording import listed


class DrillTable(Drill):
    """A `[[drill]]` table.

    replaces: this drill takes the place of one of the same id in an earlier file.
    """

    replaces: bool = False


def placed_drills(tables: Sequence[DrillTable], sources: SourceMap) -> Iterator[PlacedDrill]:
    """Return the drills of one file with their places."""
    for number, table in enumerate(tables):
        own = {name: getattr(table, name) for name in Drill.model_fields}
        yield PlacedDrill(Drill.model_construct(**own), table.replaces, sources, number)


def merged_drills(
    placed: Sequence[PlacedDrill], skill_ids: Collection[str], problems: list[Problem]
) -> dict[str, PlacedDrill]:
    """Return the drills by id, one that replaces another in its place; no skill may share an id."""
    drills: dict[str, PlacedDrill] = {}
    for entry in placed:
        if entry.id in skill_ids:
            says, path = "this id is taken by a skill", ("drill", entry.number, "id")
            problems.append(entry.sources.problem(path, says, "rename the drill"))
            continue
        found = (*taken(entry, drills, "drill"),)
        problems += found
        if not errors(found):
            drills[entry.id] = entry
    return drills


def fitted_drills(
    drills: Mapping[str, PlacedDrill], replaced: Sequence[PlacedSkill], problems: list[Problem]
) -> dict[str, PlacedDrill]:
    """Return the drills less what they serve of skills whose stages another library took away.

    replaced: the skills that stand in the place of an earlier one. A drill of another folder that
    taught only a stage that such a skill lacks is left out, and one warning a skill says which. A
    drill that grew from one left out grows from what that one grew from.
    """
    taken = {entry.skill.id: entry for entry in replaced}
    fitted: dict[str, PlacedDrill] = {}
    gone: dict[str, Drill] = {}
    named: dict[str, list[str]] = {}
    for name, entry in drills.items():
        misfits = [each for each in entry.drill.serves if _is_misfit(each, entry, taken)]
        kept = tuple(each for each in entry.drill.serves if each not in misfits)
        if kept:
            drill = entry.drill.model_copy(update={"serves": kept}) if misfits else entry.drill
            fitted[name] = replace(entry, drill=drill)
        else:
            gone[name] = entry.drill
            named.setdefault(misfits[0].partition("@")[0], []).append(name)
    for name, entry in fitted.items():
        root = entry.drill.grows_from
        while root in gone:
            root = gone[root].grows_from
        if root != entry.drill.grows_from:
            drill = entry.drill.model_copy(update={"grows_from": root})
            fitted[name] = replace(entry, drill=drill)
    for skill, names in named.items():
        says = "lacks stages of the skill that it replaces, so drills for those are left out"
        way_out = "write drills of your own for its stages, or add the stages that it lacks"
        by, found = taken[skill], listed(names)
        at = ("skill", by.number, "replaces")
        problems.append(by.sources.problem(at, says, way_out, found=found, level="warning"))
    return fitted


def _is_misfit(served: str, entry: PlacedDrill, taken: Mapping[str, PlacedSkill]) -> bool:
    """Whether a drill serves a stage that a skill of another folder, put in place, has not."""
    name, _, stage = served.partition("@")
    if name not in taken or stage in taken[name].skill.stages:
        return False
    return Path(entry.sources.file).parent != Path(taken[name].sources.file).parent


def check_drill(
    entry: PlacedDrill,
    skills: Mapping[str, Skill],
    drills: Collection[str],
    faulty_ids: Collection[str],
) -> Iterator[Problem]:
    """Check what a drill serves and grows from; skills and drills that are faulty count."""
    start = ("drill", entry.number)
    for place, served in enumerate(entry.drill.serves):
        name, _, stage = served.partition("@")
        at = (*start, "serves", place)
        if name not in skills:
            if name not in faulty_ids:
                way_out = suggest(name, tuple(skills), "write the id of a skill of the library")
                yield entry.sources.problem(at, "no skill has this id", way_out)
        elif stage not in skills[name].stages:
            says = f"{name} has no stage {stage}"
            way_out = f"it has {listed(skills[name].stages) or 'no stage'}"
            yield entry.sources.problem(at, says, way_out)
    root = entry.drill.grows_from
    if root is not None and root not in drills and root not in faulty_ids:
        way_out = suggest(root, tuple(drills), "write the id of a drill of the library")
        yield entry.sources.problem((*start, "grows_from"), "no drill has this id", way_out)
    if entry.drill.players[0] > entry.drill.players[1]:
        says = "the fewest players are more than the most"
        yield entry.sources.problem((*start, "players"), says, "write the smaller number first")
