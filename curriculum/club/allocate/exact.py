"""Share out the hours with CP-SAT: tier by tier, one worker, effort in deterministic time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from random import Random
from typing import TYPE_CHECKING, Literal

from curriculum.club.allocate.greedy import beside, polished
from curriculum.club.allocate.score import BEARABLE, alone, score
from curriculum.club.allocate.week import APART_RATE, Option, Week

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

Verdict = Literal["optimal", "feasible", "infeasible", "unknown"]
DAYS = range(7)
SOME = 16
"""Teams that choose anew together."""
LEAST_EFFORT, MOST_EFFORT = 0.05, 1.5
"""Effort that a round counts at least, so that easy rounds come to an end too, and at most."""


@dataclass(frozen=True)
class Solved:
    """What the solver came to in one tier. bound: no allocation can be below it."""

    verdict: Verdict
    chosen: tuple[Option, ...]
    value: int
    bound: int
    effort: float

    def or_else(self, known: Sequence[Option], value: int) -> "Solved":
        """Return this, or what was known before when the search ended without any answer."""
        if self.verdict in ("optimal", "feasible"):
            return self
        return Solved("feasible", tuple(known), value, 0, self.effort)


@dataclass
class _Model:
    """A week as a model. held: by option. days: by ask and day. missing: by ask, first to last."""

    week: Week
    model: "cp_model.CpModel"
    held: dict[Option, "cp_model.IntVar"] = field(default_factory=dict)
    days: list[list["cp_model.IntVar"]] = field(default_factory=list)
    missing: list[list["cp_model.IntVar"]] = field(default_factory=list)


def installed() -> bool:
    """Whether the solver can be loaded."""
    from importlib.util import find_spec

    return find_spec("ortools") is not None


def share_out(
    week: Week, hint: Sequence[Option], efforts: tuple[float, float, float]
) -> tuple[Solved, Solved, Solved]:
    """Solve the three tiers in order, each fixed before the next; see `score` for what they are.

    efforts: deterministic time of each tier, a unit is about a second. Half of the last goes
    into improving few teams at a time, before all are taken together for the proof.
    """
    built = _build(week)
    first = _run(built, _wanted(built), hint, efforts[0]).or_else(hint, score(week, hint)[0])
    second = Solved("optimal", first.chosen, 0, 0, 0.0)
    if week.last:
        built = _build(week)
        built.model.add(_wanted(built) <= first.value)
        second = _run(built, _changes(built), first.chosen, efforts[1]).or_else(
            first.chosen, score(week, first.chosen)[1]
        )
    start = polished(week, min(second.chosen, hint, key=lambda chosen: score(week, chosen)))
    start = _improved(week, start, efforts[2] / 2)
    third = _last_tier(week, None, (first.value, second.value), start, efforts[2] / 2)
    return first, second, third.or_else(start, score(week, start)[2])


def _last_tier(
    week: Week,
    offered: Mapping[int, Sequence[Option]] | None,
    limits: tuple[int, int],
    hint: Sequence[Option],
    effort: float,
) -> Solved:
    built = _build(week, offered)
    built.model.add(_wanted(built) <= limits[0])
    if week.last:
        built.model.add(_changes(built) <= limits[1])
    return _run(built, _discomfort(built), hint, effort)


def _improved(week: Week, chosen: Sequence[Option], effort: float) -> tuple[Option, ...]:
    """Return a better allocation: again and again some teams choose anew, all others staying.

    Teams are drawn from one fixed sequence, so that the answer is always the same.
    """
    random = Random(0)  # noqa: S311 no secret
    best, value = tuple(chosen), score(week, chosen)
    spent = 0.0
    while spent < effort and len(week.asks) > SOME:
        free = sorted(random.sample(range(len(week.asks)), SOME))
        fixed = [option for option in best if option.ask not in free]
        offered = {ask: [o for o in fixed if o.ask == ask] for ask in range(len(week.asks))}
        offered |= {ask: beside(week, ask, fixed) for ask in free}
        found = _last_tier(week, offered, value[:2], best, MOST_EFFORT)
        spent += found.effort + LEAST_EFFORT
        if found.verdict in ("optimal", "feasible") and score(week, found.chosen) < value:
            best, value = found.chosen, score(week, found.chosen)
    return best


def can_all(week: Week, asks: Sequence[int], effort: float) -> Verdict:
    """Return whether these teams, all others left out, can have every practice at full length."""
    offered = {ask: [o for o in week.options[ask] if not o.cut] for ask in asks}
    built = _build(week, offered)
    for ask in asks:
        for lacking in built.missing[ask]:
            built.model.add(lacking == 0)
    return _run(built, None, (), effort).verdict


def _build(week: Week, offered: Mapping[int, Sequence[Option]] | None = None) -> _Model:
    """Return the rules of a week. offered: choices by ask; asks without any are left out."""
    from ortools.sat.python import cp_model

    built = _Model(week, cp_model.CpModel())
    model = built.model
    for ask, every in enumerate(week.options):
        options = every if offered is None else offered.get(ask, ())
        for option in options:
            built.held[option] = model.new_bool_var("")
        days = [model.new_bool_var("") for _ in DAYS]
        for day in DAYS:
            model.add(sum(built.held[o] for o in options if o.day == day) == days[day])
        taken = offered is None or ask in offered
        practices = week.asks[ask].practices if taken else 0
        missing = [model.new_bool_var("") for _ in range(practices)]
        if taken:
            model.add(sum(days) + sum(missing) == practices)
        for earlier, later in pairwise(missing):
            model.add_implication(later, earlier)
        built.days.append(days)
        built.missing.append(missing)
    _courts(built)
    _coaches(built)
    return built


def _courts(built: _Model) -> None:
    """Fill no more than two halves of a court at any moment."""
    by_court: dict[tuple[object, int], list[Option]] = {}
    for option in built.held:
        by_court.setdefault((option.court, option.day), []).append(option)
    for _, options in sorted(by_court.items(), key=lambda entry: str(entry[0])):
        for moment in _moments(options):
            here = [o for o in options if o.start <= moment < o.end]
            built.model.add(_weighted([(built.held[o], o.units) for o in here]) <= 2)


def _coaches(built: _Model) -> None:
    """Keep a coach in one place at a time, with time for the way to the next gym."""
    week = built.week
    for coach in sorted({name for ask in week.asks for name in ask.coaches}):
        theirs = [o for o in built.held if coach in week.asks[o.ask].coaches]
        if len({o.ask for o in theirs}) < 2:
            continue
        for day in DAYS:
            today = [o for o in theirs if o.day == day]
            for moment in _moments(today):
                here = [o for o in today if o.start <= moment < o.end]
                built.model.add_at_most_one(built.held[o] for o in here)
                _travel(built, today, here, moment)


def _travel(built: _Model, today: list[Option], here: list[Option], moment: int) -> None:
    """Let practices in one gym at a moment exclude those that start elsewhere within the way.

    The way is taken in stretches as long as the shortest practice, because those that start within
    one stretch exclude each other anyway.
    """
    shortest = min((o.minutes for o in today), default=1)
    gyms = sorted({o.gym for o in today})
    for gym in gyms:
        there = [o for o in here if o.gym == gym]
        for other in gyms:
            way = built.week.ways[gym, other]
            if other == gym or not way or not there:
                continue
            for begin in range(moment, moment + way, shortest):
                end = min(begin + shortest, moment + way)
                soon = [o for o in today if o.gym == other and begin < o.start <= end]
                if soon:
                    built.model.add_at_most_one(built.held[o] for o in (*there, *soon))


def _moments(options: Sequence[Option]) -> list[int]:
    """Return the moments that decide: a start, and the last step of the grid of each practice."""
    return sorted({o.start for o in options} | {o.end - 1 for o in options})


def _wanted(built: _Model) -> "cp_model.LinearExpr":
    asks = built.week.asks
    terms = [
        (each, asks[ask].minutes * number)
        for ask, missing in enumerate(built.missing)
        for number, each in enumerate(missing, start=1)
    ]
    return _weighted([*terms, *((held, o.cut) for o, held in built.held.items() if o.cut)])


def _changes(built: _Model) -> "cp_model.LinearExpr":
    kept = [(held, -1) for option, held in built.held.items() if option.kept]
    return _weighted(kept) + built.week.last


def _weighted(
    terms: "Sequence[tuple[cp_model.IntVar, int]]",
) -> "cp_model.LinearExpr":
    from ortools.sat.python import cp_model

    variables, weights = [each for each, _ in terms], [weight for _, weight in terms]
    return cp_model.LinearExpr.weighted_sum(variables, weights)


def _discomfort(built: _Model) -> "cp_model.LinearExpr":
    """Return the sum over teams, with what is unfairly much of each counted once more."""
    week, model = built.week, built.model
    terms = []
    for ask, options in enumerate(week.options):
        most = sum(o.cost for o in options) + 7 * APART_RATE
        unfair = model.new_int_var(0, most, "")
        own = [(built.held[o], o.cost) for o in options if o in built.held]
        for day in DAYS:
            row = model.new_bool_var("")
            today, tomorrow = built.days[ask][day], built.days[ask][(day + 1) % 7]
            model.add_bool_or([~today, ~tomorrow, row])
            own.append((row, APART_RATE))
        best = [alone(week, ask, held) for held in range(week.asks[ask].practices + 1)]
        steps = [later - sooner for sooner, later in pairwise(best)]
        saved = list(zip(built.missing[ask], reversed(steps), strict=True))
        model.add(_weighted([*own, *saved, (unfair, -1)]) <= best[-1] + BEARABLE)
        terms += [*own, (unfair, 1)]
    return _weighted(terms)


def _run(
    built: _Model,
    objective: "cp_model.LinearExpr | None",
    hint: Sequence[Option],
    effort: float,
) -> Solved:
    from ortools.sat.python import cp_model

    model = built.model
    if hint:
        held = frozenset(hint)
        for option, variable in built.held.items():
            model.add_hint(variable, option in held)
    if objective is not None:
        model.minimize(objective)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    solver.parameters.max_deterministic_time = effort
    solver.parameters.linearization_level = 2
    status = solver.solve(model)
    verdicts: dict[int, Verdict] = {
        int(cp_model.OPTIMAL): "optimal",
        int(cp_model.FEASIBLE): "feasible",
        int(cp_model.INFEASIBLE): "infeasible",
    }
    verdict = verdicts.get(int(status), "unknown")
    if verdict not in ("optimal", "feasible"):
        return Solved(verdict, (), 0, 0, solver.response_proto.deterministic_time)
    return Solved(
        verdict=verdict,
        chosen=tuple(o for o, held in built.held.items() if solver.value(held)),
        value=round(solver.objective_value) if objective is not None else 0,
        bound=-int(-(solver.best_objective_bound - 1e-6) // 1) if objective is not None else 0,
        effort=solver.response_proto.deterministic_time,
    )
