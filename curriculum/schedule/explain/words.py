"""Stages, goals and lists in the words of explanations; knows no reason for anything."""

from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.files.nearest import listed
from curriculum.graph import Node
from curriculum.gym.bookings import day_words
from curriculum.models.season import Pin
from curriculum.models.skills import Library
from curriculum.workload import Target


@dataclass(frozen=True)
class Names:
    """The names that a library prints, by id."""

    skills: dict[str, str]

    def stage(self, node: Node) -> str:
        """Return a stage as sentences show it: `Give and go live`."""
        return f"{self.skills.get(node[0], node[0])} {node[1]}"

    def goal(self, target: Target) -> str:
        """Return a goal with its date: `Give and go live by Sat 20 Feb`."""
        return f"{self.stage(target.node)} {due_words(target)}"

    def pin(self, pin: Pin) -> str:
        """Return a pin: `Give and go live pinned to Tue 9 Feb`."""
        number = f" block {pin.number}" if pin.number else ""
        return f"{self.stage((pin.skill, pin.stage))}{number} pinned to {day_words(pin.date)}"


def names_of(library: Library) -> Names:
    """Return the names of a library's skills."""
    return Names({skill.id: skill.name for skill in library.skills})


def due_words(target: Target) -> str:
    """Return when a goal is due: `by Sat 20 Feb`, `before the game on Sat 20 Feb`."""
    day = day_words(target.due)
    return f"before the game on {day}" if target.game else f"by {day}"


def named(words: Sequence[str], most: int = 0) -> str:
    """Join words as one says them; beyond `most` (0: no limit) the rest is counted.

    >>> named(["a", "b", "c"]), named(["a", "b", "c", "d"], most=2)
    ('a, b and c', 'a, b and 2 more')

    Names that hold a comma themselves are kept apart by semicolons.
    """
    shown = list(words)
    if most and len(shown) > most:
        shown = [*shown[:most], f"{len(shown) - most} more"]
    if len(shown) > 2 and any("," in word for word in shown):
        return f"{'; '.join(shown[:-1])} and {shown[-1]}"
    return listed(shown, "and")
