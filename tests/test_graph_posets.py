"""Small partial orders with known counts of states and paths, walked through `ready` alone.

What a team can have reached is a state of an ordinal knowledge space: an order ideal. The orders in
which everything can be reached are its learning paths: the linear extensions (Doignon and Falmagne
1985, International Journal of Man-Machine Studies 23:175-196). The counts below come from exact
enumeration by another program; the numbers of the OEIS name sequences to compare them with.
"""

from collections.abc import Callable

import pytest

from curriculum.graph import Node, StageGraph, ready, stage_graph
from tests.build import library, skill

Poset = dict[int, tuple[int, ...]]
"""For each element those that it waits for."""


def stages_of(waits: Poset) -> StageGraph:
    """Return the graph of one-stage skills that wait for each other as the elements do."""
    skills = (skill(f"s{n}", needs=tuple(f"s{m}" for m in needed)) for n, needed in waits.items())
    return stage_graph(library(*skills))


def states_and_paths(graph: StageGraph) -> tuple[int, int]:
    """Count the states that can be reached from nothing, and the paths to the largest of them."""
    paths: dict[frozenset[Node], int] = {frozenset(): 1}
    states = 0
    while True:
        states += len(paths)
        further: dict[frozenset[Node], int] = {}
        for state, count in paths.items():
            for node in ready(graph, state):
                grown = state | {node}
                further[grown] = further.get(grown, 0) + count
        if not further:
            return states, sum(paths.values())
        paths = further


def antichain(n: int) -> Poset:
    """Return n elements that do not wait for each other."""
    return dict.fromkeys(range(n), ())


def grid(rows: int) -> Callable[[int], Poset]:
    """Return the maker of rows x n: each element waits for its neighbours above and to the left."""

    def of(n: int) -> Poset:
        return {
            10 * row + column: tuple(
                10 * r + c for r, c in ((row - 1, column), (row, column - 1)) if min(r, c) >= 0
            )
            for row in range(rows)
            for column in range(n)
        }

    return of


def square(n: int) -> Poset:
    """Return the n x n grid."""
    return grid(n)(n)


def fence(n: int) -> Poset:
    """Return the zigzag 1 < 2 > 3 < 4 > 5 ..."""
    return {
        each: () if each % 2 else tuple(m for m in (each - 1, each + 1) if m <= n)
        for each in range(1, n + 1)
    }


def boolean(n: int) -> Poset:
    """Return the subsets of n things: each waits for those that lack one of its things."""
    return {
        each: tuple(each & ~(1 << bit) for bit in range(n) if each & (1 << bit))
        for each in range(2**n)
    }


