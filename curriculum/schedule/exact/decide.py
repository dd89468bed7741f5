"""Is there any plan at all that keeps every must-goal and pin? The hard rules, no objective."""

from typing import Literal

from curriculum.schedule.exact.constraints import Load, capacity, order, pins
from curriculum.schedule.exact.model import run
from curriculum.schedule.exact.variables import Matrix, Step, fixed, place_of
from curriculum.schedule.tables import Tables
from curriculum.schedule.windows import Rows, Windows

Verdict = Literal["reachable", "unreachable", "unknown"]


def find(
    tables: Tables, masks: Rows, windows: Windows, effort: float, seed: int
) -> tuple[Verdict, Rows | None]:
    """Search for a plan that holds every block of the instance within its window.

    Rows are hard, never behind a switch, so that the relaxation sees overloads.
    """
    instance = tables.instance
    matrix = Matrix()
    steps: list[list[Step]] = []
    loads: list[Load] = []
    for job, row in enumerate(masks):
        steps.append([])
        for number, mask in enumerate(row):
            if number < tables.past[job]:
                steps[job].append(fixed(mask.bit_length() - 1, instance.practices))
                continue
            first, last = windows.first[job][number], windows.last[job][number]
            step = matrix.step(mask, first, last, instance.practices, required=True)
            steps[job].append(step)
            introduces = number == 0 and instance.introduces[job]
            loads.append(Load(step, instance.minutes[job], introduces, instance.strand[job]))
    order(matrix, tables, steps)
    capacity(matrix, instance, loads)
    pins(matrix, instance, steps, [()] * len(instance.chains))
    outcome = run(matrix, effort, seed)
    if outcome.interrupted:
        raise KeyboardInterrupt
    if outcome.verdict == "infeasible":
        return "unreachable", None
    if not outcome.values:
        return "unknown", None
    return "reachable", tuple(
        tuple(place_of(step, outcome.values) for step in row) for row in steps
    )
