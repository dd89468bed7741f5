"""What each skill needs, as one tree a strand: every skill unfolds once."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from curriculum.graph import split_need
from curriculum.models.plan import Plan
from curriculum.models.skills import Library, Skill
from curriculum.practice.progress import placed
from curriculum.practice.words import STAGE_LETTER


@dataclass(frozen=True)
class Branch:
    """A skill in the tree of those that need it.

    need: the stage that is needed where the need names one, and the stage that needs it.
    stages: its stages with their blocks, e.g. `U1 G2 L2`.
    dates: first and last lesson in the plan, None without any.
    see: "above" when it has unfolded already, the strand in which it unfolds, or "" for here.
    """

    skill: str
    name: str
    need: str
    stages: str
    dates: tuple[dt.date, dt.date] | None
    see: str
    needs: tuple["Branch", ...]


@dataclass(frozen=True)
class StrandTree:
    """A strand; at its top the skills that no other skill of the strand needs."""

    strand: str
    skills: int
    tops: tuple[Branch, ...]


def trees(library: Library, plan: Plan | None = None) -> tuple[StrandTree, ...]:
    """Return a tree for each strand, in library order; with a plan, dated."""
    grower = _Grower(library, _dates(plan) if plan else {})
    return tuple(
        grower.grow(strand) for strand in dict.fromkeys(skill.strand for skill in library.skills)
    )


def _dates(plan: Plan) -> dict[str, tuple[dt.date, dt.date]]:
    found: dict[str, tuple[dt.date, dt.date]] = {}
    for each in placed(plan):
        if each.block.kind != "review":
            first = found.get(each.block.skill, (each.date, each.date))[0]
            found[each.block.skill] = (first, each.date)
    return found


class _Grower:
    """Unfolds skills and remembers which it has unfolded."""

    def __init__(self, library: Library, dates: Mapping[str, tuple[dt.date, dt.date]]) -> None:
        self.skills = {skill.id: skill for skill in library.skills}
        self.dates = dates
        self.unfolded: set[str] = set()

    def grow(self, strand: str) -> StrandTree:
        """Return one strand's tree; where needs run in a loop, the loop is entered anywhere."""
        own = [skill for skill in self.skills.values() if skill.strand == strand]
        needed = {need for skill in own for need, _ in _needs(skill) if need != skill.id}
        tops = [self._branch(skill, "", strand) for skill in own if skill.id not in needed]
        tops += [self._branch(skill, "", strand) for skill in own if skill.id not in self.unfolded]
        return StrandTree(strand, len(own), tuple(tops))

    def _branch(self, skill: Skill, need: str, strand: str) -> Branch:
        see = ""
        if skill.strand != strand:
            see = skill.strand
        elif skill.id in self.unfolded:
            see = "above"
        needs: tuple[Branch, ...] = ()
        if not see:
            self.unfolded.add(skill.id)
            needs = tuple(
                self._branch(self.skills[needed], label, strand)
                for needed, label in dict(_needs(skill)).items()
                if needed in self.skills
            )
        return Branch(
            skill=skill.id,
            name=skill.name,
            need=need,
            stages=" ".join(
                f"{STAGE_LETTER[stage]}{skill.work(stage).blocks}" for stage in skill.stages
            ),
            dates=self.dates.get(skill.id),
            see=see,
            needs=needs,
        )


def _needs(skill: Skill) -> Iterator[tuple[str, str]]:
    """Yield what a skill needs, with words for the stage needed and the stage that needs it."""
    for need in skill.needs:
        needed, stage = split_need(need)
        yield needed, stage or ""
    for waiting in skill.stages:
        for need in skill.work(waiting).needs:
            needed, stage = split_need(need)
            yield needed, f"{stage} for {waiting}" if stage else f"for {waiting}"
