"""Stages, goals and pins in the words of explanations; knows no reason for anything."""

from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.models.season import Pin
from curriculum.models.skills import Library
from curriculum.wording import due_words, short_date
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
        return f"{self.stage(target.node)} {due_words(target.due, target.opponent)}"

    def pin(self, pin: Pin) -> str:
        """Return a pin: `Give and go live pinned to Tue 9 Feb`."""
        number = f" block {pin.number}" if pin.number else ""
        return f"{self.stage((pin.skill, pin.stage))}{number} pinned to {short_date(pin.date)}"


def names_of(library: Library) -> Names:
    """Return the names of a library's skills."""
    return Names({skill.id: skill.name for skill in library.skills})
