"""Half-open intervals and the weeks of a season; knows nothing of gyms or skills."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

DAY = timedelta(days=1)


@dataclass(frozen=True, order=True)
class Span:
    """The time from `start` up to but not including `end`; both on one clock.

    Two spans that only touch do not overlap.
    """

    start: datetime
    end: datetime

    def overlaps(self, other: "Span") -> bool:
        """Whether some moment lies inside both spans."""
        return self.start < other.end and other.start < self.end

    def contains(self, moment: datetime) -> bool:
        """Whether a moment lies inside; the start does, the end does not."""
        return self.start <= moment < self.end


def span_of(day: date, start: time, minutes: int) -> Span:
    """Return so many minutes from a start by the wall clock, on into the next day if need be."""
    begin = datetime.combine(day, start)
    return Span(begin, begin + timedelta(minutes=minutes))


def monday_of(day: date) -> date:
    """Return the Monday of the week that holds a date."""
    return day - timedelta(days=day.weekday())


def week_of(season_start: date, day: date) -> int:
    """Return the season's week of a date: Monday to Sunday, week 1 holds the start.

    A date before the season's first Monday gives 0 or less.
    """
    return (monday_of(day) - monday_of(season_start)).days // 7 + 1


def days_between(first: date, last: date) -> tuple[date, ...]:
    """Return every date from `first` to `last`, both included; empty when last is earlier."""
    return tuple(first + timedelta(days=n) for n in range((last - first).days + 1))
