"""The rows of a table as dated entries within the season."""

import datetime as dt
import re
from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from curriculum.gym.imports.dates import DateError, Dates, clock_times, order_of, possible_dates
from curriculum.gym.imports.expand import Window
from curriculum.gym.imports.found import Found, Reading, RefusedError, Skipped
from curriculum.gym.imports.octets import decoded
from curriculum.gym.imports.table import Row, read_table
from curriculum.models.calendars import CalendarIn, Column, DateOrder
from curriculum.spans import DAY
from curriculum.wording import plain_date

EARLY = dt.time(7)
"""A time of day before it that says neither am nor pm is remarked upon."""
DATE_COLUMNS: tuple[Column, ...] = ("date", "until")
BESIDE = re.compile(r"\d[T ](\d{1,2}[:.h]\d{2}.*)$", re.IGNORECASE)
MINUTES = re.compile(r"(\d{1,4})\s*(?:m|mins?|minutes?)?\.?")
HOURS_MINUTES = re.compile(
    r"(\d{1,2})\s*(?::|h|hours?)\s*(\d{2})(?::00)?\s*(?:m|mins?|minutes?)?\.?"
)
HOURS = re.compile(r"(\d{1,2}(?:[.,]\d{1,2})?)\s*(?:h|hrs?|hours?)\.?")
MINUTES_A_DAY = 24 * 60
SPREADSHEETS = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")


@dataclass(frozen=True)
class _Read:
    """A row with every date that its cells can mean."""

    row: Row
    dates: dict[Column, Dates]


def read_rows(data: bytes, entry: CalendarIn, window: Window) -> Reading:
    """Return what a table holds within a span of dates.

    Raises:
        RefusedError: It is no table, passes a limit, or has dates that could be two.

    """
    if data.startswith(SPREADSHEETS):
        says = "this is a spreadsheet file, not text"
        raise RefusedError(says, way_out="open it and save it as CSV")
    text, notes = decoded(data)
    table = read_table(text, entry.columns)
    skipped: list[Skipped] = []
    read = [one for row in table.rows if (one := _dated(row, window, skipped)) is not None]
    order = _order(read, entry)
    remarks = [(0, note) for note in notes]
    remarks.append((0, f"columns understood: {', '.join(table.columns)}"))
    found: list[Found] = []
    outside = 0
    for one in read:
        try:
            entry_found = _found(one, order, window, remarks)
        except DateError as fault:
            skipped.append(Skipped(one.row.line, _title(one.row), str(fault)))
            continue
        if _inside(entry_found, window):
            found.append(entry_found)
        else:
            outside += 1
    return Reading(
        found=tuple(sorted(found, key=lambda one: (one.start, one.line))),
        skipped=tuple(sorted(skipped, key=lambda one: one.line)),
        remarks=tuple(remarks),
        outside=outside,
    )


def _dated(row: Row, window: Window, skipped: list[Skipped]) -> _Read | None:
    dates: dict[Column, Dates] = {}
    for column in DATE_COLUMNS:
        if column == "date" or row.text(column):
            try:
                dates[column] = possible_dates(row.text(column), window.first, window.last)
            except DateError as fault:
                why = str(fault) if row.text(column) else "it has no date"
                skipped.append(Skipped(row.line, _title(row), why))
                return None
    return _Read(row, dates)


def _order(read: Sequence[_Read], entry: CalendarIn) -> DateOrder | None:
    """Return the order of day and month of the whole table; None where no date needs one."""
    if entry.dates is not None:
        return entry.dates
    order, unclear = order_of(dates for one in read for dates in one.dates.values())
    if unclear is None:
        return order
    line = next(one.row.line for one in read if unclear in one.dates.values())
    meanings = " or ".join(plain_date(day) for day in unclear.meanings)
    raise RefusedError(
        f"{unclear.text[:40]} could be {meanings}",
        line=line,
        found=unclear.text[:40],
        way_out=(
            'write dates = "day-first" or dates = "month-first" in this [[calendar]], '
            "or give --dates with --import"
        ),
    )


