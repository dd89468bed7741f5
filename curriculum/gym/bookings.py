"""The gym times of a season written out date by date, before anything calls them off."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass

from curriculum.gym.practices import At
from curriculum.models.gymtimes import WEEKDAYS, GymTime, Parts, PracticeOn, Slot
from curriculum.models.season import Season
from curriculum.models.skills import Court
from curriculum.problems import Problem
from curriculum.spans import Span, days_between, monday_of, span_of
from curriculum.wording import moment_words


@dataclass(frozen=True)
class Booking:
    """One gym time on one date.

    source: the table that it comes from, such as `slot[2]`, counted from 1.
    weekly: it comes from a slot.
    first: where and when it was planned before any move.
    parts: what was set about the fixed parts, the most specific first.
    moved_by: the table that moved it, such as `move[1]`, else "".
    """

    source: str
    weekly: bool
    first: At
    date: dt.date
    start: dt.time
    minutes: int
    venue: str
    court: Court
    baskets: int | None
    expected: int | None
    parts: tuple[Parts, ...]
    moved_by: str = ""

    @property
    def key(self) -> str:
        """The table to blame when something is wrong with it."""
        return self.moved_by or self.source

    @property
    def at(self) -> At:
        """Where and when it stands now."""
        return At(self.date, self.start, self.venue)

    @property
    def dated(self) -> bool:
        """Whether the coach asked for this very date."""
        return not self.weekly or bool(self.moved_by)

    @property
    def span(self) -> Span:
        """Its time by the wall clock."""
        return span_of(self.date, self.start, self.minutes)

    @property
    def words(self) -> str:
        """It as a coach would say it: `Wed 13 Jan 17:30-18:45 in north-gym`."""
        return f"{moment_words(self.date, self.start)}-{self.span.end:%H:%M} in {self.venue}"


def bookings_of(season: Season) -> tuple[tuple[Booking, ...], tuple[Problem, ...]]:
    """Return every gym time within the season in order of date and start, and what is wrong.

    The order does not depend on the order of tables in the file. An extra practice outside the
    season is left out and reported.
    """
    bookings: list[Booking] = []
    problems: list[Problem] = []
    for number, slot in enumerate(season.slot, start=1):
        source = f"slot[{number}]"
        bookings += [_booking(season, source, slot, day) for day in _slot_dates(season, slot)]
    for number, extra in enumerate(season.practice_on, start=1):
        source = f"practice_on[{number}]"
        if season.season.start <= extra.date <= season.season.end:
            bookings.append(_booking(season, source, extra, extra.date))
        else:
            problems.append(outside_problem(season, f"{source}.date", extra.date))
    return tuple(sorted(bookings, key=_order)), tuple(problems)


def outside_problem(season: Season, key: str, day: dt.date) -> Problem:
    """Return the problem of a date that the season does not hold."""
    frame = season.season
    says = f"the date lies outside the season, which runs from {frame.start} to {frame.end}"
    return Problem("", 0, key, says, f"{day}", "change the date, or the season's start or end")


def _slot_dates(season: Season, slot: Slot) -> Iterator[dt.date]:
    frame = season.season
    first_week = monday_of(slot.from_ or frame.start)
    begin = max(frame.start, slot.from_ or frame.start)
    end = min(frame.end, slot.until or frame.end)
    for day in days_between(begin, end):
        weeks = (monday_of(day) - first_week).days // 7
        if WEEKDAYS[day.weekday()] == slot.weekday and weeks % slot.every == 0:
            yield day


def _booking(season: Season, source: str, time: GymTime, day: dt.date) -> Booking:
    return Booking(
        source=source,
        weekly=not isinstance(time, PracticeOn),
        first=At(day, time.start, time.venue),
        date=day,
        start=time.start,
        minutes=time.minutes,
        venue=time.venue,
        court=time.court,
        baskets=time.baskets,
        expected=time.expected,
        parts=(time, season.practice),
    )


def _order(booking: Booking) -> tuple[At, bool, str]:
    # Two gym times at one moment in one gym are a fault, but even then file order must not matter.
    return booking.at, not booking.weekly, repr(booking.parts)
