"""The children's weekly load in hours, and rest days, against published youth guidance."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from curriculum.club.rulesets import RULE_SETS, RuleSet, rule_set
from curriculum.gym.practices import Gym
from curriculum.models.record import Record
from curriculum.models.season import Season
from curriculum.spans import days_between, monday_of, week_of
from curriculum.wording import counted, listed

WEEK = 7

LABELS = {
    "nba-usab": "NBA and USA Basketball",
    "nata": "National Athletic Trainers' Association",
    "aap": "American Academy of Pediatrics",
}
"""The bodies behind the rules, as sentences name them."""

CAUTIONS = (
    "These are recommendations for groups of children, no diagnosis of any child.",
    "Local rules and medical professionals come first: ask them when a child is tired or hurt.",
    "Only this team's practices and games are counted: what children do elsewhere comes on top.",
)


@dataclass(frozen=True)
class Asks:
    """What one body asks for at the youngest player's age; None where it says nothing.

    hours: most a week, practices and games together. rest: fewest days a week without.
    months: most a year.
    """

    name: str
    source: str
    certainty: str
    hours: int | None
    rest: int | None
    months: int | None

    @property
    def says(self) -> str:
        """What is asked of a week, in words."""
        words = []
        if self.hours is not None:
            words.append(f"at most {counted(self.hours, 'hour')} a week")
        if self.rest is not None:
            words.append(f"at least {counted(self.rest, 'day')} a week without")
        return listed(words) or "nothing of a week"


@dataclass(frozen=True)
class WeekLoad:
    """One week, Monday to Sunday.

    minutes: of practices as recorded, else as planned, and of games as in the calendar.
    recorded: how many of the practices are. rest: days without either.
    past: whether all of it lies before today. faults: what is more or less than asked, in words.
    """

    number: int
    monday: dt.date
    practices: int
    games: int
    recorded: int
    minutes: int
    rest: int
    past: bool
    faults: tuple[str, ...]


@dataclass(frozen=True)
class Load:
    """The load of a season. asks: by the rules chosen, None when they say nothing of this age.

    conflicts: where bodies ask for different things, one sentence each.
    """

    youngest: int
    asks: Asks | None
    others: tuple[Asks, ...]
    conflicts: tuple[str, ...]
    weeks: tuple[WeekLoad, ...]
    months: str
    cautions: tuple[str, ...]


def load(season: Season, gym: Gym, record: Record, today: dt.date) -> Load:
    """Return the load of every week of a season, past and to come.

    The youngest player's age decides what is asked.
    """
    youngest = min(season.team.ages)
    chosen = _asks(rule_set(season.load.rules), youngest)
    others = [_asks(each, youngest) for each in RULE_SETS if each.name != season.load.rules]
    others = [each for each in others if each is not None]
    told = tuple(each for each in others if each)
    return Load(
        youngest=youngest,
        asks=chosen,
        others=told,
        conflicts=tuple(_conflicts([*([chosen] if chosen else []), *told])),
        weeks=tuple(_weeks(season, gym, record, today, chosen)),
        months=_months(season, chosen),
        cautions=CAUTIONS,
    )


def _asks(rules: RuleSet, age: int) -> Asks | None:
    """Return what rules ask at an age; None when they say nothing about load."""
    band = next((each for each in rules.bands if age <= each.ages[1]), None)
    if band is None:
        return None
    hours = age if rules.hours_by_age else band.hours
    if (hours, band.rest, band.months) == (None, None, None):
        return None
    label = LABELS.get(rules.name, rules.name)
    return Asks(label, rules.source, rules.certainty, hours, band.rest, band.months)


def _conflicts(asks: Sequence[Asks]) -> Iterator[str]:
    for what, values in (
        ("rest days a week, at least", [(each.name, each.rest) for each in asks]),
        ("hours a week, at most", [(each.name, each.hours) for each in asks]),
        ("months a year, at most", [(each.name, each.months) for each in asks]),
    ):
        said = [(name, value) for name, value in values if value is not None]
        if len({value for _, value in said}) > 1:
            yield f"{what}: {', '.join(f'{name} {value}' for name, value in said)}"


def _weeks(
    season: Season, gym: Gym, record: Record, today: dt.date, asks: Asks | None
) -> Iterator[WeekLoad]:
    frame = season.season
    really = {entry.practice: entry.really for entry in record.entries}
    first = monday_of(frame.start)
    for number in range(1, week_of(frame.start, frame.end) + 1):
        monday = first + dt.timedelta(weeks=number - 1)
        days = days_between(monday, monday + dt.timedelta(days=WEEK - 1))
        practices = [each for each in gym.practices if each.date in days]
        games = [each for each in gym.games if each.date in days]
        minutes = sum(really.get(each.id, each.minutes) for each in practices)
        minutes += sum(game.minutes for game in games)
        busy = {each.date for each in practices} | {game.date for game in games}
        yield WeekLoad(
            number=number,
            monday=monday,
            practices=len(practices),
            games=len(games),
            recorded=sum(each.id in really for each in practices),
            minutes=minutes,
            rest=WEEK - len(busy),
            past=days[-1] < today,
            faults=tuple(_faults(asks, minutes, WEEK - len(busy))),
        )


def _faults(asks: Asks | None, minutes: int, rest: int) -> Iterator[str]:
    if asks and asks.hours is not None and minutes > asks.hours * 60:
        yield f"more than {asks.hours} hours"
    if asks and asks.rest is not None and rest < asks.rest:
        yield f"{counted(rest, 'rest day')}, {asks.rest} are asked for"


def _months(season: Season, asks: Asks | None) -> str:
    """Return how the season's length stands to the months a year; "" when nobody says."""
    if asks is None or asks.months is None:
        return ""
    days = (season.season.end - season.season.start).days + 1
    tenths = days * 120 // 365
    length = f"{tenths // 10}.{tenths % 10} months"
    says = f"this season lasts {length}, at most {asks.months} months a year are asked for"
    return f"{says}, all seasons and teams together"
