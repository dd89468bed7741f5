"""Play a drill's rotation step by step with so many players, and count turns, waits and rests."""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from curriculum.models.drills import Drill, is_attacker, is_line
from curriculum.practice.rotation import learners, lines, roles


@dataclass(frozen=True)
class Tally:
    """What one group gets in a time; the tuples hold one number for each player.

    rounds: repetitions of the whole group.
    turns: how often each player was in a role that counts. attacks: in an attacker's role.
    waited: how many repetitions each player stood in a line. longest_wait: most running.
    """

    rounds: int
    turns: tuple[int, ...]
    attacks: tuple[int, ...]
    waited: tuple[int, ...]
    longest_wait: int

    @property
    def fewest(self) -> int:
        """The turns of the player who had the fewest."""
        return min(self.turns)

    @property
    def most(self) -> int:
        """The turns of the player who had the most."""
        return max(self.turns)

    @property
    def waiting(self) -> float:
        """The share of all players' time spent in lines, 0 to 1; 0 when nothing was played."""
        whole = self.rounds * len(self.turns)
        return sum(self.waited) / whole if whole else 0.0


def simulate(drill: Drill, players: int, seconds: int) -> Tally:
    """Return what a group of so many players gets in some seconds.

    Repetitions start every `drill.seconds`; only whole ones count. Players 0, 1, 2, ... take the
    roles in the order of the spots, the rest stands in the lines, shared out in turn. After each
    repetition everybody goes where the rotation says; who comes into a line stands behind, and out
    of a line the first ones leave. Raises ValueError when there are fewer players than roles, or
    more and no line for them.
    """
    active = roles(drill)
    if players < len(active):
        raise ValueError(f"{drill.id} needs {len(active)} players, there are {players}")
    queues = {name: deque[int]() for name in lines(drill)}
    if players > len(active) and not queues:
        raise ValueError(f"{drill.id} has no line in which the other players could wait")
    holding = dict(zip(active, range(len(active)), strict=True))
    for place, player in enumerate(range(len(active), players)):
        list(queues.values())[place % len(queues)].append(player)
    counted = frozenset(learners(drill))
    attackers = frozenset(name for name in active if is_attacker(name))
    rounds = seconds // drill.seconds
    turns, attacks, waited = [0] * players, [0] * players, [0] * players
    running, longest = [0] * players, 0
    steps = tuple(
        (step.from_, is_line(step.from_), step.to, is_line(step.to)) for step in drill.rotation
    )
    for _ in range(rounds):
        for name, player in holding.items():
            turns[player] += name in counted
            attacks[player] += name in attackers
            running[player] = 0
        for queue in queues.values():
            for player in queue:
                waited[player] += 1
                running[player] += 1
                longest = max(longest, running[player])
        holding = _rotated(steps, holding, queues)
    return Tally(rounds, tuple(turns), tuple(attacks), tuple(waited), longest)


def _rotated(
    steps: Sequence[tuple[str, bool, str, bool]],
    holding: dict[str, int],
    queues: dict[str, deque[int]],
) -> dict[str, int]:
    """Return who plays which role next; the lines change in place.

    A step: from where, whether that is a line, to where, whether that is one.
    """
    after: dict[str, int] = {}
    for start, from_line, end, to_line in steps:
        if from_line:
            continue
        if to_line:
            queues[end].append(holding[start])
        else:
            after[end] = holding[start]
    for start, from_line, end, to_line in steps:
        if not from_line:
            continue
        player = queues[start].popleft()
        if to_line:
            queues[end].append(player)
        else:
            after[end] = player
    return {name: after[name] for name in holding}
