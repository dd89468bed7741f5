"""What is wrong or odd about the gym times that are held: overlaps, midnight, clock changes."""

import datetime as dt
from collections.abc import Iterable, Sequence
from typing import Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from curriculum.gym.bookings import Booking, outside_problem
from curriculum.models.season import Season
from curriculum.problems import Problem
from curriculum.spans import span_of
from curriculum.wording import moment_words

ClockFault = Literal["missing", "twice"]

CLOCK_WORDS: dict[ClockFault, str] = {
    "missing": "the clock skips this time, because summer time begins",
    "twice": "the clock shows this time twice, because summer time ends",
}


def clashes_of(season: Season, held: Sequence[Booking]) -> tuple[Problem, ...]:
    """Return the faults of the bookings that are held and of the games, errors and warnings.

    What a weekly gym time does on many dates is reported once, at its first date.
    """
    return (
        *_overlaps(held),
        *_past_midnight(held),
        *_games(season, held),
        *_clock_changes(season, held),
    )


def clock_fault(zone: ZoneInfo, moment: dt.datetime) -> ClockFault | None:
    """Return whether a wall-clock time without a zone does not exist there, or exists twice."""
    first = moment.replace(tzinfo=zone, fold=0)
    if first.utcoffset() == first.replace(fold=1).utcoffset():
        return None
    back = first.astimezone(dt.UTC).astimezone(zone).replace(tzinfo=None, fold=0)
    return "twice" if back == moment else "missing"


def _overlaps(held: Sequence[Booking]) -> list[Problem]:
    in_order = sorted(held, key=lambda booking: (booking.at, booking.key))
    problems: dict[frozenset[str], Problem] = {}
    for number, one in enumerate(in_order):
        for other in in_order[number + 1 :]:
            if other.date != one.date:
                break
            pair = frozenset((one.key, other.key))
            if one.span.overlaps(other.span) and pair not in problems:
                problems[pair] = _overlap(one, other)
    return list(problems.values())


def _overlap(one: Booking, other: Booking) -> Problem:
    if one.venue == other.venue:
        way_out = "change the time of one, or cut it short"
    else:
        way_out = "one team cannot be in two gyms: change the time of one, or call it off"
    says = f"{other.words} overlaps {one.key}, {one.words}"
    return Problem("", 0, f"{other.key}.start", says, f"{other.start:%H:%M}", way_out)


def _past_midnight(held: Iterable[Booking]) -> list[Problem]:
    problems: dict[str, Problem] = {}
    for booking in held:
        if booking.span.end.date() != booking.date:
            problems.setdefault(
                booking.key,
                Problem(
                    "",
                    0,
                    f"{booking.key}.minutes",
                    f"a practice from {booking.start:%H:%M} would not end before midnight",
                    f"{booking.minutes}",
                    "start earlier or make it shorter",
                ),
            )
    return list(problems.values())


def _games(season: Season, held: Iterable[Booking]) -> list[Problem]:
    problems = []
    for number, game in enumerate(season.game, start=1):
        key = f"game[{number}]"
        if not season.season.start <= game.date <= season.season.end:
            problems.append(outside_problem(season, f"{key}.date", game.date))
        problems += [
            Problem(
                "",
                0,
                f"{key}.start",
                f"the game overlaps a practice: {booking.key}, {booking.words}",
                moment_words(game.date, game.start),
                "move the practice, or call it off with [[no_practice]]",
                "warning",
            )
            for booking in held
            if booking.span.overlaps(span_of(game.date, game.start, game.minutes))
        ]
    return problems


def _clock_changes(season: Season, held: Iterable[Booking]) -> list[Problem]:
    name = season.season.timezone
    try:
        zone = ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        way_out = "write a name of the IANA time zone database, such as Europe/Dublin"
        return [Problem("", 0, "season.timezone", "no such time zone", name, way_out)]
    starts = [(f"{booking.key}.start", booking.span.start) for booking in held]
    starts += [
        (f"game[{number}].start", span_of(game.date, game.start, game.minutes).start)
        for number, game in enumerate(season.game, start=1)
    ]
    return [
        Problem(
            "",
            0,
            key,
            CLOCK_WORDS[fault],
            moment_words(start.date(), start.time()),
            "choose another time for this date",
            "warning",
        )
        for key, start in starts
        if (fault := clock_fault(zone, start)) is not None
    ]
