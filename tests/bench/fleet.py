"""Plan an invented federation: how time and memory grow with the number of teams.

Run with `python -m tests.bench.fleet [teams ...]`; every executor plans the same clubs, and the
hashes of all plans must agree.
"""

import datetime as dt
import hashlib
import resource
import shutil
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from random import Random

from curriculum.fleet.executors import Start, cluster, in_process, processes
from curriculum.fleet.parcels import Orders
from curriculum.fleet.run import plan_clubs

TEAMS_A_CLUB = 20
DEMO = Path(__file__).parents[2] / "seasons" / "kestrel-quay-club"
NOW = dt.datetime(2026, 9, 1, tzinfo=dt.UTC)
ORDERS = Orders(NOW, NOW.date())


@dataclass(frozen=True)
class Measure:
    """One run. memory: the most that this process held so far, in MB. digest: over all plans."""

    executor: str
    teams: int
    seconds: float
    memory: int
    digest: str
    states: tuple[tuple[str, int], ...]


def federation(folder: Path, teams: int, seed: int = 0) -> tuple[tuple[Path, Sequence[str]], ...]:
    """Write clubs like the demo club, with seasons of other weekdays, and return their teams."""
    random = Random(seed)
    demo_teams = sorted(each.name for each in DEMO.iterdir() if each.is_dir())
    clubs = []
    for number in range(-(-teams // TEAMS_A_CLUB)):
        club = folder / f"club-{number:04}"
        club.mkdir(parents=True)
        names = []
        tables = []
        for place in range(min(TEAMS_A_CLUB, teams - number * TEAMS_A_CLUB)):
            source = demo_teams[random.randrange(len(demo_teams))]
            name = f"{source}-{place:02}"
            names.append(name)
            tables.append(_table(name, source.split("-")[0]))
            season = club / name
            season.mkdir()
            text = (DEMO / source / "season.toml").read_text(encoding="utf-8")
            text = text.replace("kestrel-quay-u", f"federation-{number:04}-{place:02}-u")
            days = random.sample(["monday", "tuesday", "wednesday", "thursday", "friday"], 2)
            season.joinpath("season.toml").write_text(text + _slots(days), encoding="utf-8")
        head = (DEMO / "club.toml").read_text(encoding="utf-8")
        before, _, rest = head.partition("# ---- teams;")
        _, _, after = rest.partition("# ---- what holds")
        text = f"{before}{''.join(tables)}\n# ---- what holds{after}"
        club.joinpath("club.toml").write_text(text, encoding="utf-8")
        shutil.copyfile(DEMO / "curriculum.toml", club / "curriculum.toml")
        clubs.append((club, tuple(names)))
    return tuple(clubs)


def _table(name: str, group: str) -> str:
    return f'\n[[team]]\nid = "{name}"\nname = "{name}"\nage_group = "{group}"\n'


def _slots(days: Sequence[str]) -> str:
    return "".join(
        f'\n[[slot]]\nweekday = "{day}"\nstart = 17:30:00\nminutes = 75\nvenue = "north-gym"\n'
        for day in days
    )


def measure(name: str, start: Start, teams: int, window: int) -> Measure:
    """Plan a new federation of so many teams."""
    with tempfile.TemporaryDirectory() as scratch:
        clubs = federation(Path(scratch), teams)
        begun = time.monotonic()
        states: dict[str, int] = {}
        for outcome in plan_clubs(clubs, ORDERS, start, window):
            states[outcome.state] = states.get(outcome.state, 0) + 1
        seconds = time.monotonic() - begun
        digest = hashlib.sha256()
        for club, names in clubs:
            for team in names:
                digest.update((club / team / "plan.json").read_bytes())
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    return Measure(
        name, teams, seconds, memory, digest.hexdigest()[:16], tuple(sorted(states.items()))
    )


def main(sizes: Sequence[int]) -> None:
    """Print a line for each executor and size, smallest first."""
    for teams in sizes:
        print(measure("in process", in_process(), teams, 1), flush=True)
        print(measure("2 processes", processes(2), teams, 8), flush=True)
        try:
            local_cluster = import_module("distributed").LocalCluster
        except ImportError:
            print("Dask is not installed")
            continue
        with local_cluster(n_workers=2, threads_per_worker=1, dashboard_address=":0") as local:
            print(
                measure("Dask, 2 workers", cluster(local.scheduler_address), teams, 8), flush=True
            )
        workers = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
        print(f"largest worker so far: {workers} MB")


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or [50, 200, 1000])
