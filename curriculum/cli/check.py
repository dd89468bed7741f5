"""`curriculum check`: read the files and say everything that is wrong."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import (
    json_option,
    moment,
    now_option,
    problems_data,
    season_argument,
    show,
    show_json,
)
from curriculum.inspection import check_folder
from curriculum.outputs.terminal.problems import problems_view
from curriculum.problems import errors


@click.command()
@season_argument
@now_option
@json_option
def command(season: Path, now: dt.datetime | None, as_json: bool) -> int:
    """Read a season's files and say everything that is wrong, all at once.

    Also tells which goals no plan can reach in time and, when a plan stands in the
    folder, every rule that it breaks. Nothing is changed.
    """
    problems = check_folder(season, moment(now))
    if as_json:
        show_json(problems_data(problems))
    elif problems:
        show(problems_view(problems))
    else:
        click.echo("All is well: the files can be read and every goal can be reached in time.")
    return 1 if errors(problems) else 0
