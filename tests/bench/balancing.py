"""Assembly-line balancing problems as seasons: stations are practices, tasks are skills.

Data and optima: Scholl A (1993), Data of Assembly Line Balancing Problems, Schriften zur
Quantitativen Betriebswirtschaftslehre 16/93, TH Darmstadt: Mertens, Bowman, Jaeschke, Jackson and
Mansoor, with the fewest stations for each cycle time.
"""

import datetime as dt

from curriculum.gym.practices import Gym, Practice
from curriculum.models.season import Frame, Goal, Season, Teaching, Team
from curriculum.models.skills import Library, Skill, StageWork
from curriculum.schedule.instance import Instance, build
from curriculum.workload import workload_of
from tests.build import usual_practice

TASKS = {
    "Mertens": ("1 5 4 3 5 6 5", "1-2 1-4 2-3 2-5 4-7 5-6"),
    "Bowman": ("11 17 9 5 8 12 10 3", "1-2 2-3 2-4 3-5 3-6 4-6 5-7 6-8"),
    "Jaeschke": ("5 3 4 5 4 5 1 4 6", "1-2 1-3 2-4 3-4 4-5 4-6 4-7 5-8 6-9 7-9 8-9"),
    "Jackson": (
        "6 2 5 7 1 2 3 6 5 5 4",
        "1-2 1-3 1-4 1-5 2-6 3-7 4-7 5-7 6-8 7-9 8-10 9-11 10-11",
    ),
    "Mansoor": (
        "4 38 45 12 10 8 12 10 2 10 34",
        "1-4 2-4 2-5 3-11 4-6 5-7 6-8 7-9 8-10 9-10 10-11",
    ),
}
"""Times of the tasks, and which comes directly before which."""

STATIONS = {
    "Mertens": {6: 6, 7: 5, 8: 5, 10: 3, 15: 2, 18: 2},
    "Bowman": {20: 5},
    "Jaeschke": {6: 8, 7: 7, 8: 6, 10: 4, 18: 3},
    "Jackson": {7: 8, 9: 6, 10: 5, 13: 4, 14: 4, 21: 3},
    "Mansoor": {48: 4, 62: 3, 94: 2},
}
"""Fewest stations for each cycle time."""

START = dt.date(2027, 1, 11)


def line(name: str, cycle: int, stations: int) -> Instance:
    """Return the season in which a line of so many stations is to be balanced.

    One must-goal a task; needs may be met within a practice; changeover, fixed parts and spare are
    0, blocks and introductions have no limit, and there are no reviews.
    """
    times, arcs = TASKS[name]
    needs: dict[int, list[str]] = {}
    for arc in arcs.split():
        earlier, later = arc.split("-")
        needs.setdefault(int(later), []).append(f"task-{int(earlier):02d}")
    skills = tuple(
        Skill(
            id=f"task-{task:02d}",
            name=f"Task {task}",
            strand="Line",
            needs=tuple(needs.get(task, ())),
            unopposed=StageWork(blocks=1, minutes=int(minutes)),
        )
        for task, minutes in enumerate(times.split(), start=1)
    )
    season = Season(
        season=Frame(
            id="line",
            name="Line",
            start=START,
            end=START + dt.timedelta(days=stations - 1),
            timezone="UTC",
        ),
        team=Team(name="Line", ages=(10, 11), players=12),
        teaching=Teaching(
            new_skills=99, blocks=99, build_within_practice=True, review_after=(), spare=0
        ),
        goal=tuple(Goal(skill=skill.id, stage="unopposed", need="must") for skill in skills),
    )
    gym = Gym(practices=tuple(_station(index, cycle) for index in range(stations)))
    return build(season, gym, workload_of(season, Library(skills=skills)))


FIXED = ("warm_up", "scrimmage", "cool_down", "breaks", "break_minutes", "changeover")


def _station(index: int, cycle: int) -> Practice:
    """Return a practice that is nothing but time: a station as long as the cycle."""
    return usual_practice(
        START + dt.timedelta(days=index),
        id=f"station-{index}",
        minutes=cycle,
        expected=12,
        teaching_minutes=cycle,
        usable_minutes=cycle,
        **dict.fromkeys(FIXED, 0),
    )