def tree(height: int) -> Poset:
    """Return the binary tree: each element waits for its parent."""
    return {each: (each // 2,) if each > 1 else () for each in range(1, 2**height)}


@pytest.mark.parametrize(
    ("make", "first", "states", "paths"),
    [
        # OEIS A000079, A000142
        (antichain, 1, (2, 4, 8, 16, 32, 64), (1, 2, 6, 24, 120, 720)),
        # OEIS A000217, A000108
        (grid(2), 1, (3, 6, 10, 15, 21, 28, 36, 45), (1, 2, 5, 14, 42, 132, 429, 1430)),
        # OEIS A000292, A005789
        (grid(3), 1, (4, 10, 20, 35, 56), (1, 5, 42, 462, 6006)),
        # OEIS A000984, A039622
        (square, 1, (2, 6, 20, 70), (1, 2, 42, 24024)),
        # OEIS A000372, A046873
        (boolean, 0, (2, 3, 6, 20, 168), (1, 1, 2, 48, 1680384)),
        # OEIS A000045, A000111
        (
            fence,
            1,
            (2, 3, 5, 8, 13, 21, 34, 55, 89, 144),
            (1, 1, 2, 5, 16, 61, 272, 1385, 7936, 50521),
        ),
        # OEIS A003095, A056972
        (tree, 1, (2, 5, 26, 677), (1, 2, 80, 21964800)),
    ],
    ids=["antichain", "2 x n", "3 x n", "n x n", "boolean", "fence", "tree"],
)
def test_families(
    make: Callable[[int], Poset], first: int, states: tuple[int, ...], paths: tuple[int, ...]
) -> None:
    """Families of orders have the states and paths that enumeration gives."""
    found = [states_and_paths(stages_of(make(first + n))) for n in range(len(states))]

    assert found == list(zip(states, paths, strict=True))


@pytest.mark.parametrize(
    ("waits", "states", "paths"),
    [
        ({1: (), 2: (), 3: (1,), 4: (1, 2)}, 8, 5),
        ({1: (), 2: (1,), 3: (1,), 4: (2, 3)}, 6, 2),
        ({1: (), 2: (1,), 3: (1,)}, 5, 2),
        ({1: (), 2: (1,), 3: (), 4: (3,)}, 9, 6),
        ({1: (), 2: (1,), 3: (2,), 4: ()}, 8, 4),
        ({1: (), 2: (), 3: (), 4: (2, 3), 5: (1, 3), 6: (1, 2)}, 18, 48),
    ],
    ids=["N", "diamond", "V", "2 + 2", "3 + 1", "crown of 6"],
)
def test_single_orders(waits: Poset, states: int, paths: int) -> None:
    """Small orders have the states and paths that enumeration gives."""
    assert states_and_paths(stages_of(waits)) == (states, paths)


def test_a_worked_example() -> None:
    """Items 1 to 5 with 1, 2 < 3, 4 and 3 < 5 have nine states, all named here, and six paths."""
    graph = stages_of({1: (), 2: (), 3: (1, 2), 4: (1, 2), 5: (3,)})
    found, reached = [frozenset[Node]()], 0
    while reached < len(found):
        state = found[reached]
        found += sorted({state | {node} for node in ready(graph, state)} - set(found), key=sorted)
        reached += 1

    assert ["".join(sorted(skill_id[1:] for skill_id, _ in state)) for state in found] == [
        "",
        "1",
        "2",
        "12",
        "123",
        "124",
        "1234",
        "1235",
        "12345",
    ]
    assert states_and_paths(graph) == (9, 6)


@pytest.mark.parametrize(("skills", "states", "paths"), [(1, 4, 1), (2, 16, 20), (3, 64, 1680)])
def test_whole_ladders(skills: int, states: int, paths: int) -> None:
    """M skills of three stages: 4^m states and (3m)! / (3!)^m paths."""
    work = (1, 8)
    made = (skill(f"s{n}", unopposed=work, guided=work, live=work) for n in range(skills))

    assert states_and_paths(stage_graph(library(*made))) == (states, paths)


@pytest.mark.parametrize(
    ("n", "arcs", "states", "paths"),
    [
        (7, "1-2 1-4 2-3 2-5 4-7 5-6", 22, 45),
        (8, "1-2 2-3 2-4 3-5 3-6 4-6 5-7 6-8", 16, 16),
        (9, "1-2 1-3 2-4 3-4 4-5 4-6 4-7 5-8 6-9 7-9 8-9", 18, 24),
        (11, "1-2 1-3 1-4 1-5 2-6 3-7 4-7 5-7 6-8 7-9 8-10 9-11 10-11", 52, 756),
        (11, "1-4 2-4 2-5 3-11 4-6 5-7 6-8 7-9 8-10 9-10 10-11", 47, 550),
    ],
    ids=["Mertens", "Bowman", "Jaeschke", "Jackson", "Mansoor"],
)
def test_assembly_lines(n: int, arcs: str, states: int, paths: int) -> None:
    """Precedence graphs of line balancing (Scholl 1993), counted by exact enumeration."""
    pairs = [tuple(int(end) for end in arc.split("-")) for arc in arcs.split()]
    waits = {each: tuple(lead for lead, last in pairs if last == each) for each in range(1, n + 1)}

    assert states_and_paths(stages_of(waits)) == (states, paths)


@pytest.mark.parametrize(
    ("waits", "states", "paths"),
    [
        ({}, 1, 1),
        ({1: ()}, 2, 1),
        ({1: (1,)}, 1, 1),
        ({1: (2,), 2: (1,)}, 1, 1),
        ({1: (2,), 2: (1,), 3: ()}, 2, 1),
    ],
    ids=["nothing", "one", "one that waits for itself", "a loop", "a loop beside one"],
)
def test_degenerate_orders(waits: Poset, states: int, paths: int) -> None:
    """Nothing has one state and one way to it; what waits in a loop is never ready."""
    assert states_and_paths(stages_of(waits)) == (states, paths)
