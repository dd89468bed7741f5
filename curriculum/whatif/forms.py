"""Changes to a season in plain words: the forms understood, and what each means."""

import datetime as dt
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from curriculum.files.nearest import suggest
from curriculum.graph import Node
from curriculum.gym.practices import Gym
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.models.season import Importance, Season
from curriculum.models.skills import STAGES, Library, Stage
from curriculum.problems import Problem
from curriculum.schedule.changes import (
    Change,
    Extra,
    GoalBy,
    GoalNeed,
    Limit,
    Minutes,
    Players,
    Teach,
    WithoutDates,
    WithoutPin,
    goals_on,
)

PLACE = "what-if"
"""What a problem names as its file; its line is the number of the text, counted from 1."""

FORMS: tuple[tuple[str, str], ...] = (
    ("no 2027-02-09", "lose the practices of a date"),
    ("no 2027-02-09 to 2027-02-19", "lose the practices of some dates, both included"),
    ("no tuesdays from 2027-03-01", "lose a weekday from a date on; `to` and a date end it"),
    ("extra 2027-02-13 10:00 90 north-gym", "one more practice; the rest may be left to the slot"),
    ("90 minutes", "every practice this long"),
    ("10 minutes more", "every practice longer by so much"),
    ("8 players", "so many usually come"),
    ("give-and-go@live by 2027-03-01", "a goal due by another date, or by a game's id"),
    ("give-and-go@live should", "a goal made a must, should or could"),
    ("no pin give-and-go@live 2027-02-09", "take a pin out"),
    ("3 new skills", "so many introductions a practice, at most"),
    ("6 blocks", "so many blocks a practice, at most"),
    ("gap 1", "days between two blocks of a skill, at least"),
    ("spare 5", "percent of the minutes kept free"),
)
"""The forms understood: an example of each, and what it means."""

RANGES: dict[str, tuple[int, int]] = {
    "minutes": (15, 300),
    "more": (1, 120),
    "players": (1, 60),
    "new_skills": (1, 99),
    "blocks": (1, 99),
    "gap_days": (1, 60),
    "spare": (0, 90),
}
"""Smallest and largest number of each kind, as the season file allows it."""

MOST_DIGITS = 9
"""Digits of a number, at most; Python refuses to read one of thousands."""

DAY = r"(\d{4}-\d{1,2}-\d{1,2})"
STAGE = r"([a-z0-9-]+)@([a-z]+)"


class _RefusedError(ValueError):
    """A text that cannot be had: what is wrong, and the way out."""

    def __init__(self, says: str, way_out: str) -> None:
        self.says = says
        self.way_out = way_out
        super().__init__(says)


@dataclass(frozen=True)
class _Scene:
    """What the words of a change are held against."""

    season: Season
    library: Library
    gym: Gym


def parse(
    texts: Sequence[str], season: Season, library: Library, gym: Gym
) -> tuple[tuple[Change, ...], tuple[Problem, ...]]:
    """Return the changes that texts ask for, and a problem for each text that cannot be had."""
    scene = _Scene(season, library, gym)
    changes: list[Change] = []
    problems = []
    for number, text in enumerate(texts, start=1):
        try:
            changes.append(_change(scene, " ".join(text.lower().split())))
        except _RefusedError as refused:
            problem = Problem(PLACE, number, "", refused.says, text.strip(), refused.way_out)
            problems.append(problem)
    return tuple(changes), tuple(problems)


def _change(scene: _Scene, text: str) -> Change:
    for pattern, read in READERS:
        match = re.fullmatch(pattern, text)
        if match:
            return read(scene, *match.groups(default=""))
    raise _RefusedError("this is not understood", "`curriculum plan --help` lists what is")


def _day(text: str) -> dt.date:
    try:
        return dt.datetime.strptime(text, "%Y-%m-%d").replace(tzinfo=dt.UTC).date()
    except ValueError:
        way_out = "write year, month and day, as in 2027-02-09"
        raise _RefusedError(f"there is no date {text}", way_out) from None


def _day_within(scene: _Scene, text: str) -> dt.date:
    frame, day = scene.season.season, _day(text)
    if not frame.start <= day <= frame.end:
        way_out = f"it runs from {frame.start} to {frame.end}"
        raise _RefusedError("the date lies outside the season", way_out)
    return day


def _number(kind: str, text: str) -> int:
    least, most = RANGES[kind]
    if len(text) > MOST_DIGITS or not least <= int(text) <= most:
        raise _RefusedError("the number is out of range", f"write one from {least} to {most}")
    return int(text)


def _without(scene: _Scene, first: str, last: str) -> Change:
    return _held(scene, WithoutDates(_day(first), _day(last or first)))


def _without_weekday(scene: _Scene, name: str, first: str, last: str) -> Change:
    frame = scene.season.season
    weekday = next((day for day in WEEKDAYS if name in (day, f"{day}s", day[:3])), None)
    if weekday is None:
        plural = [f"{day}s" for day in WEEKDAYS]
        raise _RefusedError(
            "this is no weekday", suggest(name, plural, "write one, as in tuesdays")
        )
    start = _day(first) if first else frame.start
    return _held(scene, WithoutDates(start, _day(last) if last else frame.end, weekday))


