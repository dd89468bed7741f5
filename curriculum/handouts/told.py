"""The mark in a season folder that people were told its plan, and what they were told."""

import datetime as dt
from collections.abc import Callable
from dataclasses import replace

from curriculum.ledger import Ledger, Made, change_ledger
from curriculum.models.plan import Plan
from curriculum.workspace import LEDGER_FILE, Workspace


def told(
    space: Workspace,
    plan: Plan,
    now: dt.datetime,
    change: Callable[[Ledger], tuple[Made, Ledger]],
) -> tuple[Made, Ledger]:
    """Change the ledger in a turn of its own; see `change_ledger`."""
    path = space.folder / LEDGER_FILE
    return change_ledger(path, space.season.season.id, now, plan.revision, change)


def mark_as_told(space: Workspace) -> Workspace:
    """Keep in the folder that people know the plan: from now on, changes to it count."""
    if space.plan is None:
        return space
    _, ledger = told(space, space.plan, space.plan.made, lambda kept: (None, kept))
    return replace(space, ledger=ledger)
