"""A layered layout of a graph without loops: columns, order, heights; knows nothing of drawing."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from curriculum.outputs.picture.columns import columns
from curriculum.outputs.picture.crossings import ordered
from curriculum.outputs.picture.heights import heights

BOX = 1.0
"""The room that a box takes in a column; heights are multiples of it."""

LINE = 0.3
"""The room that a long line takes where it passes a column."""

FILL = 1.35
"""How much fuller than the mean a column may be before nodes are moved out of it."""


@dataclass(frozen=True)
class Layers:
    """Where everything stands: columns from 0 at the left, heights from 0 at the top.

    at: column and height of each node. ways: for each edge the heights at which it passes the
    columns between its ends.
    """

    columns: int
    height: float
    at: tuple[tuple[str, int, float], ...]
    ways: tuple[tuple[str, str, tuple[float, ...]], ...]


@lru_cache(maxsize=8)
def layers(nodes: tuple[str, ...], edges: tuple[tuple[str, str], ...], seed: int = 0) -> Layers:
    """Return the layout of a graph; kept for the next print of the same graph in one run.

    Raises networkx.NetworkXUnfeasible when the graph has a loop.
    """
    if not nodes:
        return Layers(0, 0.0, (), ())
    longest = max(columns(nodes, edges, len(nodes)).values()) + 1
    column = columns(nodes, edges, round(len(nodes) / longest * FILL) + 1)
    number = {name: at for at, name in enumerate(nodes)}
    ranks: list[list[int]] = [[] for _ in range(longest)]
    for name in nodes:
        ranks[column[name]].append(number[name])
    steps: list[tuple[int, int]] = []
    chains: list[list[int]] = []
    count = len(nodes)
    for start, end in edges:
        chain = [number[start]]
        for between in range(column[start] + 1, column[end]):
            ranks[between].append(count)
            chain.append(count)
            count += 1
        chain.append(number[end])
        steps += pairwise(chain)
        chains.append(chain)
    best = ordered(ranks, steps, seed)
    sizes = {node: BOX if node < len(nodes) else LINE for node in range(count)}
    at = heights(best, steps, sizes, frozenset(range(len(nodes), count)))
    return Layers(
        columns=longest,
        height=max(at[node] + sizes[node] / 2 for node in at),
        at=tuple((name, column[name], at[number[name]]) for name in nodes),
        ways=_ways(nodes, chains, at),
    )


def _ways(
    nodes: Sequence[str], chains: Sequence[Sequence[int]], at: dict[int, float]
) -> tuple[tuple[str, str, tuple[float, ...]], ...]:
    return tuple(
        (nodes[chain[0]], nodes[chain[-1]], tuple(at[node] for node in chain[1:-1]))
        for chain in chains
    )
