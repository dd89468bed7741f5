"""Judges recurrence rules (RFC 5545 section 3.3.10) before anything expands them."""

import datetime as dt
import re
from collections.abc import Callable, Mapping
from functools import lru_cache

from curriculum.spans import days_between

FREQUENCIES = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
MOST_INTERVAL = 500
MOST_COUNT = 5_000
MOST_A_DAY = 24
LAST_YEAR = 2100
DAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
UNTIL = re.compile(r"(\d{4})(\d{2})(\d{2})(T(\d{6})Z?)?")
WEEKDAY = re.compile(r"([+-]?\d{1,2})?(MO|TU|WE|TH|FR|SA|SU)")

RANGES: dict[str, tuple[int, int]] = {
    "BYSECOND": (0, 59),
    "BYMINUTE": (0, 59),
    "BYHOUR": (0, 23),
    "BYMONTHDAY": (-31, 31),
    "BYYEARDAY": (-366, 366),
    "BYWEEKNO": (-53, 53),
    "BYMONTH": (1, 12),
    "BYSETPOS": (-366, 366),
}
MOST_DAYS = {"MONTHLY": 31, "YEARLY": 366}
SIGNED = frozenset({"BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYSETPOS"})
KNOWN = frozenset({"FREQ", "INTERVAL", "COUNT", "UNTIL", "WKST", "BYDAY", *RANGES})
FULL_CYCLE = days_between(dt.date(2000, 1, 1), dt.date(2027, 12, 31))
"""28 years, after which weekdays fall on the same dates again."""


def fault_of(rule: str, start: dt.date | None = None) -> str | None:
    """Return why a rule is not followed, as the end of a sentence; None when it is.

    start: the first date of what repeats, where it is known.
    """
    pairs = [part.partition("=") for part in _plain(rule)]
    parts = {name: value for name, _, value in pairs}
    if len(parts) != len(pairs):
        return "it states something twice"
    unknown = sorted(set(parts) - KNOWN)
    if unknown:
        return f"{unknown[0][:20]} is not understood"
    if parts.get("FREQ") not in FREQUENCIES:
        return f"it repeats {parts.get('FREQ', 'without FREQ').lower()[:20]}"
    for check in (_numbers, _lists, _weekdays, _until, _too_many, _positions, _never):
        fault = check(parts)
        if fault is not None:
            return fault
    return _never_from(parts, start) if start is not None else None


def _numbers(parts: Mapping[str, str]) -> str | None:
    for name, most in (("INTERVAL", MOST_INTERVAL), ("COUNT", MOST_COUNT)):
        text = parts.get(name, "1")
        if not text.isdecimal() or not text.isascii() or not 1 <= int(text[:9]) <= most:
            return f"{name} is {text[:20]}, not from 1 to {most}"
    if "COUNT" in parts and "UNTIL" in parts:
        return "it has both COUNT and UNTIL"
    return None


def _lists(parts: Mapping[str, str]) -> str | None:
    for name, (low, high) in RANGES.items():
        for text in parts[name].split(",") if name in parts else ():
            if not re.fullmatch(r"[+-]?\d{1,3}", text, re.ASCII) or not low <= int(text) <= high:
                return f"{name} holds {text[:20]}"
            if name in SIGNED and int(text) == 0:
                return f"{name} holds 0"
    return None


def _weekdays(parts: Mapping[str, str]) -> str | None:
    for text in parts["BYDAY"].split(",") if "BYDAY" in parts else ():
        match = WEEKDAY.fullmatch(text)
        if match is None or (match[1] is not None and not 1 <= abs(int(match[1])) <= 53):
            return f"BYDAY holds {text[:20]}"
    if parts.get("WKST", "MO") not in DAYS:
        return f"WKST is {parts['WKST'][:20]}"
    return None


def _until(parts: Mapping[str, str]) -> str | None:
    if "UNTIL" not in parts:
        return None
    match = UNTIL.fullmatch(parts["UNTIL"])
    try:
        dt.date(int(match[1]), int(match[2]), int(match[3])) if match else None
    except ValueError:
        match = None
    return None if match else f"UNTIL is {parts['UNTIL'][:20]}"


