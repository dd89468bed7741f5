"""What shows when graph, gym calendar and workload meet: loops, idle pins, goals out of reach."""

import datetime as dt
from collections.abc import Iterator, Sequence

from curriculum.files.nearest import suggest
from curriculum.files.sources import SourceMap
from curriculum.graph import loops, stage_graph
from curriculum.gym.practices import Gym
from curriculum.models.season import Pin, Season, lost_dates
from curriculum.models.skills import Library
from curriculum.problems import Level, Problem
from curriculum.schedule.instance import build
from curriculum.schedule.tables import tables_of
from curriculum.schedule.windows import windows_of
from curriculum.spans import monday_of
from curriculum.wording import counted, due_words, short_date
from curriculum.workload import Target, known_nodes, workload_of


def loop_problems(library: Library, sources: SourceMap) -> Iterator[Problem]:
    """Name every circle of stages that wait for each other, at the place of its first skill."""
    for loop in loops(stage_graph(library)):
        names = [f"{skill}@{stage}" for skill, stage in (*loop, loop[0])]
        file, line = sources.place(loop[0][0], "needs")
        yield Problem(
            file=file,
            line=line,
            key=loop[0][0],
            says=f"these wait for each other in a circle: {' -> '.join(names)}",
            way_out="take one need out of the circle",
        )


def unknown_game_problems(season: Season) -> Iterator[Problem]:
    """Name every goal by a game that stands neither in the season nor in an imported calendar."""
    games = tuple(game.id for game in season.game)
    for number, goal in enumerate(season.goal, start=1):
        if isinstance(goal.by, str) and goal.by not in games:
            yield Problem(
                file="",
                line=0,
                key=f"goal[{number}].by",
                says="no game has this id, here or in the imported calendars",
                found=f'"{goal.by}"',
                way_out=suggest(goal.by, games, "write a date without quotes"),
            )


def known_pin_problems(season: Season, library: Library) -> Iterator[Problem]:
    """Name every pin on a stage that counts as known because something known needs it."""
    graph = stage_graph(library)
    stated = {(known.skill, known.stage) for known in season.known}
    for number, pin in enumerate(season.pin, start=1):
        node = (pin.skill, pin.stage)
        if node in known_nodes(season, graph) and node not in stated:
            yield Problem(
                file="",
                line=0,
                key=f"pin[{number}]",
                says="this stage counts as known, because a known stage needs it",
                found=f"{pin.skill}, {pin.stage}",
                way_out="take the pin out, or take back what is [[known]]",
            )


def pin_problems(season: Season, gym: Gym) -> Iterator[Problem]:
    """Name every pin on a date on which no practice is held, with the reason and near dates.

    A warning when that practice was lost: then the pin asks for nothing any more.
    """
    lost = lost_dates(season)
    dates = sorted({practice.date for practice in gym.practices})
    for number, pin in enumerate(season.pin, start=1):
        if pin.date in dates:
            continue
        reasons = [each.why for each in gym.not_held if each.date == pin.date]
        why = f" ({reasons[0]})" if reasons else ""
        if pin.date in lost:
            way_out = "the stage is still taught; pin it to another date, or take the pin out"
            yield _pin_problem(number, pin, "the pinned practice was lost", way_out, "warning")
            continue
        says = f"no practice is held on this date{why}"
        yield _pin_problem(number, pin, says, _nearby(pin.date, dates))


def called_off_problems(season: Season, gym: Gym) -> Iterator[Problem]:
    """Warn of every `[[no_practice]]` with a date on which none was planned: it may be mistyped."""
    dates = sorted({practice.date for practice in gym.practices})
    planned = {*dates, *(each.date for each in gym.not_held)}
    for number, off in enumerate(season.no_practice, start=1):
        inside = off.date is not None and season.season.start <= off.date <= season.season.end
        if off.date is None or not inside or off.date in planned:
            continue
        key, says = f"no_practice[{number}].date", "there is no practice on this date to call off"
        yield Problem("", 0, key, says, f"{off.date}", _nearby(off.date, dates), "warning")


def _nearby(date: dt.date, dates: Sequence[dt.date]) -> str:
    """Return as a way out the practices of a date's week, else the two that are nearest."""
    week = [day for day in dates if monday_of(day) == monday_of(date)]
    near = week or sorted(dates, key=lambda day: abs(day - date))[:2]
    return f"practices nearby: {', '.join(f'{day}' for day in near)}" if near else ""


def _pin_problem(number: int, pin: Pin, says: str, way_out: str, level: Level = "error") -> Problem:
    return Problem("", 0, f"pin[{number}].date", says, f"{pin.date}", way_out, level)


def reach_problems(season: Season, library: Library, gym: Gym) -> Iterator[Problem]:
    """Name every goal that no plan can reach in time, even if nothing else were taught.

    An error for a must-goal, a warning for the others.
    """
    workload = workload_of(season, library)
    instance = build(season, gym, workload)
    windows = windows_of(tables_of(instance))
    for number, (target, goal) in enumerate(
        zip(workload.targets, instance.goals, strict=True), start=1
    ):
        if goal.job < 0 or windows.first[goal.job][-1] < goal.limit or not season.goal:
            continue
        first = windows.first[goal.job][-1]
        day = gym.practices[first].date if first < len(gym.practices) else None
        yield Problem(
            file="",
            line=0,
            key=f"goal[{number}]",
            says=_out_of_reach(target, day, goal.limit),
            found=f"{target.goal.skill}, {target.goal.stage}, by {target.due}",
            way_out=f"set by = {day}, or later" if day else "lower the stage, or take the goal out",
            level="error" if target.goal.need == "must" else "warning",
        )


def _out_of_reach(target: Target, day: dt.date | None, practices: int) -> str:
    needed = (
        f"everything it needs takes until {short_date(day)}"
        if day
        else "no practice can hold all it needs"
    )
    due = due_words(target.due, target.opponent)
    return f"no plan reaches this {due}: {counted(practices, 'practice')} until then, and {needed}"
