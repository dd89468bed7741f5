"""10,000 events written and read back, beside the plain library: `python -m tests.bench.calendar`.

Written: our whole way from a plan to bytes, a second run with a full ledger, the lint, and the
library alone on the same properties. Read: our import with its guard, in this process and in one of
its own, and the library alone on the same bytes. Times are CPU seconds; ratios mean more.
"""

import datetime as dt
import time
from collections.abc import Callable
from typing import TypeVar
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event

from curriculum.gym.imports.expand import Window, read_calendar
from curriculum.gym.imports.sandbox import read_apart
from curriculum.ledger import Ledger
from curriculum.models.plan import Plan
from curriculum.models.season import Season
from curriculum.outputs.ical.entries import entries_of
from curriculum.outputs.ical.feed import calendar_bytes
from curriculum.outputs.ical.lint import lint
from curriculum.outputs.ical.zones import timezone_component
from curriculum.spans import days_between
from tests.ical_season import LATER, LIBRARY, NOW, block, plan, practice, season

Result = TypeVar("Result")
EVENTS = 10_000
ZONE = "Europe/Dublin"
BLOCKS = (block(), block("v-cut", stage="guided", kind="build"), block("v-cut", kind="review"))


def big() -> tuple[Season, Plan]:
    """Return a season with a plan of 10,000 practices within half a year."""
    of = season(ZONE, game=())
    dates = days_between(of.season.start, dt.date(2027, 6, 30))
    practices = [
        practice(
            f"{dates[n % len(dates)]:%m-%d}",
            id=f"practice-{n}",
            start=dt.time(8 + n % 12, n % 60),
            end=dt.time(9 + n % 12, n % 60),
            blocks=BLOCKS,
        )
        for n in range(EVENTS)
    ]
    return of, plan(*practices, of=of)


def plain_bytes(of: Season, planned: Plan) -> bytes:
    """Write the same events with the library alone, without ledger, cleaning and checks."""
    zone = ZoneInfo(ZONE)
    calendar = Calendar.new(name=of.team.name, version="2.0", prodid="-//plain//EN")
    calendar.add_component(timezone_component(ZONE, of.season.start, dt.date(2027, 12, 31)))
    for entry in entries_of(planned, of, LIBRARY, "coach"):
        assert entry.start is not None
        assert entry.end is not None
        calendar.add_component(
            Event.new(
                uid=entry.uid,
                stamp=NOW,
                created=NOW,
                last_modified=NOW,
                sequence=0,
                start=dt.datetime.combine(entry.date, entry.start, zone),
                end=dt.datetime.combine(entry.until, entry.end, zone),
                summary=entry.summary,
                location=entry.location,
                description=entry.description,
                categories=[entry.category],
            )
        )
    written: bytes = calendar.to_ical()
    return written


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Return the CPU seconds that some work takes, and its result."""
    start = time.process_time()
    result = work()
    return time.process_time() - start, result


def main() -> None:
    """Print every figure with its ratio to the plain library."""
    of, planned = big()
    empty = Ledger(season=of.season.id)
    window = Window(of.season.start, dt.date(2027, 12, 31), ZONE, ZONE)
    write, (data, ledger) = timed(lambda: calendar_bytes(planned, of, LIBRARY, empty, NOW))
    again, (same, _) = timed(lambda: calendar_bytes(planned, of, LIBRARY, ledger, LATER))
    plain_write, plain = timed(lambda: plain_bytes(of, planned))
    checked, faults = timed(lambda: lint(data))
    read, reading = timed(lambda: read_calendar(data, window))
    plain_read, parsed = timed(lambda: Calendar.from_ical(data).events)
    begin = time.perf_counter()
    (apart,) = read_apart([(data, window)])
    elapsed = time.perf_counter() - begin
    print(f"{EVENTS} events, {len(data) / 1e6:.1f} MB (plain {len(plain) / 1e6:.1f} MB)")
    print(f"write        {write:6.2f} s  {write / plain_write:4.2f} x plain {plain_write:.2f} s")
    print(f"write again  {again:6.2f} s  same bytes: {same == data}")
    print(f"lint         {checked:6.2f} s  faults: {len(faults)}")
    print(f"read         {read:6.2f} s  {read / plain_read:4.2f} x plain {plain_read:.2f} s")
    print(f"read apart   {elapsed:6.2f} s by the wall; same: {apart == reading}")
    print(f"found {len(reading.found)}, parsed {len(parsed)}")


if __name__ == "__main__":
    main()