def _too_many(parts: Mapping[str, str]) -> str | None:
    times = 1
    for name in ("BYHOUR", "BYMINUTE", "BYSECOND"):
        times *= len(set(parts[name].split(","))) if name in parts else 1
    return f"it repeats {times} times a day" if times > MOST_A_DAY else None


def _positions(parts: Mapping[str, str]) -> str | None:
    """Refuse positions (BYSETPOS) that no month or year has, and those within days and weeks."""
    if "BYSETPOS" not in parts:
        return None
    if parts["FREQ"] not in MOST_DAYS:
        return "BYSETPOS is followed in months and years only"
    listed = [parts[name].count(",") + 1 for name in ("BYMONTHDAY", "BYYEARDAY") if name in parts]
    if parts["FREQ"] == "YEARLY" and "BYMONTHDAY" in parts:
        listed = [count * 12 for count in listed]
    most = min([MOST_DAYS[parts["FREQ"]], *listed])
    position = min(abs(int(text)) for text in parts["BYSETPOS"].split(","))
    return f"BYSETPOS {position} is more than there can be" if position > most else None


def _never_from(parts: Mapping[str, str], start: dt.date) -> str | None:
    """Refuse a rule of whole weeks of days that never meets its weekdays."""
    weeks = parts["FREQ"] == "DAILY" and int(parts.get("INTERVAL", "1")) % 7 == 0
    if weeks and "BYDAY" in parts and DAYS[start.weekday()] not in parts["BYDAY"]:
        return "no date fits it"
    return None


def _never(parts: Mapping[str, str]) -> str | None:
    """Refuse what no date fits, since a search for one would go on for thousands of years."""
    tests = tuple(
        (name, tuple(sorted(set(parts[name].split(",")))))
        for name in ("BYMONTH", "BYMONTHDAY", "BYYEARDAY")
        if name in parts
    )
    plain_days = all(text[-2:] == text for text in parts.get("BYDAY", "").split(","))
    if "BYDAY" in parts and plain_days:
        tests = (*tests, ("BYDAY", tuple(sorted(set(parts["BYDAY"].split(","))))))
    return None if len(tests) < 2 or _some_date_fits(tests) else "no date fits it"


Tests = tuple[tuple[str, tuple[str, ...]], ...]


@lru_cache(maxsize=256)
def _some_date_fits(tests: Tests) -> bool:
    checks = [(VALUES[name], frozenset(values)) for name, values in tests]
    for day in FULL_CYCLE:
        if all(not wanted.isdisjoint(values(day)) for values, wanted in checks):
            return True
    return False


def _month_days(day: dt.date) -> tuple[str, ...]:
    left = (day.replace(day=28) + dt.timedelta(days=4)).replace(day=1) - day
    return f"{day.day}", f"+{day.day}", f"-{left.days}", f"{day.day:02}"


def _year_days(day: dt.date) -> tuple[str, ...]:
    number = day.timetuple().tm_yday
    left = (dt.date(day.year + 1, 1, 1) - day).days
    return f"{number}", f"+{number}", f"-{left}"


VALUES: dict[str, Callable[[dt.date], tuple[str, ...]]] = {
    "BYMONTH": lambda day: (f"{day.month}", f"{day.month:02}"),
    "BYMONTHDAY": _month_days,
    "BYYEARDAY": _year_days,
    "BYDAY": lambda day: (DAYS[day.weekday()],),
}


def bounded(rule: str, *, whole: bool) -> str:
    """Return a sound rule with its last day made plain.

    whole: the entry is one of whole days. Else an end that is a mere date includes that day's
    evening, as people mean it. An end after 2100, which some programs write for "never", is left
    out.
    """
    kept = []
    for part in _plain(rule):
        name, _, value = part.partition("=")
        match = UNTIL.fullmatch(value) if name == "UNTIL" else None
        if match is None:
            kept.append(part)
        elif int(match[1]) <= LAST_YEAR:
            evening = "" if match[4] or whole else "T235959"
            kept.append(f"UNTIL={value[: 8 if whole else None]}{evening}")
    return ";".join(kept)


def _plain(rule: str) -> list[str]:
    """Return the parts of a rule in capitals, without blanks and empty parts."""
    return [part for part in re.sub(r"\s", "", rule.upper()).split(";") if part]
