"""Whole-number programmes: columns, rows, and the solver that finds the best values.

Sets: columns and rows, counted from 0 in the order in which they are made.
Variables: the value of each column, between its bounds; of a whole column a whole number.
Constraints: for each row, the sum of its columns' values times their weights lies in its bounds.
Objective: the least sum of values times costs; the costs are told when it is solved, so that one
model can be solved for one aim after another.
Source: HiGHS (Huangfu and Hall 2018), which alone is known here. One thread and a fixed seed, so
that equal models have equal answers unless a time limit cuts them off.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import highspy

WHOLE_WITHIN = 1e-6  # [own] a whole column's value may be off by so much
SEED = 1  # [own]

State = Literal["best", "cut off", "impossible"]
Progress = Callable[[float, float], bool]
"""Told the best objective so far and the bound on it; returns whether to stop."""


class Model:
    """A whole-number programme, filled in column by column and row by row."""

    __slots__ = ("highs", "lows", "rows", "whole")

    def __init__(self) -> None:
        self.lows: list[float] = []
        self.highs: list[float] = []
        self.whole: list[bool] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def column(self, low: float = 0.0, high: float = math.inf, *, whole: bool = True) -> int:
        """A new column; its number."""
        self.lows.append(low)
        self.highs.append(high)
        self.whole.append(whole)
        return len(self.lows) - 1

    def row(
        self, weights: Mapping[int, float], low: float = -math.inf, high: float = math.inf
    ) -> int:
        """A new row; its number."""
        self.rows.append((dict(weights), low, high))
        return len(self.rows) - 1

    @property
    def size(self) -> tuple[int, int]:
        """How many rows and columns."""
        return len(self.rows), len(self.lows)


@dataclass(frozen=True, slots=True)
class Solution:
    """What was found. `values` by column, empty where there is none; whole ones are whole.

    `bound`: no solution can be less. `prices`: what one more in each row's bound would cost, of a
    model without whole columns alone.
    """

    state: State
    objective: float
    bound: float
    values: tuple[float, ...]
    prices: tuple[float, ...] = ()

    @property
    def found(self) -> bool:
        """Whether there is any solution."""
        return math.isfinite(self.objective)


class _Quiet(highspy.Highs):
    """The solver without its greeting, which it prints while it is being made."""

    def enableCallbacks(self) -> Any:  # noqa: N802 - its own name
        self.setOptionValue("output_flag", False)
        return super().enableCallbacks()  # type: ignore[no-untyped-call]


def solve(
    model: Model,
    costs: Mapping[int, float],
    *,
    start: Mapping[int, float] | None = None,
    steps: float = 0.0,
    gap: float = 0.0,
    most_s: float = math.inf,
    enough: float = -math.inf,
    progress: Progress | None = None,
) -> Solution:
    """The values of least cost.

    `start` is a solution to begin from, of all columns or of some. Where every possible objective
    is a multiple of `steps`, a bound less than one step below is proof enough. `gap` is a share of
    the objective that does not matter; after `most_s` seconds, or with an objective of `enough`,
    the best so far is taken.
    """
    if not model.lows:
        return Solution("best", 0.0, 0.0, ())
    solver = _solver(gap, steps, most_s, enough)
    solver.passModel(_passed(model, costs))
    if start:
        _begin(solver, model, start)
    if progress is not None:
        _watch(solver, progress)
    solver.run()
    found = _solution(solver, model)
    if start and found.found and not _agrees(found, costs):
        # HiGHS 1.16 may find a better plan while it simplifies, and yet hand back the start.
        return solve(
            model, costs, steps=steps, gap=gap, most_s=most_s, enough=enough, progress=progress
        )
    return found


def _agrees(found: Solution, costs: Mapping[int, float]) -> bool:
    """Whether the values have the objective that is said to be theirs."""
    worth = sum(cost * found.values[column] for column, cost in costs.items())
    return math.isclose(worth, found.objective, rel_tol=1e-6, abs_tol=1e-3)


def _solver(gap: float, steps: float, most_s: float, enough: float) -> Any:
    solver = _Quiet()  # type: ignore[no-untyped-call]
    for option, value in (
        ("threads", 1),
        ("random_seed", SEED),
        ("mip_rel_gap", gap),
        ("mip_abs_gap", steps * (1 - WHOLE_WITHIN) if steps else WHOLE_WITHIN),
        ("mip_feasibility_tolerance", WHOLE_WITHIN),
    ):
        solver.setOptionValue(option, value)
    if math.isfinite(most_s):
        solver.setOptionValue("time_limit", float(most_s))
    if math.isfinite(enough):
        solver.setOptionValue("objective_target", float(enough))
    return solver


def _passed(model: Model, costs: Mapping[int, float]) -> Any:
    """The model in the solver's own form."""
    rows, columns = model.size
    passed = highspy.HighsLp()
    passed.num_row_, passed.num_col_ = rows, columns
    passed.col_cost_ = [float(costs.get(each, 0.0)) for each in range(columns)]
    passed.col_lower_ = [_bound(low) for low in model.lows]
    passed.col_upper_ = [_bound(high) for high in model.highs]
    passed.row_lower_ = [_bound(low) for _, low, _ in model.rows]
    passed.row_upper_ = [_bound(high) for _, _, high in model.rows]
    starts, index, value = [0], [], []
    for weights, _, _ in model.rows:
        index += list(weights)
        value += [float(weight) for weight in weights.values()]
        starts.append(len(index))
    matrix = passed.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.num_row_, matrix.num_col_ = rows, columns
    matrix.start_, matrix.index_, matrix.value_ = starts, index, value
    if any(model.whole):
        kinds = highspy.HighsVarType
        passed.integrality_ = [
            kinds.kInteger if whole else kinds.kContinuous for whole in model.whole
        ]
    return passed


def _bound(value: float) -> float:
    if math.isfinite(value):
        return float(value)
    return math.copysign(float(highspy.kHighsInf), value)


def _begin(solver: Any, model: Model, start: Mapping[int, float]) -> None:
    columns = model.size[1]
    if len(start) == columns:
        told = highspy.HighsSolution()
        told.col_value = [float(start[each]) for each in range(columns)]
        solver.setSolution(told)
    else:
        solver.setSolution(len(start), list(start), [float(each) for each in start.values()])


def _watch(solver: Any, progress: Progress) -> None:
    """Tells how far it is whenever the solver looks up, and ends it when that is wanted."""

    def look(event: Any) -> None:
        out = event.data_out
        if progress(out.mip_primal_bound, out.mip_dual_bound):
            event.interrupt()

    solver.cbMipInterrupt += look


def _solution(solver: Any, model: Model) -> Solution:
    states, status = highspy.HighsModelStatus, solver.getModelStatus()
    info, found = solver.getInfo(), solver.getSolution()
    if not info.primal_solution_status or status in (
        states.kInfeasible,
        states.kUnboundedOrInfeasible,
    ):
        impossible = status in (states.kInfeasible, states.kUnboundedOrInfeasible)
        return Solution("impossible" if impossible else "cut off", math.inf, -math.inf, ())
    whole = any(model.whole)
    return Solution(
        state="best" if status == states.kOptimal else "cut off",
        objective=info.objective_function_value,
        bound=info.mip_dual_bound if whole else info.objective_function_value,
        values=tuple(_rounded(found.col_value, model.whole)),
        prices=() if whole else tuple(found.row_dual),
    )


def _rounded(values: Sequence[float], whole: Iterable[bool]) -> Iterable[float]:
    for value, is_whole in zip(values, whole, strict=True):
        yield float(round(value)) if is_whole else value
