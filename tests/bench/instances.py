"""Invented seasons of any size and load, built around a hidden plan that meets every must-goal."""

import datetime as dt
from dataclasses import dataclass
from random import Random

from curriculum.gym.practices import Gym
from curriculum.models.season import Frame, Game, Goal, Pin, Season, Teaching, Team
from curriculum.models.skills import STAGES, Library, Skill, StageWork
from curriculum.schedule.instance import Instance, build
from curriculum.workload import Workload, workload_of
from tests.build import usual_practice

START = dt.date(2027, 1, 11)
STRANDS = ("Passing", "Shooting", "Footwork", "Defence", "Screening", "Spacing", "Finishing")
MINUTES = (6, 7, 8, 8, 8, 9, 10, 10, 12)
"""Lengths of blocks in about the shares in which the shipped library has them."""


@dataclass(frozen=True)
class Shape:
    """What an invented season looks like.

    blocks: fewest and most blocks of a stage.
    load: minutes of all blocks, changeovers included, over usable minutes.
    musts, shoulds: shares of the skills that carry such a goal; the rest are could-goals.
    slack: most days that a must-goal is due after the day on which the hidden plan reaches it.
    """

    weeks: int
    per_week: int
    skills: int
    load: float
    seed: int
    blocks: tuple[int, int] = (1, 2)
    musts: float = 0.25
    shoulds: float = 0.25
    slack: int = 21
    teaching: tuple[tuple[str, object], ...] = ()
    pins: int = 0
    games: bool = True


@dataclass(frozen=True)
class Case:
    """An invented season in all the forms in which it is needed."""

    season: Season
    library: Library
    gym: Gym
    workload: Workload

    def instance(self) -> Instance:
        """Return the season in numbers."""
        return build(self.season, self.gym, self.workload)

    def reversed(self) -> "Case":
        """Return the season with its skills and goals in the opposite order."""
        library = Library(skills=self.library.skills[::-1])
        season = self.season.model_copy(update={"goal": self.season.goal[::-1]})
        return Case(season, library, self.gym, workload_of(season, library))


def case(shape: Shape) -> Case:
    """Invent a season of this shape; the same shape always gives the same season."""
    random = Random(f"{shape.weeks} {shape.per_week} {shape.skills} {shape.load} {shape.seed}")
    library = _library(shape, random)
    games = _games(shape, random) if shape.games else ()
    bare = _season(shape, (), games, ())
    workload = workload_of(bare, library)
    gym = _gym(shape, bare, workload, random)
    reached, held = _hidden(build(bare, gym, workload), random)
    goals = _goals(shape, gym, workload, reached, random)
    pins = tuple(
        Pin(skill=job.skill, stage=job.stage, date=gym.practices[practice].date, number=number)
        for index, number, practice in sorted(random.sample(held, min(shape.pins, len(held))))
        for job in (workload.jobs[index],)
    )
    season = _season(shape, goals, games, pins)
    return Case(season, library, gym, workload_of(season, library))


def _library(shape: Shape, random: Random) -> Library:
    skills: list[Skill] = []
    for index in range(shape.skills):
        first = random.choice((0, 0, 0, 0, 1))
        stages = STAGES[first : random.choice((2, 3, 3)) if index else 3]
        known = [skill.id for skill in skills[max(0, index - 12) :]]
        needs = random.sample(known, min(len(known), random.choice((0, 1, 1, 2))))
        work = {
            stage: StageWork(blocks=random.randint(*shape.blocks), minutes=random.choice(MINUTES))
            for stage in stages or ("unopposed",)
        }
        name = f"skill-{index:03d}"
        strand = random.choice(STRANDS)
        skills.append(
            Skill(
                id=name,
                name=name,
                strand=strand,
                needs=tuple(sorted(needs)),
                unopposed=work.get("unopposed"),
                guided=work.get("guided"),
                live=work.get("live"),
            )
        )
    return Library(skills=tuple(skills))


def _games(shape: Shape, random: Random) -> tuple[Game, ...]:
    return tuple(
        Game(
            id=f"game-{week}",
            date=START + dt.timedelta(days=7 * week + 5),
            start=dt.time(10, 0),
            opponent="Harbour Light",
        )
        for week in range(2, shape.weeks, 3)
        if random.random() < 0.8
    )


def _season(
    shape: Shape, goals: tuple[Goal, ...], games: tuple[Game, ...], pins: tuple[Pin, ...]
) -> Season:
    return Season(
        season=Frame(
            id="kestrel-quay-bench",
            name="Invented term",
            start=START,
            end=START + dt.timedelta(days=7 * shape.weeks - 1),
            timezone="Europe/Dublin",
        ),
        team=Team(name="Kestrel Quay Under-12", ages=(10, 11), players=12),
        teaching=Teaching.model_validate(dict(shape.teaching)),
        goal=goals,
        game=games,
        pin=pins,
    )


