"""Seasons built to clash: how many clashes are proven, how many of them minimal, and how fast.

`python -m tests.bench.clashing [--count 100] [--weeks 8 12] [--check]`
"""

import argparse
import time
from dataclasses import replace
from itertools import count
from random import Random
from statistics import median

from rich.console import Console
from rich.table import Table

from curriculum.gym.practices import Gym
from curriculum.schedule.explain.clash import Clash, clash_of
from curriculum.schedule.explain.requirements import only
from curriculum.schedule.feasible import decide
from curriculum.schedule.instance import Instance, build
from tests.bench.instances import Case, Shape, case


def built_to_clash(weeks: int, seed: int) -> tuple[Case, Instance]:
    """Return a season whose practices are cut, one at a time and at random, until it clashes.

    Minutes, dates and limits stay; what clashes is whatever the lost practices carried. A season
    without a must-goal is passed over.
    """
    random = Random(f"clash {weeks} {seed}")
    made = (
        case(Shape(weeks, 2, 8 + seed % 12, 1.0, 1000 * again + seed, musts=0.7, slack=4))
        for again in count()
    )
    whole = next(each for each in made if any(goal.need == "must" for goal in each.season.goal))
    practices = list(whole.gym.practices)
    while True:
        gym = Gym(practices=tuple(practices), games=whole.gym.games)
        cut = replace(whole, gym=gym)
        instance = build(cut.season, cut.gym, cut.workload)
        if decide(instance).verdict == "unreachable":
            return cut, instance
        del practices[random.randrange(len(practices))]


def explained(made: Case, instance: Instance) -> tuple[Clash, float]:
    """Return the clash of a season and the processor seconds that it took to find."""
    start = time.process_time()
    found = clash_of(made.season, made.library, made.gym, made.workload, instance)
    if found is None:
        raise ValueError("a season built to clash has a clash")
    return found, time.process_time() - start


def truly_minimal(instance: Instance, found: Clash) -> bool:
    """Whether the requirements clash, and without any one of them do not, asked once more."""
    kept = frozenset(found.kept)
    if decide(only(instance, kept), "long").verdict != "unreachable":
        return False
    return all(decide(only(instance, kept - {one}), "long").verdict == "reachable" for one in kept)


def clashes(console: Console, weeks: list[int], seasons: int, *, check: bool) -> None:
    """Print how clashes of so many seasons of each length were explained."""
    table = Table(title="Seasons built to clash")
    for heading in ("weeks", "seasons", "proven", "minimal", "asked again", "seconds", "most"):
        table.add_column(heading)
    for length in weeks:
        made = [built_to_clash(length, seed) for seed in range(seasons)]
        results = [(each[1], *explained(*each)) for each in made]
        again = [truly_minimal(instance, found) for instance, found, _ in results] if check else []
        spent = [seconds for _, _, seconds in results]
        table.add_row(
            str(length),
            str(seasons),
            str(sum(found.proven for _, found, _ in results)),
            str(sum(found.minimal for _, found, _ in results)),
            f"{sum(again)} minimal" if check else "-",
            f"{median(spent):.2f}",
            f"{max(spent):.2f}",
        )
    console.print(table)


def main() -> None:
    """Print the table that was asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=100)
    parser.add_argument("--weeks", type=int, nargs="+", default=[8, 12])
    parser.add_argument("--check", action="store_true", help="ask once more whether all is needed")
    asked = parser.parse_args()
    clashes(Console(width=120), asked.weeks, asked.count, check=asked.check)


if __name__ == "__main__":
    main()
