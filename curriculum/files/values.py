"""Read dates, times and other bare values as people write them, and say how TOML wants them."""

import calendar
import datetime as dt
import re
from dataclasses import dataclass

from curriculum.wording import MONTHS

_TIME = re.compile(
    r"(?P<hour>\d{1,2})(?:\s*[:.h]\s*(?P<minute>\d{1,2}))?(?:[:.](?P<second>\d{1,2}))?"
    r"\s*(?P<half>[ap]\.?m\.?)?(?:\s*(?:h|uhr|o'clock))?",
    re.IGNORECASE,
)
_YEAR_FIRST = re.compile(r"(\d{4})\s*[-./]\s*(\d{1,2})\s*[-./]\s*(\d{1,2})")
_YEAR_LAST = re.compile(r"(\d{1,2})\s*([-./])\s*(\d{1,2})\s*[-./]\s*(\d{4}|\d{2})")
_MONTH_NAMED = re.compile(r"(\d{1,2})(?:st|nd|rd|th|\.)?\s+([a-z]{3,9})\.?,?\s+(\d{4})")
_MONTH_FIRST = re.compile(r"([a-z]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})")
_TRUTH = {"true": True, "yes": True, "on": True, "false": False, "no": False, "off": False}


@dataclass(frozen=True)
class Correction:
    """What is wrong with a bare value, and the values that may have been meant, likeliest first."""

    says: str
    instead: tuple[str, ...] = ()
    way_out: str = ""


def time_meant(text: str) -> str | None:
    """Return a time of day as TOML writes it (`17:30:00`); None when the text is no time."""
    found = _TIME.fullmatch(text.strip())
    if not found:
        return None
    hour, minute = int(found["hour"]), int(found["minute"] or 0)
    second, half = int(found["second"] or 0), (found["half"] or "")[:1].lower()
    if half and not 1 <= hour <= 12:
        return None
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    if hour > 23 or minute > 59 or second > 59:
        return None
    return f"{hour:02}:{minute:02}:{second:02}"


def dates_meant(text: str) -> tuple[str, ...]:
    """Return the dates as TOML writes them (`2027-01-05`) that a text can mean; often one or none.

    Dots mean day.month.year. With slashes or hyphens before a year both orders are in use, so
    that two dates come back where both exist.
    """
    text = text.strip().lower()
    if found := _YEAR_FIRST.fullmatch(text):
        return _dates((found[1], found[2], found[3]))
    if found := _YEAR_LAST.fullmatch(text):
        year = found[4] if len(found[4]) == 4 else f"20{found[4]}"
        if found[2] == ".":
            return _dates((year, found[3], found[1]))
        return _dates((year, found[3], found[1]), (year, found[1], found[3]))
    if found := _MONTH_NAMED.fullmatch(text):
        return _dates((found[3], _month(found[2]), found[1]))
    if found := _MONTH_FIRST.fullmatch(text):
        return _dates((found[3], _month(found[1]), found[2]))
    return ()


def truth_meant(text: str) -> str | None:
    """Return `true` or `false` for yes, no, on, off in any case; None for anything else."""
    found = _TRUTH.get(text.strip().lower())
    return None if found is None else str(found).lower()


def correction(text: str) -> Correction | None:
    """Return what is wrong with a bare value that TOML refuses; None when it cannot be told."""
    for rule in (_as_date, _as_time, _as_truth, _as_number):
        if found := rule(text.strip()):
            return found
    return None


def _as_date(text: str) -> Correction | None:
    meant = dates_meant(text)
    padded = re.fullmatch(r"\d{4}-\d{1,2}-\d{1,2}", text)
    if (
        not meant
        and not time_meant(text)
        and (padded or _YEAR_LAST.fullmatch(text) or _YEAR_FIRST.fullmatch(text))
    ):
        return Correction("there is no such date", way_out=_days_of_month(text))
    if not meant:
        return None
    if padded:
        return Correction("a date has two digits for the month and for the day", meant)
    return Correction("a date is written year-month-day with hyphens", meant)


def _as_time(text: str) -> Correction | None:
    meant = time_meant(text)
    if not meant and re.fullmatch(r"\d{1,2}:\d{1,2}(:\d{1,2})?", text):
        way_out = "hours run from 00 to 23, minutes and seconds from 00 to 59"
        return Correction("there is no such time of day", way_out=way_out)
    if not meant or text.isdigit():
        return None
    if re.fullmatch(r"\d{2}:\d{2}", text):
        return Correction("a time needs its seconds", (meant,))
    if re.fullmatch(r"\d{1,2}:\d{1,2}(:\d{1,2})?", text):
        return Correction("a time has two digits for hours, minutes and seconds", (meant,))
    return Correction("a time is written hours:minutes:seconds", (meant,))


def _as_truth(text: str) -> Correction | None:
    meant = truth_meant(text)
    return Correction("yes and no are written true and false", (meant,)) if meant else None


def _as_number(text: str) -> Correction | None:
    if found := re.fullmatch(r"([+-]?\d+),(\d+)", text):
        below = int(found[1])
        return Correction(
            "a number takes no comma, and is whole here", (f"{below}", f"{below + 1}")
        )
    if found := re.fullmatch(r"([+-]?)0+(\d+)", text):
        return Correction("a number does not begin with 0", (f"{found[1]}{int(found[2])}",))
    if found := re.fullmatch(r"(\d+)\s*(%|[a-zA-Z]+\.?)", text):
        return Correction("a number stands without its unit", (found[1],))
    return None


def _dates(*parts: tuple[str, str, str]) -> tuple[str, ...]:
    """Return the dates that exist among some years, months and days."""
    found = []
    for year, month, day in parts:
        try:
            found.append(dt.date(int(year), int(month), int(day)).isoformat())
        except ValueError:
            continue
    return tuple(dict.fromkeys(found))


def _month(name: str) -> str:
    """Return the number of the month whose English name begins so, "0" when there is none."""
    found = [number for number, month in enumerate(MONTHS, 1) if month.lower().startswith(name)]
    return str(found[0]) if len(found) == 1 else "0"


def _days_of_month(text: str) -> str:
    found = re.fullmatch(r"(\d{4})-(\d{1,2})-\d{1,2}", text)
    if found and 1 <= int(found[2]) <= 12 and int(found[1]) >= 1:
        year, month = int(found[1]), int(found[2])
        days = calendar.monthrange(year, month)[1]
        return f"{MONTHS[month - 1]} {year} has {days} days"
    return "write it year-month-day, such as 2027-01-05"
