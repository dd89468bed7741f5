"""The season that an age group usually has: what it can hold is scheduled, not summed."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.gym.slots import calendar_of
from curriculum.models.club import AgeGroup, Club
from curriculum.models.gymtimes import WEEKDAYS, Slot, Venue
from curriculum.models.season import Frame, Goal, Known, Season, Teaching, Team
from curriculum.models.skills import Library
from curriculum.schedule.instance import build
from curriculum.schedule.solve import solve
from curriculum.workload import workload_of

START = dt.date(2027, 1, 4)
"""A Monday; which one does not matter, since a typical season has no holidays."""

SPREAD = {
    0: (),
    1: (2,),
    2: (1, 3),
    3: (0, 2, 4),
    4: (0, 1, 3, 4),
    5: (0, 1, 2, 3, 4),
    6: (0, 1, 2, 3, 4, 5),
    7: (0, 1, 2, 3, 4, 5, 6),
}
"""Weekdays for so many practices a week, as far apart as they can be."""


@dataclass(frozen=True)
class Proof:
    """What a typical season of an age group holds.

    asked: goals of its column. late: those that the schedule does not reach.
    needed: minutes of all blocks with changeovers. usable: minutes there are.
    last: the number of the practice in which the last of them is reached, 0 for none.
    """

    group: str
    asked: int
    late: tuple[Node, ...]
    needed: int
    usable: int
    practices: int
    last: int

    @property
    def share(self) -> int:
        """Percent of the usable minutes that are needed, rounded up."""
        return -(-100 * self.needed // max(1, self.usable))


def typical_season(
    club: Club, group: AgeGroup, goals: Sequence[Node], known: Sequence[Node]
) -> Season:
    """Return a season of usual length and rhythm, with every goal a must by its end."""
    gym = club.gym[0]
    start, minutes = dt.time(17, 0), group.minutes
    return Season(
        season=Frame(
            id=f"typical-{group.id}",
            name="A typical season",
            start=START,
            end=START + dt.timedelta(days=7 * group.weeks - 1),
            timezone="UTC",
        ),
        team=Team(name=group.name, ages=group.ages, players=group.players, expected=group.players),
        teaching=Teaching(),
        venue=(Venue(id=gym.id, name=gym.name, baskets=gym.baskets),),
        slot=tuple(
            Slot(
                weekday=WEEKDAYS[day],
                start=start,
                minutes=minutes,
                venue=gym.id,
                court=group.court,
            )
            for day in SPREAD[group.practices]
        ),
        known=tuple(Known(skill=skill, stage=stage) for skill, stage in known),
        goal=tuple(Goal(skill=skill, stage=stage, need="must") for skill, stage in goals),
    )


def usable_minutes(club: Club, group: AgeGroup) -> int:
    """Return the minutes for blocks that a typical season of an age group has."""
    gym = calendar_of(typical_season(club, group, (), ()))
    return sum(practice.usable_minutes for practice in gym.practices)


def prove(
    club: Club, library: Library, group: AgeGroup, goals: Sequence[Node], known: Sequence[Node]
) -> Proof:
    """Schedule a typical season with all of an age group's goals, and say what it reaches."""
    season = typical_season(club, group, goals, known)
    gym = calendar_of(season)
    usable = sum(practice.usable_minutes for practice in gym.practices)
    if not goals:
        return Proof(group.id, 0, (), 0, usable, len(gym.practices), 0)
    workload = workload_of(season, library)
    instance = build(season, gym, workload)
    timetable = solve(instance, "quick").timetable
    late: list[Node] = []
    last = 0
    for target, goal in zip(workload.targets, instance.goals, strict=True):
        reached = timetable.reached(instance, goal.job) if goal.job >= 0 else 0
        if goal.job >= 0 and not 0 <= reached < goal.limit:
            late.append(target.node)
        last = max(last, reached + 1 if goal.job >= 0 else 0)
    changeover = max((practice.changeover for practice in gym.practices), default=1)
    needed = sum(job.blocks * (job.minutes + changeover) for job in workload.jobs)
    return Proof(
        group=group.id,
        asked=len(goals),
        late=tuple(sorted(late)),
        needed=needed,
        usable=usable,
        practices=len(gym.practices),
        last=last,
    )
