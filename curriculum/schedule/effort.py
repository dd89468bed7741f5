"""How much work a solve may do, in orders tried and deterministic units, never in seconds."""

from dataclasses import dataclass
from typing import Literal

Effort = Literal["quick", "normal", "long"]


@dataclass(frozen=True)
class Budget:
    """What one solve may spend.

    tries: orders that the local search tries. exact: deterministic units of exact search (one is
    about a second's work) for plans and for proofs of goals; 0 never imports OR-Tools. proof: units
    for closing a small season. columns: the size up to which a relaxation is solved.
    """

    tries: int
    exact: float = 0.0
    proof: float = 0.0
    columns: int = 0


FULL_SIZE = 60
"""Items (jobs and skills) from which on a search gets all its effort; smaller seasons need less."""

BUDGETS: dict[Effort, Budget] = {
    "quick": Budget(tries=4_000),
    "normal": Budget(tries=36_000, exact=2.0, proof=5.0, columns=15_000),
    "long": Budget(tries=400_000, exact=20.0, proof=150.0, columns=65_000),
}
