"""A plan read flat: every block with its place in time, beside what the season asks for.

This knows no rule; rules and tiers ask it what stands where and when a stage is reached.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.gym.practices import Gym, Practice
from curriculum.models.plan import Block, Plan, PlannedPractice
from curriculum.models.season import Game, Season
from curriculum.models.skills import STAGES, Library, Skill
from curriculum.referee.verdict import Breach
from curriculum.wording import dated
from curriculum.workload import Job, Target, Workload, workload_of


@dataclass(frozen=True)
class Standing:
    """One block as it stands: in which practice, and at which place there (0 is held first)."""

    block: Block
    practice: PlannedPractice
    place: int

    @property
    def node(self) -> Node:
        """The stage that the block teaches."""
        return self.block.skill, self.block.stage

    @property
    def review(self) -> bool:
        """Whether the block comes back to a skill that is finished."""
        return self.block.kind == "review"

    @property
    def held(self) -> tuple[dt.date, dt.time, str]:
        """What practices are ordered by."""
        return self.practice.date, self.practice.start, self.practice.id

    @property
    def when(self) -> tuple[dt.date, dt.time, str, int]:
        """What blocks are ordered by."""
        return (*self.held, self.place)

    def breach(self, rule: str, says: str) -> Breach:
        """Return a breach that this block commits."""
        says = f"{dated(self.practice.date)}: {says}"
        return Breach(rule, self.practice.id, self.block.skill, self.block.stage, says)


@dataclass(frozen=True)
class Facts:
    """A plan beside its season, library and gym calendar.

    blocks: all blocks of the plan in the order in which they are held.
    lessons: for each job its introduce and build blocks, in that order; blocks with a number that
    the job does not have are left out.
    reviews: for each skill with a block its reviews, in that order.
    ladders: for each skill of the workload its jobs in stage order.
    """

    plan: Plan
    season: Season
    gym: Gym
    today: dt.date | None
    workload: Workload
    skills: Mapping[str, Skill]
    calendar: Mapping[str, Practice]
    games: Mapping[str, Game]
    jobs: Mapping[Node, Job]
    ladders: Mapping[str, tuple[Job, ...]]
    blocks: tuple[Standing, ...]
    lessons: Mapping[Node, tuple[Standing, ...]]
    reviews: Mapping[str, tuple[Standing, ...]]

    def past(self, day: dt.date) -> bool:
        """Whether a date lies before today; today itself does not."""
        return self.today is not None and day < self.today

    def day(self, date: dt.date) -> int:
        """Return a date as days from the season's start, which is day 0."""
        return (date - self.season.season.start).days

    @property
    def length(self) -> int:
        """Days of the season, both ends counted: the day after its last one."""
        return self.day(self.season.season.end) + 1

    def ladder_lessons(self, skill_id: str) -> tuple[Standing, ...]:
        """Return the introduce and build blocks of a skill, as they are held."""
        jobs = self.ladders.get(skill_id, ())
        return _in_time(standing for job in jobs for standing in self.lessons[job.node])

    def reached(self, node: Node) -> Standing | None:
        """Return the last block of a stage when all its blocks stand in the plan, else None."""
        job = self.jobs.get(node)
        lessons = self.lessons.get(node, ())
        if job is None or {s.block.number for s in lessons} != set(range(1, job.blocks + 1)):
            return None
        return lessons[-1]

    def finished(self, skill_id: str) -> Standing | None:
        """Return the block with which the last stage asked of a skill is reached, else None."""
        ladder = self.ladders.get(skill_id)
        return self.reached(ladder[-1].node) if ladder else None

    def met(self, target: Target) -> bool:
        """Whether a goal is met.

        By a date: its last block is held on or before it. By a game: in a practice that ends at or
        before the moment when the game starts. A goal on a known stage is met.
        """
        last = self.reached(target.node)
        if target.known or last is None:
            return target.known
        if target.game is None:
            return last.practice.date <= target.due
        game = self.games[target.game]
        return (last.practice.date, last.practice.end) <= (game.date, game.start)

    def introduces(self, standing: Standing) -> bool:
        """Whether a block introduces its skill: number 1 of its lowest stage, no stage known."""
        job = self.jobs.get(standing.node)
        first = standing.block.number == 1 and not standing.review
        return first and job is not None and job.introduces

    def name(self, node: Node) -> str:
        """Return a stage as sentences show it: `Give-and-go live`."""
        skill = self.skills.get(node[0])
        return f"{skill.name if skill else node[0]} {node[1]}"

    def title(self, standing: Standing) -> str:
        """Return a block as sentences show it: `Give-and-go live 1 of 2`."""
        block = standing.block
        title = f"{self.name(standing.node)} {block.number} of {block.of}"
        return f"review of {title}" if standing.review else title


def read(
    plan: Plan, season: Season, library: Library, gym: Gym, today: dt.date | None = None
) -> Facts:
    """Lay a plan beside what it has to obey.

    Raises networkx.NetworkXUnfeasible when needs run in a loop, KeyError when a goal is due by a
    game that the season lacks.
    """
    workload = workload_of(season, library)
    jobs = {job.node: job for job in workload.jobs}
    blocks = _in_time(
        Standing(block, practice, place)
        for practice in plan.practices
        for place, block in enumerate(practice.blocks)
    )
    lessons: dict[Node, list[Standing]] = {node: [] for node in jobs}
    reviews: dict[str, list[Standing]] = {standing.block.skill: [] for standing in blocks}
    for standing in blocks:
        if standing.review:
            reviews[standing.block.skill].append(standing)
        elif standing.node in jobs and standing.block.number <= jobs[standing.node].blocks:
            lessons[standing.node].append(standing)
    return Facts(
        plan=plan,
        season=season,
        gym=gym,
        today=today,
        workload=workload,
        skills={skill.id: skill for skill in library.skills},
        calendar={practice.id: practice for practice in gym.practices},
        games={game.id: game for game in (*season.game, *gym.games)},
        jobs=jobs,
        ladders=_ladders(workload),
        blocks=blocks,
        lessons={node: tuple(taught) for node, taught in lessons.items()},
        reviews={skill_id: tuple(held) for skill_id, held in reviews.items()},
    )


def _in_time(blocks: Iterable[Standing]) -> tuple[Standing, ...]:
    return tuple(sorted(blocks, key=lambda standing: standing.when))


def _ladders(workload: Workload) -> dict[str, tuple[Job, ...]]:
    ladders: dict[str, list[Job]] = {}
    for job in sorted(workload.jobs, key=lambda job: (job.skill, STAGES.index(job.stage))):
        ladders.setdefault(job.skill, []).append(job)
    return {skill_id: tuple(jobs) for skill_id, jobs in ladders.items()}
