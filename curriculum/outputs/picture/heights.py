"""Give the ordered nodes of columns their heights, so that lines run straight where they can."""

from collections.abc import Mapping, Sequence

ROUNDS = 24
STRAIGHT = 8.0
"""How much more a long line wants to run straight through a column than a node its neighbour."""


def heights(
    ranks: Sequence[Sequence[int]],
    edges: Sequence[tuple[int, int]],
    sizes: Mapping[int, float],
    through: frozenset[int],
) -> dict[int, float]:
    """Return the middle of each node, from 0 downward, in the order given and without overlap.

    sizes: the room that a node takes. through: nodes that are no boxes but places where a long
    line passes a column. Each node is drawn to the weighted mean of its neighbours; a column keeps
    its order by isotonic regression.
    """
    pulls: dict[int, list[tuple[int, float]]] = {node: [] for rank in ranks for node in rank}
    for start, end in edges:
        passing = (start in through) + (end in through)
        weight = STRAIGHT if passing == 2 else 2.0 if passing else 1.0
        pulls[start].append((end, weight))
        pulls[end].append((start, weight))
    at: dict[int, float] = {}
    for rank in ranks:
        at.update(_spread(rank, [0.0] * len(rank), [1.0] * len(rank), sizes))
    for turn in range(ROUNDS):
        for rank in ranks if turn % 2 == 0 else reversed(ranks):
            wanted, weights = [], []
            for node in rank:
                whole = sum(weight for _, weight in pulls[node])
                mean = sum(at[other] * weight for other, weight in pulls[node])
                wanted.append(mean / whole if whole else at[node])
                weights.append(whole or 0.1)
            at.update(_spread(rank, wanted, weights, sizes))
    top = min((at[node] - sizes[node] / 2 for node in at), default=0.0)
    return {node: height - top for node, height in at.items()}


def _spread(
    rank: Sequence[int],
    wanted: Sequence[float],
    weights: Sequence[float],
    sizes: Mapping[int, float],
) -> dict[int, float]:
    """Return heights nearest to the wanted ones, by weighted squares, that keep order and room."""
    offsets, far = [], 0.0
    for place, node in enumerate(rank):
        if place:
            far += (sizes[rank[place - 1]] + sizes[node]) / 2
        offsets.append(far)
    pools: list[tuple[float, float, int]] = []
    for want, weight, offset in zip(wanted, weights, offsets, strict=True):
        pool = ((want - offset) * weight, weight, 1)
        pools.append(pool)
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] > pools[-1][0] / pools[-1][1]:
            last, before = pools.pop(), pools.pop()
            pools.append((before[0] + last[0], before[1] + last[1], before[2] + last[2]))
    levels = [total / weight for total, weight, count in pools for _ in range(count)]
    return {node: level + offset for node, level, offset in zip(rank, levels, offsets, strict=True)}
