"""Serial list scheduling in one call: jobs in a given order, each at the earliest that fits."""

from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.schedule.decode import Decoder
from curriculum.schedule.state import Slots
from curriculum.schedule.tables import Tables


@dataclass(frozen=True)
class Serial:
    """What a run came to: for each job the practices of its blocks."""

    placed: tuple[tuple[int, ...], ...]


def schedule_in_order(tables: Tables, jobs: Sequence[int], pinned: Slots) -> Serial:
    """Place jobs in an order of their needs, each wholly or not at all, around pinned blocks."""
    state = Decoder(tables, pinned).decode(list(jobs))
    return Serial(tuple(tuple(spots) for spots in state.spots))
