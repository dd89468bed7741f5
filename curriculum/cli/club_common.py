"""What the commands of a club share: its folder, efforts, and names that must exist."""

from collections.abc import Sequence
from pathlib import Path

import click

from curriculum.cli.common import Command
from curriculum.files.nearest import suggest
from curriculum.problems import FaultyInputError, Problem

EFFORTS = ("quick", "normal", "long")


def club_argument(function: Command) -> Command:
    """Add the club folder; the current folder by default."""
    return click.argument("club", type=click.Path(path_type=Path), default=Path())(function)


def known(name: str, names: Sequence[str], option: str) -> None:
    """Raise FaultyInputError with the nearest name when nobody has this one."""
    if name not in names:
        way_out = suggest(name, names, "see club.toml")
        raise FaultyInputError(
            [Problem("", 0, option, "the club has none of this id", name, way_out)]
        )
