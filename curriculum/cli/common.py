"""What commands share: the season argument, the clock as an option, and printing."""

import datetime as dt
import json
import os
import shutil
import sys
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Any, TypeVar, get_args

import click
from rich.console import RenderableType

from curriculum.files.nearest import suggest
from curriculum.models.plan import Plan
from curriculum.models.skills import Library
from curriculum.outdated import outdated_problems
from curriculum.outputs.pdf.typeset import Paper
from curriculum.outputs.terminal.render import render
from curriculum.problems import FaultyInputError, Problem, as_data
from curriculum.wording import counted
from curriculum.workspace import Workspace, open_season

Command = TypeVar("Command", bound=Callable[..., Any])

LEAST_WIDTH = 60
MOST_WIDTH = 100


class DateType(click.ParamType[dt.date, str]):
    """A date as year-month-day."""

    name = "date"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.date:
        """Return the date, or fail with the form that is understood."""
        if isinstance(value, dt.date):
            return value
        try:
            return dt.date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"{value!r} is not a date; write it like 2027-01-20", param, ctx)


class MomentType(click.ParamType[dt.datetime, str]):
    """A moment as ISO 8601; without an offset it is UTC."""

    name = "moment"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.datetime:
        """Return the moment in UTC, or fail with the form that is understood."""
        if isinstance(value, dt.datetime):
            return value
        try:
            moment = dt.datetime.fromisoformat(str(value))
            return moment.astimezone(dt.UTC) if moment.tzinfo else moment.replace(tzinfo=dt.UTC)
        except (ValueError, OverflowError):
            self.fail(f"{value!r} is not a moment; write it like 2027-01-05T09:00", param, ctx)


def season_argument(function: Command) -> Command:
    """Add the season folder; the current folder by default."""
    return click.argument("season", type=click.Path(path_type=Path), default=Path())(function)


def json_option(function: Command) -> Command:
    """Add --json."""
    return click.option("as_json", "--json", is_flag=True, help="Print data instead of text.")(
        function
    )


def paper_option(function: Command) -> Command:
    """Add --paper."""
    return click.option(
        "--paper",
        type=click.Choice(get_args(Paper)),
        default="a4",
        show_default=True,
        help="Size of the paper.",
    )(function)


def now_option(function: Command) -> Command:
    """Add --now, so that a run can be repeated to the byte."""
    return click.option(
        "--now",
        type=MomentType(),
        default=None,
        help="The moment written into files; default: SOURCE_DATE_EPOCH, else the clock.",
    )(function)


def clock_options(function: Command) -> Command:
    """Add --today and --now, so that a run can be repeated to the byte."""
    function = now_option(function)
    return click.option(
        "--today",
        type=DateType(),
        default=None,
        help="Practices before this date are past; default: the date of --now.",
    )(function)


def moment(now: dt.datetime | None) -> dt.datetime:
    """Return the moment of this run, to the second, in UTC.

    Raises click.UsageError when SOURCE_DATE_EPOCH is set to what is no moment.
    """
    if now is None:
        epoch = os.environ.get("SOURCE_DATE_EPOCH")
        now = _since_1970(epoch) if epoch else dt.datetime.now(dt.UTC)
    return now.replace(microsecond=0)


def _since_1970(seconds: str) -> dt.datetime:
    try:
        return dt.datetime.fromtimestamp(int(seconds), dt.UTC)
    except (ValueError, OverflowError, OSError) as fault:
        says = f"SOURCE_DATE_EPOCH is {seconds!r}; write the seconds since 1970, or unset it"
        raise click.UsageError(says) from fault


def opened(
    folder: Path, now: dt.datetime, *, ignore_plan: bool = False, every_warning: bool = False
) -> Workspace:
    """Open a season for work; problems that stop it are raised, warnings are printed.

    every_warning: print those about imported calendars in full; else they are counted in one line,
    since they stay true until the file changes and would hide what is new.
    """
    opening = open_season(folder, now, ignore_plan=ignore_plan)
    space = opening.workspace
    if space is None:
        raise FaultyInputError(opening.problems)
    apart = () if every_warning else space.import_problems
    warn(problem for problem in space.problems if problem not in apart)
    if apart:
        about = f"{counted(len(apart), 'warning')} about imported calendars"
        click.echo(f"{about}: `curriculum check {space.folder}`", err=True)
    return space


def planned(space: Workspace) -> Plan:
    """Return the plan that stands in a season folder, or say how to make one."""
    if space.plan is None:
        raise FaultyInputError(
            [
                Problem(
                    file=str(space.folder),
                    line=0,
                    key="",
                    says="there is no plan here yet",
                    way_out=f"make one first: curriculum plan {space.folder}",
                )
            ]
        )
    return space.plan


def present_plan(space: Workspace) -> Plan:
    """Return the plan that stands in a season folder; warn when the calendar has changed since."""
    plan = planned(space)
    warn(outdated_problems(plan, space.gym, str(space.folder)))
    return plan


def skill_named(library: Library, wanted: str, option: str) -> str:
    """Return the id of a skill, asked for by its id or by the name that every page shows.

    Refuses, as wrong usage of an option or argument, what the library does not have.
    """
    ids = [skill.id for skill in library.skills]
    named = [skill.id for skill in library.skills if skill.name.casefold() == wanted.casefold()]
    if wanted in ids or len(named) != 1:
        in_library(wanted, ids, option)
        return wanted
    return named[0]


def in_library(name: str, names: Sequence[str], option: str) -> None:
    """Refuse, as wrong usage of an option or argument, a name that the library does not have."""
    if name not in names:
        way_out = suggest(name, names, "`curriculum show --graph` lists all")
        raise click.BadParameter(f"{name!r} is not in the library; {way_out}", param_hint=option)


def warn(problems: Iterable[Problem]) -> None:
    """Print warnings to the error stream, one a line."""
    for problem in problems:
        click.echo(str(problem), err=True)


def show(renderable: RenderableType) -> None:
    """Print a rich renderable: in colour on a terminal, 80 columns wide when piped."""
    terminal = sys.stdout.isatty()
    width = shutil.get_terminal_size((80, 24)).columns if terminal else 80
    width = max(LEAST_WIDTH, min(MOST_WIDTH, width))
    color = terminal and "NO_COLOR" not in os.environ
    click.echo(render(renderable, width=width, color=color), nl=False)


def show_json(data: object) -> None:
    """Print data as JSON, two spaces deep."""
    click.echo(json.dumps(data, indent=2, ensure_ascii=False, default=str))


def problems_data(problems: Iterable[Problem]) -> dict[str, object]:
    """Return problems as the data that --json prints."""
    return {"problems": as_data(problems)}
