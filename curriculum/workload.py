"""What a season has to teach: the goals with all that they need, less what is known, as jobs."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.graph import Node, StageGraph, before, order, stage_graph
from curriculum.models.season import Adjust, Goal, Season
from curriculum.models.skills import Library, Skill, Stage, StageWork


@dataclass(frozen=True)
class Job:
    """All blocks of one stage that this season teaches.

    blocks, minutes: as the library says, or as the season adjusts it.
    introduces: its first block introduces the skill, because no stage of it is known.
    last: the highest stage of its skill that this season asks for.
    weight: the highest weight of a goal on this skill, 1 without a goal.
    after: the jobs that must be reached before this one starts, direct ones only.
    hard: its blocks are physically hard.
    """

    skill: str
    stage: Stage
    strand: str
    blocks: int
    minutes: int
    introduces: bool
    last: bool
    weight: int
    after: tuple[Node, ...]
    players: int = 1
    baskets: int = 0
    full_court: bool = False
    hard: bool = False

    @property
    def node(self) -> Node:
        """The stage that this job teaches."""
        return self.skill, self.stage


@dataclass(frozen=True)
class Target:
    """A goal with its due date.

    game, opponent: the id of the game before which it is due and whom it is played against; None
    for a goal due by a date.
    """

    goal: Goal
    due: dt.date
    game: str | None
    known: bool
    opponent: str | None = None

    @property
    def node(self) -> Node:
        """The stage that the goal asks for."""
        return self.goal.skill, self.goal.stage


@dataclass(frozen=True)
class Workload:
    """Everything a season asks for. Jobs stand in a topological order of their needs."""

    jobs: tuple[Job, ...]
    targets: tuple[Target, ...]
    known: frozenset[Node]

    @property
    def minutes(self) -> int:
        """Teaching minutes of all jobs, changeovers not included."""
        return sum(job.blocks * job.minutes for job in self.jobs)


def known_nodes(season: Season, graph: StageGraph) -> frozenset[Node]:
    """Return the stages where the team already stands, with all that they need."""
    stated = [(known.skill, known.stage) for known in season.known]
    found: set[Node] = set()
    for node in stated:
        if node in graph:
            found |= {node} | before(graph, node)
    return frozenset(found)


def goals_of(season: Season, library: Library) -> tuple[Goal, ...]:
    """Return the season's goals.

    Without any: every skill that the oldest player's age allows, to its last such stage, as could.
    """
    if season.goal:
        return season.goal
    goals = []
    for skill in library.skills:
        stages = _allowed(skill, max(season.team.ages))
        if stages:
            goals.append(Goal(skill=skill.id, stage=stages[-1], need="could"))
    return tuple(goals)


def _allowed(skill: Skill, age: int) -> tuple[Stage, ...]:
    allowed: list[Stage] = []
    for stage in skill.stages:
        usual = skill.work(stage).age
        if usual is not None and usual > age:
            break
        allowed.append(stage)
    return tuple(allowed)


def workload_of(season: Season, library: Library) -> Workload:
    """Work out the jobs and targets of a season.

    The stages of pins are asked for like goals, without a date. Goals, known stages and pins that
    name what the library lacks are left out: the reading of the files has reported them. Raises
    networkx.NetworkXUnfeasible when needs run in a loop.
    """
    graph = stage_graph(library)
    known = known_nodes(season, graph)
    goals = tuple(goal for goal in goals_of(season, library) if (goal.skill, goal.stage) in graph)
    asked = {(goal.skill, goal.stage) for goal in goals}
    asked |= {(pin.skill, pin.stage) for pin in season.pin if (pin.skill, pin.stage) in graph}
    taught = {node for goal in asked for node in before(graph, goal) | {goal}} - known
    work = graph.subgraph(taught)
    return Workload(
        jobs=tuple(_job(node, work, season, library, known, goals) for node in order(work)),
        targets=tuple(_target(goal, season, known) for goal in goals),
        known=known,
    )


def _job(
    node: Node,
    work: StageGraph,
    season: Season,
    library: Library,
    known: frozenset[Node],
    goals: tuple[Goal, ...],
) -> Job:
    skill_id, stage = node
    skill = library.skill(skill_id)
    lowest = stage == skill.stages[0]
    higher = skill.stages[skill.stages.index(stage) + 1 :]
    blocks, minutes = adjusted(node, skill.work(stage), season.adjust)
    return Job(
        skill=skill_id,
        stage=stage,
        strand=skill.strand,
        blocks=blocks,
        minutes=minutes,
        introduces=lowest and not any((skill_id, each) in known for each in skill.stages),
        last=not any((skill_id, each) in work for each in higher),
        weight=max((goal.weight for goal in goals if goal.skill == skill_id), default=1),
        after=tuple(sorted(work.predecessors(node))),
        players=skill.work(stage).players or 1,
        baskets=skill.work(stage).baskets or 0,
        full_court=skill.work(stage).court == "full",
        hard=skill.is_hard(stage),
    )


def adjusted(node: Node, work: StageWork, adjusts: Iterable[Adjust]) -> tuple[int, int]:
    """Return blocks and minutes of a stage; of several adjustments the last one counts."""
    blocks, minutes = work.blocks, work.minutes
    for adjust in adjusts:
        if (adjust.skill, adjust.stage) == node:
            blocks = adjust.blocks or blocks
            minutes = adjust.minutes or minutes
    return blocks, minutes


def _target(goal: Goal, season: Season, known: frozenset[Node]) -> Target:
    return Target(
        goal=goal,
        due=season.due(goal),
        game=goal.by if isinstance(goal.by, str) else None,
        known=(goal.skill, goal.stage) in known,
        opponent=season.game_named(goal.by).opponent if isinstance(goal.by, str) else None,
    )
