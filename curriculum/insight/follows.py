"""What an entry of the record asks of the next plan."""

from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.models.record import Entry


@dataclass(frozen=True)
class Follows:
    """What an entry asks of the next plan.

    more: stages that take one block more. due: planned blocks that are still to be held.
    reviews: skills whose review is due again.
    """

    more: tuple[Node, ...] = ()
    due: tuple[Node, ...] = ()
    reviews: tuple[str, ...] = ()

    @property
    def nothing(self) -> bool:
        """Whether all went as planned."""
        return self == Follows()


def follows(entry: Entry) -> Follows:
    """Return what follows from an entry."""
    undone = [block for block in entry.blocks if block.planned and not block.counts]
    return Follows(
        more=tuple(block.node for block in entry.blocks if block.asks_for_more),
        due=tuple(block.node for block in undone if block.kind != "review"),
        reviews=tuple(block.skill for block in undone if block.kind == "review"),
    )
