"""A zone's rules as a VTIMEZONE: written as yearly rules wherever these are true to the zone."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
RULE_YEARS = 10
"""Years over which a yearly rule must be true before it is written down."""
MINUTE = dt.timedelta(minutes=1)


@dataclass(frozen=True)
class Onset:
    """The moment at which an offset from UTC begins.

    local: the wall clock of the offset before, as RFC 5545 section 3.6.5 asks.
    """

    local: dt.datetime
    before: dt.timedelta
    after: dt.timedelta
    name: str

    @property
    def kind(self) -> tuple[int, dt.time, dt.timedelta, dt.timedelta, str]:
        """What onsets of one yearly rule have in common."""
        return self.local.month, self.local.time(), self.before, self.after, self.name


@lru_cache(maxsize=64)
def timezone_component(zone_name: str, first: dt.date, last: dt.date) -> Timezone:
    """Return the VTIMEZONE of a zone, true from `first` to `last`, both included.

    It begins in the year before, so that no event lies ahead of its first onset. Where yearly
    rules do not tell ten years of the zone's history and future, every onset up to the end of the
    year of `last` stands for itself: several readers understand only yearly rules or single dates.
    The component is shared between calls and must not be changed.
    """
    zone = ZoneInfo(zone_name)
    begin = _new_year(first.year - 1)
    component = Timezone()
    component.add("TZID", zone_name)
    rules = _rules(onsets(zone, begin, _new_year(first.year - 1 + RULE_YEARS)))
    if rules is None:
        single = [(one, None) for one in onsets(zone, begin, _new_year(last.year + 1))]
        rules = [(_opening(zone, begin), None), *single]
    for onset, rule in rules or [(_opening(zone, begin), None)]:
        component.add_component(_observance(onset, rule))
    return component


def onsets(zone: ZoneInfo, begin: dt.datetime, end: dt.datetime) -> tuple[Onset, ...]:
    """Return every change of a zone's offset between two moments, given in UTC without a zone.

    Found to the minute; a change that is undone within a day is not seen.
    """
    found = []
    low, before = begin, _offset(zone, begin)
    while low < end:
        high = min(low + dt.timedelta(days=1), end)
        after = _offset(zone, high)
        if after != before:
            moment = _change(zone, low, high, before)
            name = moment.replace(tzinfo=dt.UTC).astimezone(zone).tzname() or ""
            found.append(Onset(moment + before, before, after, name))
        low, before = high, after
    return tuple(found)


def _new_year(year: int) -> dt.datetime:
    return dt.datetime.combine(dt.date(year, 1, 1), dt.time())


def _offset(zone: ZoneInfo, moment: dt.datetime) -> dt.timedelta:
    offset = moment.replace(tzinfo=dt.UTC).astimezone(zone).utcoffset()
    return offset if offset is not None else dt.timedelta(0)


def _change(
    zone: ZoneInfo, low: dt.datetime, high: dt.datetime, before: dt.timedelta
) -> dt.datetime:
    while high - low > MINUTE:
        middle = low + (high - low) // 2 // MINUTE * MINUTE
        low, high = (middle, high) if _offset(zone, middle) == before else (low, middle)
    return high


def _rules(found: Sequence[Onset]) -> list[tuple[Onset, dict[str, object] | None]] | None:
    """Return onsets with their yearly rules; None when the years differ from each other."""
    rules: list[tuple[Onset, dict[str, object] | None]] = []
    for kind in sorted({onset.kind for onset in found}):
        same = [onset for onset in found if onset.kind == kind]
        if len(same) != RULE_YEARS:
            return None
        weekday = _weekday_rule([onset.local.date() for onset in same])
        if weekday is None:
            return None
        rule = {"FREQ": "YEARLY", "BYMONTH": same[0].local.month, "BYDAY": weekday}
        rules.append((same[0], rule))
    return rules


def _weekday_rule(days: Iterable[dt.date]) -> str | None:
    """Return `-1SU` or `2SU`, whichever all dates of a month obey; None if there is none."""
    common: set[str] | None = None
    for day in days:
        fits = {f"{(day.day - 1) // 7 + 1}{DAYS[day.weekday()]}"}
        if (day + dt.timedelta(days=7)).month != day.month:
            fits.add(f"-1{DAYS[day.weekday()]}")
        common = fits if common is None else common & fits
    return min(common) if common else None


def _opening(zone: ZoneInfo, begin: dt.datetime) -> Onset:
    offset = _offset(zone, begin)
    name = begin.replace(tzinfo=dt.UTC).astimezone(zone).tzname() or ""
    return Onset(begin, offset, offset, name)


def _observance(
    onset: Onset, rule: dict[str, object] | None
) -> TimezoneStandard | TimezoneDaylight:
    summer = onset.after > onset.before
    part = TimezoneDaylight() if summer else TimezoneStandard()
    part.add("DTSTART", onset.local)
    part.add("TZOFFSETFROM", onset.before)
    part.add("TZOFFSETTO", onset.after)
    if onset.name:
        part.add("TZNAME", onset.name)
    if rule is not None:
        part.add("RRULE", rule)
    return part
