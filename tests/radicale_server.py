"""A real Radicale server on loopback, started by a test, with one user and an empty calendar."""

import base64
import importlib.util
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.server_process import SECONDS, free_port

USER, PASSWORD = "coach", "kestrel"

needs_radicale = pytest.mark.skipif(
    any(importlib.util.find_spec(name) is None for name in ("radicale", "caldav")),
    reason="needs the packages radicale and caldav",
)


@dataclass(frozen=True)
class Radicale:
    """A running server; `request` talks to it as a second client, with no library between."""

    port: int
    calendar: str = "/coach/team/"

    @property
    def address(self) -> str:
        """The calendar's address as a coach writes it."""
        return f"caldav://{USER}@127.0.0.1:{self.port}{self.calendar}"

    def request(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, bytes, dict[str, str]]:
        """Return status, body and headers of an answer."""
        login = base64.b64encode(f"{USER}:{PASSWORD}".encode()).decode()
        told = {"Authorization": f"Basic {login}", **headers}
        request = urllib.request.Request(
            f"http://127.0.0.1:{self.port}{path}", body, told, method=method
        )
        try:
            with urllib.request.urlopen(request, timeout=SECONDS) as answer:
                return answer.status, answer.read(), dict(answer.headers)
        except urllib.error.HTTPError as fault:
            return fault.code, fault.read(), dict(fault.headers)

    def entry(self, uid: str) -> bytes:
        """Return the bytes of an entry; the test fails when it is not there."""
        status, body, _ = self.request("GET", f"{self.calendar}{uid}.ics")
        assert status == 200
        return body

    def everything(self) -> bytes:
        """Return the whole calendar as the server gives it to subscribers."""
        return self.request("GET", self.calendar)[1]


@contextmanager
def radicale(folder: Path) -> Iterator[Radicale]:
    """Run a server whose files lie in a folder."""
    port = free_port()
    (folder / "users").write_text(f"{USER}:{PASSWORD}\n")
    (folder / "config").write_text(
        f"[server]\nhosts = 127.0.0.1:{port}\n"
        f"[auth]\ntype = htpasswd\nhtpasswd_filename = {folder / 'users'}\n"
        "htpasswd_encryption = plain\ndelay = 0\n"
        f"[storage]\nfilesystem_folder = {folder / 'data'}\n"
        "[logging]\nlevel = error\n"
    )
    command = [sys.executable, "-m", "radicale", "--config", str(folder / "config")]
    with (folder / "log").open("wb") as log:
        process = subprocess.Popen(command, stdout=log, stderr=log)
    try:
        server = Radicale(port)
        _wait(server, process)
        yield server
    finally:
        process.terminate()
        process.wait(timeout=SECONDS)


def _wait(server: Radicale, process: "subprocess.Popen[bytes]") -> None:
    deadline = time.monotonic() + SECONDS
    while time.monotonic() < deadline:
        try:
            server.request("GET", "/")
        except OSError:
            assert process.poll() is None, "the server ended at once"
            time.sleep(0.1)
        else:
            return
    raise AssertionError("the server did not answer")
