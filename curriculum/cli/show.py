"""`curriculum show`: the season, a week, a skill, a strand, the chart or the graph."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import click
from rich.console import RenderableType

from curriculum.cli.common import (
    clock_options,
    in_library,
    json_option,
    moment,
    opened,
    present_plan,
    season_argument,
    show,
    show_json,
    skill_named,
)
from curriculum.happened import open_from
from curriculum.insight.absences import missed_introductions
from curriculum.insight.load import load
from curriculum.insight.progress import progress
from curriculum.models.plan import Plan
from curriculum.outputs.tables import as_data
from curriculum.outputs.terminal.chart import chart_view
from curriculum.outputs.terminal.insight import load_view, progress_view
from curriculum.outputs.terminal.season import season_view
from curriculum.outputs.terminal.skills import graph_view, skill_view, strand_view
from curriculum.outputs.terminal.week import week_view
from curriculum.practice.agenda import agenda, weeks
from curriculum.practice.chart import chart as chart_of
from curriculum.practice.skillcard import skill_card, strand_cards
from curriculum.practice.tree import trees
from curriculum.spans import week_of
from curriculum.workspace import Workspace


@click.command()
@season_argument
@click.option("--week", type=click.IntRange(min=1), help="One week of the season, 1 is the first.")
@click.option("--skill", help="One skill by its name or id: stages, dates, needs, cues.")
@click.option("--strand", help="All skills of one strand, by its name.")
@click.option("--chart", is_flag=True, help="One line a skill, one mark a week.")
@click.option("--graph", is_flag=True, help="The library's skills as a tree of needs.")
@click.option("--progress", "far", is_flag=True, help="How far each skill is, planned and real.")
@click.option("--load", "hours", is_flag=True, help="Hours a week against published guidance.")
@clock_options
@json_option
def command(
    season: Path,
    week: int | None,
    skill: str | None,
    strand: str | None,
    chart: bool,
    graph: bool,
    far: bool,
    hours: bool,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> None:
    """Show the season as planned: all of it, or one week, skill or strand of it.

    With a record, also how it really went.
    """
    named = [week is not None, skill is not None, strand is not None]
    if sum([*named, chart, graph, far, hours]) > 1:
        raise click.UsageError(
            "choose one of --week, --skill, --strand, --chart, --graph, --progress and --load"
        )
    at = moment(now)
    space = opened(season, at)
    if graph:
        _out(
            as_json,
            lambda: trees(space.library, space.plan),
            lambda: graph_view(space.library, space.plan),
        )
        return
    if hours:
        weekly = load(space.season, space.gym, space.record, today or at.date())
        _out(as_json, lambda: weekly, lambda: load_view(weekly, space.season))
        return
    plan = present_plan(space)
    if far:
        _progress(space, plan, today or at.date(), as_json=as_json)
        return
    parts = (plan, space.season, space.library)
    if skill is not None:
        skill = skill_named(space.library, skill, "--skill")
        _out(as_json, lambda: skill_card(*parts, skill), lambda: skill_view(*parts, skill))
    elif strand is not None:
        name = _strand(space, strand)
        _out(as_json, lambda: strand_cards(*parts, name), lambda: strand_view(*parts, name))
    elif week is not None:
        _in_season(space, week)
        wanted = [each for each in weeks(*parts, space.gym) if each.number == week]
        _out(as_json, lambda: wanted, lambda: week_view(*parts, space.gym, week))
    elif chart:
        _out(as_json, lambda: chart_of(*parts), lambda: chart_view(*parts))
    else:
        _out(as_json, lambda: agenda(*parts, space.gym), lambda: season_view(*parts, space.gym))


def _progress(space: Workspace, plan: Plan, today: dt.date, *, as_json: bool) -> None:
    before = open_from(space.record, today) or today
    page = progress(space.record, plan, space.library, space.gym, space.workload, before)
    missed = missed_introductions(space.record, before)
    _out(
        as_json,
        lambda: (page, missed),
        lambda: progress_view(page, missed, space.season, space.library),
    )


def _out(as_json: bool, data: Callable[[], object], view: Callable[[], RenderableType]) -> None:
    """Print a view, or its data, and make only the one that is wanted."""
    if as_json:
        show_json(as_data(data()))
    else:
        show(view())


def _strand(space: Workspace, wanted: str) -> str:
    names = sorted({skill.strand for skill in space.library.skills})
    for name in names:
        if name.lower() == wanted.lower():
            return name
    in_library(wanted, names, "--strand")
    return wanted


def _in_season(space: Workspace, week: int) -> None:
    last = week_of(space.season.season.start, space.season.season.end)
    if week > last:
        raise click.BadParameter(
            f"{week} is too high; the season has {last} weeks", param_hint="--week"
        )
