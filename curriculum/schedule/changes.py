"""Changes to a season that can be tried: as data, in words, and made without writing anything."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

from curriculum.graph import Node
from curriculum.models.gymtimes import WEEKDAYS, Move, NoPractice, PracticeOn, Slot, Weekday
from curriculum.models.season import Goal, Importance, Pin, Season
from curriculum.models.skills import Stage
from curriculum.schedule.explain.words import Names
from curriculum.spans import days_between
from curriculum.wording import counted, game_against, short_date

Limit = Literal["new_skills", "blocks", "gap_days", "spare"]

REASON = "what if"
"""Why a practice is not held that a change takes away."""


@dataclass(frozen=True)
class WithoutDates:
    """No practice from `first` to `last`, both included; on one weekday only when it is given."""

    first: dt.date
    last: dt.date
    weekday: Weekday | None = None


@dataclass(frozen=True)
class Extra:
    """One more practice; minutes are those of the whole slot."""

    date: dt.date
    start: dt.time
    minutes: int
    venue: str


@dataclass(frozen=True)
class Minutes:
    """Every practice lasts so many minutes, or, with `more`, so many more than now."""

    minutes: int
    more: bool = False


@dataclass(frozen=True)
class Players:
    """So many players usually come, to every practice."""

    players: int


@dataclass(frozen=True)
class GoalBy:
    """The goals on a stage are due by another date, or by a game's id."""

    skill: str
    stage: Stage
    by: dt.date | str


@dataclass(frozen=True)
class GoalNeed:
    """The goals on a stage are more or less important."""

    skill: str
    stage: Stage
    need: Importance


@dataclass(frozen=True)
class Teach:
    """A limit of the `[teaching]` table has another value."""

    limit: Limit
    value: int


@dataclass(frozen=True)
class WithoutPin:
    """The pins of a stage on a date are taken out."""

    skill: str
    stage: Stage
    date: dt.date


Change: TypeAlias = (
    WithoutDates | Extra | Minutes | Players | GoalBy | GoalNeed | Teach | WithoutPin
)


def apply(season: Season, changes: Iterable[Change]) -> Season:
    """Return the season with changes made one after another; the season given stays as it is."""
    for change in changes:
        season = _applied(season, change)
    return season


def _applied(season: Season, change: Change) -> Season:
    match change:
        case WithoutDates():
            entries = (*season.no_practice, *_called_off(season, change))
            return season.model_copy(update={"no_practice": entries})
        case Extra(date, start, minutes, venue):
            one = PracticeOn(date=date, start=start, minutes=minutes, venue=venue)
            return season.model_copy(update={"practice_on": (*season.practice_on, one)})
        case Minutes():
            return _lengthened(season, change)
        case Players(players):
            return _expecting(season, players)
        case GoalBy(skill, stage, by):
            return _with_goals(season, (skill, stage), by=by)
        case GoalNeed(skill, stage, need):
            return _with_goals(season, (skill, stage), need=need)
        case Teach(limit, value):
            teaching = season.teaching.model_copy(update={limit: value})
            return season.model_copy(update={"teaching": teaching})
        case WithoutPin():
            pins = tuple(pin for pin in season.pin if not _meant(change, pin))
            return season.model_copy(update={"pin": pins})


def _called_off(season: Season, change: WithoutDates) -> list[NoPractice]:
    if change.weekday is None:
        return [NoPractice(from_=change.first, until=change.last, reason=REASON)]
    last = min(change.last, season.season.end)
    return [
        NoPractice(date=day, reason=REASON)
        for day in days_between(change.first, last)
        if WEEKDAYS[day.weekday()] == change.weekday
    ]


def _lengthened(season: Season, change: Minutes) -> Season:
    def longer(time: Slot | PracticeOn | Move) -> Slot | PracticeOn | Move:
        if time.minutes is None:
            return time
        minutes = time.minutes + change.minutes if change.more else change.minutes
        return time.model_copy(update={"minutes": minutes})

    return season.model_copy(
        update={
            key: tuple(longer(time) for time in getattr(season, key))
            for key in ("slot", "practice_on", "move")
        }
    )


def _expecting(season: Season, players: int) -> Season:
    update: dict[str, object] = {
        key: tuple(time.model_copy(update={"expected": None}) for time in getattr(season, key))
        for key in ("slot", "practice_on", "move")
    }
    most = max(season.team.players, players)
    update["team"] = season.team.model_copy(update={"expected": players, "players": most})
    return season.model_copy(update=update)


def _with_goals(season: Season, node: Node, **update: object) -> Season:
    goals = tuple(
        goal.model_copy(update=update) if (goal.skill, goal.stage) == node else goal
        for goal in season.goal
    )
    return season.model_copy(update={"goal": goals})


def _meant(change: WithoutPin, pin: Pin) -> bool:
    return (pin.skill, pin.stage, pin.date) == (change.skill, change.stage, change.date)


def goals_on(season: Season, node: Node) -> tuple[Goal, ...]:
    """Return the goals that a season sets on a stage."""
    return tuple(goal for goal in season.goal if (goal.skill, goal.stage) == node)


def change_words(change: Change, season: Season, names: Names) -> str:
    """Return a change to this season as the start of a sentence, in lower case."""
    match change:
        case WithoutDates(first, last, weekday):
            return _without_words(first, last, weekday)
        case Extra(date, start, minutes, venue):
            gym = next((each.name for each in season.venue if each.id == venue), venue)
            when = f"{short_date(date)} at {start:%H:%M}"
            return f"one more practice on {when} ({minutes} minutes, {gym})"
        case Minutes(minutes, more):
            return (
                f"{minutes} minutes more per practice" if more else f"{minutes} minutes a practice"
            )
        case Players(players):
            return f"{players} players at every practice"
        case GoalBy(skill, stage, by):
            return f"moving {names.stage((skill, stage))} to {_due_words(by, season)}"
        case GoalNeed(skill, stage, need):
            return f"making {names.stage((skill, stage))} a {need}-goal"
        case Teach(limit, value):
            return _limit_words(limit, value, getattr(season.teaching, limit))
        case WithoutPin(skill, stage, date):
            return f"without the pin of {names.stage((skill, stage))} on {short_date(date)}"


def _due_words(by: dt.date | str, season: Season) -> str:
    if isinstance(by, dt.date):
        return short_date(by)
    game = season.game_named(by)
    return game_against(game.opponent, game.date)


def _limit_words(limit: Limit, now: int, was: int) -> str:
    if limit == "spare":
        return f"{now} % of the minutes kept free instead of {was} %"
    if limit == "gap_days":
        return f"{counted(now, 'day')} instead of {was} between two blocks of a skill"
    what = "new skill" if limit == "new_skills" else "block"
    return f"{counted(now, what)} a practice instead of {was}"


def _without_words(first: dt.date, last: dt.date, weekday: Weekday | None) -> str:
    what = f"{weekday.title()}s" if weekday else "practice"
    if first == last:
        return f"no {what} on {short_date(first)}"
    return f"no {what} from {short_date(first)} to {short_date(last)}"
