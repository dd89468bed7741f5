"""What all sheets of a plan are made of, worked out once for all of them."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from curriculum.graph import Node, StageGraph, stage_graph
from curriculum.gym.practices import Gym
from curriculum.models.plan import Plan, PlannedPractice
from curriculum.models.season import Season
from curriculum.models.skills import Library, Skill
from curriculum.practice.pick import Picker
from curriculum.practice.progress import in_order
from curriculum.practice.recap import recaps
from curriculum.practice.thin import thin_practices


@dataclass(frozen=True)
class Turns:
    """For one practice, how often before today each block's stage and the recalled skill came."""

    blocks: tuple[int, ...]
    recap: int


@dataclass(frozen=True)
class Book:
    """A plan with what its sheets share.

    practices: in order of time. recalled, turns: by the practice's id. thin: of each practice with
    much unused time, by its id, why that is so.
    """

    plan: Plan
    season: Season
    library: Library
    graph: StageGraph
    practices: tuple[PlannedPractice, ...]
    recalled: Mapping[str, Skill | None]
    turns: Mapping[str, Turns]
    skills: Mapping[str, Skill]
    picker: Picker
    thin: Mapping[str, str]


def book_of(plan: Plan, season: Season, library: Library, gym: Gym) -> Book:
    """Return the book of a plan: what each warm-up recalls, and which drills have had a turn."""
    graph = stage_graph(library)
    practices = in_order(plan)
    recalled = recaps(plan, season, library, graph)
    return Book(
        plan=plan,
        season=season,
        library=library,
        graph=graph,
        practices=practices,
        recalled=recalled,
        turns=_turns(practices, recalled),
        skills={skill.id: skill for skill in library.skills},
        picker=Picker(library.drills),
        thin=thin_practices(plan, season, library, gym),
    )


def _turns(
    practices: tuple[PlannedPractice, ...], recalled: Mapping[str, Skill | None]
) -> dict[str, Turns]:
    seen: Counter[Node] = Counter()
    turns = {}
    for practice in practices:
        skill = recalled[practice.id]
        nodes = [(block.skill, block.stage) for block in practice.blocks]
        recap = seen[skill.id, "unopposed"] if skill else 0
        turns[practice.id] = Turns(tuple(seen[node] for node in nodes), recap)
        seen.update(nodes)
        if skill:
            seen[skill.id, "unopposed"] += 1
    return turns
