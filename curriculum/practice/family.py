"""The dates that families need, by month: when and where, which games; nothing that is taught."""

import datetime as dt
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from curriculum.models.gymtimes import Venue
from curriculum.models.plan import Plan, PlannedGame, PlannedPractice
from curriculum.models.season import Season
from curriculum.practice.progress import in_order
from curriculum.spans import DAY, days_between
from curriculum.wording import DAYS, MONTHS, clock, counted, date_range, short_date

MOST_TIMES = 8
"""Gym times with a sign of their own; rarer ones share one."""

RARE = "*"


@dataclass(frozen=True)
class GymTime:
    """A time and place at which practices are held, under the sign that marks its days.

    when: `Wednesday, 17:30 to 18:45`; of a single practice `Wed 17 Mar, 17:30 to 18:45`.
    """

    sign: str
    when: str
    where: str


@dataclass(frozen=True)
class Day:
    """One day of a month; number 0 is a gap before the first or after the last."""

    number: int
    signs: str = ""
    game: str = ""
    closed: bool = False


@dataclass(frozen=True)
class Month:
    """A month with its weeks, Monday to Sunday."""

    name: str
    weeks: tuple[tuple[Day, ...], ...]


@dataclass(frozen=True)
class GameDate:
    """A game: side is H or A; place is "" when it is not known; note says when to be there."""

    when: str
    side: str
    against: str
    place: str
    note: str


@dataclass(frozen=True)
class FamilyDates:
    """A season's dates on one page."""

    team: str
    season: str
    dates: str
    counts: str
    months: tuple[Month, ...]
    times: tuple[GymTime, ...]
    games: tuple[GameDate, ...]
    closures: tuple[str, ...]


_Time = tuple[int, str, str, str]


def family_dates(plan: Plan, season: Season) -> FamilyDates:
    """Return the dates of a plan: no skill, no drill and no player's name stands in them."""
    venues = {venue.id: venue for venue in season.venue}
    practices = in_order(plan)
    signs = _signs(practices)
    games = sorted(plan.games, key=lambda game: (game.date, game.start, game.id))
    return FamilyDates(
        team=season.team.name,
        season=season.season.name,
        dates=date_range(season.season.start, season.season.end),
        counts=f"{counted(len(practices), 'practice')}, {counted(len(games), 'game')}",
        months=_months(plan, season, practices, signs),
        times=_times(practices, signs, venues),
        games=tuple(_game(game, venues) for game in games),
        closures=_closures(plan, venues),
    )


def _time(practice: PlannedPractice) -> _Time:
    start, end = clock(practice.start), clock(practice.end)
    return practice.date.weekday(), start, end, practice.venue


def _signs(practices: Sequence[PlannedPractice]) -> dict[_Time, str]:
    """Return a sign for each gym time, the most used ones numbered in order of the week."""
    counts = Counter(_time(practice) for practice in practices)
    kept = sorted(counts, key=lambda time: (-counts[time], time))
    regular = sorted(kept[:MOST_TIMES])
    signs = {time: str(place) for place, time in enumerate(regular, 1)}
    return signs | dict.fromkeys(kept[MOST_TIMES:], RARE)


def _times(
    practices: Sequence[PlannedPractice],
    signs: Mapping[_Time, str],
    venues: Mapping[str, Venue],
) -> tuple[GymTime, ...]:
    found: dict[str, GymTime] = {}
    for time in sorted(signs, key=lambda each: (signs[each] == RARE, signs[each], each)):
        weekday, start, end, venue = time
        dates = [practice.date for practice in practices if _time(practice) == time]
        day = short_date(dates[0]) if len(dates) == 1 else DAYS[weekday]
        when, where = f"{day}, {start} to {end}", _where(venue, venues)
        sign = signs[time]
        if sign in found:
            known = ", ".join(words for words in (found[sign].when, found[sign].where) if words)
            found[sign] = GymTime(sign, f"{known}; {when}, {where}", "")
        else:
            found[sign] = GymTime(sign, when, where)
    return tuple(found.values())


def _where(venue_id: str, venues: Mapping[str, Venue]) -> str:
    venue = venues.get(venue_id)
    if venue is None:
        return venue_id
    return f"{venue.name}, {venue.address}" if venue.address else venue.name


def _game(game: PlannedGame, venues: Mapping[str, Venue]) -> GameDate:
    place = _where(game.venue, venues) if game.venue else game.address or ""
    note = ""
    if game.arrive_before:
        start = dt.datetime.combine(game.date, game.start)
        early = start - dt.timedelta(minutes=game.arrive_before)
        note = f"be there at {clock(early.time())}"
    return GameDate(
        when=f"{short_date(game.date)}, {clock(game.start)}",
        side="H" if game.home else "A",
        against=game.opponent,
        place=place,
        note=note,
    )


def _months(
    plan: Plan,
    season: Season,
    practices: Sequence[PlannedPractice],
    signs: Mapping[_Time, str],
) -> tuple[Month, ...]:
    held: dict[dt.date, str] = {}
    for practice in practices:
        held[practice.date] = held.get(practice.date, "") + signs[_time(practice)]
    games: dict[dt.date, str] = {}
    for game in plan.games:
        games[game.date] = games.get(game.date, "") + ("H" if game.home else "A")
    shut = {absent.date for absent in plan.not_held}
    for closed in plan.closures:
        if closed.venue is None:
            shut.update(days_between(closed.from_, closed.until))
    first, last = season.season.start, season.season.end
    months: dict[tuple[int, int], list[Day]] = {}
    for date in days_between(first.replace(day=1), _month_end(last)):
        day = Day(date.day)
        if first <= date <= last:
            is_shut = date in shut and date not in held
            day = Day(date.day, held.get(date, ""), games.get(date, ""), is_shut)
        month = months.setdefault((date.year, date.month), [Day(0)] * date.weekday())
        month.append(day)
    return tuple(
        Month(f"{MONTHS[month - 1]} {year}", _weeks(days)) for (year, month), days in months.items()
    )


def _weeks(days: Sequence[Day]) -> tuple[tuple[Day, ...], ...]:
    whole = [*days, *[Day(0)] * (-len(days) % 7)]
    return tuple(tuple(whole[start : start + 7]) for start in range(0, len(whole), 7))


def _month_end(date: dt.date) -> dt.date:
    following = (date.replace(day=1) + 32 * DAY).replace(day=1)
    return following - DAY


def _closures(plan: Plan, venues: Mapping[str, Venue]) -> tuple[str, ...]:
    told = []
    for closed in plan.closures:
        venue = venues.get(closed.venue) if closed.venue else None
        where = f", {venue.name}" if venue else ""
        told.append(f"{date_range(closed.from_, closed.until)}: {closed.reason}{where}")
    return tuple(told)
