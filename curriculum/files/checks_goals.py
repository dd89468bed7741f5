"""Compare the goals, pins and wishes of a season file with each other and with the library."""

import datetime as dt
from collections.abc import Iterator, Sequence

from curriculum.files.nearest import suggest
from curriculum.files.sources import SourceMap
from curriculum.models.season import Adjust, Goal, Known, Pin, Season
from curriculum.models.skills import STAGES, Library, Skill, Stage
from curriculum.problems import Level, Problem
from curriculum.wording import listed


def check_goals(season: Season, sources: SourceMap) -> Iterator[Problem]:
    """Tell what does not fit among goals, pins and wishes, the library left aside."""
    for check in (
        _goals_are_due,
        _goals_stand_once,
        _goals_are_not_known,
        _pins_are_not_known,
        _adjustments_agree,
    ):
        yield from check(season, sources)


def check_against_library(
    season: Season, library: Library, sources: SourceMap
) -> Iterator[Problem]:
    """Tell what the library lacks of what the season names, and which goals suit the team ill."""
    skills = {skill.id: skill for skill in library.skills}
    yield from _skills_exist(season, skills, sources)
    yield from _pins_name_a_block(season, skills, sources)
    yield from _strands_exist(season, library, sources)
    yield from _goals_suit_the_team(season, skills, sources)


def _goals_are_due(season: Season, sources: SourceMap) -> Iterator[Problem]:
    frame = season.season
    games = {game.id: game for game in season.game}
    for n, goal in enumerate(season.goal):
        path = ("goal", n, "by")
        if isinstance(goal.by, str) and goal.by not in games:
            if any(calendar.means == "games" for calendar in season.calendar):
                continue  # a game may stand in that file; it is judged when the file is read
            yield sources.problem(
                path, "no [[game]] has this id", _due_meant(goal.by, tuple(games))
            )
        elif goal.by is not None and frame.start <= frame.end:
            due = season.due(goal)
            if due < frame.start:
                says = f"the goal is due before the season starts on {frame.start}"
                yield sources.problem(path, says, "write a later date, or a game's id")
            elif due > frame.end:
                says = f"the goal is due after the season ends on {frame.end}"
                way_out = "write an earlier date, or leave by out"
                yield sources.problem(path, says, way_out, level="warning")


def _due_meant(by: str, games: tuple[str, ...]) -> str:
    try:
        day = dt.date.fromisoformat(by)
    except ValueError:
        return suggest(by, games, "add the game, or write a date without quotes")
    return f"write the date without quotes: by = {day}"


def _goals_stand_once(season: Season, sources: SourceMap) -> Iterator[Problem]:
    first: dict[tuple[str, Stage, object], int] = {}
    for n, goal in enumerate(season.goal):
        earlier = first.setdefault((goal.skill, goal.stage, goal.by), n)
        if earlier < n:
            says = f"the goal in line {sources.line('goal', earlier)} is the same"
            found = f"{goal.skill} {goal.stage}"
            yield sources.problem(("goal", n), says, "delete one of the two", found=found)


def _goals_are_not_known(season: Season, sources: SourceMap) -> Iterator[Problem]:
    for n, goal in enumerate(season.goal):
        yield from _is_not_known(season, sources, ("goal", n), goal, "warning")


def _pins_are_not_known(season: Season, sources: SourceMap) -> Iterator[Problem]:
    for n, pin in enumerate(season.pin):
        yield from _is_not_known(season, sources, ("pin", n), pin, "error")


def _is_not_known(
    season: Season, sources: SourceMap, place: tuple[str, int], entry: Goal | Pin, level: Level
) -> Iterator[Problem]:
    known = _known(season, entry.skill, entry.stage)
    if known is not None:
        line = sources.line("known", known)
        says = f"the team knows this stage already, says [[known]] in line {line}"
        found, way_out = f"{entry.skill} {entry.stage}", f"delete the {place[0]}, or the [[known]]"
        yield sources.problem(place, says, way_out, found=found, level=level)


def _known(season: Season, skill: str, stage: Stage) -> int | None:
    """Return the place of the `[[known]]` that covers a stage; None when none does."""
    for n, known in enumerate(season.known):
        if known.skill == skill and STAGES.index(stage) <= STAGES.index(known.stage):
            return n
    return None


