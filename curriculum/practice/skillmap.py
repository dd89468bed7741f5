"""What leads to what: the skills of a plan with the needs between them, and when each is taught."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

import networkx as nx

from curriculum.graph import stage_graph
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.models.skills import Library
from curriculum.practice.progress import placed
from curriculum.spans import week_of
from curriculum.wording import counted, week_range
from curriculum.workload import known_nodes

BANDS = 4
"""Into how many stretches a season's weeks are cut: as many greys as paper tells apart."""

Shade = Literal["first", "second", "third", "fourth", "known", "left out"]
SHADES: tuple[Shade, ...] = ("first", "second", "third", "fourth", "known", "left out")
"""When a skill is first taught: a stretch of the season, before it, or not in this plan."""


@dataclass(frozen=True)
class SkillNode:
    """One skill; when is `week 4`, `known before` or `not in this plan`."""

    skill: str
    name: str
    strand: str
    when: str
    shade: Shade


@dataclass(frozen=True)
class SkillMap:
    """Skills in library order, and the direct needs between them as pairs (needed, needing).

    legend: the shades in use with what they mean.
    """

    team: str
    season: str
    summary: str
    nodes: tuple[SkillNode, ...]
    needs: tuple[tuple[str, str], ...]
    legend: tuple[tuple[Shade, str], ...]


def skill_map(plan: Plan, season: Season, library: Library) -> SkillMap:
    """Return the skills that a plan teaches or was asked to teach, and all that they need."""
    first = _first_weeks(plan, season)
    graph = stage_graph(library)
    known = {skill for skill, _ in known_nodes(season, graph)}
    direct: nx.DiGraph[str] = nx.DiGraph()
    direct.add_nodes_from(skill.id for skill in library.skills)
    direct.add_edges_from((a[0], b[0]) for a, b in graph.edges if a[0] != b[0])
    asked = {*first, *(goal.skill for goal in plan.goals)} & set(direct)
    wanted = asked.union(*(nx.ancestors(direct, skill) for skill in sorted(asked)))
    weeks = week_of(season.season.start, season.season.end)
    nodes = tuple(
        SkillNode(
            skill=skill.id,
            name=skill.name,
            strand=skill.strand,
            when=_when(skill.id, first, known),
            shade=_shade(skill.id, first, known, weeks),
        )
        for skill in library.skills
        if skill.id in wanted
    )
    needs = _reduced(direct.subgraph(wanted), {node.skill: at for at, node in enumerate(nodes)})
    return SkillMap(
        team=season.team.name,
        season=season.season.name,
        summary=f"{counted(len(nodes), 'skill')}, {len(first)} of them in this plan",
        nodes=nodes,
        needs=needs,
        legend=tuple(_legend(nodes, weeks)),
    )


def _first_weeks(plan: Plan, season: Season) -> dict[str, int]:
    weeks: dict[str, int] = {}
    for each in placed(plan):
        weeks.setdefault(each.block.skill, week_of(season.season.start, each.date))
    return weeks


def _when(skill: str, first: Mapping[str, int], known: set[str]) -> str:
    if skill in first:
        return f"week {first[skill]}"
    return "known before" if skill in known else "not in this plan"


def _shade(skill: str, first: Mapping[str, int], known: set[str], weeks: int) -> Shade:
    if skill in first:
        return SHADES[min(BANDS - 1, (first[skill] - 1) * BANDS // max(1, weeks))]
    return "known" if skill in known else "left out"


def _legend(nodes: tuple[SkillNode, ...], weeks: int) -> Iterator[tuple[Shade, str]]:
    used = {node.shade for node in nodes}
    for band, shade in enumerate(SHADES[:BANDS]):
        start = -(-band * weeks // BANDS) + 1
        end = max(start, -(-(band + 1) * weeks // BANDS))
        if shade in used:
            yield shade, f"first taught in {week_range(start, end)}"
    if "known" in used:
        yield "known", "known before"
    if "left out" in used:
        yield "left out", "not in this plan"


def _reduced(graph: "nx.DiGraph[str]", place: Mapping[str, int]) -> tuple[tuple[str, str], ...]:
    """Return the needs without those that follow from others.

    Whole skills can need each other in a circle where their stages do not: of such needs only those
    along the order of the library are kept.
    """
    knot = {
        skill: number
        for number, skills in enumerate(nx.strongly_connected_components(graph))
        for skill in skills
    }
    arcs: nx.DiGraph[str] = nx.DiGraph()
    arcs.add_nodes_from(sorted(graph))
    arcs.add_edges_from(
        (a, b) for a, b in sorted(graph.edges) if knot[a] != knot[b] or place[a] < place[b]
    )
    return tuple(sorted(nx.transitive_reduction(arcs).edges))
