"""`curriculum club check`, `show` and `calendar`: what stands between the teams."""

import datetime as dt
from pathlib import Path

import click

from curriculum.cli.club_common import club_argument, known
from curriculum.cli.common import (
    clock_options,
    json_option,
    moment,
    now_option,
    show,
    show_json,
    warn,
)
from curriculum.outputs.tables import as_data
from curriculum.problems import as_data as problems_as_data
from curriculum.problems import errors
from curriculum.store import write_atomic


@click.command()
@club_argument
@json_option
def check(club: Path, as_json: bool) -> int:
    """Say what is wrong in a club, between its teams too."""
    from curriculum.fleet.clubspace import open_club
    from curriculum.outputs.terminal.club import clashes_view
    from curriculum.outputs.terminal.problems import problems_view

    space = open_club(club, moment(None))
    if as_json:
        found = {"problems": problems_as_data(space.problems), "clashes": as_data(space.clashes)}
        show_json(found)
    else:
        if space.problems:
            show(problems_view(space.problems))
        show(clashes_view(space.clashes))
    return 1 if errors(space.problems) or space.clashes else 0


@click.command(name="show")
@club_argument
@click.option("--standing", is_flag=True, help="Where each team stands against its age group.")
@clock_options
@json_option
def show_command(
    club: Path, standing: bool, today: dt.date | None, now: dt.datetime | None, as_json: bool
) -> None:
    """Show a club's week, or where its teams stand.

    Who teaches what where, goals that are missed, goals that one lost practice would miss, the
    use of gyms, and load; --today picks the week.
    """
    from curriculum.fleet.clubspace import open_club
    from curriculum.outputs.terminal.club import page_view
    from curriculum.outputs.terminal.curricula import standing_view

    at = moment(now)
    space = open_club(club, at)
    warn(errors(space.problems))
    if standing:
        rows = space.standings()
        if as_json:
            show_json([as_data(each) for _, each in rows])
        else:
            show(standing_view(rows))
        return
    day = today or at.date()
    page = space.page(day, space.outlooks(day))
    if as_json:
        show_json(as_data(page))
    else:
        show(page_view(page))


@click.command()
@club_argument
@click.option("--gym", help="Everything in this gym, by its id.")
@click.option("--coach", help="Everything of this coach's teams, by the coach's id.")
@click.option("--out", type=click.Path(path_type=Path), help="File; default: ID.ics.")
@now_option
def calendar(
    club: Path,
    gym: str | None,
    coach: str | None,
    out: Path | None,
    now: dt.datetime | None,
) -> None:
    """Write one calendar over all teams, for a gym or for a coach."""
    from curriculum.fleet.calendars import LEDGER_FILE, coach_calendar, gym_calendar
    from curriculum.fleet.clubspace import open_club
    from curriculum.ledger import Ledger, change_ledger, read_ledger

    if (gym is None) == (coach is None):
        raise click.UsageError("choose one of --gym and --coach")
    at = moment(now)
    space = open_club(club, at)
    warn(errors(space.problems))
    path, club_id = space.files.folder / LEDGER_FILE, space.files.club.club.id
    warn(read_ledger(path, club_id, at, 1)[1])
    if gym is not None:
        known(gym, [each.id for each in space.files.club.gym], "--gym")
    else:
        known(coach or "", [each.id for each in space.files.club.coach], "--coach")

    def made(ledger: Ledger) -> tuple[bytes, Ledger]:
        if gym is not None:
            return gym_calendar(space, gym, ledger, at)
        return coach_calendar(space, coach or "", ledger, at)

    data, _ = change_ledger(path, club_id, at, 1, made)
    target = out or space.files.folder / f"{gym or coach}.ics"
    write_atomic(target, data)
    click.echo(f"Written: {target}")
