"""The solver's one door: against another solver, and what a start or a stop makes of it."""

from __future__ import annotations

import math
from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp

from nejime.material.solving import Model, solve


def cover(chance: Random) -> tuple[Model, dict[int, float]]:
    """Whole numbers of things that together cover some needs."""
    model = Model()
    columns = [model.column(high=chance.choice([3.0, math.inf])) for _ in range(6)]
    for _ in range(4):
        model.row({c: float(chance.randint(0, 4)) for c in columns}, low=chance.randint(1, 12))
    return model, {column: float(chance.randint(1, 20)) for column in columns}


def second(model: Model, costs: dict[int, float]) -> float:
    rows = np.zeros(model.size)
    for place, (weights, _, _) in enumerate(model.rows):
        for column, weight in weights.items():
            rows[place, column] = weight
    found = milp(
        [costs[column] for column in range(model.size[1])],
        integrality=model.whole,
        bounds=Bounds(model.lows, model.highs),
        constraints=LinearConstraint(
            rows, [low for _, low, _ in model.rows], [high for _, _, high in model.rows]
        ),
        options={"mip_rel_gap": 0},
    )
    return float(found.fun) if found.success else math.inf


@pytest.mark.parametrize("number", range(40))
def test_it_agrees_with_another_solver_from_whatever_it_starts(number):
    model, costs = cover(Random(number))
    expected = second(model, costs)
    plain = solve(model, costs, steps=1.0)
    assert plain.objective == pytest.approx(expected)
    if not plain.found:
        assert plain.state == "impossible"
        return
    start = {c: 12.0 if math.isinf(model.highs[c]) else model.highs[c] for c in costs}
    begun = solve(model, costs, start=start, steps=1.0)
    for found in (plain, begun):
        worth = sum(costs[column] * found.values[column] for column in costs)
        assert worth == pytest.approx(found.objective) == pytest.approx(expected)
        for weights, low, high in model.rows:
            assert low - 1e-6 <= sum(w * found.values[c] for c, w in weights.items()) <= high


@pytest.mark.source("hand", "at least 3 at 2 each: one more costs 2")
def test_without_whole_numbers_each_row_has_a_price():
    model = Model()
    column = model.column(whole=False)
    model.row({column: 1.0}, low=3)
    found = solve(model, {column: 2.0})
    assert (found.objective, found.prices) == (6.0, (2.0,))


def test_nothing_to_decide_costs_nothing():
    found = solve(Model(), {})
    assert found.found
    assert (found.state, found.objective) == ("best", 0.0)


def test_it_prints_nothing(capfd):
    model, costs = cover(Random(1))
    solve(model, costs)
    assert capfd.readouterr() == ("", "")
