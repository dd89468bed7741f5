"""Dates, numbers and lists in the words that every message and every page uses.

English and the same on every machine: nothing asks the locale.
"""

import datetime as dt
from collections.abc import Sequence

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    *("January", "February", "March", "April", "May", "June", "July"),
    *("August", "September", "October", "November", "December"),
)


def short_date(day: dt.date) -> str:
    """Return `Wed 27 Jan`."""
    return f"{DAYS[day.weekday()][:3]} {day.day} {MONTHS[day.month - 1][:3]}"


def dated(day: dt.date) -> str:
    """Return `Wed 27 Jan 2027`."""
    return f"{short_date(day)} {day.year}"


def long_date(day: dt.date) -> str:
    """Return `Wednesday 27 January 2027`."""
    return f"{DAYS[day.weekday()]} {plain_date(day)}"


def plain_date(day: dt.date) -> str:
    """Return `27 January 2027`."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def date_range(first: dt.date, last: dt.date) -> str:
    """Return two dates, both included, as `Mon 15 Feb to Fri 19 Feb`; one date as itself."""
    return short_date(first) if first == last else f"{short_date(first)} to {short_date(last)}"


def week_range(first: int, last: int) -> str:
    """Return `week 3`, or `weeks 3 to 5`, both included."""
    return f"week {first}" if first == last else f"weeks {first} to {last}"


def clock(moment: dt.time) -> str:
    """Return `17:30`."""
    return f"{moment:%H:%M}"


def moment_words(day: dt.date, start: dt.time) -> str:
    """Return a date and time as `Wed 13 Jan 17:30`."""
    return f"{short_date(day)} {clock(start)}"


def game_against(opponent: str, day: dt.date) -> str:
    """Return `the game against Harbour Gulls on Sat 6 Feb`."""
    return f"the game against {opponent} on {short_date(day)}"


def due_words(day: dt.date, opponent: str | None) -> str:
    """Return by when something is due: a date, or the game against an opponent on that date.

    >>> due_words(dt.date(2027, 2, 6), None), due_words(dt.date(2027, 2, 6), "Harbour Gulls")
    ('by Sat 6 Feb', 'before the game against Harbour Gulls on Sat 6 Feb')
    """
    return f"by {short_date(day)}" if opponent is None else f"before {game_against(opponent, day)}"


def counted(number: int, noun: str) -> str:
    """Return a number with its noun.

    >>> counted(1, "day"), counted(3, "day")
    ('1 day', '3 days')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def listed(words: Sequence[str], last: str = "and") -> str:
    """Join words the way one says them, the last one by `last` (and, or): `a, b and c`."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def named(words: Sequence[str], most: int = 0) -> str:
    """Join names as `listed`; of more than `most` (0: no limit) the rest is counted.

    >>> named(["a", "b", "c"]), named(["a", "b", "c", "d"], most=2)
    ('a, b and c', 'a, b and 2 more')

    Names that hold a comma themselves are kept apart by semicolons.
    """
    shown = list(words)
    if most and len(shown) > most:
        shown = [*shown[:most], f"{len(shown) - most} more"]
    if len(shown) > 2 and any("," in word for word in shown):
        return f"{'; '.join(shown[:-1])} and {shown[-1]}"
    return listed(shown)


def few(words: Sequence[str], most: int) -> str:
    """Join words as `named`, at most `most` of them, the last of which may say how many more.

    >>> few(["Aoife", "Bran", "Cato", "Dara"], 3)
    'Aoife, Bran and 2 more'
    """
    return named(words, most - 1 if len(words) > most else 0)
