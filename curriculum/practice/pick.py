"""Pick the drill of a block: the coach's own, else the one that yields most for these players."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from curriculum.graph import Node, split_need
from curriculum.gym.practices import Practice
from curriculum.models.drills import Drill
from curriculum.models.season import Team
from curriculum.models.skills import Stage
from curriculum.practice.choose import Choice, Means, choose

NEARLY = 2
"""A drill may take its turn when it gives at least one turn where the best gives this many."""


@dataclass(frozen=True)
class Picked:
    """A drill for a block, and how it is run. choice.best is None where it cannot be run."""

    drill: Drill
    choice: Choice


def balls_for(practice: Practice, team: Team) -> int:
    """Return how many balls there are: as the team says, else one for each expected player.

    That is common practice; the sheet tells how many to bring.
    """
    return practice.expected if team.balls is None else team.balls


def means_of(practice: Practice, team: Team, minutes: int) -> Means:
    """Return what stands ready for a block of a practice."""
    return Means(
        players=practice.expected,
        baskets=practice.baskets,
        balls=balls_for(practice, team),
        coaches=team.coaches,
        minutes=minutes,
        court=practice.court,
    )


class Picker:
    """Picks drills of a library, and remembers what it has weighed."""

    def __init__(self, drills: Sequence[Drill]) -> None:
        self._by_id = {drill.id: drill for drill in drills}
        self._by_stage: dict[Node, list[Drill]] = {}
        for drill in drills:
            for node in _served(drill):
                self._by_stage.setdefault(node, []).append(drill)
        self._weighed: dict[tuple[tuple[str, ...], Stage, Means, frozenset[str]], Choice] = {}

    def own(self, name: str, stage: Stage, means: Means) -> Picked | None:
        """Return the drill that a coach named by its id, None when the library has none."""
        drill = self._by_id.get(name)
        if drill is None:
            return None
        served = [each for _, each in _served(drill)]
        at = stage if stage in served else served[0]
        return Picked(drill, self._choose([drill], at, means))

    def best(
        self, skill_id: str, stage: Stage, means: Means, turn: int = 0, used: Collection[str] = ()
    ) -> Picked | None:
        """Return the drill for a block of a stage; None when the library has none.

        The first block (turn 0) gets what gives most turns. Later ones go through the drills that
        give at least half of that, in the order of `choose`, and begin again after the last.
        Drills in `used`, those of the same day, come after all others.
        """
        drills = self._by_stage.get((skill_id, stage), [])
        if not drills:
            return None
        first = self._choose(drills, stage, means)
        if first.best is None:
            return Picked(drills[0], first)
        near = [drill for drill in drills if self._is_near(drill, stage, means, first.best.fewest)]
        near = near or [first.best.drill]
        taken: list[str] = []
        for _ in range(turn % len(near)):
            taken.append(_of(self._choose(near, stage, means, taken)).id)
        choice = self._choose(near, stage, means, [*taken, *used])
        return Picked(_of(choice), choice)

    def _is_near(self, drill: Drill, stage: Stage, means: Means, most: int) -> bool:
        run = self._choose([drill], stage, means).best
        return run is not None and not run.crowded and run.fewest * NEARLY >= most

    def _choose(
        self, drills: Sequence[Drill], stage: Stage, means: Means, used: Collection[str] = ()
    ) -> Choice:
        ids = tuple(drill.id for drill in drills)
        key = (ids, stage, means, frozenset(used).intersection(ids))
        if key not in self._weighed:
            self._weighed[key] = choose(
                drills,
                means.players,
                means.baskets,
                means.balls,
                means.coaches,
                means.minutes,
                stage,
                court=means.court,
                used=key[3],
            )
        return self._weighed[key]


def _of(choice: Choice) -> Drill:
    if choice.best is None:
        raise ValueError("none of these drills can be run")
    return choice.best.drill


def _served(drill: Drill) -> Iterator[Node]:
    for served in drill.serves:
        skill_id, stage = split_need(served)
        if stage is not None:
            yield skill_id, stage
