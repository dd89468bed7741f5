"""`curriculum calendar`: dates out to phones and servers, and foreign calendars in."""

import datetime as dt
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import cast

import click

from curriculum.cli.common import (
    json_option,
    moment,
    now_option,
    opened,
    present_plan,
    season_argument,
    show_json,
    warn,
)
from curriculum.handouts.calendars import calendar_file, publish_calendar
from curriculum.intake import Preview, preview_all, preview_one, take_in
from curriculum.models.calendars import CalendarIn, DateOrder, Means
from curriculum.outputs.ical.entries import Audience
from curriculum.outputs.ical.feed import Cancelled, View
from curriculum.problems import as_data, errors
from curriculum.publish.address import login_of, server_address
from curriculum.store import write_atomic

ALL = ""
"""What --import says without a file."""


@click.command()
@season_argument
@click.option(
    "--for",
    "audience",
    type=click.Choice(["coach", "families"]),
    default="coach",
    show_default=True,
    help="The coach's says what is taught; the families' has dates and places alone.",
)
@click.option("--out", type=click.Path(path_type=Path), help="File; default: calendar.ics.")
@click.option("--alarm", type=click.IntRange(0, 20160), help="Minutes before the start; rings.")
@click.option(
    "--cancelled",
    type=click.Choice(["show", "text", "hide"]),
    default="show",
    show_default=True,
    help="Lost practices: struck out, named in words only, or left out.",
)
@click.option("--publish", metavar="ADDRESS", help="Write to a CalDAV server: caldav://host/path/")
@click.option("--overwrite", is_flag=True, help="Undo what others changed in our entries there.")
@click.option(
    "--import",
    "bring",
    metavar="[FILE]",
    is_flag=False,
    flag_value=ALL,
    help="Look at an .ics or .csv file and take it in; without a file, at all taken in.",
)
@click.option(
    "--means",
    type=click.Choice(["closures", "games", "practices"]),
    help="What the entries of the imported file are.",
)
@click.option("--venue", help="The gym that the imported file is about, by its id.")
@click.option(
    "--dates",
    type=click.Choice(["day-first", "month-first", "year-first"]),
    help="Order of dates in a table, where it is not plain.",
)
@click.option("--yes", is_flag=True, help="Take the file in without asking.")
@now_option
@json_option
def command(
    season: Path,
    audience: str,
    out: Path | None,
    alarm: int | None,
    cancelled: str,
    publish: str | None,
    overwrite: bool,
    bring: str | None,
    means: str | None,
    venue: str | None,
    dates: str | None,
    yes: bool,
    now: dt.datetime | None,
    as_json: bool,
) -> int:
    """Write the dates as an .ics file for phones, publish them, or take calendars in.

    A practice that moves keeps its place in every phone's calendar; one that is lost is shown
    as cancelled. No child's name is ever in it.
    """
    if bring == ALL:
        return _told(preview_all(season), as_json)
    if bring is not None:
        if means is None:
            raise click.UsageError("--import FILE needs --means: closures, games or practices")
        entry = CalendarIn(
            file=Path(bring).name,
            means=cast("Means", means),
            venue=venue,
            dates=cast("DateOrder | None", dates),
        )
        return _take_in(season, Path(bring), entry, yes=yes, as_json=as_json)
    at = moment(now)
    view = View(alarm=alarm, cancelled=cast("Cancelled", cancelled))
    who = cast("Audience", audience)
    if publish is not None:
        return _publish(season, publish, who, view, at, overwrite=overwrite, as_json=as_json)
    space = opened(season, at)
    data, _ = calendar_file(space, present_plan(space), who, at, view)
    target = out or space.folder / ("families.ics" if audience == "families" else "calendar.ics")
    write_atomic(target, data)
    if as_json:
        show_json({"written": str(target)})
    else:
        click.echo(f"Written: {target}")
    return 0


def _told(preview: Preview, as_json: bool) -> int:
    """Print what was understood and what was skipped, each with its reason."""
    if as_json:
        show_json(
            {
                "report": list(preview.report),
                "changes": list(preview.changes),
                "problems": as_data(preview.problems),
            }
        )
    else:
        for line in preview.report or ("No [[calendar]] stands in the season file.",):
            click.echo(line)
        for line in preview.changes:
            click.echo(line)
        warn(errors(preview.problems))
    return 1 if errors(preview.problems) else 0


def _take_in(folder: Path, source: Path, entry: CalendarIn, *, yes: bool, as_json: bool) -> int:
    if not source.is_file():
        raise click.BadParameter(f"{source} is no file", param_hint="--import")
    preview = preview_one(folder, source, entry)
    code = _told(preview, as_json)
    if code:
        return code
    asks = sys.stdin.isatty()
    if yes or (asks and click.confirm("Take this in?", default=False)):
        target = take_in(folder, source, entry)
        click.echo(f"Taken in: {target}. Next: curriculum plan {folder}", err=as_json)
    else:
        way_out = "" if asks else " Add --yes to take it in."
        click.echo(f"Nothing was changed.{way_out}", err=as_json)
    return 0


def _keyring() -> Callable[[str, str], str | None] | None:
    try:
        import keyring
        from keyring.errors import KeyringError
    except ImportError:
        return None

    def lookup(service: str, user: str) -> str | None:
        try:
            found: str | None = keyring.get_password(service, user)
        except KeyringError:
            # A machine without a screen often has none, and it may be locked.
            return None
        return found

    return lookup


def _publish(
    folder: Path,
    address: str,
    audience: Audience,
    view: View,
    now: dt.datetime,
    *,
    overwrite: bool,
    as_json: bool,
) -> int:
    space = opened(folder, now)
    plan = present_plan(space)
    where = server_address(address)
    login = login_of(address, os.environ, _keyring())
    outcome = publish_calendar(space, plan, where, login, audience, view, now, overwrite=overwrite)
    if as_json:
        steps_done: dict[str, int] = dict(outcome.steps.items())
        show_json({"steps": steps_done, "problems": as_data(outcome.problems)})
    else:
        steps = ", ".join(f"{count} {step}" for step, count in sorted(outcome.steps.items()))
        if outcome.steps or not errors(outcome.problems):
            click.echo(f"Published to {where}: {steps or 'nothing to do'}.")
        warn(outcome.problems)
    return 1 if errors(outcome.problems) else 0
