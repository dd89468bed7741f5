"""What exact search adds to a plan: goals that can still be won, comfort, and bounds of both."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.schedule.anneal import made_comfortable
from curriculum.schedule.effort import FULL_SIZE, Budget
from curriculum.schedule.exact.coarse import coarse_model
from curriculum.schedule.exact.goals import better_goals
from curriculum.schedule.exact.model import Mode
from curriculum.schedule.exact.objective import comfort_of
from curriculum.schedule.exact.polish import tier_frame, whole, windows
from curriculum.schedule.exact.relax import relaxed_bound
from curriculum.schedule.exact.season import season_model
from curriculum.schedule.exact.settle import fewest_changes
from curriculum.schedule.instance import COULD, MUST, SHOULD
from curriculum.schedule.tables import Tables
from curriculum.schedule.timetable import Tiers, Timetable, tiers

SMALL = 6_000
"""Columns up to which a season is searched as a whole."""

SHARES: dict[Mode, float] = {"improve": 0.2, "prove": 0.8}
"""How the effort to close a small season is shared out."""

Stage = Literal["polish", "proof"]
Report = Callable[[Stage, float, Timetable, Tiers], None]


@dataclass(frozen=True)
class Improved:
    """A plan no worse than the one given, with bounds no weaker."""

    plan: Timetable
    bounds: Tiers
    effort: float
    interrupted: bool = False


def improve(
    tables: Tables, plan: Timetable, bounds: Tiers, budget: Budget, seed: int, report: Report
) -> Improved:
    """Win goals, then comfort, then prove how good the plan is."""
    work = _Work(tables, plan, list(bounds), budget, seed, report)
    try:
        work.goals()
        work.comfort()
        work.proof()
    except KeyboardInterrupt:
        work.interrupted = True
    return Improved(work.plan, tuple(work.bounds), work.effort, work.interrupted)


@dataclass
class _Work:
    tables: Tables
    plan: Timetable
    bounds: list[int]
    budget: Budget
    seed: int
    report: Report
    effort: float = 0.0
    interrupted: bool = False

    def _raise(self, tier: int, bound: int) -> None:
        self.bounds[tier] = max(self.bounds[tier], bound)

    def _tell(self, stage: Stage, done: float) -> None:
        self.report(stage, done, self.plan, tuple(self.bounds))

    def goals(self) -> None:
        """Bound the goals missed, and win some if that is possible."""
        could = len(self.bounds) - 2
        for importance, tier in ((MUST, 0), (SHOULD, 2), (COULD, could)):
            reached = tiers(self.tables.instance, self.plan)
            days = importance == MUST and reached[1] > self.bounds[1]
            if reached[tier] <= self.bounds[tier] and not days:
                continue
            if importance == COULD and self.tables.instance.noticed:
                continue
            share = self.budget.exact + self.budget.proof / 5
            found = better_goals(self.tables, self.plan, importance, share, self.seed)
            self.effort += found.effort
            self.plan = self._comfortable(found.plan)
            self._raise(tier, found.bound)
            if importance == MUST and tiers(self.tables.instance, self.plan)[0] == found.bound:
                self._raise(1, found.days)
            self._tell("polish", 0.0)
            if found.interrupted:
                raise KeyboardInterrupt

    def _comfortable(self, plan: Timetable) -> Timetable:
        """Return a plan that has won goals with the comfort that a search from it finds."""
        if plan is self.plan or self.tables.instance.noticed:
            return plan
        return made_comfortable(self.tables, plan, self.budget.tries, self.seed)

    def comfort(self) -> None:
        """Polish windows of a small season; once people know a plan, look for fewer changes.

        In a large season windows find next to nothing that a longer search does not.
        """
        if self.tables.instance.noticed:
            settled = fewest_changes(self.tables, self.plan, self.budget.exact, self.seed)
            self._take(settled.plan, settled.effort, interrupted=settled.interrupted)
            return
        self._tell("polish", 0.0)
        if not self._small():
            return

        def told(spent: float, plan: Timetable) -> None:
            self.plan = plan
            self._tell("polish", spent / self.budget.exact)

        items = len(self.tables.masks) + len(self.tables.instance.chains)
        effort = self.budget.exact * min(items, FULL_SIZE) / FULL_SIZE
        polished = windows(self.tables, self.plan, effort, self.seed, told)
        self._take(polished.plan, polished.effort, interrupted=polished.interrupted)

    def _small(self) -> bool:
        """Whether the season is small enough to be searched as a whole."""
        frame = tier_frame(self.tables.instance, self.plan)
        model = season_model(self.tables, replace(frame, fillings=True))
        return len(model.matrix.upper) <= SMALL

    def _take(self, plan: Timetable, effort: float, *, interrupted: bool) -> None:
        self.plan = plan
        self.effort += effort
        if interrupted:
            raise KeyboardInterrupt

    def proof(self) -> None:
        """Bound comfort: by a relaxation, and by search where the season is small."""
        instance = self.tables.instance
        frame = tier_frame(instance, self.plan)
        for weeks in (0, 1, 2, 4):
            matrix = coarse_model(self.tables, frame, weeks)
            if len(matrix.upper) <= self.budget.columns:
                self._raise(-1, comfort_of(relaxed_bound(matrix)))
                self._tell("proof", 0.2)
                break
        if instance.noticed or not self.budget.proof or not self._small():
            return
        for mode, share in SHARES.items():
            if tiers(instance, self.plan)[-1] <= self.bounds[-1]:
                return
            closed = whole(self.tables, self.plan, self.budget.proof * share, self.seed, mode)
            if closed.bound is not None:
                self._raise(-1, closed.bound)
            self._take(closed.plan, closed.effort, interrupted=closed.interrupted)
            self._tell("proof", 0.5)
