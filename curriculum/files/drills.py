"""Put the drills of a library's files together, and check that they serve skills that exist."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from curriculum.files.nearest import suggest
from curriculum.files.sources import SourceMap
from curriculum.models.drills import Drill
from curriculum.models.skills import Skill
from curriculum.problems import Problem
from curriculum.wording import listed


class DrillTable(Drill):
    """A `[[drill]]` table.

    replaces: this drill takes the place of one of the same id in an earlier file.
    """

    replaces: bool = False


@dataclass(frozen=True)
class PlacedDrill:
    """A drill with the file and the number under which it stands there."""

    drill: Drill
    replaces: bool
    sources: SourceMap
    number: int

    @property
    def where(self) -> str:
        """The file and line of its header."""
        return f"{self.sources.file}:{self.sources.line('drill', self.number)}"


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
        name, path = entry.drill.id, ("drill", entry.number)
        if name in skill_ids:
            says = "this id is taken by a skill"
            problems.append(entry.sources.problem((*path, "id"), says, "rename the drill"))
            continue
        if name not in drills and entry.replaces:
            says = "there is no earlier drill that this one could replace"
            way_out = suggest(name, tuple(drills), "delete the line replaces = true")
            at = (*path, "replaces")
            problems.append(entry.sources.problem(at, says, way_out, level="warning"))
        if name in drills and not entry.replaces:
            says = f"this id is taken by the drill in {drills[name].where}"
            way_out = "rename one of the two, or write replaces = true here"
            problems.append(entry.sources.problem((*path, "id"), says, way_out))
            continue
        drills[name] = entry
    return drills


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
