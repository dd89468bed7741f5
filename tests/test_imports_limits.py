"""Hostile calendars: each is refused or tamed with a reason, and none runs away.

Sources: the cases of libical's docs/InternalLimits.md and of a security advisory on the calendar
library (GHSA-cv84-9p8j-fj68), and small files that were found to run for minutes without limits.
"""

import subprocess
import sys

import pytest

from curriculum.gym.imports.expand import read_calendar
from curriculum.gym.imports.found import Reading, RefusedError
from curriculum.gym.imports.sandbox import ROOT, read_apart
from tests.ical_import import WINTER, calendar, event, read, times, whys

START = "DTSTART:20270113T193000Z"
SOUND = calendar(event(START))
BOMBS = (
    "FREQ=SECONDLY",
    "FREQ=MINUTELY",
    "FREQ=HOURLY",
    "FREQ=DAILY;INTERVAL=0",
    "FREQ=DAILY;COUNT=999999999",
    "FREQ=DAILY;BYHOUR=" + ",".join(map(str, range(24))) + ";BYMINUTE=0,1",
    "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30",
    "FREQ=YEARLY;BYYEARDAY=1;BYMONTH=6",
    "FREQ=YEARLY;BYMONTHDAY=" + ",".join(["31"] * 9) + ";BYMONTH=2,4,6",
)


@pytest.mark.parametrize("rule", BOMBS)
def test_a_recurrence_bomb_is_tamed(rule: str) -> None:
    """Only its first time is taken, and the coach is told; the others are read as ever."""
    reading = read(event(START, f"RRULE:{rule}"), event(START, uid="two"))

    assert times(reading) == ["01-13 19:30", "01-13 19:30"]
    assert [why.partition(" (")[0] for why in whys(reading)] == [
        "it repeats in a way that is not followed"
    ]


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        (["BEGIN:X\n" * 50_000], "entries within entries, more than 4 deep"),
        ([event(START)] * 20_001, "the file has more than 20000 entries"),
        (["X:\n" * 400_001], "the file has more than 400000 lines"),
        (
            [event(START, "RRULE:FREQ=DAILY", uid=f"{n}") for n in range(300)],
            "its entries would repeat more than 20000 times within the season",
        ),
        ([event(START, *["RDATE:20270114"] * 2_501)], "more than 2500 lines in one entry"),
    ],
    ids=["nesting", "entries", "lines", "repetitions", "properties"],
)
def test_a_file_beyond_a_limit_is_refused(parts: list[str], says: str) -> None:
    """One sentence says which limit."""
    with pytest.raises(RefusedError, match=says):
        read_calendar(calendar(*parts), WINTER)


@pytest.mark.parametrize(
    "line",
    [
        "SUMMARY:" + "x" * 5_000_000,
        "DTSTART" + ";X=1" * 200_000 + ":20270113T193000Z",
        'LOCATION;ALTREP="' + '"' * 60_001 + ":x",
        "DURATION:P999999999W",
        "SEQUENCE:" + "9" * 5_000,
        "RDATE:" + "20270114T193000Z," * 3_000,
        "RECURRENCE-ID:x",
        "URL:" + "\u202e" * 1_000,
    ],
    ids=["long line", "parameters", "quotes", "length", "sequence", "dates", "recurrence", "signs"],
)
def test_a_swollen_line_does_no_harm(line: str) -> None:
    """The entry is read without it."""
    assert len(read(event(START, line)).found) == 1


def test_the_child_reads_what_the_parent_would() -> None:
    """The separate process gives the same reading, and a refusal with all its words."""
    apart = read_apart([(SOUND, WINTER), (b"<html>", WINTER)])

    assert apart[0] == read_calendar(SOUND, WINTER)
    assert isinstance(apart[1], RefusedError)
    assert (apart[1].says, apart[1].way_out) == (
        "this is no calendar file: it has no BEGIN:VCALENDAR",
        "export it again as iCalendar (.ics)",
    )


def test_no_files_need_no_process() -> None:
    """A season without calendars starts nothing."""
    assert read_apart([]) == ()


def test_a_child_that_dies_is_a_refusal_of_the_file_to_blame(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """All files fail together, so each is tried alone; only the one that kills is refused."""
    run = subprocess.run

    def deadly(command: list[str], **options: object) -> object:
        if b"DEADLY" in options["input"]:  # type: ignore[operator]
            return subprocess.CompletedProcess(command, -9, b"", b"")
        return run(command, **options)  # type: ignore[call-overload]

    monkeypatch.setattr(subprocess, "run", deadly)
    harmful = calendar(event(START, title="DEADLY"))
    results = read_apart([(SOUND, WINTER), (harmful, WINTER)])

    assert isinstance(results[0], Reading)
    assert isinstance(results[1], RefusedError)
    assert results[1].says == "reading it would take too long or too much memory"


def test_a_child_that_hangs_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """When the time by the wall is over, the file is refused."""

    def hanging(command: list[str], **options: object) -> object:
        raise subprocess.TimeoutExpired(command, 30)

    monkeypatch.setattr(subprocess, "run", hanging)
    (result,) = read_apart([(SOUND, WINTER)])

    assert isinstance(result, RefusedError)


def test_the_child_bounds_its_memory_and_computing() -> None:
    """The limits hold in the process that meets foreign text."""
    code = (
        "from resource import *; from curriculum.gym.imports import child; child._limit();"
        "print(getrlimit(RLIMIT_AS)[0], getrlimit(RLIMIT_CPU)[0])"
    )
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=ROOT)

    assert done.stdout.split() == [f"{1 << 30}", "10"]
