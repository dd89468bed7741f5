"""One skill in a plan: when each stage is taught, what it waits for and what it unlocks."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from curriculum.graph import Node, StageGraph, stage_graph
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import STAGES, Library, Skill, Stage
from curriculum.practice.goals import GoalLine, goal_lines
from curriculum.practice.progress import Placed, placed
from curriculum.practice.words import STAGE_MEANS, stage_name
from curriculum.workload import known_nodes

State = Literal["taught", "begun", "known", "not planned"]


@dataclass(frozen=True)
class StageLine:
    """One stage. blocks: how many it takes, of `minutes` each; dates: when they are held."""

    stage: Stage
    means: str
    blocks: int
    minutes: int
    age: int | None
    dates: tuple[dt.date, ...]
    state: State
    needs: tuple[str, ...]


@dataclass(frozen=True)
class SkillCard:
    """A skill with all that a plan says of it. unlocks: what waits directly for its stages."""

    id: str
    name: str
    strand: str
    why: str
    stages: tuple[StageLine, ...]
    reviews: tuple[dt.date, ...]
    unlocks: tuple[str, ...]
    cues: tuple[str, ...]
    faults: tuple[str, ...]
    goals: tuple[GoalLine, ...]


def skill_card(plan: Plan, season: Season, library: Library, skill_id: str) -> SkillCard:
    """Return the card of a skill; KeyError when the library has none of this id."""
    skill = library.skill(skill_id)
    graph = stage_graph(library)
    held = placed(plan, skill_id)
    own = [goal for goal in plan.goals if goal.skill == skill_id]
    followers = (node for stage in skill.stages for node in graph.successors((skill_id, stage)))
    return SkillCard(
        id=skill.id,
        name=skill.name,
        strand=skill.strand,
        why=skill.why or "",
        stages=_stages(skill, held, known_nodes(season, graph), graph, library),
        reviews=tuple(each.date for each in held if each.block.kind == "review"),
        unlocks=_named((node for node in followers if node[0] != skill_id), library),
        cues=skill.cues,
        faults=skill.faults,
        goals=goal_lines(plan, season, library, own),
    )


def strand_cards(
    plan: Plan, season: Season, library: Library, strand: str
) -> tuple[SkillCard, ...]:
    """Return the cards of a strand's skills in library order; KeyError for a strand without any."""
    ids = [skill.id for skill in library.skills if skill.strand == strand]
    if not ids:
        raise KeyError(strand)
    return tuple(skill_card(plan, season, library, skill_id) for skill_id in ids)


def _stages(
    skill: Skill,
    held: Iterable[Placed],
    known: frozenset[Node],
    graph: StageGraph,
    library: Library,
) -> tuple[StageLine, ...]:
    lessons = [each for each in held if each.block.kind != "review"]
    lines = []
    for stage in skill.stages:
        own = [each for each in lessons if each.block.stage == stage]
        work = skill.work(stage)
        state: State = "begun" if own else "not planned"
        if any(each.completes for each in own):
            state = "taught"
        elif (skill.id, stage) in known:
            state = "known"
        waits = (node for node in graph.predecessors((skill.id, stage)) if node[0] != skill.id)
        lines.append(
            StageLine(
                stage=stage,
                means=STAGE_MEANS[stage],
                blocks=own[0].block.of if own else work.blocks,
                minutes=own[0].block.minutes if own else work.minutes,
                age=work.age,
                dates=tuple(each.date for each in own),
                state=state,
                needs=_named(waits, library),
            )
        )
    return tuple(lines)


def _named(nodes: Iterable[Node], library: Library) -> tuple[str, ...]:
    ordered = sorted(set(nodes), key=lambda node: (node[0], STAGES.index(node[1])))
    return tuple(stage_name(library, node) for node in ordered)
