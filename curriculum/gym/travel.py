"""What a team cannot do on one day: two games at once, or the way from one place to the next."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, pairwise

from curriculum.gym.bookings import bookings_of
from curriculum.gym.closures import closed_reason
from curriculum.gym.moves import apply_moves
from curriculum.gym.practices import Gym
from curriculum.models.season import Game, Season
from curriculum.problems import Problem
from curriculum.spans import Span, span_of


@dataclass(frozen=True)
class Stay:
    """A practice or game as the team's day has it.

    key: the table to blame, such as `game[2]`. words: it as a coach would say it.
    there: when players must be there.
    place: where it is; None when the season does not say.
    """

    key: str
    words: str
    span: Span
    there: dt.datetime
    place: str | None
    is_game: bool


def travel_problems(season: Season, gym: Gym) -> tuple[Problem, ...]:
    """Return warnings about games that overlap, ways that are too short, games in closed gyms.

    What a weekly gym time does on many dates is reported once, at its first date. Games and
    practices that overlap are the business of `clashes`.
    """
    stays = sorted(_stays(season, gym), key=lambda stay: (stay.span, stay.key))
    games = [stay for stay in stays if stay.is_game]
    found: dict[frozenset[str], Problem] = {}
    pairs = [(one, other, _overlap(one, other)) for one, other in combinations(games, 2)]
    pairs += [(one, other, _way(season, one, other)) for one, other in pairwise(stays)]
    for one, other, problem in pairs:
        if problem is not None:
            found.setdefault(frozenset((one.key, other.key)), problem)
    return (*found.values(), *_places(season, gym))


def _stays(season: Season, gym: Gym) -> Iterator[Stay]:
    held = {(practice.date, practice.start, practice.venue) for practice in gym.practices}
    bookings, _ = apply_moves(season, bookings_of(season)[0])
    for booking in bookings:
        if tuple(booking.at) in held:
            span = booking.span
            yield Stay(booking.key, booking.words, span, span.start, booking.venue, is_game=False)
    for number, game in enumerate(season.game, start=1):
        yield _game_stay(season, f"game[{number}]", game)


def _game_stay(season: Season, key: str, game: Game) -> Stay:
    early = season.calendar_out.arrive_before if game.arrive_before is None else game.arrive_before
    span = span_of(game.date, game.start, game.minutes)
    there = span.start - dt.timedelta(minutes=early or 0)
    place = game.venue or game.address or (None if game.home else f"at {game.opponent}")
    words = f"the game against {game.opponent}, {span.start:%H:%M}-{span.end:%H:%M}"
    return Stay(key, words, span, there, place, is_game=True)


def _overlap(one: Stay, other: Stay) -> Problem | None:
    if not one.span.overlaps(other.span):
        return None
    says = f"{other.words}, overlaps {one.words} ({one.key})"
    way_out = "ask the league to move one of the two"
    found = f"{other.span.start:%H:%M}"
    return Problem("", 0, f"{other.key}.start", says, found, way_out, "warning")


def _way(season: Season, one: Stay, other: Stay) -> Problem | None:
    """Return the warning that there is too little time between two stays in different places."""
    same_day = one.span.start.date() == other.span.start.date()
    if not same_day or one.span.overlaps(other.span):
        return None
    wanted = season.calendar_out.travel_minutes
    gap = int((other.there - one.span.end).total_seconds()) // 60
    if one.place is None or other.place is None or one.place == other.place or gap >= wanted:
        return None
    says = f"too little time from {one.place} ({one.words}) to {other.place} ({other.words})"
    way_out = f"move one of the two, or set calendar_out.travel_minutes below {wanted}"
    found = f"{max(gap, 0)} minutes"
    return Problem("", 0, f"{other.key}.start", says, found, way_out, "warning")


def _places(season: Season, gym: Gym) -> Iterator[Problem]:
    venues = {venue.id for venue in season.venue}
    for number, game in enumerate(season.game, start=1):
        if game.venue is None:
            continue
        key = f"game[{number}]"
        if game.venue not in venues:
            way_out = f"write one of {', '.join(sorted(venues))}, or address = for another place"
            yield Problem("", 0, f"{key}.venue", "there is no such gym", game.venue, way_out)
        reason = closed_reason(gym.closures, game.date, game.venue)
        if reason is not None:
            says = f"{game.venue} is closed on the date of this game: {reason}"
            way_out = "make sure that the game is held"
            yield Problem("", 0, f"{key}.date", says, f"{game.date}", way_out, "warning")
