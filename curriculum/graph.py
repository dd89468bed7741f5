"""The directed graph of skills and stages: what waits for what, loops and order."""

from collections.abc import Iterable
from itertools import pairwise
from typing import TypeAlias

import networkx as nx

from curriculum.models.skills import STAGES, Library, Skill, Stage

Node = tuple[str, Stage]
"""One stage of one skill."""

StageGraph: TypeAlias = "nx.DiGraph[Node]"


def split_need(need: str) -> tuple[str, Stage | None]:
    """Split `give-and-go@live` into skill and stage; a bare need has no stage.

    >>> split_need("give-and-go@live")
    ('give-and-go', 'live')
    >>> split_need("v-cut")
    ('v-cut', None)
    """
    skill_id, _, wanted = need.partition("@")
    for stage in STAGES:
        if stage == wanted:
            return skill_id, stage
    return skill_id, None


def nearest_stage(skill: Skill, wanted: Stage) -> Stage:
    """Return the wanted stage, else the skill's nearest lower one, else its lowest."""
    lower = [stage for stage in skill.stages if STAGES.index(stage) <= STAGES.index(wanted)]
    return lower[-1] if lower else skill.stages[0]


def needed_node(needed: Skill, explicit: Stage | None, waiting: Stage) -> Node:
    """Return what a waiting stage waits for.

    A bare need makes `unopposed` wait for `unopposed`, and both `guided` and `live` for `guided`.
    """
    if explicit is not None:
        return needed.id, explicit
    wanted: Stage = "unopposed" if waiting == "unopposed" else "guided"
    return needed.id, nearest_stage(needed, wanted)


def stage_graph(library: Library) -> StageGraph:
    """Build the graph of all stages; an arc leads from what comes first to what waits for it.

    Arcs carry `why`: "ladder" within a skill, "need" between skills. A need that names no skill, or
    a stage that the skill lacks, adds no arc: the reading of the files has reported it.
    """
    skills = {skill.id: skill for skill in library.skills}
    graph: StageGraph = nx.DiGraph()
    for skill in library.skills:
        for stage in skill.stages:
            graph.add_node((skill.id, stage))
        for lower, higher in pairwise(skill.stages):
            graph.add_edge((skill.id, lower), (skill.id, higher), why="ladder")
    for skill in library.skills:
        for waiting, need in _bound_needs(skill):
            needed_id, explicit = split_need(need)
            needed = skills.get(needed_id)
            if needed is None or (explicit is not None and explicit not in needed.stages):
                continue
            graph.add_edge(needed_node(needed, explicit, waiting), (skill.id, waiting), why="need")
    return graph


def _bound_needs(skill: Skill) -> Iterable[tuple[Stage, str]]:
    """Yield each need with the stage that waits for it."""
    for need in skill.needs:
        _, explicit = split_need(need)
        waiting = skill.stages[:1] if explicit is not None else skill.stages
        for stage in waiting:
            yield stage, need
    for stage in skill.stages:
        for need in skill.work(stage).needs:
            yield stage, need


def loops(graph: StageGraph) -> tuple[tuple[Node, ...], ...]:
    """Return one shortest loop for each knot of stages that wait for each other.

    A loop lists its stages in order; the last leads back to the first. Empty when all is well.
    """
    found = []
    for knot in nx.strongly_connected_components(graph):
        if len(knot) == 1 and not any(graph.has_edge(node, node) for node in knot):
            continue
        found.append(_shortest_loop(graph.subgraph(knot)))
    return tuple(sorted(found))


def _shortest_loop(knot: StageGraph) -> tuple[Node, ...]:
    paths: list[tuple[Node, ...]] = [
        tuple(nx.shortest_path(knot, start, last))
        for start in sorted(knot)
        for last in sorted(knot.predecessors(start))
    ]
    return min(paths, key=lambda path: (len(path), path))


def order(graph: StageGraph) -> tuple[Node, ...]:
    """Return the stages in the one topological order that prefers names early in the alphabet.

    Raises networkx.NetworkXUnfeasible when the graph has a loop.
    """
    return tuple(nx.lexicographical_topological_sort(graph, key=_key))


def _key(node: Node) -> tuple[str, int]:
    return node[0], STAGES.index(node[1])


def before(graph: StageGraph, node: Node) -> frozenset[Node]:
    """Return everything that must be reached before a stage starts, itself not included."""
    return frozenset(nx.ancestors(graph, node))


def after(graph: StageGraph, node: Node) -> frozenset[Node]:
    """Return everything that waits for a stage, directly or not, itself not included."""
    return frozenset(nx.descendants(graph, node))


def ready(graph: StageGraph, reached: Iterable[Node]) -> frozenset[Node]:
    """Return the stages that can be taught next: not reached, and all they wait for is."""
    done = frozenset(reached)
    return frozenset(
        node for node in graph if node not in done and done.issuperset(graph.predecessors(node))
    )
