"""What a timetable looks like while it grows from an order of items."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

Slots = Mapping[tuple[int, int], int]
"""Blocks that stand where they are, (job, number from 1) to practice."""

Missed = tuple[int, ...]
"""Must-goals missed, their days late, should- and could-goals missed, by weight."""

Row = tuple[int, int, int, int, bool, int, tuple[int, ...], int, int, bool]
"""A job at hand: place of its length in `sizes`, minutes, blocks, practices as bits, whether it
introduces, the stage before it or -1, other needs, strand, skill, whether some of it is fixed."""

SPACING = 8
"""Jobs between two marks: copying a state costs about as much as decoding so many jobs."""


@dataclass
class State:
    """A timetable that grows.

    free: minutes left in each practice, the changeover of one more block taken off.
    room, new: blocks and introductions left. load: minutes of blocks, changeovers left out.
    fits: for each length of `Placing.sizes` the practices where such a block fits, as bits; the
    last entry is the practices where a skill may be introduced.
    ends: for each job the practice in which it is reached, the count of practices for never.
    spots: for each job the practices of its blocks.
    last_day: for each skill the day of its last block, or a day far ahead of the season.
    strands: blocks of each strand in each practice, at practice x strands + strand.
    reviews: for each skill the practices of its reviews.
    late, pairs, focus: days late, same-strand pairs and focus minutes so far.
    missed: must-goals missed, their days late, should- and could-goals missed so far.
    """

    free: list[int]
    room: list[int]
    new: list[int]
    load: list[int]
    fits: list[int]
    ends: list[int]
    spots: list[Sequence[int]]
    last_day: list[int]
    strands: list[int]
    reviews: list[Sequence[int]]
    late: int = 0
    pairs: int = 0
    focus: int = 0
    missed: Missed = (0, 0, 0, 0)

    def copy(self) -> "State":
        """Return a state that can grow on its own."""
        return State(
            self.free[:],
            self.room[:],
            self.new[:],
            self.load[:],
            self.fits[:],
            self.ends[:],
            self.spots[:],
            self.last_day[:],
            self.strands[:],
            self.reviews[:],
            self.late,
            self.pairs,
            self.focus,
            self.missed,
        )


Value = tuple[int, ...]
"""Pins dropped, then all tiers in their order."""


@dataclass
class Marks:
    """An order with its states: `states[i]` is the one before job `i * SPACING`."""

    order: list[int] = field(default_factory=list)
    states: list[State] = field(default_factory=list)
