"""Measure the engine against two baselines: `python -m tests.bench [--runs 3] [--long] [sizes]`."""

import argparse
import resource
import time
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from statistics import median
from typing import TypeVar

from rich.console import Console
from rich.table import Table

from curriculum.schedule.anneal import Started, anneal, best_rule
from curriculum.schedule.effort import FULL_SIZE, Budget, Effort
from curriculum.schedule.exact.polish import met_goals
from curriculum.schedule.feasible import decide, keeps_all
from curriculum.schedule.instance import Instance
from curriculum.schedule.solve import solve
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Tiers, Timetable, tiers
from tests.bench.baselines import first_fit, plain_model
from tests.bench.instances import LOADS, SIZES, Shape, case, sized

SECONDS = (1, 5, 20)

T = TypeVar("T")


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """Return what a piece of work gives, and its processor seconds."""
    start = time.process_time()
    return work(), time.process_time() - start


def _first(instance: Instance) -> Started:
    return best_rule(tables_of(instance))


def _ten_orders(started: Started) -> None:
    for _ in range(10):
        started.decoder.value(started.decoder.decode(started.order))


def budget_for(instance: Instance, seconds: float) -> Budget:
    """Return a budget that takes about so many seconds on this machine."""
    started = best_rule(tables_of(instance))
    tries = 2_000
    _, spent = timed(partial(anneal, started.decoder, started.order, tries, 0))
    rate = tries / max(spent, 1e-6)
    large = started.decoder.items > 2 * FULL_SIZE
    exact = 0.0 if seconds < 2 else (0.05 if large else 0.3) * seconds
    share = 0.95 if seconds < 2 or large else 0.65
    scale = FULL_SIZE**2 / min(started.decoder.items, FULL_SIZE) ** 2
    return Budget(tries=int(rate * seconds * share * scale), exact=exact)


def for_its_goals(instance: Instance, plan: Timetable) -> Instance:
    """Return the season with those goals alone that a plan meets.

    Goals missed buy comfort, so that plans which miss other goals say little about each other's
    comfort. The skills of the goals left out stay asked for and count in comfort as before.
    """
    met = met_goals(instance, plan)
    return replace(
        instance, goals=tuple(goal for index, goal in enumerate(instance.goals) if index in met)
    )


def say(value: Tiers | None) -> str:
    """Return tiers for a cell: goals missed, then comfort."""
    if value is None:
        return "none found"
    return f"{'/'.join(map(str, value[:-1]))} {value[-1]}"


