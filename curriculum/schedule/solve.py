"""The one entrance of the engine: an instance in, a result out."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from curriculum.schedule.anneal import anneal, best_rule
from curriculum.schedule.bounds import critical_path, practices_needed, tier_bounds
from curriculum.schedule.effort import BUDGETS, FULL_SIZE, Budget, Effort
from curriculum.schedule.exact.installed import installed
from curriculum.schedule.feasible import decide
from curriculum.schedule.finish import filled_up, finished
from curriculum.schedule.instance import Instance
from curriculum.schedule.state import Value
from curriculum.schedule.sticky import settle
from curriculum.schedule.tables import tables_of
from curriculum.schedule.timetable import Tiers, Timetable, dropped_pins, plan_value, tiers
from curriculum.schedule.windows import windows_of

Status = Literal["optimal", "feasible", "partial"]
Exact = Literal["ran", "missing", "off"]
Stage = Literal["search", "polish", "proof"]


@dataclass(frozen=True)
class Progress:
    """How far a solve has come.

    done: share of the stage's work, 0 to 1. tiers: of the best plan so far, reviews that only fill
    gaps not counted; bounds: what is proven so far.
    """

    stage: Stage
    done: float
    tiers: Tiers
    bounds: Tiers


@dataclass(frozen=True)
class Result:
    """What the engine found.

    status: "partial" when a must-goal or a pin is missed, "optimal" when every tier is proven.
    tiers: value reached in each tier, in order.
    bounds: for each tier a value that no plan can beat that does as well in the tiers before it.
    effort: how many orders of jobs were tried; exact_effort: deterministic units of exact search.
    exact: "missing" when OR-Tools is not installed, so that only quick bounds are known; "off" when
    the effort asked for none.
    interrupted: the user stopped it; this is the best until then.
    """

    status: Status
    tiers: Tiers
    bounds: Tiers
    timetable: Timetable
    practices_needed: int
    critical_path: int
    effort: int
    exact_effort: float = 0.0
    exact: Exact = "off"
    interrupted: bool = False

    @property
    def proven(self) -> tuple[bool, ...]:
        """Whether each tier is known to be the best, given the tiers before it."""
        return tuple(bound >= value for value, bound in zip(self.tiers, self.bounds, strict=True))


def solve(
    instance: Instance,
    effort: Effort | Budget = "normal",
    seed: int = 0,
    progress: Callable[[Progress], None] | None = None,
    start: Timetable | None = None,
) -> Result:
    """Find the best plan by the tiers in order, and bounds that show how good it is.

    Priority rules first, then a local search on the order of jobs, then, unless the effort is
    "quick" or OR-Tools is missing, exact search: for goals, for comfort, and for bounds. Work is
    counted in orders and deterministic units, so the same input gives the same plan. `start` is a
    plan to begin from when it is better than the rules'. With a former plan that people know, the
    search starts from that one and moves as few blocks as it can. An interrupt (Ctrl-C) ends the
    search; the best plan until then is returned.
    """
    budget = BUDGETS[effort] if isinstance(effort, str) else effort
    return _Solve(instance, budget, seed, progress).result(start)


class _Solve:
    def __init__(
        self,
        instance: Instance,
        budget: Budget,
        seed: int,
        progress: Callable[[Progress], None] | None,
    ) -> None:
        self.instance = instance
        self.budget = budget
        self.seed = seed
        self.progress = progress
        self.tables = tables_of(instance)
        self.bounds = tier_bounds(self.tables, windows_of(self.tables))
        self.plan = Timetable((), ())
        self.tried = 0
        self.spent = 0.0
        self.exact: Exact = "off"
        self.interrupted = False

    def result(self, start: Timetable | None) -> Result:
        """Search, polish, prove, and finish the plan."""
        self._search(start)
        if self.budget.exact and not self.interrupted:
            self._exact()
        plan = finished(self.tables, self.plan)
        plan = replace(plan, dropped=dropped_pins(self.instance, plan))
        reached = tiers(self.instance, plan)
        bounds = tuple(min(pair) for pair in zip(self.bounds, reached, strict=True))
        status: Status = "feasible"
        if plan.dropped or reached[0]:
            status = "partial"
        elif reached == bounds:
            status = "optimal"
        return Result(
            status=status,
            tiers=reached,
            bounds=bounds,
            timetable=plan,
            practices_needed=practices_needed(self.tables),
            critical_path=critical_path(self.tables),
            effort=self.tried,
            exact_effort=round(self.spent, 3),
            exact=self.exact,
            interrupted=self.interrupted,
        )

    def _search(self, start: Timetable | None) -> None:
        started = best_rule(self.tables)
        self.tried += started.tried
        items = started.decoder.items
        tries = self.budget.tries * min(items, FULL_SIZE) ** 2 // FULL_SIZE**2

        def report(tried: int, value: Value) -> None:
            self._tell("search", tried / max(1, tries), value[1:])

        if self.instance.noticed:
            settled = settle(self.tables, started, tries, self.seed)
            self.plan, self.interrupted = settled.plan, settled.interrupted
            self.tried += settled.tried
        else:
            found = anneal(started.decoder, started.order, tries, self.seed, report)
            self.tried += found.tried
            self.interrupted = found.interrupted
            self.plan = started.decoder.timetable(started.decoder.decode(found.order))
        if start is not None and plan_value(self.instance, start) < plan_value(
            self.instance, self.plan
        ):
            self.plan = start
        if not self.interrupted:
            self._rescue()

    def _rescue(self) -> None:
        """Begin from a plan that meets all must-goals and keeps all pins, if one is seen at once.

        Orders know no reviews that honour pins, so that the search may overlook such a plan. It is
        what is said to be reachable elsewhere.
        """
        missed = tiers(self.instance, self.plan)[0]
        if self.bounds[0] or not (missed or dropped_pins(self.instance, self.plan)):
            return
        witness = decide(self.instance, "quick").witness
        if witness is not None:
            self.plan = min(
                (filled_up(self.tables, witness), witness, self.plan),
                key=lambda each: plan_value(self.instance, each),
            )

    def _exact(self) -> None:
        if not installed():
            self.exact = "missing"
            return
        from curriculum.schedule.exact.improve import improve

        self.exact = "ran"

        def report(stage: Stage, done: float, plan: Timetable, bounds: Tiers) -> None:
            self._tell(stage, done, tiers(self.instance, plan), bounds)

        improved = improve(self.tables, self.plan, self.bounds, self.budget, self.seed, report)
        self.plan, self.bounds = improved.plan, improved.bounds
        self.spent, self.interrupted = improved.effort, improved.interrupted

    def _tell(self, stage: Stage, done: float, reached: Tiers, bounds: Tiers | None = None) -> None:
        if self.progress is not None:
            self.progress(Progress(stage, min(1.0, done), reached, bounds or self.bounds))
