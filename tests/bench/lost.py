"""What one lost practice moves, each practice of the demos in turn, against planning afresh.

`python -m tests.bench.lost [--effort quick] [--every 1] [names]`
"""

import argparse
import datetime as dt
import time
from dataclasses import replace
from pathlib import Path
from statistics import median

from rich.console import Console
from rich.table import Table

from curriculum.models.plan import Plan
from curriculum.replan import difference
from curriculum.schedule.again import Setting, changed, instance_of
from curriculum.schedule.assemble import assemble
from curriculum.schedule.changes import WithoutDates
from curriculum.schedule.effort import Effort
from curriculum.schedule.instance import held_of
from curriculum.schedule.solve import solve
from curriculum.workload import workload_of
from curriculum.workspace import open_season

SEASONS = Path(__file__).parents[2] / "seasons"
DEMOS = ("kestrel-quay-u12", "kestrel-quay-u16")
NOW = dt.datetime(2027, 1, 5, 9, tzinfo=dt.UTC)


def planned(setting: Setting, effort: Effort) -> Plan:
    """Return the plan of a setting."""
    workload = workload_of(setting.season, setting.library)
    instance = instance_of(setting)
    result = solve(instance, effort)
    return assemble(setting.season, setting.gym, workload, instance, result, made=NOW)


def missed(plan: Plan) -> int:
    """Return how many must- and should-goals a plan misses."""
    return sum(not goal.met and goal.need != "could" for goal in plan.goals)


def losses(console: Console, name: str, effort: Effort, every: int) -> None:
    """Print how many blocks move when a practice is lost, its own not counted."""
    space = open_season(SEASONS / name, NOW).workspace
    if space is None:
        raise ValueError(f"the demo {name} cannot be read")
    whole = Setting(space.season, space.library, space.gym)
    known = planned(whole, effort)
    table = Table(title=f"{name}, {effort}: what one lost practice moves")
    for heading in ("lost", "moved", "afresh", "share", "goals missed", "afresh", "seconds"):
        table.add_column(heading)
    shares = []
    for practice in known.practices[::every]:
        lost = changed(whole, [WithoutDates(practice.date, practice.date)])
        start = time.process_time()
        kept = planned(replace(lost, former=held_of(known)), effort)
        spent = time.process_time() - start
        afresh = planned(lost, effort)
        moved, anew = (difference(known, plan).noticed for plan in (kept, afresh))
        shares.append(moved / max(1, anew))
        table.add_row(
            f"{practice.date}",
            str(moved),
            str(anew),
            f"{shares[-1]:.2f}",
            str(missed(kept)),
            str(missed(afresh)),
            f"{spent:.1f}",
        )
    console.print(table)
    console.print(f"median share {median(shares):.2f}, largest {max(shares):.2f}")


def main() -> None:
    """Print a table for each demo."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", default=list(DEMOS))
    parser.add_argument("--effort", choices=("quick", "normal", "long"), default="quick")
    parser.add_argument("--every", type=int, default=1, help="only every so many practices")
    asked = parser.parse_args()
    for name in asked.names:
        losses(Console(width=120), name, asked.effort, asked.every)


if __name__ == "__main__":
    main()
