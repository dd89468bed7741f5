"""Practices that the coach moves: which one is meant, and where it goes."""

from collections.abc import Sequence
from dataclasses import replace

from curriculum.gym.bookings import Booking, outside_problem
from curriculum.gym.closures import called_off_reason
from curriculum.models.gymtimes import Move
from curriculum.models.season import Season
from curriculum.problems import Problem
from curriculum.wording import short_date

NAMED_DATES = 2
"""How many of the nearest practice dates a message names."""


def apply_moves(
    season: Season, bookings: Sequence[Booking]
) -> tuple[tuple[Booking, ...], tuple[Problem, ...]]:
    """Return the bookings with every move carried out, in the same order, and what is wrong.

    A move names the date on which a practice was first planned, whatever closes the gym there;
    only what `[[no_practice]]` calls off cannot be moved. A faulty move leaves the practice alone.
    """
    moved = list(bookings)
    problems: list[Problem] = []
    for number, move in enumerate(season.move, start=1):
        key = f"move[{number}]"
        meant = [n for n, booking in enumerate(moved) if _is_meant(booking, move)]
        problem = _problem(season, key, move, moved, meant)
        if problem is None:
            moved[meant[0]] = _moved(moved[meant[0]], key, move)
        else:
            problems.append(problem)
    return tuple(moved), tuple(problems)


def _is_meant(booking: Booking, move: Move) -> bool:
    return booking.first.date == move.of.date and move.of.venue in (None, booking.first.venue)


def _moved(booking: Booking, key: str, move: Move) -> Booking:
    venue = booking.venue if move.venue is None else move.venue
    # The baskets that a slot states are those of its own gym.
    baskets = booking.baskets if venue == booking.venue else None
    return replace(
        booking,
        date=move.date,
        start=booking.start if move.start is None else move.start,
        minutes=booking.minutes if move.minutes is None else move.minutes,
        venue=venue,
        court=booking.court if move.court is None else move.court,
        baskets=baskets if move.baskets is None else move.baskets,
        expected=booking.expected if move.expected is None else move.expected,
        parts=(move, *booking.parts),
        moved_by=key,
    )


def _problem(
    season: Season, key: str, move: Move, bookings: Sequence[Booking], meant: Sequence[int]
) -> Problem | None:
    day, found = short_date(move.of.date), f"{move.of.date} {move.of.venue or ''}".strip()

    def fault(says: str, way_out: str) -> Problem:
        return Problem("", 0, f"{key}.of", says, found, way_out)

    reason = called_off_reason(season, move.of.date)
    if not meant:
        return fault(f"no practice stands on {day}", _nearest(season, move, bookings))
    if len(meant) > 1:
        return fault(f"more than one practice stands on {day}", _apart(move, bookings, meant))
    if reason is not None:
        return fault(
            f"the practice on {day} is called off by [[no_practice]]: {reason}",
            "leave one of the two out, or add a [[practice_on]] instead",
        )
    if earlier := bookings[meant[0]].moved_by:
        return fault(f"{earlier} moves the same practice", "keep only one of the two")
    if not season.season.start <= move.date <= season.season.end:
        return outside_problem(season, f"{key}.date", move.date)
    return None


def _nearest(season: Season, move: Move, bookings: Sequence[Booking]) -> str:
    for booking in bookings:
        if booking.moved_by and booking.date == move.of.date:
            return f"{booking.moved_by} brings one there, change that one instead"
    same_day = sorted({one.first.venue for one in bookings if one.first.date == move.of.date})
    if same_day:
        return f"that date has a practice in {', '.join(same_day)}"
    near = sorted(
        {
            (abs((one.first.date - move.of.date).days), one.first.date)
            for one in bookings
            if called_off_reason(season, one.first.date) is None
        }
    )
    dates = " and ".join(short_date(day) for day in sorted(day for _, day in near[:NAMED_DATES]))
    return f"the nearest practices are on {dates}" if dates else "add a [[slot]] first"


def _apart(move: Move, bookings: Sequence[Booking], meant: Sequence[int]) -> str:
    venues = sorted({bookings[n].first.venue for n in meant})
    if len(venues) > 1:
        return f'write of = {{ date = {move.of.date}, venue = "{venues[0]}" }} or another of ' + (
            ", ".join(venues)
        )
    return (
        "both are in one gym: split one of the slots by until and from, and add a [[practice_on]]"
    )
