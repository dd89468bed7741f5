"""`curriculum print`: every sheet and the wall chart as PDF files."""

from pathlib import Path

import click

from curriculum.cli.common import (
    json_option,
    moment,
    opened,
    planned,
    season_argument,
    show_json,
    warn,
)
from curriculum.handouts import mark_as_told, prints
from curriculum.store import write_atomic


@click.command()
@season_argument
@click.option("--out", type=click.Path(path_type=Path), help="Folder; default: print, beside it.")
@click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True)
@click.option("--fonts", type=click.Path(path_type=Path, exists=True), help="More fonts, a folder.")
@json_option
def command(season: Path, out: Path | None, paper: str, fonts: Path | None, as_json: bool) -> None:
    """Make a booklet of all sheets and the season's wall chart as PDF files."""
    space = opened(season, moment(None))
    plan = planned(space)
    folder = out or space.folder / "print"
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    for name, printed in prints(space, plan, "letter" if paper == "letter" else "a4", fonts):
        write_atomic(folder / name, printed.pdf)
        warn(printed.problems)
        written.append(str(folder / name))
    mark_as_told(space)
    if as_json:
        show_json({"written": written})
    else:
        for path in written:
            click.echo(f"Written: {path}")
