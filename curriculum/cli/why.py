"""`curriculum why`: why a skill is taught when it is."""

import datetime as dt
from pathlib import Path
from typing import cast

import click

from curriculum.cli.common import (
    DateType,
    clock_options,
    json_option,
    moment,
    opened,
    present_plan,
    season_argument,
    show,
    show_json,
    skill_named,
)
from curriculum.cli.here import FolderFirst
from curriculum.inquiry import why_about
from curriculum.models.skills import STAGES, Stage
from curriculum.outputs.tables import as_data
from curriculum.outputs.terminal.why import why_view


@click.command(cls=FolderFirst)
@season_argument
@click.argument("skill")
@click.option("--stage", type=click.Choice(list(STAGES)), help="Only this stage.")
@click.option("--date", type=DateType(), help="Only the block of this date.")
@clock_options
@json_option
def command(
    season: Path,
    skill: str,
    stage: str | None,
    date: dt.date | None,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> None:
    """Say of each block of a skill why it does not stand earlier, and what waits for it.

    Every earlier practice is named with the rule that forbids the block there, or with what
    would get worse: that is tried, not guessed.
    """
    at = moment(now)
    space = opened(season, at)
    plan = present_plan(space)
    skill = skill_named(space.library, skill, "SKILL")
    found = why_about(space, plan, skill, cast("Stage | None", stage), date, today or at.date())
    if as_json:
        show_json(as_data(found))
    else:
        show(why_view(found, space.library))
