"""Order the nodes of each column so that few lines cross."""

import random
from bisect import bisect_left, insort
from collections.abc import Collection, Sequence

SWEEPS = 12
KICKS = 400
"""Random changes tried, each followed by a repair: 35 skills come from 61 crossings to 40, 71 from
214 to 193, in about a second."""

Ranks = Sequence[Sequence[int]]
"""The nodes of each column from top to bottom, as numbers."""


def ordered(ranks: Ranks, edges: Sequence[tuple[int, int]], seed: int = 0) -> list[list[int]]:
    """Return the columns with their nodes in an order with few crossings.

    Edges lead from one column to the next. Nodes are put where the mean of their neighbours is,
    sweeping from side to side; then each is moved to its best place; then, as often as `KICKS`, a
    stretch of a column is shuffled and repaired, and kept when that is no worse.
    """
    state = _Order(ranks, edges)
    best, fewest = state.copy(), state.crossings()
    for sweep in range(SWEEPS):
        state.by_means(forward=sweep % 2 == 0)
        if state.crossings() < fewest:
            best, fewest = state.copy(), state.crossings()
    state.restore(best)
    state.sift(range(len(best)))
    best, fewest = state.copy(), state.crossings()
    draw = random.Random(seed)  # noqa: S311 - a seeded search, no secret
    for _ in range(KICKS if fewest else 0):
        kicked = state.kick(draw)
        if not kicked:
            break
        state.sift(kicked)
        if state.crossings() <= fewest:
            best, fewest = state.copy(), state.crossings()
        else:
            state.restore(best)
    return best


class _Order:
    """An order under change; neighbours are looked up to the left and to the right."""

    def __init__(self, ranks: Ranks, edges: Sequence[tuple[int, int]]) -> None:
        self.ranks = [list(rank) for rank in ranks]
        self.left: dict[int, list[int]] = {node: [] for rank in ranks for node in rank}
        self.right: dict[int, list[int]] = {node: [] for rank in ranks for node in rank}
        for start, end in edges:
            self.left[end].append(start)
            self.right[start].append(end)
        self.places: dict[int, int] = {}
        self.gaps: list[int | None] = []
        self.restore(self.ranks)

    def copy(self) -> list[list[int]]:
        return [list(rank) for rank in self.ranks]

    def restore(self, ranks: Ranks) -> None:
        """Take over another order of the same nodes."""
        if len(self.gaps) != len(ranks):
            self.gaps = [None] * len(ranks)
            self.places = {node: at for rank in ranks for at, node in enumerate(rank)}
        for column, rank in enumerate(ranks):
            if self.ranks[column] != rank:
                self._set(column, list(rank))

    def _set(self, column: int, rank: list[int]) -> None:
        self.ranks[column] = rank
        self.places.update({node: at for at, node in enumerate(rank)})
        self.gaps[column] = None
        if column:
            self.gaps[column - 1] = None

    def crossings(self) -> int:
        total = 0
        for column, known in enumerate(self.gaps):
            count = self._crossings_after(column) if known is None else known
            self.gaps[column] = count
            total += count
        return total

    def _crossings_after(self, column: int) -> int:
        total = 0
        seen: list[int] = []
        for node in self.ranks[column]:
            ends = sorted(self.places[end] for end in self.right[node])
            total += sum(len(seen) - bisect_left(seen, end + 1) for end in ends)
            for end in ends:
                insort(seen, end)
        return total

    def by_means(self, *, forward: bool) -> None:
        """Sort each column by the mean place of what stands beside it on one side."""
        sides = self.left if forward else self.right
        numbers = range(len(self.ranks))
        for column in numbers if forward else reversed(numbers):
            keys = {}
            for at, node in enumerate(self.ranks[column]):
                beside = sides[node]
                mean = sum(self.places[other] for other in beside) / len(beside) if beside else at
                keys[node] = (mean, at)
            self._set(column, sorted(self.ranks[column], key=keys.__getitem__))

    def sift(self, columns: Collection[int]) -> None:
        """Move nodes of some columns to their best places, and of others where that helps."""
        waiting = list(columns)
        while waiting:
            column = waiting.pop(0)
            if self._sift_column(column):
                beside = [column - 1, column, column + 1]
                inside = (each for each in beside if 0 <= each < len(self.ranks))
                waiting += [each for each in inside if each not in waiting]

    def _sift_column(self, column: int) -> bool:
        rank = list(self.ranks[column])
        beside = {
            node: (
                sorted(self.places[other] for other in self.left[node]),
                sorted(self.places[other] for other in self.right[node]),
            )
            for node in rank
        }
        improved = [_sifted(rank, node, beside) for node in tuple(rank)]
        if any(improved):
            self._set(column, rank)
        return any(improved)

    def kick(self, draw: random.Random) -> list[int]:
        """Shuffle a stretch of one or two columns, and return which; none when all are short."""
        long = [column for column, rank in enumerate(self.ranks) if len(rank) > 2]
        chosen = draw.sample(long, min(len(long), draw.randint(1, 2)))
        for column in chosen:
            rank = list(self.ranks[column])
            size = draw.randint(2, len(rank))
            start = draw.randrange(len(rank) - size + 1)
            stretch = rank[start : start + size]
            draw.shuffle(stretch)
            rank[start : start + size] = stretch
            self._set(column, rank)
        return chosen


_Beside = dict[int, tuple[list[int], list[int]]]


def _sifted(rank: list[int], node: int, beside: _Beside) -> bool:
    """Move a node to where its edges cross fewest; whether that made it better."""
    here = rank.index(node)
    others = rank[:here] + rank[here + 1 :]
    gain, costs = 0, [0]
    for other in others:
        gain += _crossed(beside, other, node) - _crossed(beside, node, other)
        costs.append(gain)
    best = min(range(len(costs)), key=lambda at: (costs[at], abs(at - here)))
    if costs[best] >= costs[here]:
        return False
    others.insert(best, node)
    rank[:] = others
    return True


def _crossed(beside: _Beside, upper: int, lower: int) -> int:
    """How many edges of two nodes cross when one stands above the other."""
    total = 0
    for above, below in zip(beside[upper], beside[lower], strict=True):
        for end in above:
            total += bisect_left(below, end)
    return total
