"""The server as a process of its own, to be reached, killed and started again."""

import random
import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

ROOT = Path(__file__).parent.parent


PORTS = range(20_000, 32_000)
"""Below those that systems give to outgoing connections, so that a port is still free when a server
is started on it again."""

SECONDS = 120
"""How long a loaded machine may take to start a server."""


def free_port() -> int:
    """Return a port of this machine that nobody listens on."""
    while True:
        port = random.choice(PORTS)
        with socket.socket() as asked, suppress(OSError):
            asked.bind(("127.0.0.1", port))
            return port


class Running:
    """`curriculum serve` over a folder; the first start tells the coach's key."""

    def __init__(self, folder: Path, now: str) -> None:
        self.folder, self.now, self.port = folder, now, free_port()
        self.key = ""
        self._process: subprocess.Popen[str] | None = None
        self.start()

    @property
    def address(self) -> str:
        """Where it listens."""
        return f"http://127.0.0.1:{self.port}"

    @property
    def pid(self) -> int:
        """The number of the process."""
        assert self._process is not None
        return self._process.pid

    def start(self) -> None:
        """Start it, and wait until it answers."""
        command = [sys.executable, "-m", "curriculum", "serve", str(self.folder)]
        command += ["--port", f"{self.port}", "--now", self.now]
        self.log = (self.folder.parent / "server.log").open("a+")
        self._process = subprocess.Popen(
            command, stdout=self.log, stderr=subprocess.STDOUT, text=True, cwd=ROOT
        )
        deadline = time.monotonic() + SECONDS
        while self._process.poll() is None and time.monotonic() < deadline:
            try:
                urllib.request.urlopen(f"{self.address}/robots.txt", timeout=10)
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
            else:
                told = (self.folder.parent / "server.log").read_text()
                found = re.search(r"Key for Coach: (\S+)", told)
                self.key = found[1] if found else self.key
                return
        told = (self.folder.parent / "server.log").read_text()
        if "address already in use" in told and not self.key:
            # Somebody was quicker; nobody knows the address yet.
            (self.folder.parent / "server.log").unlink()
            self.port = free_port()
            self.start()
            return
        raise AssertionError(told[-2000:])

    def kill(self) -> None:
        """Kill it as the system does when it runs out of memory."""
        assert self._process is not None
        self._process.send_signal(signal.SIGKILL)
        self._process.wait()
        self.log.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._process is not None and self._process.poll() is None:
            self.kill()
