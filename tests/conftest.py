"""House rules of the tests.

A test carries one sentence, compares whole values and shows one behaviour. Expected texts stand in
`golden/` and in the README; they are rewritten only by `pytest --rewrite`, to be read as a diff.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.browser import CHROMIUM, OPTIONS
from tests.command_line import Line

if TYPE_CHECKING:
    from playwright.sync_api import Browser


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the flag that rewrites expected texts."""
    parser.addoption("--rewrite", action="store_true", help="rewrite the expected texts")


@pytest.fixture
def rewrite(request: pytest.FixtureRequest) -> bool:
    """Whether expected texts are to be rewritten."""
    return bool(request.config.getoption("--rewrite"))


@pytest.fixture
def line(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Line:
    """Return the command line."""
    return Line(monkeypatch, capsys)


@pytest.fixture(scope="module")
def chromium() -> "Iterator[Browser]":
    """Start the system's browser, once for a module."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playing:
        browser = playing.chromium.launch(executable_path=CHROMIUM, args=OPTIONS)
        yield browser
        browser.close()


@pytest.fixture
def golden(rewrite: bool) -> "Golden":
    """Return the comparer with the texts under `golden/`."""
    return Golden(rewrite)


class Golden:
    """Compares a text with the file that holds what is expected."""

    folder = Path(__file__).parent / "golden"

    def __init__(self, rewrite: bool) -> None:
        self.rewrite = rewrite

    def check(self, name: str, text: str) -> None:
        """Compare a text with `golden/<name>`, or write it there when asked to."""
        path = self.folder / name
        if self.rewrite:
            self.folder.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8")

        assert text == path.read_text(encoding="utf-8")
