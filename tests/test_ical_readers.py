"""Calendars that go out, read by four implementations that share no code with ours."""

import datetime as dt
import fcntl
import json
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
import vobject

from curriculum.ledger import Ledger
from curriculum.models.calendars import CalendarOut
from curriculum.models.plan import PlannedPractice
from curriculum.models.season import Season
from curriculum.outputs.ical.feed import calendar_bytes
from curriculum.spans import days_between
from tests.ical_season import LIBRARY, NOW, closure, plan, practice, season

READERS = Path(__file__).parent / "readers"
SYSTEM_PYTHON = Path("/usr/bin/python3")
ZONES = (
    *("Europe/Dublin", "Europe/Warsaw", "America/New_York", "America/Los_Angeles"),
    *("America/St_Johns", "America/Sao_Paulo", "Australia/Sydney", "Australia/Lord_Howe"),
    *("Asia/Seoul", "Asia/Kathmandu", "Africa/Casablanca", "Asia/Jerusalem", "America/Santiago"),
)
"""Whole and broken hours, both hemispheres, no summer time, and three without yearly rules."""

Event = tuple[str, float | str, float | str, str]


def busy(zone: str) -> tuple[Season, list[PlannedPractice]]:
    """Return a season with a practice each day from January to May, early, at noon or late."""
    hours = ((6, 45), (12, 0), (21, 15))
    dates = days_between(dt.date(2027, 1, 11), dt.date(2027, 5, 2))
    practices = [
        practice(f"{date:%m-%d}", start=dt.time(*hours[n % 3]), end=dt.time(hours[n % 3][0] + 1))
        for n, date in enumerate(dates)
        if date.day % 3 == 0 or date.weekday() == 6
    ]
    out = CalendarOut(closures=True, alarm=90, bring=("water; a ball, shoes",))
    return season(zone, name="Żółw, Kestrel; «한글» 🏀", calendar_out=out), practices


def expected(of: Season, practices: Sequence[PlannedPractice]) -> list[tuple[float, float]]:
    """Return start and end of each practice in seconds since 1970, by the zone database."""
    zone = ZoneInfo(of.season.timezone)

    def seconds(date: dt.date, time: dt.time) -> float:
        return dt.datetime.combine(date, time, zone).timestamp()

    return [(seconds(p.date, p.start), seconds(p.date, p.end)) for p in practices]


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """Write a calendar for each zone."""
    folder = tmp_path_factory.mktemp("calendars")
    paths = []
    for zone in ZONES:
        of, practices = busy(zone)
        planned = plan(*practices, of=of, closures=(closure("02-15", "02-19"),))
        data, _ = calendar_bytes(planned, of, LIBRARY, Ledger(season="x"), NOW)
        path = folder / f"{zone.replace('/', '-')}.ics"
        path.write_bytes(data)
        paths.append(path)
    return paths


def check(read: Sequence[Sequence[Sequence[object]]]) -> None:
    """Compare what a reader read, calendar by calendar, with the zone database."""
    for zone, events in zip(ZONES, read, strict=True):
        of, practices = busy(zone)
        times = [tuple(event[1:3]) for event in events if "practice" in str(event[3])[:40]]
        timed = [time for time in times if not isinstance(time[0], str)]
        whole = [time for time in times if isinstance(time[0], str)]
        assert (zone, timed) == (zone, expected(of, practices))
        assert whole == [("2027-02-15", "2027-02-20")]
        assert {str(event[3]) for event in events} == {
            f"{of.team.name}: practice",
            f"{of.team.name}: no practice (half-term)",
            f"{of.team.name}: game at Harbour Light",
        }


def test_vobject_reads_the_same_instants(files: list[Path]) -> None:
    """The Python package `vobject` agrees on every start, end and title in every zone."""

    def moment(value: dt.date) -> float | str:
        return value.timestamp() if isinstance(value, dt.datetime) else value.isoformat()

    def events(path: Path) -> list[Event]:
        calendar = vobject.readOne(path.read_text(encoding="utf-8"))
        return [
            (e.uid.value, moment(e.dtstart.value), moment(e.dtend.value), e.summary.value)
            for e in calendar.vevent_list
        ]

    check([events(path) for path in files])


def install_ical_js() -> str | None:
    """Make sure that ical.js stands beside its script; return why it does not, or None."""
    if shutil.which("node") is None or shutil.which("npm") is None:
        return "needs node and npm"
    with (Path(tempfile.gettempdir()) / "curriculum-ical-js.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (READERS / "node_modules" / "ical.js").is_dir():
            command = ["npm", "install", "--no-audit", "--no-fund", "--no-package-lock"]
            done = subprocess.run(command, cwd=READERS, capture_output=True, check=False)
            if done.returncode != 0:
                return "npm cannot install ical.js here"
    return None


def test_ical_js_reads_the_same_instants(files: list[Path]) -> None:
    """The JavaScript package `ical.js`, Thunderbird's own reader, agrees in every zone."""
    missing = install_ical_js()
    if missing is not None:
        pytest.skip(missing)
    command = ["node", "ical_js.mjs", *map(str, files)]
    done = subprocess.run(command, cwd=READERS, capture_output=True, text=True, check=True)

    check(json.loads(done.stdout))


def test_libical_reads_the_same_instants_and_finds_no_fault(files: list[Path]) -> None:
    """Debian's libical agrees in every zone; its own check of RFC 5545's rules finds nothing."""
    probe = "import gi; gi.require_version('ICalGLib', '3.0'); from gi.repository import ICalGLib"
    command = [str(SYSTEM_PYTHON), "-c", probe]
    if (
        not SYSTEM_PYTHON.exists()
        or subprocess.run(command, capture_output=True, check=False).returncode
    ):
        pytest.skip("needs the Debian packages python3-gi and gir1.2-ical-3.0")
    script = str(READERS / "libical_reader.py")
    done = subprocess.run(
        [str(SYSTEM_PYTHON), script, *map(str, files)], capture_output=True, text=True, check=False
    )

    assert (done.returncode, done.stderr) == (0, "")
    check(json.loads(done.stdout))
