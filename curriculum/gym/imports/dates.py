"""Dates and times of day as people type them; what could be two dates is never guessed."""

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.models.calendars import DateOrder
from curriculum.models.gymtimes import WEEKDAYS
from curriculum.wording import MONTHS

NUMBERS = re.compile(r"(\d{1,4})\s*[-/.\s]\s*(\d{1,2})\s*[-/.\s]\s*(\d{1,4})\.?(?:[Tt ]\d.*)?")
DAY_MONTH = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|\.)?[\s-]*([a-z]{3,9})\.?,?(?:[\s-]*(\d{4}|\d{2}))?"
)
MONTH_DAY = re.compile(r"([a-z]{3,9})\.?\s*(\d{1,2})(?:st|nd|rd|th)?,?(?:\s*(\d{4}|\d{2}))?")
CLOCK = re.compile(r"(\d{1,2})(?:\s*[:.h]\s*(\d{2})(?::\d{2})?)?\s*([ap])?\.?(?:m\.?)?")
TO = re.compile(r"\s*(?:-|–|—|\bto\b|\buntil\b)\s*")


@dataclass(frozen=True)
class Dates:
    """What one text can mean: the possible dates by the order of day and month that they take."""

    text: str
    by_order: dict[DateOrder, dt.date]
    weekday: int | None = None

    @property
    def meanings(self) -> tuple[dt.date, ...]:
        """Every date that it can mean, earliest first."""
        return tuple(sorted(set(self.by_order.values())))


class DateError(ValueError):
    """A text is no date or no time of day; the message says why, as the end of a sentence."""


def possible_dates(text: str, first: dt.date, last: dt.date) -> Dates:
    """Return every date that a text can mean.

    first, last: the season's dates, which give a date its year where it states none. A weekday in
    the text settles the order of day and month where only one order agrees with it.

    Raises:
        DateError: It means no date, or its weekday agrees with none.

    """
    plain, weekday = _without_weekday(" ".join(text.lower().replace(",", " ").split()))
    found = _by_name(plain, first, last) or _by_number(plain)
    if not found:
        raise DateError(f"{text[:40]!r} is no date")
    if weekday is not None:
        agreeing = {order: day for order, day in found.items() if day.weekday() == weekday}
        if not agreeing:
            day = next(iter(found.values()))
            actual = WEEKDAYS[day.weekday()].title()
            raise DateError(f"{text[:40]!r} contradicts itself: {day} is a {actual}")
        found = agreeing
    return Dates(text, found, weekday)


def order_of(column: Iterable[Dates]) -> tuple[DateOrder | None, Dates | None]:
    """Return the one order of day and month that a column of dates allows.

    The second value is a date that stays open: with it, the first is None. An order that some date
    of the column rules out is ruled out for all of them, since a table is written in one.
    """
    orders: set[DateOrder] = {"day-first", "month-first", "year-first"}
    unclear = None
    for dates in column:
        orders &= set(dates.by_order)
        if len(dates.meanings) > 1 and unclear is None:
            unclear = dates
    if unclear is None:
        return (min(orders) if orders else None), None
    fitting = {unclear.by_order[order] for order in orders}
    if len(fitting) == 1:
        return min(orders), None
    return None, unclear


def _without_weekday(text: str) -> tuple[str, int | None]:
    word, _, rest = text.partition(" ")
    word = word.rstrip(".")
    for number, name in enumerate(WEEKDAYS):
        if len(word) >= 2 and word.isalpha() and name.startswith(word):
            return rest.strip(), number
    return text, None


def _by_name(text: str, first: dt.date, last: dt.date) -> dict[DateOrder, dt.date]:
    for pattern, day_at, month_at in ((DAY_MONTH, 1, 2), (MONTH_DAY, 2, 1)):
        match = pattern.fullmatch(text)
        months = _months(match[month_at]) if match else []
        if match is None or len(months) != 1:
            continue
        years = [_year(match[3])] if match[3] else range(first.year, last.year + 1)
        days = [day for year in years if (day := _date(year, months[0], int(match[day_at])))]
        if not match[3]:
            days = [day for day in days if first <= day <= last] or days[:1]
        if len(days) == 1:
            return dict.fromkeys(("day-first", "month-first", "year-first"), days[0])
    return {}


def _by_number(text: str) -> dict[DateOrder, dt.date]:
    match = NUMBERS.fullmatch(text)
    if match is None:
        return {}
    one, two, three = match[1], match[2], match[3]
    readings: dict[DateOrder, tuple[str, str, str]] = {}
    if len(one) in (2, 4) and len(three) <= 2:
        readings["year-first"] = (one, two, three)
    if len(one) <= 2 and len(three) in (2, 4):
        readings["day-first"] = (three, two, one)
        readings["month-first"] = (three, one, two)
    return {
        order: day
        for order, (year, month, number) in readings.items()
        if (day := _date(_year(year), int(month), int(number)))
    }


def _months(word: str) -> list[int]:
    found = [number for number, name in enumerate(MONTHS, start=1) if name.lower().startswith(word)]
    return [9] if word == "sept" else found


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def _date(year: int, month: int, day: int) -> dt.date | None:
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None


def clock_times(text: str) -> tuple[dt.time, dt.time | None]:
    """Return a time of day, and the end where the text states a span: `5:30-7 pm`, `11-1pm`.

    Of a span that says am or pm once, the other end is the one that makes the span shortest.

    Raises:
        DateError: It is no time of day.

    """
    parts = TO.split(" ".join(text.lower().split()))
    says_half = any((match := CLOCK.fullmatch(part)) and match[3] for part in parts)
    ends = [_clocks(part, open_half=says_half) for part in parts]
    if len(parts) == 1 and len(ends[0]) == 1:
        return ends[0][0], None
    spans = [(a, b) for a in ends[0] for b in ends[-1] if a < b] if len(parts) == 2 else []
    if not spans or min(map(len, ends)) > 1:
        raise DateError(f"{text[:40]!r} is no time of day")
    return min(spans, key=lambda span: _minutes(span[1]) - _minutes(span[0]))


def _clocks(text: str, *, open_half: bool) -> list[dt.time]:
    """Return the times of day that a text can mean: two for a bare hour such as `7`.

    open_half: the other end of the span says am or pm, so that `5:30` too has two meanings.
    """
    if text in ("noon", "midday"):
        return [dt.time(12)]
    match = CLOCK.fullmatch(text)
    if match is None:
        return []
    hour, minute, half = int(match[1]), int(match[2] or 0), match[3]
    if half is not None:
        hours = [hour % 12 + (12 if half == "p" else 0)] if 1 <= hour <= 12 else []
    elif match[2] is None or (open_half and 1 <= hour <= 12):
        hours = [hour % 12, hour % 12 + 12] if 1 <= hour <= 12 else []
    else:
        hours = [hour]
    return [dt.time(one, minute) for one in hours if one < 24 and minute < 60]


def _minutes(moment: dt.time) -> int:
    return moment.hour * 60 + moment.minute
