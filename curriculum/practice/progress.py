"""Reads a plan by skill: what was placed when, and when each stage is reached."""

import datetime as dt
from dataclasses import dataclass

from curriculum.graph import Node
from curriculum.models.plan import Block, Plan, PlannedPractice


@dataclass(frozen=True)
class Placed:
    """One block and the practice in which it stands."""

    practice: PlannedPractice
    block: Block

    @property
    def date(self) -> dt.date:
        """The date of its practice."""
        return self.practice.date

    @property
    def completes(self) -> bool:
        """Whether the stage is reached with this block."""
        return self.block.kind != "review" and self.block.number == self.block.of


def in_order(plan: Plan) -> tuple[PlannedPractice, ...]:
    """Return the practices of a plan in order of date and start."""
    return tuple(sorted(plan.practices, key=lambda held: (held.date, held.start, held.id)))


def placed(plan: Plan, skill_id: str | None = None) -> tuple[Placed, ...]:
    """Return all blocks in the order in which they are held, of one skill when it is given."""
    return tuple(
        Placed(practice, block)
        for practice in in_order(plan)
        for block in practice.blocks
        if skill_id in (None, block.skill)
    )


def reached(plan: Plan) -> dict[Node, dt.date]:
    """Return the date on which each stage that is reached is reached."""
    return {
        (each.block.skill, each.block.stage): each.date for each in placed(plan) if each.completes
    }
