"""The command line, called within a test's own process."""

import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from curriculum.cli.main import run

NOW = ("--now", "2027-01-05T09:00")
QUICK = (*NOW, "--effort", "quick")


@dataclass(frozen=True)
class Ended:
    """How a command ended."""

    code: int
    out: str
    err: str


class Line:
    """A command line that is called with words, in the test's own process."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.monkeypatch = monkeypatch
        self.capsys = capsys
        monkeypatch.setenv("SOURCE_DATE_EPOCH", "1799139600")

    def __call__(self, *words: str | Path) -> Ended:
        """Run `curriculum` with words and return how it ended."""
        self.monkeypatch.setattr(sys, "argv", ["curriculum", *(str(word) for word in words)])
        with pytest.raises(SystemExit) as left:
            run()
        printed = self.capsys.readouterr()
        return Ended(int(left.value.code or 0), printed.out, printed.err)
