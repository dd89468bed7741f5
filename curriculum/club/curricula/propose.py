"""Propose what each age group learns: nothing before what it needs, no year overloaded."""

from collections.abc import Mapping
from dataclasses import dataclass

from curriculum.club.curricula.matrix import column, reach_of, standing
from curriculum.club.curricula.typical import Proof, prove, usable_minutes
from curriculum.club.rulesets import barred
from curriculum.graph import Node, StageGraph, after, before, stage_graph
from curriculum.models.club import AgeGroup, Club, ClubCurriculum
from curriculum.models.skills import Library

CHANGEOVER = 1
"""Minutes that a block costs beyond its own, as a season has it unless it says otherwise."""
SHARES = range(10, 95, 5)
"""Percent of a season's usable minutes that new stages may take, tried from the least."""
MOST_TRIALS = 8
"""How often what a typical season cannot hold is moved to an older group."""


@dataclass(frozen=True)
class Proposal:
    """A curriculum that was proposed, and how it was spread.

    share: percent of each season's usable minutes that new stages may take.
    proofs: a scheduled typical season of each age group, youngest first.
    left: stages that no group can take, because of age, players or guidance.
    """

    curriculum: ClubCurriculum
    share: int
    proofs: tuple[Proof, ...]
    left: tuple[Node, ...]


def propose(club: Club, library: Library, share: int | None = None) -> Proposal:
    """Spread all skills of a library over a club's age groups.

    Every stage goes to the youngest group that may have it: its usual age is reached, guidance
    does not bar it, as many players come as it needs, all it needs comes no later, and the group's
    share of minutes is not used up; simple stages first. The share is the least with which as
    much as possible is taught, so that the years carry alike. Each column is then scheduled in a
    typical season; what that does not reach moves on to an older group.
    """
    spread = _Spread.of(club, library)
    held_back: dict[Node, int] = {}
    share = max(share or 0, spread.least_share(held_back))
    for _ in range(MOST_TRIALS):
        curriculum = spread.curriculum(share, held_back)
        proofs = tuple(
            prove(
                club,
                library,
                group,
                column(club, curriculum, group),
                standing(club, curriculum, group),
            )
            for group in club.ladder
        )
        late = [(node, place) for place, proof in enumerate(proofs) for node in proof.late]
        if not late:
            break
        for node, place in late:
            held_back[node] = place + 1
        share = max(share, spread.least_share(held_back))
    placed = spread.places(share, held_back)
    left = tuple(node for node in spread.order if node not in placed)
    return Proposal(curriculum, share, proofs, left)


@dataclass(frozen=True)
class _Spread:
    """What spreading needs. order: stages, simple ones first. first: the youngest group allowed."""

    ladder: tuple[AgeGroup, ...]
    graph: StageGraph
    order: tuple[Node, ...]
    first: Mapping[Node, int]
    cost: Mapping[Node, int]
    usable: tuple[int, ...]

    @classmethod
    def of(cls, club: Club, library: Library) -> "_Spread":
        graph, ladder = stage_graph(library), club.ladder
        skills = {skill.id: skill for skill in library.skills}
        bars = [barred(club.club.rules, library, group) for group in ladder]
        first: dict[Node, int] = {}
        cost: dict[Node, int] = {}
        for skill_id, stage in graph:
            work = skills[skill_id].work(stage)
            cost[skill_id, stage] = work.blocks * (work.minutes + CHANGEOVER)
            first[skill_id, stage] = next(
                (
                    place
                    for place, group in enumerate(ladder)
                    if (work.age or 0) <= max(group.ages)
                    and (work.players or 1) <= group.players
                    and (work.court != "full" or group.court == "full")
                    and skill_id not in bars[place]
                ),
                len(ladder),
            )
        usual = {node: skills[node[0]].work(node[1]).age or 0 for node in graph}
        rank = {
            node: (usual[node], len(before(graph, node)), -len(after(graph, node)), node)
            for node in graph
        }
        order = tuple(sorted(graph, key=lambda node: rank[node]))
        usable = tuple(usable_minutes(club, group) for group in ladder)
        return cls(ladder, graph, order, first, cost, usable)

    def places(self, share: int, held_back: Mapping[Node, int]) -> dict[Node, int]:
        """Return the group of every stage that finds one."""
        placed: dict[Node, int] = {}
        for place, usable in enumerate(self.usable):
            room = usable * share // 100
            waiting = [
                node
                for node in self.order
                if node not in placed and max(self.first[node], held_back.get(node, 0)) <= place
            ]
            changed = True
            while changed:
                changed = False
                for node in waiting:
                    ready = all(need in placed for need in self.graph.predecessors(node))
                    if node not in placed and ready and self.cost[node] <= room:
                        placed[node] = place
                        room -= self.cost[node]
                        changed = True
        return placed

    def least_share(self, held_back: Mapping[Node, int]) -> int:
        """Return the least share with which as many stages find a group as with the highest."""
        most = len(self.places(SHARES[-1], held_back))
        return next(s for s in SHARES if len(self.places(s, held_back)) == most)

    def curriculum(self, share: int, held_back: Mapping[Node, int]) -> ClubCurriculum:
        """Return the curriculum of a share."""
        placed = self.places(share, held_back)
        columns = [
            reach_of(group.id, [node for node, at in placed.items() if at == place])
            for place, group in enumerate(self.ladder)
        ]
        return ClubCurriculum(reach=tuple(each for each in columns if each.cells()))
