"""`curriculum print`: sheets, wall chart, map of skills and dates as PDF files, or one page."""

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import click

from curriculum.cli.common import (
    json_option,
    moment,
    opened,
    paper_option,
    present_plan,
    season_argument,
    show_json,
    warn,
)
from curriculum.handouts.prints import Print, prints_of, season_html
from curriculum.handouts.told import mark_as_told
from curriculum.outputs.pdf.typeset import Paper
from curriculum.store import write_atomic

HTML = "season.html"


@click.command()
@season_argument
@click.option("--out", type=click.Path(path_type=Path), help="Folder; default: print, beside it.")
@click.option("--html", is_flag=True, help=f"Write one page for phones instead: {HTML}.")
@paper_option
@click.option("--fonts", type=click.Path(path_type=Path, exists=True), help="More fonts, a folder.")
@click.option(
    "--court",
    type=click.Choice(["fiba", "nfhs", "mini"]),
    default="fiba",
    show_default=True,
    help="The court in diagrams.",
)
@json_option
def command(
    season: Path,
    out: Path | None,
    html: bool,
    paper: Paper,
    fonts: Path | None,
    court: str,
    as_json: bool,
) -> None:
    """Make the booklet of all sheets, the wall chart, the map of skills and families' dates.

    No player's name stands in any of them.
    """
    space = opened(season, moment(None))
    plan = present_plan(space)
    folder = out or space.folder / "print"
    folder.mkdir(parents=True, exist_ok=True)
    written = []
    if html:
        write_atomic(folder / HTML, season_html(space, plan, court))
        written.append(str(folder / HTML))
    else:
        jobs = prints_of(space, plan, paper, fonts, court)
        for job in _watched(jobs):
            printed = job.make()
            write_atomic(folder / job.name, printed.pdf)
            warn(printed.problems)
            written.append(str(folder / job.name))
    mark_as_told(space)
    if as_json:
        show_json({"written": written})
    else:
        for path in written:
            click.echo(f"Written: {path}")


def _watched(jobs: Iterable[Print]) -> Iterator[Print]:
    """Give one print after the other, with a bar on the error stream where somebody watches."""
    every = tuple(jobs)
    if not sys.stderr.isatty():
        yield from every
        return
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    columns = (BarColumn(18), TextColumn("{task.description}"), TimeElapsedColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bars:
        task = bars.add_task("", total=len(every))
        for job in every:
            bars.update(task, description=job.what, refresh=True)
            yield job
            bars.advance(task)
