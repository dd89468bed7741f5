"""A skill or drill of a library with the place where it is written."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, TypeVar

from curriculum.files.nearest import suggest
from curriculum.files.sources import SourceMap
from curriculum.models.drills import Drill
from curriculum.models.skills import Skill
from curriculum.problems import Problem


@dataclass(frozen=True)
class PlacedDrill:
    """A drill with the file and the number under which it stands there."""

    drill: Drill
    replaces: bool
    sources: SourceMap
    number: int

    @property
    def id(self) -> str:
        """The drill's id."""
        return self.drill.id

    @property
    def where(self) -> str:
        """The file and line of its header."""
        return f"{self.sources.file}:{self.sources.line('drill', self.number)}"


@dataclass(frozen=True)
class PlacedSkill:
    """A skill with the file and the number under which it stands there.

    whole: nothing of the file had to be left out, so what the skill lacks is not there.
    """

    skill: Skill
    replaces: bool
    sources: SourceMap
    number: int
    whole: bool

    @property
    def id(self) -> str:
        """The skill's id."""
        return self.skill.id

    @property
    def where(self) -> str:
        """The file and line of its header."""
        return f"{self.sources.file}:{self.sources.line('skill', self.number)}"


Placed = TypeVar("Placed", PlacedDrill, PlacedSkill)


def taken(
    entry: Placed, earlier: Mapping[str, Placed], table: Literal["drill", "skill"]
) -> Iterator[Problem]:
    """Tell what is wrong with an entry beside those before it, by id.

    An error where its id is taken, a warning where it replaces nothing.
    """
    if entry.id not in earlier and entry.replaces:
        says = f"there is no earlier {table} that this one could replace"
        way_out = suggest(entry.id, tuple(earlier), "delete the line replaces = true")
        yield entry.sources.problem(
            (table, entry.number, "replaces"), says, way_out, level="warning"
        )
    if entry.id in earlier and not entry.replaces:
        says = f"this id is taken by the {table} in {earlier[entry.id].where}"
        way_out = "rename one of the two, or write replaces = true here"
        yield entry.sources.problem((table, entry.number, "id"), says, way_out)