def _adjustments_agree(season: Season, sources: SourceMap) -> Iterator[Problem]:
    first: dict[tuple[str, Stage, str], tuple[int, int]] = {}
    for n, adjust in enumerate(season.adjust):
        stated = {"blocks": adjust.blocks, "minutes": adjust.minutes}
        numbers = {key: number for key, number in stated.items() if number is not None}
        if not numbers:
            says, way_out = "changes nothing", "add blocks = or minutes =, or delete it"
            yield sources.problem(("adjust", n), says, way_out, level="warning")
        for key, number in numbers.items():
            earlier, other = first.setdefault((adjust.skill, adjust.stage, key), (n, number))
            if other != number:
                line = sources.line("adjust", earlier)
                says = f"the [[adjust]] in line {line} says {other} for the same stage"
                yield sources.problem(("adjust", n, key), says, "delete one of the two")


def _skills_exist(
    season: Season, skills: dict[str, Skill], sources: SourceMap
) -> Iterator[Problem]:
    tables: dict[str, Sequence[Goal | Known | Adjust | Pin]] = {
        "goal": season.goal,
        "known": season.known,
        "adjust": season.adjust,
        "pin": season.pin,
    }
    for table, entries in tables.items():
        for n, entry in enumerate(entries):
            if entry.skill not in skills:
                way_out = suggest(entry.skill, tuple(skills), "write the id of a library skill")
                yield sources.problem((table, n, "skill"), "no skill has this id", way_out)
            elif entry.stage not in skills[entry.skill].stages:
                has = listed(skills[entry.skill].stages)
                says = f"{entry.skill} has no such stage"
                yield sources.problem((table, n, "stage"), says, f"it has {has}")


def _pins_name_a_block(
    season: Season, skills: dict[str, Skill], sources: SourceMap
) -> Iterator[Problem]:
    for n, pin in enumerate(season.pin):
        if pin.skill not in skills or pin.stage not in skills[pin.skill].stages:
            continue
        blocks = skills[pin.skill].work(pin.stage).blocks
        for adjust in season.adjust:
            if (adjust.skill, adjust.stage) == (pin.skill, pin.stage) and adjust.blocks:
                blocks = adjust.blocks
        if pin.number is not None and pin.number > blocks:
            only = "1 block" if blocks == 1 else f"{blocks} blocks"
            says = f"{pin.skill} {pin.stage} has {only} only"
            most = "1" if blocks == 1 else f"{blocks} or less"
            way_out = f"write number = {most}, or adjust its blocks"
            yield sources.problem(("pin", n, "number"), says, way_out)


def _strands_exist(season: Season, library: Library, sources: SourceMap) -> Iterator[Problem]:
    strands = tuple(dict.fromkeys(skill.strand for skill in library.skills))
    for n, focus in enumerate(season.focus):
        if focus.strand not in strands:
            otherwise = "write the strand of a skill in the library"
            way_out = suggest(focus.strand, strands, otherwise)
            yield sources.problem(("focus", n, "strand"), "no skill is of this strand", way_out)


def _goals_suit_the_team(
    season: Season, skills: dict[str, Skill], sources: SourceMap
) -> Iterator[Problem]:
    oldest, most = max(season.team.ages), _most_expected(season)
    for n, goal in enumerate(season.goal):
        if goal.skill not in skills or goal.stage not in skills[goal.skill].stages:
            continue
        work = skills[goal.skill].work(goal.stage)
        path, found = ("goal", n, "stage"), f"{goal.skill} {goal.stage}"
        if work.age is not None and oldest < work.age:
            says = f"usually taught from age {work.age} on, but the oldest here are {oldest}"
            way_out = "make sure that it suits them"
            yield sources.problem(path, says, way_out, found=found, level="warning")
        if work.players is not None and most < work.players:
            says = f"needs {work.players} players, but {most} are expected at most"
            way_out = "correct expected, or lower the goal"
            yield sources.problem(path, says, way_out, found=found, level="warning")


def _most_expected(season: Season) -> int:
    """Return how many players are expected at the fullest gym time."""
    stated = [
        *[slot.expected for slot in season.slot],
        *[extra.expected for extra in season.practice_on],
        *[move.expected for move in season.move],
    ]
    return max([season.team.usual, *filter(None, stated)])
