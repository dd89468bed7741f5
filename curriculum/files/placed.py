"""A skill or drill of a library with the place where it is written."""

from dataclasses import dataclass

from curriculum.files.sources import SourceMap
from curriculum.models.drills import Drill
from curriculum.models.skills import Skill


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
    def where(self) -> str:
        """The file and line of its header."""
        return f"{self.sources.file}:{self.sources.line('skill', self.number)}"
