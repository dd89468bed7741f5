"""The list scheduler alone against published assembly lines: feasible, and how far from the best.

Data and optima: Scholl A (1993), Data of Assembly Line Balancing Problems, Schriften zur
Quantitativen Betriebswirtschaftslehre 16/93, TH Darmstadt.
"""

from itertools import groupby
from operator import itemgetter

import pytest

from curriculum.schedule.rules import orders
from curriculum.schedule.serial import schedule_in_order
from curriculum.schedule.tables import tables_of
from curriculum.schedule.windows import windows_of
from tests.bench.balancing import STATIONS, TASKS, line

LISTS = ("Mertens", "Jackson")
CASES = [(name, cycle) for name in LISTS for cycle in STATIONS[name]]

STATIONS_TOO_MANY = {("Jackson", 10): 1}
"""Lines for which no rule finds the published optimum, and by how many stations the best misses."""


def balanced(name: str, cycle: int) -> list[dict[int, int]]:
    """Return for each rule the station of each task (from 0), with a station a task to choose."""
    instance = line(name, cycle, len(TASKS[name][0].split()))
    tables = tables_of(instance)
    ranked = orders(tables, windows_of(tables)).values()
    runs = [schedule_in_order(tables, jobs, {}) for jobs in ranked]
    return [{job: row[0] for job, row in enumerate(run.placed)} for run in runs]


@pytest.mark.parametrize(("name", "cycle"), CASES)
def test_every_rule_stays_feasible(name: str, cycle: int) -> None:
    """No station works longer than the cycle, no task comes before one that it waits for."""
    times, arcs = TASKS[name]
    minutes = [int(each) for each in times.split()]
    pairs = [tuple(int(task) - 1 for task in arc.split("-")) for arc in arcs.split()]
    for stations in balanced(name, cycle):
        ranked = sorted(stations.items(), key=itemgetter(1))
        loads = {
            station: sum(minutes[task] for task, _ in tasks)
            for station, tasks in groupby(ranked, key=itemgetter(1))
        }

        assert sorted(stations) == list(range(len(minutes)))
        assert max(loads.values()) <= cycle
        assert [pair for pair in pairs if stations[pair[0]] > stations[pair[1]]] == []


def test_the_distance_from_the_published_optimum() -> None:
    """The best rule uses as many stations as the optimum, but for the lines that are named."""
    distance = {
        (name, cycle): 1
        + min(max(stations.values()) for stations in balanced(name, cycle))
        - STATIONS[name][cycle]
        for name, cycle in CASES
    }

    assert {case: more for case, more in distance.items() if more} == STATIONS_TOO_MANY
