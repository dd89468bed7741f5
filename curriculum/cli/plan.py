"""`curriculum plan`: decide what is taught at which practice, and write it."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.common import (
    clock_options,
    json_option,
    moment,
    opened,
    season_argument,
    show,
    show_json,
)
from curriculum.outputs.terminal.problems import difference_view
from curriculum.outputs.terminal.season import season_view
from curriculum.planning import Planned, keep, make_plan
from curriculum.workspace import PLAN_FILE, Workspace


@click.command()
@season_argument
@click.option("--fresh", is_flag=True, help="Ignore the plan that stands; the past stays.")
@click.option("--all", "every", is_flag=True, help="Also list every could-goal that is missed.")
@clock_options
@json_option
def command(
    season: Path,
    fresh: bool,
    every: bool,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> int:
    """Decide what is taught at which practice, and write it to plan.json.

    A plan that stands already is compared with the new one first. Practices before today are
    past and stay as they were planned.
    """
    at = moment(now)
    space = opened(season, at)
    made = make_plan(space, now=at, today=today or at.date(), fresh=fresh)
    keep(space, made)
    if as_json:
        show_json(made.plan.model_dump(mode="json", by_alias=True))
    else:
        _tell(space, made, every=every)
    return 1 if made.plan.status == "partial" else 0


def _tell(space: Workspace, made: Planned, *, every: bool) -> None:
    goals_stated = bool(space.season.goal)
    show(
        season_view(
            made.plan, space.season, space.library, space.gym, every_miss=every or goals_stated
        )
    )
    if made.before is not None and made.plan.revision > made.before.revision:
        click.echo()
        show(difference_view(made.before, made.plan, space.library))
    click.echo()
    file = space.folder / PLAN_FILE
    if made.fresh:
        click.echo(f"Written: {file}, revision {made.plan.revision}.")
    else:
        click.echo(f"Nothing changed: {file} stays at revision {made.plan.revision}.")