def _held(scene: _Scene, change: WithoutDates) -> WithoutDates:
    """Return a change that takes some practice away; any other is refused."""
    held = sorted({practice.date for practice in scene.gym.practices})
    if any(
        change.first <= day <= change.last and change.weekday in (None, WEEKDAYS[day.weekday()])
        for day in held
    ):
        return change
    near = sorted(held, key=lambda day: (abs((day - change.first).days), day))[:2]
    way_out = f"practices near it: {', '.join(str(day) for day in sorted(near))}" if near else ""
    raise _RefusedError("no practice is held then", way_out)


def _extra(scene: _Scene, day: str, start: str, minutes: str, venue: str) -> Change:
    date, slots = _day_within(scene, day), scene.season.slot
    if not slots and not (start and minutes and venue):
        way_out = "write it whole, as in extra 2027-02-13 10:00 90 north-gym"
        raise _RefusedError("there is no slot to take time and gym from", way_out)
    gyms = tuple(each.id for each in scene.season.venue)
    if venue and venue not in gyms:
        raise _RefusedError("no gym has this id", suggest(venue, gyms, "add a [[venue]]"))
    return Extra(
        date=date,
        start=_clock(start) if start else slots[0].start,
        minutes=_number("minutes", minutes) if minutes else slots[0].minutes,
        venue=venue or slots[0].venue,
    )


def _clock(text: str) -> dt.time:
    hour, minute = (int(part) for part in text.split(":"))
    if hour > 23 or minute > 59:
        raise _RefusedError("this is no time of day", "write it as in 17:30")
    return dt.time(hour, minute)


def _minutes(_scene: _Scene, number: str) -> Change:
    return Minutes(_number("minutes", number))


def _more(_scene: _Scene, number: str) -> Change:
    return Minutes(_number("more", number), more=True)


def _players(_scene: _Scene, number: str) -> Change:
    return Players(_number("players", number))


def _limit(limit: Limit) -> "Callable[..., Change]":
    return lambda _scene, number: Teach(limit, _number(limit, number))


def _stage_of(scene: _Scene, skill: str, stage: str) -> Node:
    ids = [each.id for each in scene.library.skills]
    if skill not in ids:
        way_out = suggest(skill, ids, "write the id of a skill of the library")
        raise _RefusedError("no skill has this id", way_out)
    found: Stage | None = next((each for each in STAGES if each == stage), None)
    has = scene.library.skill(skill).stages
    if found is None or found not in has:
        raise _RefusedError(f"{skill} has no stage {stage}", f"it has {', '.join(has)}")
    return skill, found


def _goal(scene: _Scene, skill: str, stage: str) -> Node:
    node = _stage_of(scene, skill, stage)
    if not goals_on(scene.season, node):
        named = sorted({f"{goal.skill}@{goal.stage}" for goal in scene.season.goal})
        way_out = suggest(f"{skill}@{stage}", named, "the season names no goal")
        raise _RefusedError("the season has no goal on this stage", way_out)
    return node


def _goal_by(scene: _Scene, skill: str, stage: str, by: str) -> Change:
    node = _goal(scene, skill, stage)
    games = [game.id for game in scene.season.game]
    if by in games:
        return GoalBy(*node, by)
    if not re.fullmatch(DAY, by):
        says = "this is neither a date nor a game's id"
        raise _RefusedError(says, suggest(by, games, "write a date, as in 2027-03-01"))
    return GoalBy(*node, _day_within(scene, by))


def _goal_need(scene: _Scene, skill: str, stage: str, need: str) -> Change:
    needs: tuple[Importance, ...] = ("must", "should", "could")
    return GoalNeed(*_goal(scene, skill, stage), next(each for each in needs if each == need))


def _without_pin(scene: _Scene, skill: str, stage: str, day: str) -> Change:
    change = WithoutPin(*_stage_of(scene, skill, stage), _day(day))
    pins = [f"{pin.skill}@{pin.stage} {pin.date}" for pin in scene.season.pin]
    if f"{change.skill}@{change.stage} {change.date}" not in pins:
        way_out = f"the pins are {', '.join(pins)}" if pins else "the season has no pin"
        raise _RefusedError("there is no such pin", way_out)
    return change


READERS: tuple[tuple[str, "Callable[..., Change]"], ...] = (
    (rf"no (?:pin )?{STAGE}(?: on)? {DAY}", _without_pin),
    (rf"no {DAY}(?: to {DAY})?", _without),
    (rf"no ([a-z]+)(?: from {DAY})?(?: to {DAY})?", _without_weekday),
    (rf"extra {DAY}(?: (\d{{1,2}}:\d\d))?(?: (\d+))?(?: ([a-z0-9-]+))?", _extra),
    (r"(\d+) (?:minutes|min)", _minutes),
    (r"(\d+) (?:minutes more|more minutes)", _more),
    (r"(\d+) players?", _players),
    (rf"{STAGE} by ([a-z0-9-]+)", _goal_by),
    (rf"{STAGE} (must|should|could)", _goal_need),
    (r"(\d+) new skills?", _limit("new_skills")),
    (r"(\d+) blocks?", _limit("blocks")),
    (r"gap (\d+)(?: days?)?", _limit("gap_days")),
    (r"spare (\d+)", _limit("spare")),
)
"""How each form is read: its pattern, and the reader of its groups; a group left out is empty."""
