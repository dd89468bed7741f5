"""Times by the wall clock."""

import datetime as dt

from curriculum.spans import Span, span_of


def test_a_time_may_run_into_the_next_day() -> None:
    """Ninety minutes from 23:00 end at half past midnight of the day after."""
    day, next_day = dt.date(2027, 2, 28), dt.date(2027, 3, 1)

    assert span_of(day, dt.time(23), 90) == Span(
        dt.datetime.combine(day, dt.time(23)), dt.datetime.combine(next_day, dt.time(0, 30))
    )
