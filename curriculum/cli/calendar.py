"""`curriculum calendar`: the dates as a calendar file."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import (
    clock_options,
    json_option,
    moment,
    opened,
    planned,
    season_argument,
    show_json,
)
from curriculum.handouts import calendar_file, mark_as_told
from curriculum.store import write_atomic


@click.command()
@season_argument
@click.option(
    "--for",
    "audience",
    type=click.Choice(["coach", "families"]),
    default="coach",
    show_default=True,
    help="The coach's shows what is taught; the families' shows dates and places alone.",
)
@click.option("--out", type=click.Path(path_type=Path), help="File; default: calendar.ics.")
@clock_options
@json_option
def command(
    season: Path,
    audience: str,
    out: Path | None,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> None:
    """Write the dates as an .ics file that phones can import or subscribe to.

    A practice that moves keeps its place in every phone's calendar; one that is lost is shown
    as cancelled. No child's name is ever in it.
    """
    del today
    space = opened(season, moment(now))
    plan = planned(space)
    for_families = audience == "families"
    data, space = calendar_file(space, plan, "families" if for_families else "coach", moment(now))
    target = out or space.folder / ("families.ics" if for_families else "calendar.ics")
    mark_as_told(space)
    write_atomic(target, data)
    if as_json:
        show_json({"written": str(target)})
    else:
        click.echo(f"Written: {target}")