def _found(
    one: _Read,
    order: DateOrder | None,
    window: Window,
    remarks: list[tuple[int, str]],
) -> Found:
    row = one.row
    first = _day(one.dates["date"], order)
    start, end = _times(row)
    length = _length(row, remarks) if end is None and start is not None else None
    if start is None:
        until = _day(one.dates["until"], order) if "until" in one.dates else first
        if until < first:
            raise DateError(f"it ends on {until}, before it starts on {first}")
        midnights = [dt.datetime.combine(day, dt.time()) for day in (first, until + DAY)]
        return _entry(row, midnights[0], midnights[1], whole_days=True)
    if start < EARLY and "m" not in row.text("start").lower():
        says = f"{_title(row)}: {row.text('start')} was read as {start:%H:%M} in the morning"
        remarks.append((row.line, says))
    begins = dt.datetime.combine(first, start)
    last = _day(one.dates["until"], order) if "until" in one.dates else first
    if length is not None:
        return _entry(row, _local(begins, window), _local(begins + length, window))
    if end is None:
        return _entry(row, _local(begins, window), None)
    stops = dt.datetime.combine(last, end)
    if end == dt.time() and last == first:
        stops += DAY
    if stops <= begins:
        raise DateError(f"it ends at {stops:%Y-%m-%d %H:%M}, not after its start")
    return _entry(row, _local(begins, window), _local(stops, window))


def _day(dates: Dates, order: DateOrder | None) -> dt.date:
    if order is not None and order in dates.by_order:
        return dates.by_order[order]
    # A date with its year first is plain whatever the others look like.
    plain = order is None or set(dates.by_order) == {"year-first"}
    if plain and len(dates.meanings) == 1:
        return dates.meanings[0]
    raise DateError(f"{dates.text[:40]!r} is no {order} date")


def _times(row: Row) -> tuple[dt.time | None, dt.time | None]:
    """Return when a row starts and ends, each None where it does not say so.

    Where it has no start of its own, a time of day beside its dates counts, midnight aside: that
    is what spreadsheets write behind every date.
    """
    start_text, end_text = row.text("start"), row.text("end")
    if not start_text:
        start_text = _beside(row.text("date"))
        end_text = end_text or _beside(row.text("until"))
        if not start_text or clock_times(start_text) == (dt.time(), None):
            return None, None
    start, end = clock_times(start_text)
    if end_text:
        end = clock_times(end_text)[0]
    return start, end


def _beside(text: str) -> str:
    """Return the time of day that stands behind a date in numbers, "" for none."""
    match = BESIDE.search(text)
    return match[1] if match else ""


def _length(row: Row, remarks: list[tuple[int, str]]) -> dt.timedelta | None:
    """Return how long a row says that it lasts: `90`, `90 min`, `1:30`, `1h30` or `1.5 hours`."""
    text = row.text("minutes").lower()
    if not text:
        return None
    minutes = 0.0
    if match := MINUTES.fullmatch(text):
        minutes = float(match[1])
    elif match := HOURS_MINUTES.fullmatch(text):
        minutes = 60 * float(match[1]) + float(match[2])
    elif match := HOURS.fullmatch(text):
        minutes = 60 * float(match[1].replace(",", "."))
    if not 1 <= minutes < MINUTES_A_DAY:
        remarks.append((row.line, f"{_title(row)}: its length is not understood: {text[:30]!r}"))
        return None
    return dt.timedelta(minutes=int(minutes))


def _local(moment: dt.datetime, window: Window) -> dt.datetime:
    if window.fallback == window.zone:
        return moment
    aware = moment.replace(tzinfo=ZoneInfo(window.fallback))
    return aware.astimezone(ZoneInfo(window.zone)).replace(tzinfo=None, fold=0)


def _entry(
    row: Row, begins: dt.datetime, ends: dt.datetime | None, *, whole_days: bool = False
) -> Found:
    return Found(
        key=row.text("id"),
        title=_title(row),
        line=row.line,
        start=begins,
        end=ends,
        whole_days=whole_days,
        place=row.text("venue")[:300],
        address=row.text("address")[:300],
        home=row.text("home"),
        away=row.text("away"),
        side=row.text("side"),
        opponent=row.text("opponent"),
    )


def _title(row: Row) -> str:
    sides = [name for name in (row.text("home"), row.text("away")) if name]
    words = row.text("title") or " - ".join(sides) or row.text("opponent")
    return (words or f"row {row.line}")[:200]


def _inside(found: Found, window: Window) -> bool:
    last = found.end - dt.timedelta(seconds=1) if found.end else found.start
    return found.start.date() <= window.last and window.first <= last.date()
