"""`curriculum club allocate` and `plan`: weekly gym times, and the plans of all teams."""

import datetime as dt
import os
from dataclasses import replace
from pathlib import Path

import click

from curriculum.cli.club_common import EFFORTS, club_argument, known
from curriculum.cli.common import clock_options, json_option, moment, show, show_json, warn
from curriculum.outputs.tables import as_data
from curriculum.store import write_atomic

UNDER_WAY = 16
"""Workers that a cluster is taken to have when nobody says how many."""


@click.command()
@club_argument
@click.option("--effort", type=click.Choice(EFFORTS), default="normal", show_default=True)
@click.option("--fresh", is_flag=True, help="Do as if no weekly gym times stood there yet.")
@click.option("--dry-run", is_flag=True, help="Show it only; slots.toml stays as it is.")
@json_option
def allocate(club: Path, effort: str, fresh: bool, dry_run: bool, as_json: bool) -> int:
    """Share out the gyms' weekly hours among the teams.

    They are written to slots.toml, from where seasons take them. Times that stand there already
    are kept as far as can be.
    """
    from curriculum.club.allocate.allocate import EFFORTS as STEPS
    from curriculum.club.allocate.allocate import allocate as share_out
    from curriculum.club.reading import SLOTS_FILE, read_club
    from curriculum.club.writing import slots_text
    from curriculum.fleet.clubspace import games_of
    from curriculum.outputs.terminal.allocation import allocation_view

    files = read_club(club, with_library=False)
    warn(files.problems)
    last = None if fresh or not files.slots.slot else files.slots
    level = next(each for each in STEPS if each == effort)
    made = share_out(files.club, last=last, games=games_of(files), effort=level)
    if as_json:
        show_json(
            {
                "slots": made.slots.model_dump(mode="json"),
                "tiers": as_data(made.tiers),
                "lacks": as_data(made.lacks),
                "clash": as_data(made.clash),
            }
        )
    else:
        show(allocation_view(files.club, made))
    if not dry_run:
        target = files.folder / SLOTS_FILE
        write_atomic(target, slots_text(made.slots).encode())
        if not as_json:
            click.echo(f"\nWritten: {target}")
    return 1 if made.lacks else 0


@click.command()
@club_argument
@click.option("--team", "teams", multiple=True, help="Only this team, by its id; repeatable.")
@click.option("--effort", type=click.Choice(EFFORTS), default="quick", show_default=True)
@click.option(
    "--workers", type=click.IntRange(1, 512), help="How many at once; default: one a core."
)
@click.option("--address", help="Scheduler of a Dask cluster, in place of processes here.")
@click.option("--fresh", is_flag=True, help="Ignore the plans that stand; the past stays.")
@clock_options
@json_option
def plan(
    club: Path,
    teams: tuple[str, ...],
    effort: str,
    workers: int | None,
    address: str | None,
    fresh: bool,
    today: dt.date | None,
    now: dt.datetime | None,
    as_json: bool,
) -> int:
    """Plan every team, many at once.

    Each is told as it is done. A folder of several clubs is planned club by club, by the same
    workers.
    One team's fault never stops the others. A run that was stopped goes on where it was.
    """
    from curriculum.club.reading import clubs_in
    from curriculum.fleet.executors import cluster, in_process, processes
    from curriculum.fleet.parcels import Orders
    from curriculum.fleet.run import plan_clubs
    from curriculum.outputs.terminal.fleet import outcome_line, outcomes_summary
    from curriculum.schedule.effort import BUDGETS

    clubs = [_teams_of(folder) for folder in clubs_in(club)]
    names = [name for _, own in clubs for name in own]
    for team in teams:
        known(team, names, "--team")
    at = moment(now)
    level = next(each for each in BUDGETS if each == effort)
    count = workers or (UNDER_WAY if address else os.cpu_count() or 1)
    start = cluster(address) if address else in_process() if count == 1 else processes(count)
    orders = Orders(at, today or at.date(), level, fresh)
    chosen = [
        (folder, [name for name in own if not teams or name in teams]) for folder, own in clubs
    ]
    number = sum(len(wanted) for _, wanted in chosen)
    outcomes = []
    for outcome in plan_clubs(chosen, orders, start, window=4 * count):
        outcomes.append(replace(outcome, plan=None))
        if not as_json:
            click.echo(outcome_line(outcome, len(outcomes), number))
    place = {str(folder / name): n for folder, own in chosen for n, name in enumerate(own)}
    outcomes.sort(key=lambda each: (str(Path(each.folder).parent), place[each.folder]))
    if as_json:
        show_json(
            [
                {
                    "team": each.team,
                    "folder": each.folder,
                    "state": each.state,
                    "status": each.status,
                    "missed": list(each.missed),
                    "problems": list(each.problems),
                }
                for each in outcomes
            ]
        )
    else:
        show(outcomes_summary(outcomes))
    bad = any(not each.sound or each.status == "partial" for each in outcomes)
    return 1 if bad else 0


def _teams_of(folder: Path) -> tuple[Path, tuple[str, ...]]:
    """Return a club's folder and its teams; nothing else of a club is kept, there may be many."""
    from curriculum.club.reading import read_club

    files = read_club(folder, with_library=False)
    return files.folder, tuple(team.id for team in files.club.team)
