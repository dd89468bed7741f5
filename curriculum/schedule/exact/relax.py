"""The linear relaxation of a matrix: a bound from below, by the linear solver inside OR-Tools.

Whatever the solver returns, the bound is worked out anew from its prices of the rows: any prices
that are not negative give a valid bound, good ones a tight one (Lagrangian duality).
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from curriculum.schedule.exact.variables import Matrix

if TYPE_CHECKING:
    from ortools.math_opt.python import mathopt

GRAIN = 1 << 20
"""Prices are rounded to multiples of one over this, so that the bound is summed without error."""

SIMPLEX = 3_000
"""Columns up to which simplex is used."""

MOST_PIVOTS = 200_000
"""Simplex gives up after so many steps."""

Row = tuple[tuple[int, ...], tuple[int, ...], int]


def relaxed_bound(matrix: Matrix) -> int:
    """Return a lower bound of the objective over all solutions of a matrix, whole numbers only."""
    from ortools.math_opt.python import mathopt

    model = mathopt.Model()
    variables = [model.add_variable(lb=0.0, ub=upper) for upper in matrix.upper]
    rows = list(_rows(matrix))
    constraints = []
    for columns, coefficients, most in rows:
        row = model.add_linear_constraint(ub=most)
        for column, value in zip(columns, coefficients, strict=True):
            row.set_coefficient(variables[column], value)
        constraints.append(row)
    for column, value in zip(*matrix.objective.terms(), strict=True):
        model.objective.set_linear_coefficient(variables[column], value)
    prices = [0] * len(rows)
    values = _dual_values(model, len(matrix.upper))
    if values is not None:
        prices = [max(0, round(-values.get(row, 0.0) * GRAIN)) for row in constraints]
    return priced_bound(matrix, rows, prices)


def _dual_values(
    model: "mathopt.Model", columns: int
) -> "Mapping[mathopt.LinearConstraint, float] | None":
    """Return the prices of the rows: by simplex for small models, else by an interior point.

    The interior point method gives up on some models that have no interior; simplex then takes
    its place. OR-Tools 9.15 reports that with an AttributeError of its own error translation.
    """
    from ortools.math_opt.python import mathopt

    if columns > SIMPLEX:
        parameters = mathopt.SolveParameters()
        parameters.highs.string_options["solver"] = "ipm"
        parameters.highs.string_options["run_crossover"] = "off"
        try:
            result = mathopt.solve(model, mathopt.SolverType.HIGHS, params=parameters)
        except (AttributeError, RuntimeError, ValueError):
            result = None
        if result is not None and result.solutions and result.solutions[0].dual_solution:
            values: Mapping[mathopt.LinearConstraint, float]
            values = result.solutions[0].dual_solution.dual_values
            return values
    parameters = mathopt.SolveParameters(iteration_limit=MOST_PIVOTS)
    result = mathopt.solve(model, mathopt.SolverType.GLOP, params=parameters)
    if result.solutions and result.solutions[0].dual_solution:
        values = result.solutions[0].dual_solution.dual_values
        return values
    return None


def _rows(matrix: Matrix) -> Iterator[Row]:
    for cause, effect in matrix.implications:
        yield (cause, effect), (1, -1), 0
    for cause, excuse, excess in matrix.excesses:
        yield (cause, excuse, excess), (1, -1, -1), 0
    yield from matrix.rows


def priced_bound(matrix: Matrix, rows: Sequence[Row], prices: Sequence[int]) -> int:
    """Return the bound that prices of rows prove, prices being multiples of one over GRAIN."""
    reduced = [0] * len(matrix.upper)
    for column, value in zip(*matrix.objective.terms(), strict=True):
        reduced[column] = value * GRAIN
    total = matrix.objective.constant * GRAIN
    for (columns, coefficients, most), price in zip(rows, prices, strict=True):
        if price:
            total -= price * most
            for column, value in zip(columns, coefficients, strict=True):
                reduced[column] += price * value
    for cost, upper in zip(reduced, matrix.upper, strict=True):
        if cost < 0:
            total += cost * upper
    return -(-total // GRAIN)
