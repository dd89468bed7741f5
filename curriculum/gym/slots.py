"""The gym calendar of a season: which practices are held, which are not and why."""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from curriculum.gym.bookings import Booking, bookings_of
from curriculum.gym.clashes import clashes_of
from curriculum.gym.closures import (
    called_off_reason,
    closed_reason,
    closures_of,
    game_words,
    holiday_closures,
    lost_reason,
    public_holidays,
)
from curriculum.gym.ids import ids_of
from curriculum.gym.moves import apply_moves
from curriculum.gym.parts import parts_of, teaching_minutes, teaching_problem, usable_minutes
from curriculum.gym.practices import Former, Gym, Practice
from curriculum.gym.quiet import quiet_ids
from curriculum.models.gymtimes import Venue
from curriculum.models.plan import NotHeld
from curriculum.models.season import Season
from curriculum.problems import FaultyInputError, Problem
from curriculum.spans import week_of
from curriculum.wording import moment_words


def calendar_of(season: Season, former: Sequence[Former] = ()) -> Gym:
    """Return the dated practices of a season and every date that is not held, with its reason.

    former: practices of an older plan, whose ids live on where the same practice is meant.

    What decides whether a date is held, strongest first: no_practice, move, practice_on, closure,
    public holiday, game day, slot. An extra or moved practice in a closed gym is an error and not
    held. All times are wall-clock times in the season's zone.
    """
    planned, problems = bookings_of(season)
    bookings, move_problems = apply_moves(season, planned)
    names, holiday_problems = _holidays(season)
    found = [*problems, *move_problems, *holiday_problems]
    held: list[tuple[str, Booking]] = []
    not_held: list[NotHeld] = []
    for practice_id, booking in zip(ids_of(bookings, former), bookings, strict=True):
        if booking.date != booking.first.date:
            why = _moved_words(season, booking)
            not_held.append(NotHeld(id=practice_id, date=booking.first.date, why=why))
        lost = lost_reason(season, practice_id)
        reason, problem = (lost, None) if lost else _verdict(season, names, booking)
        if reason is None:
            held.append((practice_id, booking))
        else:
            not_held.append(NotHeld(id=practice_id, date=booking.date, why=reason))
        found += [] if problem is None else [problem]
    practices = _practices(season, held)
    found += clashes_of(season, [booking for _, booking in held])
    found += _teaching_problems(bookings)
    if not practices and not any(lost_reason(season, one.id) for one in not_held):
        found.append(_nothing_held(not_held))
    closures = (*closures_of(season), *holiday_closures(names))
    return Gym(
        practices=practices,
        not_held=tuple(sorted(not_held, key=lambda one: (one.date, one.id, one.why))),
        games=tuple(sorted(season.game, key=lambda game: (game.date, game.start, game.id))),
        closures=tuple(sorted(closures, key=lambda one: (one.from_, one.until, one.reason))),
        problems=tuple(dict.fromkeys(found)),
    )


def _holidays(season: Season) -> tuple[dict[dt.date, str], tuple[Problem, ...]]:
    """Return the public holidays that close the gym, and what is wrong with the table."""
    try:
        names = public_holidays(season)
    except FaultyInputError as fault:
        return {}, fault.problems
    closes = season.holidays is not None and season.holidays.close_gym
    return (names if closes else {}), ()


def _verdict(
    season: Season, holidays: Mapping[dt.date, str], booking: Booking
) -> tuple[str | None, Problem | None]:
    """Return why a booking is not held (None: it is), and what the coach should know about it."""
    day, key = booking.date, f"{booking.key}.date"
    called_off = called_off_reason(season, day)
    if called_off is not None:
        return f"no practice: {called_off}", None
    closed = closed_reason(closures_of(season), day, booking.venue)
    if closed is not None:
        why = f"gym closed: {closed}"
        way_out = "choose another date or gym, or shorten the closure"
        closed_says = f"{booking.venue} is closed on this date: {closed}"
        problem = Problem("", 0, key, closed_says, f"{day}", way_out)
        return why, problem if booking.dated else None
    game = None if season.teaching.practice_on_game_day else game_words(season.game, day)
    if day in holidays:
        why, way_out = f"public holiday: {holidays[day]}", "make sure that the gym is open"
    elif game is not None:
        why, way_out = f"game day: {game}", "make sure that the players can do both"
    else:
        return None, None
    if not booking.dated:
        return why, None
    return None, Problem("", 0, key, f"a practice on a {why}", f"{day}", way_out, "warning")


def _practices(season: Season, held: Iterable[tuple[str, Booking]]) -> tuple[Practice, ...]:
    practices = [_practice(season, practice_id, booking) for practice_id, booking in held]
    practices.sort(key=lambda one: (one.date, one.start, one.venue, one.id))
    quiet = season.teaching.quiet_before_game
    before_game = quiet_ids(practices, season.game) if quiet else frozenset()
    return tuple(replace(one, before_game=one.id in before_game) for one in practices)


def _practice(season: Season, practice_id: str, booking: Booking) -> Practice:
    parts = parts_of(booking.minutes, booking.parts)
    teaching = teaching_minutes(booking.minutes, parts)
    expected = season.team.usual if booking.expected is None else booking.expected
    return Practice(
        id=practice_id,
        date=booking.date,
        start=booking.start,
        end=booking.span.end.time(),
        minutes=booking.minutes,
        venue=booking.venue,
        court=booking.court,
        baskets=_baskets(season, booking),
        expected=expected,
        week=week_of(season.season.start, booking.date),
        warm_up=parts.warm_up,
        scrimmage=parts.scrimmage,
        cool_down=parts.cool_down,
        breaks=parts.breaks,
        break_minutes=parts.break_minutes,
        changeover=parts.changeover,
        teaching_minutes=teaching,
        usable_minutes=usable_minutes(teaching, season.teaching.spare),
    )


def _venue(season: Season, venue_id: str) -> Venue:
    """Return a gym; one that the season does not describe counts as a usual one."""
    named = (venue for venue in season.venue if venue.id == venue_id)
    return next(named, Venue(id=venue_id, name=venue_id))


def _baskets(season: Season, booking: Booking) -> int:
    stated = booking.baskets
    baskets = _venue(season, booking.venue).baskets if stated is None else stated
    # Half a court keeps a basket, unless the gym has none at all.
    return min(baskets, max(1, baskets // 2)) if booking.court == "half" else baskets


def _moved_words(season: Season, booking: Booking) -> str:
    moment = moment_words(booking.date, booking.start)
    elsewhere = booking.venue != booking.first.venue
    return f"moved to {moment}" + (f", {_venue(season, booking.venue).name}" if elsewhere else "")


def _teaching_problems(bookings: Iterable[Booking]) -> list[Problem]:
    """Return what is wrong with the teaching time, once for each table that states a gym time."""
    problems = []
    for key, booking in {one.key: one for one in bookings}.items():
        teaching = teaching_minutes(booking.minutes, parts_of(booking.minutes, booking.parts))
        problem = teaching_problem(f"{key}.minutes", booking.minutes, teaching)
        problems += [] if problem is None else [problem]
    return problems


def _nothing_held(not_held: Sequence[NotHeld]) -> Problem:
    if not_held:
        says = f"no practice is held: all {len(not_held)} planned dates are called off"
        way_out = "look at the closures, holidays and [[no_practice]] of the season"
    else:
        says, way_out = "the season has no practice", "add a [[slot]] or a [[practice_on]]"
    return Problem("", 0, "slot", says, "", way_out)
