"""`curriculum plan`: decide what is taught at which practice, and write it."""

import datetime as dt
from pathlib import Path
from typing import cast

import click
from rich.console import Group, RenderableType

from curriculum.cli.common import (
    clock_options,
    json_option,
    moment,
    opened,
    planned,
    season_argument,
    show,
    show_json,
)
from curriculum.cli.progress import watching
from curriculum.inquiry import outlook_of, what_if
from curriculum.models.plan import Plan
from curriculum.outputs.tables import as_data
from curriculum.outputs.terminal.clash import clash_view, risks_view
from curriculum.outputs.terminal.problems import difference_view
from curriculum.outputs.terminal.render import say
from curriculum.outputs.terminal.season import season_view
from curriculum.outputs.terminal.verdict import nearest_view, proof_line, verdict_view
from curriculum.outputs.terminal.whatif import what_if_view
from curriculum.planning import Planned, keep, make_plan
from curriculum.practice.agenda import agenda
from curriculum.practice.difference import difference, in_words
from curriculum.schedule.effort import Effort
from curriculum.store import former_plan
from curriculum.whatif.forms import FORMS
from curriculum.workspace import PLAN_FILE, Workspace


class PlanCommand(click.Command):
    """A command whose help ends with the forms that --what-if understands."""

    def format_epilog(self, _ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write the forms as a table."""
        with formatter.section("What --what-if understands"):
            formatter.write_dl(FORMS)


@click.command(cls=PlanCommand)
@season_argument
@click.option(
    "--effort",
    type=click.Choice(["quick", "normal", "long"]),
    default="normal",
    show_default=True,
    help="How hard to search: quick takes a second, long some minutes.",
)
@click.option(
    "--what-if",
    "texts",
    multiple=True,
    metavar="TEXT",
    help="Try a change, e.g. 'no 2027-02-10'; nothing is written. Can be repeated.",
)
@click.option("--fresh", is_flag=True, help="Ignore the plan that stands; the past stays.")
@click.option("--all", "every", is_flag=True, help="Print all: season, goals, changes.")
@clock_options
@json_option
def command(
    season: Path,
    effort: str,
    texts: tuple[str, ...],
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
    space = opened(season, at, ignore_plan=fresh and not texts, every_warning=not texts)
    day = today or at.date()
    if texts:
        asked = cast("Effort", effort)
        return _what_if(space, texts, at, day, asked, every=every, as_json=as_json)
    with watching() as progress:
        made = make_plan(
            space,
            now=at,
            today=day,
            fresh=fresh,
            effort=cast("Effort", effort),
            progress=progress,
        )
    if as_json:
        keep(space, made)
        show_json(made.plan.model_dump(mode="json", by_alias=True))
    else:
        # What changes is told first, so that it has been seen whatever becomes of the writing.
        _tell(space, made, day, every=every)
        keep(space, made)
        _tell_written(space, made, every=every)
    return 1 if made.plan.status == "partial" else 0


def _tell(space: Workspace, made: Planned, today: dt.date, *, every: bool) -> None:
    goals_stated = bool(space.season.goal)
    plan = made.plan
    season = (plan, space.season, space.library, space.gym)
    page = agenda(*season)
    before = _compared(space, made, every=every)
    changes = None if before is None else difference(before, plan, space.season, space.library)
    told = () if changes is None else changes.goals_lost
    parts: list[RenderableType] = [
        season_view(*season) if every else verdict_view(page, every_miss=goals_stated, told=told)
    ]
    if made.trial.result.interrupted:
        parts += [say(""), say("The search was stopped early: this is the best plan until then.")]
    if made.clash is not None:
        parts += [say(""), clash_view(made.clash, made.remedies)]
    elif goals_stated:
        begun = None if made.before is None else today
        parts += [say(""), risks_view(outlook_of(space, plan, begun))]
    if changes is not None:
        parts += [say(""), difference_view(changes, None if every else today)]
    if not every:
        nearest = nearest_view(page, today)
        parts += [say(""), nearest] if nearest else []
        parts += [say(""), proof_line(page)]
    show(Group(*parts))


def _tell_written(space: Workspace, made: Planned, *, every: bool) -> None:
    file, revision = space.folder / PLAN_FILE, made.plan.revision
    written = (
        f"Written: {file}, revision {revision}."
        if made.fresh
        else f"Nothing changed: {file} stays at revision {revision}."
    )
    click.echo(f"\n{written}")
    if not every:
        click.echo(f"The whole season: curriculum show {space.folder}")
        click.echo(f"The next sheet:   curriculum sheet {space.folder}")


def _compared(space: Workspace, made: Planned, *, every: bool) -> Plan | None:
    """Return the plan of an earlier revision whose difference is to be told; None for none."""
    before = made.before
    # Whoever saw a part of the changes when the plan was written sees all of them now.
    if every and before is not None and before.revision == made.plan.revision:
        before = former_plan(space.folder / PLAN_FILE)
    if before is None or before.season != made.plan.season:
        return None
    return before if before.revision < made.plan.revision else None


def _what_if(
    space: Workspace,
    texts: tuple[str, ...],
    now: dt.datetime,
    today: dt.date,
    effort: Effort,
    *,
    every: bool,
    as_json: bool,
) -> int:
    """Print what would differ from the plan that stands; nothing is written."""
    plan = planned(space)
    outcome = what_if(space, plan, texts, now=now, today=today, effort=effort)
    if as_json:
        risks = outcome.outlook.risks
        words = in_words(outcome.difference, plan, outcome.plan, space.season, space.library, risks)
        show_json(
            {
                "changes": as_data(words),
                "notes": list(outcome.notes),
                "plan": outcome.plan.model_dump(mode="json", by_alias=True),
            }
        )
    else:
        since = None if every else today
        show(what_if_view(texts, outcome, plan, space.season, space.library, since))
    return 1 if outcome.plan.status == "partial" else 0
