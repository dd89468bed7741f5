"""`curriculum record`: what happened at a practice."""

import datetime as dt
import re
import secrets
import sys
from pathlib import Path

import click

from curriculum.cli.common import (
    DateType,
    clock_options,
    json_option,
    moment,
    opened,
    planned,
    season_argument,
    show,
    show_json,
)
from curriculum.cli.here import FolderFirst
from curriculum.cli.outcomes import BlockType, asked, node_named
from curriculum.files.players import read_players
from curriculum.insight.follows import follows
from curriculum.models.record import Conflict, Entry, Status
from curriculum.outputs.tables import as_data
from curriculum.outputs.terminal.record import (
    conflict_view,
    follows_view,
    history_view,
    record_view,
)
from curriculum.recording import Blank, Outcome, Said, blank_of, entry_of, keep_entry, submissions
from curriculum.records.database import RECORD_FILE, backup
from curriculum.records.export import csv_text, history_data, saved_data
from curriculum.store import json_bytes, write_atomic
from curriculum.wording import clock, counted, long_date
from curriculum.workspace import Workspace

CLIENT_BYTES = 12
"""Random bytes of a submission's id, when none is given."""


class ClockType(click.ParamType[dt.time, str]):
    """A time of day as hours and minutes."""

    name = "time"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.time:
        """Return the time, or fail with the form that is understood."""
        if isinstance(value, dt.time):
            return value
        if not re.fullmatch(r"([01]?\d|2[0-3]):[0-5]\d", str(value)):
            self.fail(f"{value!r} is no time of day; write it like 17:30", param, ctx)
        hour, minute = str(value).split(":")
        return dt.time(int(hour), int(minute))


@click.command(cls=FolderFirst)
@season_argument
@click.argument("date", type=DateType(), required=False)
@click.option("--start", type=ClockType(), help="Which practice, where a date has two: 17:30.")
@click.option("--held", is_flag=True, help="It was held in full.")
@click.option("--lost", metavar="REASON", help="It was lost, and why.")
@click.option("--shortened", type=click.IntRange(1, 300), help="How many minutes of it were held.")
@click.option(
    "--block",
    "blocks",
    metavar="BLOCK=HOW",
    type=BlockType(),
    multiple=True,
    help="How a block went, by its number or SKILL@STAGE: held, solid, shaky, 'not yet', "
    "'not held', or 'partly' and one of these. A block that is not planned was held beside it.",
)
@click.option("--absent", metavar="NAME", multiple=True, help="Who was absent, by players.toml.")
@click.option("--note", metavar="TEXT", default="", help="What else there is to say.")
@click.option("--by", metavar="NAME", help="Who records it.")
@click.option("--version", type=click.IntRange(0), help="The version seen; default: the newest.")
@click.option("--id", "client", help="The submission's own id: sent twice, it counts once.")
@click.option("--history", "past", is_flag=True, help="Show all versions, of DATE or of all dates.")
@click.option("--export", "target", type=click.Path(path_type=Path), help="Write a .csv or .json.")
@click.option("--backup", "copy", type=click.Path(path_type=Path), help="Copy the record there.")
@clock_options
@json_option
def command(
    season: Path,
    date: dt.date | None,
    start: dt.time | None,
    held: bool,
    lost: str | None,
    shortened: int | None,
    blocks: tuple[tuple[str, Outcome], ...],
    absent: tuple[str, ...],
    note: str,
    by: str | None,
    version: int | None,
    client: str | None,
    past: bool,
    target: Path | None,
    copy: Path | None,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> int:
    """Record what happened at a practice, by default the last one; correct it the same way.

    Without --held, --lost or --shortened it asks, on a terminal. The plan stays as it is:
    `curriculum plan` proposes what follows. Names of children stay in players.toml and
    record.db; an export and a backup hold them too.
    """
    at = moment(now)
    space = opened(season, at)
    if sum([past, target is not None, copy is not None]) > 1:
        raise click.UsageError("choose one of --history, --export and --backup")
    if copy is not None:
        backup(space.folder / RECORD_FILE, copy)
        _written(copy, as_json=as_json)
        return 0
    if target is not None:
        _export(space, target)
        _written(target, as_json=as_json)
        return 0
    if past and date is None:
        _history(space, None, as_json=as_json)
        return 0
    day = today or at.date()
    blank = blank_of(space, planned(space), date, start, day)
    if past:
        _history(space, blank, as_json=as_json)
        return 0
    status = _status(held=held, lost=lost, shortened=shortened)
    if status is None:
        said = _answers(space, blank, by, told=bool(blocks or absent or note))
    else:
        outcomes = {node_named(name, blank, space.library): how for name, how in blocks}
        said = Said(status, lost, shortened, outcomes, absent, note, by)
    entry = entry_of(space, blank, said, client or secrets.token_hex(CLIENT_BYTES), day)
    return _kept(space, entry, at, blank.version if version is None else version, as_json=as_json)


def _status(*, held: bool, lost: str | None, shortened: int | None) -> Status | None:
    if sum([held, lost is not None, shortened is not None]) > 1:
        raise click.UsageError("choose one of --held, --lost and --shortened")
    if lost is not None:
        return "lost"
    if shortened is not None:
        return "shortened"
    return "held" if held else None


def _answers(space: Workspace, blank: Blank, by: str | None, *, told: bool) -> Said:
    """Ask what happened; without a terminal, or with options that tell half of it, say what to do.

    Raises click.UsageError.
    """
    if told or not sys.stdin.isatty():
        raise click.UsageError("say what became of the practice: --held, --lost or --shortened")
    if blank.standing:
        show(record_view(blank.standing, space.season, space.library))
    else:
        blocks = counted(len(blank.blocks), "block")
        click.echo(f"{long_date(blank.date)}, {clock(blank.start)}: {blocks} planned.")
    players, _ = read_players(space.folder)
    return asked(blank, space.library, players, by)


def _kept(space: Workspace, entry: Entry, at: dt.datetime, seen: int, *, as_json: bool) -> int:
    kept, after = keep_entry(space, entry, at, seen)
    if isinstance(kept, Conflict):
        if as_json:
            standing = saved_data(kept.standing) if kept.standing else None
            show_json({"standing": standing, "aside": saved_data(kept.aside)})
        else:
            show(conflict_view(kept, after.season, after.library))
        return 1
    following = follows(kept.entry)
    if as_json:
        show_json({"recorded": saved_data(kept), "follows": as_data(following)})
        return 0
    show(record_view(kept, after.season, after.library))
    click.echo()
    show(follows_view(following, after.library))
    click.echo()
    click.echo(f"The plan is unchanged. See what should change: curriculum plan {space.folder}")
    return 0


def _history(space: Workspace, blank: Blank | None, *, as_json: bool) -> None:
    found = submissions(space, blank.practice if blank else None)
    if as_json:
        show_json(history_data(found))
    else:
        show(history_view(found, space.season, space.library))


def _export(space: Workspace, target: Path) -> None:
    """Write what stands as a table, or everything ever recorded as data, by the file's ending."""
    if target.suffix == ".csv":
        write_atomic(target, csv_text(space.record.practices).encode())
    elif target.suffix == ".json":
        write_atomic(target, json_bytes(history_data(submissions(space, None))))
    else:
        says = f"{target.name!r} ends neither in .csv nor in .json"
        raise click.BadParameter(says, param_hint="--export")


def _written(path: Path, *, as_json: bool) -> None:
    click.echo("This file may name children: keep it where others do not look.", err=True)
    if as_json:
        show_json({"written": str(path)})
    else:
        click.echo(f"Written: {path}")
