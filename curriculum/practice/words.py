"""Dates, stages and kinds of blocks in the words that every output uses; knows no layout."""

import datetime as dt
import unicodedata
from collections.abc import Sequence
from typing import Literal

from curriculum.files import nearest
from curriculum.models.plan import Kind
from curriculum.models.skills import Library, Stage

KindWord = Literal["NEW", "BUILD", "REVIEW"]

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)

STAGE_MEANS: dict[Stage, str] = {
    "unopposed": "no defender",
    "guided": "the defender is limited by a rule",
    "live": "free defence under a rule",
}
STAGE_LETTER: dict[Stage, str] = {"unopposed": "U", "guided": "G", "live": "L"}
KIND_WORD: dict[Kind, KindWord] = {"introduce": "NEW", "build": "BUILD", "review": "REVIEW"}


def short_date(day: dt.date) -> str:
    """Return `Wed 27 Jan`."""
    return f"{DAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"


def long_date(day: dt.date) -> str:
    """Return `Wednesday 27 January 2027`."""
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]} {day.year}"


def date_range(first: dt.date, last: dt.date) -> str:
    """Return two dates, both included, as `Mon 15 Feb to Fri 19 Feb`; one date as itself."""
    return short_date(first) if first == last else f"{short_date(first)} to {short_date(last)}"


def week_range(first: int, last: int) -> str:
    """Return `week 3`, or `weeks 3 to 5`, both included."""
    return f"week {first}" if first == last else f"weeks {first} to {last}"


def clock(moment: dt.time) -> str:
    """Return `17:30`."""
    return f"{moment:%H:%M}"


def listed(words: Sequence[str]) -> str:
    """Join words the way one says them: `a`, `a and b`, `a, b and c`."""
    return nearest.listed(words, "and")


def few(words: Sequence[str], most: int) -> str:
    """Join words as `listed`, but of more than `most` only the first ones, and say how many more.

    >>> few(["Aoife", "Bran", "Cato", "Dara"], 3)
    'Aoife, Bran and 2 more'
    """
    if len(words) <= most:
        return listed(words)
    return listed([*words[: most - 1], f"{len(words) - most + 1} more"])


def counted(number: int, noun: str) -> str:
    """Return `1 practice`, `2 practices`."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def skill_name(library: Library, skill_id: str) -> str:
    """Return a skill's name, or its id where an older plan names a skill that is gone."""
    return next((skill.name for skill in library.skills if skill.id == skill_id), skill_id)


def printable(text: str) -> str:
    """Return the text without control characters, which neither a terminal nor paper can show."""
    return "".join(
        " " if unicodedata.category(sign) == "Cc" else sign
        for sign in unicodedata.normalize("NFC", text)
    )
