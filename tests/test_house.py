"""Formatting, lint and types are part of the tests, so that one command checks everything."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.mark.parametrize(
    "command",
    [
        ["ruff", "format", "--check", "curriculum", "tests"],
        ["ruff", "check", "curriculum", "tests"],
        ["mypy"],
    ],
    ids=["format", "lint", "types"],
)
def test_the_tree_is_clean(command: list[str]) -> None:
    """The formatter, the linter and the type checker find nothing."""
    done = subprocess.run(
        [sys.executable, "-m", *command], capture_output=True, text=True, cwd=ROOT, check=False
    )

    assert (done.returncode, done.stdout[-4000:] if done.returncode else "") == (0, "")
