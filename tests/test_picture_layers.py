"""The layered layout: columns, order, heights. Each rule on graphs small enough to see."""

from collections.abc import Sequence
from itertools import combinations, pairwise, permutations

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from curriculum.outputs.picture.columns import columns
from curriculum.outputs.picture.crossings import ordered
from curriculum.outputs.picture.heights import heights
from curriculum.outputs.picture.layers import BOX, layers

DIAMOND = (("a", "b"), ("a", "c"), ("b", "d"), ("c", "d"))


@st.composite
def graphs(draw: st.DrawFn) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """Draw a graph without loops."""
    size = draw(st.integers(1, 14))
    names = tuple(f"n{number:02}" for number in range(size))
    pairs = [(a, b) for place, a in enumerate(names) for b in names[place + 1 :]]
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, max_size=25)) if pairs else []
    return names, tuple(chosen)


@given(graphs())
def test_every_edge_leads_to_the_right(
    drawn: tuple[tuple[str, ...], tuple[tuple[str, str], ...]],
) -> None:
    """There are as many columns as the longest chain has nodes, however full they may be."""
    nodes, edges = drawn
    column = columns(nodes, edges, most=4)
    graph: nx.DiGraph[str] = nx.DiGraph(edges)
    graph.add_nodes_from(nodes)

    assert all(column[start] < column[end] for start, end in edges)
    assert max(column.values()) == nx.dag_longest_path_length(graph)


def test_a_node_stands_where_its_lines_are_short() -> None:
    """A node that one late node alone needs stands beside it, not at the far left."""
    edges = (("a", "b"), ("b", "c"), ("c", "d"), ("e", "d"))

    assert columns("abcde", edges, most=9)["e"] == 2


def test_a_full_column_passes_nodes_on() -> None:
    """Of three nodes that could stand in the first column two move on where only one may stay."""
    edges = (("a", "b"), ("b", "c"))
    column = columns("abcxyz", edges, most=2)

    assert sorted(column.values()) == [0, 0, 1, 1, 2, 2]


def crossings(ranks: Sequence[Sequence[int]], edges: Sequence[tuple[int, int]]) -> int:
    """Return how many pairs of edges cross: their ends stand in opposite order."""
    place = {node: at for rank in ranks for at, node in enumerate(rank)}
    column = {node: at for at, rank in enumerate(ranks) for node in rank}
    return sum(
        (place[one[0]] - place[other[0]]) * (place[one[1]] - place[other[1]]) < 0
        for one, other in combinations(edges, 2)
        if column[one[0]] == column[other[0]]
    )


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(3, 5)), unique=True))
def test_two_columns_cross_as_little_as_any_order_lets_them(edges: list[tuple[int, int]]) -> None:
    """On six nodes the search finds what trying every order finds."""
    fewest = min(
        crossings((left, right), edges)
        for left in permutations(range(3))
        for right in permutations(range(3, 6))
    )

    assert crossings(ordered([range(3), range(3, 6)], edges), edges) == fewest


def test_a_tangle_that_can_be_undone_is_undone() -> None:
    """Three paths drawn crosswise come out without any crossing."""
    ranks = [[0, 1, 2], [5, 4, 3], [7, 8, 6]]
    edges = [(0, 3), (1, 4), (2, 5), (3, 6), (4, 7), (5, 8)]

    assert crossings(ordered(ranks, edges), edges) == 0


@given(graphs())
def test_ordering_never_makes_it_worse(
    drawn: tuple[tuple[str, ...], tuple[tuple[str, str], ...]],
) -> None:
    """The order has the same nodes in each column and no more crossings than before."""
    nodes, edges = drawn
    column = columns(nodes, edges, most=20)
    number = {name: at for at, name in enumerate(nodes)}
    ranks: list[list[int]] = [[] for _ in range(max(column.values()) + 1)]
    for name in nodes:
        ranks[column[name]].append(number[name])
    steps = [(number[a], number[b]) for a, b in edges if column[b] == column[a] + 1]
    best = ordered(ranks, steps)

    assert [sorted(rank) for rank in best] == [sorted(rank) for rank in ranks]
    assert crossings(best, steps) <= crossings(ranks, steps)


def test_heights_keep_order_and_room() -> None:
    """Nodes of a column stand apart by their sizes, in order, from 0 downward."""
    ranks = [[0, 1, 2], [3]]
    sizes = {0: 1.0, 1: 1.0, 2: 0.4, 3: 1.0}
    at = heights(ranks, [(0, 3), (1, 3), (2, 3)], sizes, frozenset({2}))

    for upper, lower in pairwise(ranks[0]):
        assert at[lower] - at[upper] >= (sizes[upper] + sizes[lower]) / 2 - 1e-9
    assert min(at[node] - sizes[node] / 2 for node in at) == pytest.approx(0)


def test_a_long_line_runs_straight() -> None:
    """Where nothing stands in its way, a line keeps its height through the columns it passes."""
    far = layers(("a", "b", "c", "d"), (("a", "b"), ("b", "c"), ("c", "d"), ("a", "d")))
    (way,) = (way for start, end, way in far.ways if (start, end) == ("a", "d"))

    assert len(way) == 2
    assert way[0] == pytest.approx(way[1], abs=0.05)


def test_a_diamond_is_laid_out_as_one() -> None:
    """Three columns, the middle one with two boxes that do not touch."""
    laid = layers(("a", "b", "c", "d"), DIAMOND)
    at = {name: (column, height) for name, column, height in laid.at}

    assert laid.columns == 3
    assert [at[name][0] for name in "abcd"] == [0, 1, 1, 2]
    assert abs(at["b"][1] - at["c"][1]) >= BOX - 1e-9
    assert at["a"][1] == pytest.approx(at["d"][1])


def test_the_same_graph_gives_the_same_layout() -> None:
    """The search is seeded: run anew, it finds the same."""
    first = layers(("a", "b", "c", "d"), DIAMOND)
    layers.cache_clear()

    assert layers(("a", "b", "c", "d"), DIAMOND) == first


def test_no_graph_is_no_layout() -> None:
    """Without nodes there is nothing to lay out."""
    assert (layers((), ()).columns, layers((), ()).at) == (0, ())


def test_a_loop_is_refused() -> None:
    """Needs that run in a circle have no columns."""
    with pytest.raises(nx.NetworkXUnfeasible):
        layers(("a", "b"), (("a", "b"), ("b", "a")))
