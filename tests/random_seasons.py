"""Tiny random seasons, small enough for every plan of them to be tried."""

import random
from dataclasses import dataclass

from curriculum.gym.practices import Gym
from curriculum.gym.slots import calendar_of
from curriculum.models.season import Pin, Season
from curriculum.models.skills import Library, StageWork
from curriculum.schedule.instance import Instance, build
from curriculum.workload import Workload, workload_of
from tests.build import day, game, goal, library, season, skill


@dataclass(frozen=True)
class Case:
    """A season with all that a clash is asked of."""

    season: Season
    library: Library
    gym: Gym
    workload: Workload
    instance: Instance


def case(of: Season, skills: Library) -> Case:
    """Return a season with its calendar, workload and numbers."""
    gym = calendar_of(of)
    workload = workload_of(of, skills)
    return Case(of, skills, gym, workload, build(of, gym, workload))


def random_case(dice: random.Random) -> Case:
    """Return a season of four practices with three or four skills, goals close in time and pins."""
    names = ["pass", "cut", "shot", "screen"][: dice.randint(3, 4)]
    skills = []
    for index, name in enumerate(names):
        needs = tuple(dice.sample(names[:index], k=min(index, dice.choice((0, 1, 1, 2)))))
        work = StageWork(
            blocks=dice.choice((1, 1, 2)),
            minutes=dice.choice((8, 12, 17, 24)),
            players=dice.choice((None, None, None, 11)),
        )
        skills.append(skill(name, needs=needs, unopposed=work))
    dates = [day("01-12"), day("01-15"), day("01-19"), day("01-22")]
    goals = tuple(
        goal(name, by=dice.choice(dates[:3])) for name in dice.sample(names, k=dice.randint(1, 3))
    )
    pins = tuple(
        Pin(skill=name, stage="unopposed", date=dice.choice(dates))
        for name in dice.sample(names, k=dice.choice((0, 0, 1, 2)))
    )
    games = (game(date=dice.choice((day("01-16"), day("01-23")))),) if dice.random() < 0.4 else ()
    teaching = {
        "gap_days": dice.choice((1, 1, 4)),
        "new_skills": dice.choice((1, 2)),
        "blocks": dice.choice((2, 5)),
    }
    return case(
        season(weeks=2, goal=goals, pin=pins, game=games, teaching=teaching), library(*skills)
    )
