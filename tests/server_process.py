"""The server as a process of its own, to be reached, killed and started again."""

import re
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from types import TracebackType
from typing import Self

ROOT = Path(__file__).parent.parent


def free_port() -> int:
    """Return a port of this machine that nobody listens on."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


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
        for _ in range(300):
            if self._process.poll() is not None:
                break
            try:
                urllib.request.urlopen(f"{self.address}/robots.txt", timeout=2)
            except (urllib.error.URLError, OSError):
                time.sleep(0.1)
            else:
                told = (self.folder.parent / "server.log").read_text()
                found = re.search(r"Key for Coach: (\S+)", told)
                self.key = found[1] if found else self.key
                return
        raise AssertionError((self.folder.parent / "server.log").read_text()[-2000:])

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
