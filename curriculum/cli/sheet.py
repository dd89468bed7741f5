"""`curriculum sheet`: one practice on one page."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import (
    DateType,
    clock_options,
    json_option,
    moment,
    opened,
    paper_option,
    present_plan,
    season_argument,
    show,
    show_json,
    warn,
)
from curriculum.cli.here import FolderFirst
from curriculum.handouts.sheets import practice_on, sheet_for
from curriculum.handouts.told import mark_as_told
from curriculum.insight.absences import to_catch_up
from curriculum.outputs.pdf.sheets import sheet_pdf
from curriculum.outputs.pdf.typeset import Paper
from curriculum.outputs.tables import as_data
from curriculum.outputs.terminal.sheet import sheet_view
from curriculum.store import write_atomic


@click.command(cls=FolderFirst)
@season_argument
@click.argument("date", type=DateType(), required=False)
@click.option("--pdf", type=click.Path(path_type=Path), help="Write the sheet to this PDF file.")
@paper_option
@clock_options
@json_option
def command(
    season: Path,
    date: dt.date | None,
    pdf: Path | None,
    paper: Paper,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> None:
    """Show what one practice holds, minute by minute; without a date the next one.

    Names of players who missed an introduction stand here alone: in no other print, in no calendar.
    """
    at = moment(now)
    space = opened(season, at)
    plan = present_plan(space)
    held = practice_on(space, plan, date, today or at.date())
    sheet = sheet_for(space, plan, held, to_catch_up(space.record, held.date))
    if pdf is not None:
        printed = sheet_pdf(sheet, space.library.drills, plan.made, paper)
        write_atomic(pdf, printed.pdf)
        mark_as_told(space)
        warn(printed.problems)
        click.echo(f"Written: {pdf}")
    elif as_json:
        show_json(as_data(sheet))
    else:
        show(sheet_view(sheet))
