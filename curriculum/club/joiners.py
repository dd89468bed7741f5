"""What a player who joins late lacks against the club's curriculum, and where a team stands."""

from collections.abc import Mapping
from dataclasses import dataclass

from curriculum.club.curricula.matrix import column, stages_up_to, standing
from curriculum.graph import Node, before, order, stage_graph
from curriculum.models.club import AgeGroup, Club, ClubCurriculum
from curriculum.models.plan import Plan
from curriculum.models.skills import Library, Skill, Stage


@dataclass(frozen=True)
class CheckItem:
    """One thing to try with a new player.

    stage: what team-mates have reached. cues: what to look for. blocks, minutes: to catch up,
    what it needs not included.
    """

    skill: str
    name: str
    strand: str
    stage: Stage
    cues: tuple[str, ...]
    blocks: int
    minutes: int


def entry_check(
    club: Club,
    curriculum: ClubCurriculum,
    library: Library,
    group: AgeGroup,
    can: tuple[Node, ...] = (),
) -> tuple[CheckItem, ...]:
    """Return what to check with a player who joins an age group at its season's start.

    That is what the younger groups reach and the player cannot do yet, simple skills first. What
    the player can do covers the lower stages of the skill and all that they need.
    """
    graph = stage_graph(library)
    skills = {skill.id: skill for skill in library.skills}
    owned: set[Node] = set()
    for node in can:
        if node in graph:
            owned |= {node} | before(graph, node)
    tops = dict(standing(club, curriculum, group))
    place = {node: number for number, node in enumerate(order(graph))}
    lacking = [node for node in tops.items() if node in graph and node not in owned]
    lacking.sort(key=lambda node: (len(before(graph, node)), place[node]))
    return tuple(_item(skills[skill], stage, owned) for skill, stage in lacking)


def _item(skill: Skill, stage: Stage, owned: set[Node]) -> CheckItem:
    missing = [each for each in stages_up_to(skill, stage) if (skill.id, each) not in owned]
    works = [skill.work(each) for each in missing]
    return CheckItem(
        skill=skill.id,
        name=skill.name,
        strand=skill.strand,
        stage=stage,
        cues=skill.cues,
        blocks=sum(work.blocks for work in works),
        minutes=sum(work.blocks * work.minutes for work in works),
    )


@dataclass(frozen=True)
class Standing:
    """Where a team's plan stands against its age group's column.

    behind: of the column, not taught by the season's end. ahead: taught or known beyond it.
    again: taught from new although younger groups reach it.
    """

    team: str
    asked: int
    behind: tuple[Node, ...]
    ahead: tuple[Node, ...]
    again: tuple[Node, ...]


def standing_of(
    team: str,
    group: AgeGroup,
    plan: Plan,
    known: frozenset[Node],
    club: Club,
    curriculum: ClubCurriculum,
    library: Library,
) -> Standing:
    """Compare a team's plan with what its age group should reach."""
    skills = {skill.id: skill for skill in library.skills}
    wanted = _all(skills, column(club, curriculum, group))
    before_it = _all(skills, standing(club, curriculum, group))
    taught = {
        (block.skill, block.stage)
        for practice in plan.practices
        for block in practice.blocks
        if block.kind != "review" and block.number == block.of
    }
    begun = {
        (block.skill, block.stage)
        for practice in plan.practices
        for block in practice.blocks
        if block.kind == "introduce"
    }
    reached = taught | known
    return Standing(
        team=team,
        asked=len(wanted),
        behind=tuple(sorted(wanted - reached)),
        ahead=tuple(sorted(reached - wanted - before_it)),
        again=tuple(sorted(begun & before_it)),
    )


def _all(skills: Mapping[str, Skill], nodes: tuple[Node, ...]) -> set[Node]:
    return {
        (skill, stage)
        for skill, top in nodes
        if skill in skills
        for stage in stages_up_to(skills[skill], top)
    }
