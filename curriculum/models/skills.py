"""Skills, their stages and the needs between them, as a library file states them."""

from typing import Annotated, Literal

from pydantic import Field

from curriculum.models.base import Id, Model, Text
from curriculum.models.drills import Drill

Stage = Literal["unopposed", "guided", "live"]
Court = Literal["full", "half"]

STAGES: tuple[Stage, ...] = ("unopposed", "guided", "live")
"""How hard a skill is defended, in the order in which it is taught."""

NeedText = Annotated[
    str, Field(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*(@(unopposed|guided|live))?$", max_length=80)
]
"""A need as written: `give-and-go` or `give-and-go@live`."""


class StageWork(Model):
    """What one stage of a skill takes.

    blocks: stretches of teaching, each in a practice of its own.
    minutes: length of one block, changeover not included.
    age: youngest age, in years, at which the stage is usually taught.
    players, court, baskets: the fewest that the stage can be taught with.
    hard: whether it takes the breath away; left out, a live stage does. Within a practice hard and
    easy blocks take turns.
    needs: what this stage waits for, beyond what the skill waits for.
    """

    blocks: Annotated[int, Field(ge=1, le=20)] = 1
    minutes: Annotated[int, Field(ge=1, le=120)] = 8
    age: Annotated[int, Field(ge=3, le=25)] | None = None
    players: Annotated[int, Field(ge=1, le=60)] | None = None
    court: Court | None = None
    baskets: Annotated[int, Field(ge=1, le=20)] | None = None
    hard: bool | None = None
    needs: tuple[NeedText, ...] = ()


class SkillEntry(Model):
    """A skill as a file states it, where the strand stands once at the top for all skills."""

    id: Id
    name: Text
    why: Text | None = None
    needs: tuple[NeedText, ...] = ()
    cues: tuple[Text, ...] = ()
    faults: tuple[Text, ...] = ()
    unopposed: StageWork | None = None
    guided: StageWork | None = None
    live: StageWork | None = None


class Skill(SkillEntry):
    """Something players learn, in one to three stages that are always taught in this order."""

    strand: Text

    @property
    def stages(self) -> tuple[Stage, ...]:
        """The stages that this skill has, easiest first."""
        return tuple(stage for stage in STAGES if getattr(self, stage) is not None)

    def work(self, stage: Stage) -> StageWork:
        """Return what a stage takes; KeyError when the skill lacks the stage."""
        found: StageWork | None = getattr(self, stage)
        if found is None:
            raise KeyError(f"{self.id} has no stage {stage}")
        return found

    def is_hard(self, stage: Stage) -> bool:
        """Whether a stage is physically hard; KeyError when the skill lacks it."""
        stated = self.work(stage).hard
        return stage == "live" if stated is None else stated


class Library(Model):
    """All skills and drills that a season can draw on, in the order of their files."""

    skills: tuple[Skill, ...] = ()
    drills: tuple[Drill, ...] = ()

    def skill(self, skill_id: str) -> Skill:
        """Return a skill by its id; KeyError when there is none."""
        for skill in self.skills:
            if skill.id == skill_id:
                return skill
        raise KeyError(skill_id)
