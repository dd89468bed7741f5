"""Put the nodes of a graph without loops into columns, so that its lines are short."""

from collections.abc import Mapping, Sequence

import networkx as nx

ROUNDS = 40
"""Passes over all nodes; demo graphs settle after six."""

Column = Mapping[str, int]
"""The column of each node, from 0 at the left."""


def columns(nodes: Sequence[str], edges: Sequence[tuple[str, str]], most: int) -> dict[str, int]:
    """Return a column for each node, every edge leading to the right.

    There are as few columns as the longest chain needs. Lines are as short as moving one node at a
    time makes them; where a column holds more than `most` nodes, the ones that can be moved at the
    least cost go to a neighbouring one, as far as their edges allow.
    """
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(nodes)
    graph.add_edges_from(edges)
    place = {name: at for at, name in enumerate(nodes)}
    order = list(nx.lexicographical_topological_sort(graph, key=place.__getitem__))
    column: dict[str, int] = {}
    for name in order:
        column[name] = max((column[lead] + 1 for lead in graph.predecessors(name)), default=0)
    last = max(column.values(), default=0)
    for turn in range(ROUNDS):
        before = dict(column)
        for name in order if turn % 2 else reversed(order):
            column[name] = _best(graph, column, name, last, most)
        if column == before:
            break
    return column


def _best(graph: "nx.DiGraph[str]", column: dict[str, int], name: str, last: int, most: int) -> int:
    leads = [column[lead] for lead in graph.predecessors(name)]
    follows = [column[after] for after in graph.successors(name)]
    lowest = max(leads, default=-1) + 1
    highest = min(follows, default=last + 1) - 1
    crowd = [0] * (last + 1)
    for other, at in column.items():
        crowd[at] += other != name

    def cost(at: int) -> tuple[int, int]:
        length = sum(at - lead for lead in leads) + sum(after - at for after in follows)
        over = max(0, crowd[at] + 1 - most)
        return length + 3 * over, abs(at - column[name])

    return min(range(lowest, highest + 1), key=cost)
