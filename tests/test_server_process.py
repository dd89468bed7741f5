"""The server as a process: killed in the middle, and read by another program's calendar client."""

import json
import os
import re
import shutil
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from http.cookiejar import CookieJar
from pathlib import Path

import pytest

from curriculum.records.database import history, open_record
from curriculum.server import addresses
from curriculum.server.state import State
from tests.server_cases import FIRST, NOW, season_folder
from tests.server_process import SECONDS, Running

pytestmark = pytest.mark.filterwarnings("ignore::ResourceWarning")
SCRIPTS = Path(sys.executable).parent


class Phone:
    """A coach's phone over a real connection; it sends again until it gets an answer."""

    def __init__(self, running: Running) -> None:
        self.running = running
        self.opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(CookieJar()), urllib.request.ProxyHandler({})
        )
        self.post("/sign-in", {"key": running.key}, self.token("/sign-in"))

    def get(self, path: str) -> str:
        """Return a page."""
        with self.opener.open(f"{self.running.address}{path}", timeout=SECONDS) as answer:
            return str(answer.read().decode())

    def token(self, path: str) -> str:
        """Return the token of a form."""
        found = re.search(r'name="token" value="([^"]+)"', self.get(path))
        assert found
        return found[1]

    def post(self, path: str, fields: dict[str, str], token: str) -> str:
        """Send a form; whatever goes wrong on the way raises OSError."""
        body = urllib.parse.urlencode({"token": token, **fields}).encode()
        request = urllib.request.Request(
            f"{self.running.address}{path}", body, {"Accept": "application/json"}
        )
        with self.opener.open(request, timeout=SECONDS) as answer:
            return str(answer.read().decode())

    def record(self, client: str, done: threading.Semaphore) -> None:
        """Send one record until there is an answer: it stands, or it is set aside."""
        fields = {"client": client, "version": "0", "status": "held", "note": client}
        while True:
            try:
                token = json.loads(self.get("/session"))["token"]
                self.post(f"/practice/{FIRST}/record", fields, token)
                break
            except urllib.error.HTTPError as fault:
                if fault.code == 409:
                    break
                time.sleep(0.2)
            except OSError:
                time.sleep(0.2)
        done.release()


def test_killed_in_the_middle_each_record_is_kept_once(tmp_path: Path) -> None:
    """Many phones at once, SIGKILL and a new start while they send: every record is there once."""
    names = [f"phone-{number:04}" for number in range(60)]
    with Running(season_folder(tmp_path), "2027-01-14T09:00") as running:
        phone, done = Phone(running), threading.Semaphore(0)
        with ThreadPoolExecutor(12) as crowd:
            waiting = [crowd.submit(phone.record, name, done) for name in names]
            for _ in range(15):
                done.acquire()
            running.kill()
            running.start()
            for each in waiting:
                each.result()
    with open_record(running.folder / "record.db") as db:
        kept = history(db, FIRST)

    assert sorted(saved.entry.note for saved in kept) == names
    assert [saved.version for saved in kept] == [1, *[None] * (len(names) - 1)]


class Subscriber:
    """Another person's programs: vdirsyncer subscribes over HTTP, khal lists."""

    def __init__(self, folder: Path, address: str) -> None:
        self.folder = folder
        folder.mkdir()
        (folder / "khal.conf").write_text(
            f"[calendars]\n[[team]]\npath = {folder / 'team'}\n"
            "[locale]\ntimeformat = %H:%M\ndateformat = %Y-%m-%d\nlongdateformat = %Y-%m-%d\n"
            "datetimeformat = %Y-%m-%d %H:%M\nlongdatetimeformat = %Y-%m-%d %H:%M\n"
            "local_timezone = Europe/Dublin\ndefault_timezone = Europe/Dublin\n"
            f"[sqlite]\npath = {folder / 'khal.db'}\n"
        )
        (folder / "vdirsyncer.conf").write_text(
            f'[general]\nstatus_path = "{folder / "status"}"\n'
            '[pair team]\na = "far"\nb = "near"\ncollections = null\n'
            'conflict_resolution = "a wins"\n'
            f'[storage far]\ntype = "http"\nurl = "{address}"\n'
            f'[storage near]\ntype = "filesystem"\npath = "{folder / "team"}"\nfileext = ".ics"\n'
        )

    def shows(self) -> list[str]:
        """Fetch the calendar and return what is listed around the practices in question."""
        for step in ("discover", "sync"):
            self._run("vdirsyncer", "-c", f"{self.folder / 'vdirsyncer.conf'}", step)
        form = "{start-date} {start-time} {title}"
        told = self._run(
            *("khal", "-c", f"{self.folder / 'khal.conf'}", "list", "--format", form),
            *("--day-format", "", "2027-01-14", "9d"),
        )
        return [line.strip() for line in told.splitlines() if line.strip()]

    def _run(self, program: str, *arguments: str) -> str:
        settings = {**os.environ, "HOME": str(self.folder), "XDG_CACHE_HOME": str(self.folder)}
        done = subprocess.run(
            [str(SCRIPTS / program), *arguments], input="y\ny\n", capture_output=True, text=True,
            env=settings, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    """Serve the season."""
    with Running(season_folder(tmp_path), "2027-01-14T09:00") as running:
        yield running


@pytest.mark.skipif(
    not all(shutil.which(name, path=str(SCRIPTS)) for name in ("khal", "vdirsyncer")),
    reason="needs the packages khal and vdirsyncer",
)
def test_a_subscriber_sees_a_move_and_a_cancellation(running: Running, tmp_path: Path) -> None:
    """After a practice moved and another was lost, the re-plan accepted, the phone shows both."""
    feed = addresses.add_feed(State(running.folder), "Families", "families", NOW)
    family = Subscriber(tmp_path / "family", f"{running.address}/f/{feed}.ics")
    coach, before = Phone(running), family.shows()
    page = coach.get("/edit")
    mark = re.search(r'name="mark" value="(\w+)"', page)
    assert mark
    move = {"mark": mark[1], "do": "add", "of": "2027-01-20", "date": "2027-01-21"}
    coach.post("/edit/move", move, coach.token("/edit"))
    lost = {"client": "phone-lost", "version": "0", "status": "lost", "reason": "no heating"}
    coach.post("/practice/2027-01-15-north-gym-1730/record", lost, coach.token("/edit"))
    coach.post("/plan/propose", {}, coach.token("/edit"))
    deadline = time.monotonic() + SECONDS
    while "Accept this plan" not in (page := coach.get("/plan")):
        assert time.monotonic() < deadline
        time.sleep(0.2)
    asked = {
        name: re.findall(rf'name="{name}" value="([^"]*)"', page)[0]
        for name in ("proposal", "revision")
    }
    coach.post("/plan/accept", asked, coach.token("/edit"))

    name = "Kestrel Quay Testers: practice"
    assert before == [
        f"2027-01-15 17:30 {name}", f"2027-01-20 17:30 {name}", f"2027-01-22 17:30 {name}",
    ]  # fmt: skip
    assert family.shows() == [
        f"2027-01-15 17:30 CANCELLED: {name}",
        f"2027-01-21 17:30 {name}",
        f"2027-01-22 17:30 {name}",
    ]