WEEKDAYS = {1: (2,), 2: (1, 3), 3: (0, 2, 4), 4: (0, 1, 3, 4), 5: (0, 1, 2, 3, 4)}


def _gym(shape: Shape, season: Season, workload: Workload, random: Random) -> Gym:
    """Return practices on fixed weekdays, one week in nine closed, as long as the load asks."""
    closed = set(range(random.randint(4, 8), shape.weeks - 1, 9))
    dates = [
        START + dt.timedelta(days=7 * week + weekday)
        for week in range(shape.weeks)
        for weekday in WEEKDAYS[shape.per_week]
        if week not in closed
    ]
    minutes = sum(job.blocks * (job.minutes + 1) for job in workload.jobs)
    usable = round(minutes / shape.load / len(dates))
    quiet = set()
    for game in season.game:
        before = [date for date in dates if 0 < (game.date - date).days <= 3]
        quiet |= set(before[-1:])
    return Gym(
        practices=tuple(
            usual_practice(
                date,
                id=f"{date}",
                teaching_minutes=usable + 4,
                usable_minutes=usable,
                before_game=date in quiet,
            )
            for date in dates
        ),
        games=season.game,
    )


def _hidden(
    instance: Instance, random: Random
) -> tuple[dict[int, int], list[tuple[int, int, int]]]:
    """Teach jobs in a random order of their needs, each block at one of the next few free places.

    Returns the practice in which each job that fits is reached, and all blocks that stand as (job,
    number, practice).
    """
    free = list(instance.usable)
    room = [instance.most_blocks] * instance.practices
    new = [0 if quiet else instance.most_new for quiet in instance.quiet]
    reached: dict[int, int] = {}
    held: list[tuple[int, int, int]] = []
    waiting = list(range(len(instance.minutes)))
    while ready := [j for j in waiting if not set(instance.needs[j]) & set(waiting)]:
        job = random.choice(ready)
        waiting.remove(job)
        if any(need not in reached for need in instance.needs[job]):
            continue
        day = -instance.gap
        start = max((reached[need] + 1 for need in instance.needs[job]), default=0)
        ends = [reached[n] for n in instance.needs[job] if instance.skill[n] == instance.skill[job]]
        if ends:
            day = instance.days[ends[0]]
        placed: list[int] = []
        size = instance.minutes[job]
        for number in range(1, instance.blocks[job] + 1):
            fresh = number == 1 and instance.introduces[job]
            fitting = [
                p
                for p in range(start, instance.practices)
                if free[p] >= size + instance.changeover[p]
                and room[p]
                and (not fresh or new[p])
                and instance.days[p] >= day + instance.gap
                and instance.allowed[job] >> p & 1
            ]
            if not fitting:
                break
            practice = random.choice(fitting[:3])
            free[practice] -= size + instance.changeover[practice]
            room[practice] -= 1
            new[practice] -= fresh
            placed.append(practice)
            day, start = instance.days[practice], practice + 1
        held.extend((job, number, practice) for number, practice in enumerate(placed, start=1))
        if len(placed) == instance.blocks[job]:
            reached[job] = placed[-1]
    return reached, held


def _goals(
    shape: Shape, gym: Gym, workload: Workload, reached: dict[int, int], random: Random
) -> tuple[Goal, ...]:
    goals = []
    end = START + dt.timedelta(days=7 * shape.weeks - 1)
    for index, job in enumerate(workload.jobs):
        if not job.last:
            continue
        draw = random.random()
        due = None
        if index in reached:
            taught = gym.practices[reached[index]].date
            due = min(end, taught + dt.timedelta(days=random.randint(0, shape.slack)))
        if draw < shape.musts and due:
            goal = Goal(skill=job.skill, stage=job.stage, by=due, need="must")
        elif draw < shape.musts + shape.shoulds:
            goal = Goal(
                skill=job.skill,
                stage=job.stage,
                by=due,
                need="should",
                weight=random.choice((1, 1, 2, 3)),
            )
        else:
            weight = random.choice((1, 1, 1, 2))
            goal = Goal(skill=job.skill, stage=job.stage, need="could", weight=weight)
        goals.append(goal)
    return tuple(goals)


LOADS = (0.6, 0.85, 1.1)

SIZES: dict[str, tuple[int, int, int, tuple[int, int]]] = {
    "small": (12, 2, 20, (1, 2)),
    "medium": (30, 3, 45, (1, 3)),
    "large": (44, 5, 64, (2, 4)),
}
"""Weeks, practices a week, skills, blocks a stage."""


def sized(size: str, load: float, seed: int = 1) -> Case:
    """Return a season of one of the three sizes at a load."""
    weeks, per_week, skills, blocks = SIZES[size]
    return case(Shape(weeks, per_week, skills, load, seed, blocks=blocks))
