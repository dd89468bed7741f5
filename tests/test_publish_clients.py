"""A published calendar as other programs see it, and publishing that the system kills."""

import datetime as dt
import os
import re
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.ical_season import LATER, NOW, lost, practice
from tests.radicale_server import PASSWORD, USER, Radicale, needs_radicale, radicale
from tests.test_publish_caldav import Coach, planned

pytestmark = [needs_radicale, pytest.mark.filterwarnings("ignore::ResourceWarning")]

SCRIPTS = Path(sys.executable).parent


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Radicale]:
    """Run a server of this test alone."""
    folder = tmp_path / "server"
    folder.mkdir()
    with radicale(folder) as running:
        yield running


class Phone:
    """Another person's programs: vdirsyncer fetches the calendar, khal lists it."""

    def __init__(self, server: Radicale, folder: Path) -> None:
        self.folder = folder
        (folder / "khal.conf").write_text(
            "[calendars]\n[[team]]\n"
            f"path = {folder / 'calendars' / 'team'}\n"
            "[locale]\ntimeformat = %H:%M\ndateformat = %Y-%m-%d\n"
            "longdateformat = %Y-%m-%d\ndatetimeformat = %Y-%m-%d %H:%M\n"
            "longdatetimeformat = %Y-%m-%d %H:%M\n"
            "local_timezone = Europe/Dublin\ndefault_timezone = Europe/Dublin\n"
            f"[sqlite]\npath = {folder / 'khal.db'}\n"
        )
        (folder / "vdirsyncer.conf").write_text(
            f'[general]\nstatus_path = "{folder / "status"}"\n'
            '[pair team]\na = "far"\nb = "near"\ncollections = ["team"]\n'
            'conflict_resolution = "a wins"\n'
            '[storage far]\ntype = "caldav"\nread_only = true\n'
            f'url = "http://127.0.0.1:{server.port}/"\n'
            f'username = "{USER}"\npassword = "{PASSWORD}"\n'
            f'[storage near]\ntype = "filesystem"\npath = "{folder / "calendars"}"\n'
            'fileext = ".ics"\n'
        )

    def shows(self) -> list[str]:
        """Fetch the calendar and return what the phone lists for the season, a line an event."""
        self._run("vdirsyncer", "-c", str(self.folder / "vdirsyncer.conf"), "discover")
        self._run("vdirsyncer", "-c", str(self.folder / "vdirsyncer.conf"), "sync")
        form = "{start-date} {start-time}-{end-time} {title} [{status}]"
        told = self._run(
            *("khal", "-c", str(self.folder / "khal.conf"), "list", "--format", form),
            *("--day-format", "", "2027-01-11", "90d"),
        )
        return [re.sub(r"\s+", " ", line).strip() for line in told.splitlines() if line.strip()]

    def _run(self, program: str, *arguments: str) -> str:
        settings = {**os.environ, "HOME": str(self.folder), "XDG_CACHE_HOME": str(self.folder)}
        done = subprocess.run(
            [str(SCRIPTS / program), *arguments],
            input="y\ny\ny\n",
            capture_output=True,
            text=True,
            env=settings,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout


@pytest.mark.skipif(
    not all(shutil.which(name, path=str(SCRIPTS)) for name in ("khal", "vdirsyncer")),
    reason="needs the packages khal and vdirsyncer",
)
def test_another_phone_sees_every_change(server: Radicale, tmp_path: Path) -> None:
    """Published, moved, cancelled and published again, as a second client lists it each time."""
    coach, phone = Coach(server), Phone(server, tmp_path)
    moved = practice("01-13", start=dt.time(18), end=dt.time(19))
    states = []
    for plan, now in (
        (planned(), NOW),
        (planned(moved, practice("01-15")), LATER),
        (planned(moved, not_held=(lost("01-15"),)), LATER),
        (planned(moved, practice("01-15")), LATER),
    ):
        coach.publish(plan, now)
        states.append(phone.shows())

    name, moved_line = "Kestrel Quay: practice", "2027-01-13 18:00-19:00 Kestrel Quay: practice []"
    assert [[re.sub(r"\[.*", "[]", line) for line in state] for state in states] == [
        [f"2027-01-13 17:30-18:45 {name} []", f"2027-01-15 17:30-18:45 {name} []"],
        [moved_line, f"2027-01-15 17:30-18:45 {name} []"],
        [moved_line, f"2027-01-15 17:30-18:45 CANCELLED: {name} []"],
        [moved_line, f"2027-01-15 17:30-18:45 {name} []"],
    ]
    assert ["CANCELLED" in line.partition("[")[2] for line in states[2]] == [False, True]


KILLED = """
import os, signal, sys
from pathlib import Path
from curriculum.ledger import read_ledger, write_ledger
from curriculum.publish import run
from tests import test_publish_caldav as base
from tests.ical_season import LATER, practice

path, port, left = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
coach = base.Coach(base.Radicale(port))
coach.kept, problems = read_ledger(path, coach.kept.season, LATER, 1)
assert not problems

class Deadly(base.Interrupted):
    def put(self, name, data, tag):
        global left
        answer = self.plain.put(name, data, tag)
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)
        return answer

def keep(change):
    coach.kept = change(coach.kept)
    write_ledger(path, coach.kept)
    return coach.kept

coach.keep = keep
plan = base.planned(*(practice(f"02-{n:02}") for n in range(1, 9)))
through = (lambda c: Deadly(c, 0, answer_lost=True)) if left else (lambda c: c)
print(coach.publish(plan, LATER, through).steps)
"""


def test_a_killed_process_leaves_a_folder_that_the_next_run_understands(
    server: Radicale, tmp_path: Path
) -> None:
    """SIGKILL in the middle: the ledger on disk is whole, and the second run does the rest once."""
    path = tmp_path / "published.json"

    def run(left: int) -> "subprocess.CompletedProcess[str]":
        arguments = [sys.executable, "-c", KILLED, str(path), str(server.port), str(left)]
        return subprocess.run(
            arguments,
            capture_output=True,
            text=True,
            check=False,
            cwd=Path(__file__).parent.parent,
        )

    killed, second, third = run(4), run(0), run(0)

    assert (killed.returncode, killed.stdout) == (-signal.SIGKILL, "")
    assert second.stdout.strip() == "{'unchanged': 4, 'created': 4}"
    assert third.stdout.strip() == "{'unchanged': 8}"
    assert server.everything().count(b"BEGIN:VEVENT") == 8