def middle(found: list[Tiers | None]) -> Tiers | None:
    """Return the median of tiers compared in order; no plan is worse than any."""
    ranked = sorted(found, key=lambda value: (value is None, value or ()))
    return ranked[len(ranked) // 2]


def versus(console: Console, sizes: list[str], runs: int) -> None:
    """Print the tiers reached in equal time, engine and baselines."""
    table = Table(title="Goals missed (must/days late/should/could) and comfort in equal time")
    for heading in ("season", "first plan", "first fit", "seconds", "engine", "plain CP-SAT"):
        table.add_column(heading)
    table.add_column("comfort to first fit's")
    table.add_column("for its goals")
    table.add_column("to CP-SAT's")
    beaten = 0
    for size in sizes:
        for load in LOADS:
            instance = sized(size, load).instance()
            _, first = timed(partial(_first, instance))
            plan = first_fit(instance)
            fit, alike = tiers(instance, plan), for_its_goals(instance, plan)
            for seconds in SECONDS:
                budget = budget_for(instance, seconds)
                ours: list[Tiers | None] = []
                plain: list[Tiers | None] = []
                spent = []
                for seed in range(runs):
                    result, used = timed(partial(solve, instance, budget, seed))
                    ours.append(result.tiers)
                    spent.append(used)
                    found: Timetable | None = plain_model(instance, max(used, 0.1), seed)
                    plain.append(tiers(instance, found) if found else None)
                best, other = middle(ours), middle(plain)
                if best is None:
                    raise ValueError("the engine always has a plan")
                beaten += best > fit or (other is not None and best > other)
                table.add_row(
                    f"{size} {load}",
                    f"{1000 * first:.0f} ms",
                    say(fit),
                    f"{median(spent):.1f}",
                    say(best),
                    say(other),
                    f"{best[-1] / fit[-1]:.3f}",
                    f"{solve(alike, budget).tiers[-1] / fit[-1]:.3f}",
                    f"{best[-1] / other[-1]:.2f}" if other else "-",
                )
    console.print(table)
    console.print(f"cases in which a baseline was better: {beaten}")
    console.print(f"most memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024} MB")


def proofs(console: Console, sizes: list[str], *, long: bool) -> None:
    """Print value, bound and gap of comfort at the named efforts."""
    table = Table(title="Comfort, its bound and the gap")
    for heading in ("season", "effort", "seconds", "tiers", "bounds", "gap", "status"):
        table.add_column(heading)
    shapes = [(f"ten weeks {load}", Shape(10, 2, 10, load, 1)) for load in LOADS]
    made = [(name, case(shape).instance()) for name, shape in shapes if "small" in sizes]
    made += [(f"{size} {load}", sized(size, load).instance()) for size in sizes for load in LOADS]
    for name, instance in made:
        efforts: tuple[Effort, ...] = ("quick", "normal", "long") if long else ("quick", "normal")
        for effort in efforts:
            result, used = timed(partial(solve, instance, effort))
            gap = (result.tiers[-1] - result.bounds[-1]) / max(1, result.tiers[-1])
            table.add_row(
                name,
                effort,
                f"{used:.1f}",
                say(result.tiers),
                say(result.bounds),
                f"{100 * gap:.1f} %",
                result.status,
            )
    console.print(table)


def growth(console: Console) -> None:
    """Print how the cost grows with the number of skills, the season growing along."""
    table = Table(title="Growth at quick effort")
    for heading in ("skills", "blocks", "practices", "first plan", "one order", "quick"):
        table.add_column(heading)
    for skills in (10, 30, 100, 250, 500):
        shape = Shape(max(6, skills // 2), 3, skills, 0.85, 1, games=False)
        instance = case(shape).instance()
        started, first = timed(partial(_first, instance))
        _, ten = timed(partial(_ten_orders, started))
        _, quick = timed(partial(solve, instance, "quick"))
        table.add_row(
            str(skills),
            str(sum(instance.blocks)),
            str(instance.practices),
            f"{1000 * first:.0f} ms",
            f"{100 * ten:.2f} ms",
            f"{quick:.2f} s",
        )
    console.print(table)


def hidden(console: Console, count: int = 200) -> None:
    """Print how many seasons built around a hidden plan have all must-goals met, by effort."""
    table = Table(title="Seasons with a hidden plan: all must-goals met and pins kept")
    for heading in ("seasons", "decided reachable", "met at quick", "met at normal", "seconds"):
        table.add_column(heading)
    decided = quick = normal = 0
    start = time.process_time()
    for seed in range(count):
        shape = Shape(8 + seed % 9, 2 + seed % 2, 10 + seed % 15, 1.1, seed, musts=0.7, slack=2)
        instance = case(shape).instance()
        decided += decide(instance).verdict == "reachable"
        result = solve(instance, "quick")
        quick += keeps_all(instance, result.timetable)
        if not keeps_all(instance, result.timetable):
            result = solve(instance)
        normal += keeps_all(instance, result.timetable)
    spent = time.process_time() - start
    table.add_row(str(count), str(decided), str(quick), str(normal), f"{spent:.0f}")
    console.print(table)


def main() -> None:
    """Run the benchmarks that were asked for and print their tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("sizes", nargs="*", default=list(SIZES))
    parser.add_argument("--runs", type=int, default=3, help="runs of which the median counts")
    parser.add_argument("--long", action="store_true", help="also prove at long effort")
    parser.add_argument("--only", choices=("versus", "proofs", "growth", "hidden"))
    asked = parser.parse_args()
    console = Console(width=150)
    if asked.only in (None, "versus"):
        versus(console, asked.sizes, asked.runs)
    if asked.only in (None, "proofs"):
        proofs(console, asked.sizes, long=asked.long)
    if asked.only in (None, "growth"):
        growth(console)
    if asked.only in (None, "hidden"):
        hidden(console)


if __name__ == "__main__":
    main()
