"""Hand a matrix to CP-SAT: one worker, a fixed seed, effort in deterministic time."""

import threading
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from curriculum.schedule.exact.variables import Matrix

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

Verdict = Literal["optimal", "feasible", "infeasible", "unknown"]
Mode = Literal["plain", "improve", "prove"]


@dataclass(frozen=True)
class Outcome:
    """What CP-SAT came to.

    values: of all columns, empty when no solution was found.
    bound: valid lower bound of the objective.
    interrupted: the user stopped the search; what it had found is kept.
    """

    verdict: Verdict
    values: tuple[int, ...]
    objective: int
    bound: int
    effort: float
    interrupted: bool = False


def run(
    matrix: Matrix,
    effort: float,
    seed: int = 0,
    hint: Sequence[int] | None = None,
    *,
    mode: Mode = "plain",
) -> Outcome:
    """Solve a matrix within a deterministic effort (a unit is about a second's work).

    mode: "improve" looks for better solutions with several strategies in turn, "prove" spends the
    effort on the bound.
    """
    from ortools.sat.python import cp_model

    if matrix.impossible:
        return Outcome("infeasible", (), 0, 0, 0.0)
    model, variables = _translated(matrix)
    if hint is not None:
        for variable, value in zip(variables, hint, strict=True):
            model.add_hint(variable, value)
    solver = cp_model.CpSolver()
    parameters = solver.parameters
    parameters.num_workers = 1
    parameters.random_seed = seed
    parameters.max_deterministic_time = effort
    parameters.linearization_level = 2
    parameters.interleave_search = mode == "improve"
    parameters.use_objective_lb_search = mode == "prove"
    parameters.cp_model_probing_level = 0
    parameters.symmetry_level = 0
    parameters.catch_sigint_signal = False
    status, interrupted = _interruptible(solver, model)
    if status is None:
        return Outcome("unknown", (), 0, 0, 0.0, interrupted)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    verdicts: dict[int, Verdict] = {
        int(cp_model.OPTIMAL): "optimal",
        int(cp_model.FEASIBLE): "feasible",
        int(cp_model.INFEASIBLE): "infeasible",
    }
    constant = matrix.objective.constant
    has_objective = bool(matrix.objective.coefficients)
    return Outcome(
        verdict=verdicts.get(int(status), "unknown"),
        values=tuple(solver.value(each) for each in variables) if found else (),
        objective=round(solver.objective_value) if found and has_objective else constant,
        bound=_ceiling(solver.best_objective_bound) if has_objective else constant,
        effort=solver.response_proto.deterministic_time,
        interrupted=interrupted,
    )


def _ceiling(value: float) -> int:
    """Return the whole number at or above a bound that may carry rounding noise."""
    return -int(-(value - 1e-6) // 1)


def _translated(
    matrix: Matrix,
) -> "tuple[cp_model.CpModel, list[cp_model.IntVar]]":
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    variables = [
        model.new_bool_var("") if upper == 1 else model.new_int_var(0, upper, "")
        for upper in matrix.upper
    ]
    for cause, effect in matrix.implications:
        model.add_implication(variables[cause], variables[effect])
    for cause, excuse, excess in matrix.excesses:
        model.add_bool_or([~variables[cause], variables[excuse], variables[excess]])
    for columns, coefficients, most in matrix.rows:
        total = cp_model.LinearExpr.weighted_sum(
            [variables[column] for column in columns], list(coefficients)
        )
        model.add(total <= most)
    columns, coefficients = matrix.objective.terms()
    if columns:
        total = cp_model.LinearExpr.weighted_sum(
            [variables[column] for column in columns], list(coefficients)
        )
        model.minimize(total + matrix.objective.constant)
    return model, variables


def _interruptible(
    solver: "cp_model.CpSolver", model: "cp_model.CpModel"
) -> "tuple[cp_model.CpSolverStatus | None, bool]":
    """Solve in a thread, so that an interrupt reaches Python and stops the search in good order.

    No status when the solver itself failed.
    """
    found: list[cp_model.CpSolverStatus] = []
    done = threading.Event()

    def work() -> None:
        try:
            found.append(solver.solve(model))
        finally:
            done.set()

    worker = threading.Thread(target=work)
    interrupted = False
    worker.start()
    # An interrupted join would take the thread for ended (CPython 3.11), an event does not.
    while not done.is_set():
        try:
            done.wait()
        except KeyboardInterrupt:
            interrupted = True
            solver.stop_search()
    worker.join()
    return (found[0] if found else None), interrupted
