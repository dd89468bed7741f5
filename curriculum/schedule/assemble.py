"""A timetable in numbers back into a plan in the coach's words: ids, dates, kinds and goals."""

import datetime as dt
from collections.abc import Mapping
from functools import cache

import networkx as nx

from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.models.plan import (
    Block,
    GoalResult,
    Kind,
    Miss,
    Plan,
    PlannedClosure,
    PlannedGame,
    PlannedPractice,
    Proof,
    TierProof,
)
from curriculum.models.season import Season
from curriculum.models.skills import STAGES
from curriculum.schedule.instance import Instance
from curriculum.schedule.solve import Result
from curriculum.schedule.timetable import Timetable, tier_names
from curriculum.workload import Job, Workload

Drills = Mapping[tuple[str, str, int, Kind], str]
"""The coach's own choice of drill, by skill, stage, number and kind."""


def drills_of(plan: Plan | None) -> Drills:
    """Return the drills that the coach has chosen in an older plan."""
    practices = plan.practices if plan else ()
    return {
        (block.skill, block.stage, block.number, block.kind): block.drill
        for practice in practices
        for block in practice.blocks
        if block.drill is not None
    }


def assemble(
    season: Season,
    gym: Gym,
    workload: Workload,
    instance: Instance,
    result: Result,
    *,
    made: dt.datetime,
    misses: tuple[Miss, ...] = (),
    drills: Drills | None = None,
    revision: int = 1,
) -> Plan:
    """Return the plan of a result, ready to be written."""
    blocks = _blocks(workload, instance, result.timetable, drills or {})
    return Plan(
        revision=revision,
        made=made,
        season=season.season.id,
        team=season.team.name,
        timezone=season.season.timezone,
        status=result.status,
        proof=_proof(result, tier_names(noticed=instance.noticed)),
        practices=tuple(
            PlannedPractice(
                id=practice.id,
                date=practice.date,
                start=practice.start,
                end=practice.end,
                venue=practice.venue,
                week=practice.week,
                teaching_minutes=practice.teaching_minutes,
                blocks=in_held_order(blocks[index], workload),
            )
            for index, practice in enumerate(gym.practices)
        ),
        not_held=gym.not_held,
        games=tuple(PlannedGame(**game.model_dump()) for game in gym.games),
        closures=tuple(
            PlannedClosure(
                from_=closed.from_, until=closed.until, reason=closed.reason, venue=closed.venue
            )
            for closed in gym.closures
        ),
        goals=goal_results(gym, workload, instance, result.timetable),
        misses=misses,
    )


def _proof(result: Result, names: tuple[str, ...]) -> Proof:
    return Proof(
        tiers=tuple(
            TierProof(name=name, value=value, bound=bound)
            for name, value, bound in zip(names, result.tiers, result.bounds, strict=True)
        ),
        practices_needed_at_least=result.practices_needed,
        critical_path_practices=result.critical_path,
    )


def goal_results(
    gym: Gym, workload: Workload, instance: Instance, timetable: Timetable
) -> tuple[GoalResult, ...]:
    """Return what becomes of every goal, in the order of the season file."""
    found = []
    for target, goal in zip(workload.targets, instance.goals, strict=True):
        reached = timetable.reached(instance, goal.job) if goal.job >= 0 else -1
        found.append(
            GoalResult(
                skill=target.goal.skill,
                stage=target.goal.stage,
                by=target.due,
                need=target.goal.need,
                reached=gym.practices[reached].date if reached >= 0 else None,
                met=target.known or 0 <= reached < goal.limit,
            )
        )
    return tuple(found)


def _blocks(
    workload: Workload, instance: Instance, timetable: Timetable, drills: Drills
) -> list[list[Block]]:
    found: list[list[Block]] = [[] for _ in range(instance.practices)]
    for index, (job, placed) in enumerate(zip(workload.jobs, timetable.blocks, strict=True)):
        for number, practice in enumerate(placed, start=1):
            kind: Kind = "introduce" if job.introduces and number == 1 else "build"
            found[practice].append(
                Block(
                    skill=job.skill,
                    stage=job.stage,
                    number=number,
                    of=job.blocks,
                    kind=kind,
                    minutes=job.minutes,
                    drill=drills.get((job.skill, job.stage, number, kind)),
                    pinned=_pinned(instance, index, number, practice),
                )
            )
    for chain, reviews in zip(instance.chains, timetable.reviews, strict=True):
        job = workload.jobs[chain[-1]]
        for number, practice in enumerate(reviews, start=1):
            found[practice].append(_review(job, number, len(reviews), instance, drills))
    return found


def _review(job: Job, number: int, count: int, instance: Instance, drills: Drills) -> Block:
    return Block(
        skill=job.skill,
        stage=job.stage,
        number=number,
        of=count,
        kind="review",
        minutes=instance.review_minutes,
        drill=drills.get((job.skill, job.stage, number, "review")),
    )


def _pinned(instance: Instance, job: int, number: int, practice: int) -> bool:
    return any(
        pin.job == job and practice in pin.practices and pin.number in (0, number)
        for pin in instance.pins
    )


def in_held_order(blocks: list[Block], workload: Workload) -> tuple[Block, ...]:
    """Return a practice's blocks as they are held: new while fresh, hard and easy taking turns.

    Introductions, and what they wait for today, come first, by stage; what a block needs comes
    before it. Within that freedom hard and easy blocks take turns as far as they can; the scrimmage
    at the end counts as hard. Of orders that alternate alike the one by stage is taken. Common
    practice, no published source.
    """
    listed = sorted(blocks, key=_rank)
    waits = _waits(listed, workload)
    hardness = {job.node: job.hard for job in workload.jobs}
    hard = [hardness.get((block.skill, block.stage), block.stage == "live") for block in listed]
    introduced = [place for place, block in enumerate(listed) if block.kind == "introduce"]
    fresh = frozenset(introduced).union(*(nx.ancestors(waits, place) for place in introduced))

    @cache
    def best(left: frozenset[int], after_hard: bool | None) -> tuple[int, tuple[int, ...]]:
        """Return how often alike follows alike from here on, and the order that does so least."""
        if not left:
            return int(after_hard is True), ()
        new = left & fresh
        ready = [each for each in sorted(new or left) if left.isdisjoint(waits.predecessors(each))]
        first_of = {hard[each]: each for each in reversed(ready)}
        found = []
        for place in ready[:1] if new else first_of.values():
            alike, rest = best(left - {place}, hard[place])
            found.append((alike + (hard[place] is after_hard), (place, *rest)))
        return min(found)

    return tuple(listed[place] for place in best(frozenset(range(len(listed))), None)[1])


def _rank(block: Block) -> tuple[bool, int, str]:
    return block.kind != "introduce", STAGES.index(block.stage), block.skill


def _waits(blocks: list[Block], workload: Workload) -> "nx.DiGraph[int]":
    """Return which of a practice's blocks, by their places, wait for which others of them."""
    waits: nx.DiGraph[int] = nx.DiGraph()
    waits.add_nodes_from(range(len(blocks)))
    after = {job.node: job.after for job in workload.jobs}
    at: dict[Node, int] = {
        (block.skill, block.stage): place
        for place, block in enumerate(blocks)
        if block.kind != "review"
    }
    for node, place in at.items():
        waits.add_edges_from((at[needed], place) for needed in after.get(node, ()) if needed in at)
    return waits
