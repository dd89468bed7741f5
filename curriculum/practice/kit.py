"""What has to be brought to a practice: the largest need over everything that is done in it."""

from collections.abc import Iterable
from dataclasses import dataclass

from curriculum.models.drills import Drill
from curriculum.practice.choose import Run
from curriculum.wording import counted


@dataclass(frozen=True)
class Kit:
    """How many balls, cones and bibs something takes; bibs are for one of two teams."""

    balls: int = 0
    cones: int = 0
    bibs: int = 0

    @property
    def words(self) -> tuple[str, ...]:
        """What it is, as `8 balls`, `4 cones`; what takes nothing has no words."""
        amounts = ((self.balls, "ball"), (self.cones, "cone"), (self.bibs, "bib"))
        return tuple(counted(number, noun) for number, noun in amounts if number)


def kit_of(drill: Drill, run: Run | None) -> Kit:
    """Return what a drill takes with its groups; its balls alone where it cannot be run."""
    amounts = dict(run.kit) if run else {"balls": drill.balls}
    return Kit(amounts.get("balls", 0), amounts.get("cones", 0), amounts.get("bibs", 0))


def largest(kits: Iterable[Kit]) -> Kit:
    """Return the kit that serves each of several things done one after the other."""
    every = [Kit(), *kits]
    return Kit(
        balls=max(kit.balls for kit in every),
        cones=max(kit.cones for kit in every),
        bibs=max(kit.bibs for kit in every),
    )
