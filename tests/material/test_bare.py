"""Bare wood: what holds of every plan, and against another solver with another model."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from nejime.material.bare import Stick, bare_plan

SMALL = st.tuples(
    st.lists(st.integers(2, 9), min_size=1, max_size=3, unique=True),
    st.lists(st.integers(1, 3), min_size=3, max_size=3),
    st.lists(
        st.builds(
            Stick, st.integers(6, 14), st.integers(1, 9), st.one_of(st.none(), st.integers(0, 3))
        ),
        min_size=1,
        max_size=3,
    ),
    st.integers(0, 1),
)


@given(SMALL)
@settings(max_examples=60)
def test_no_wood_is_there_twice_and_nothing_wanted_is_forgotten(told):
    pieces, counts, sticks, kerf = told
    wanted = counts[: len(pieces)]
    plan = bare_plan(pieces, wanted, sticks, kerf)
    for cut in plan.cuts:
        used = sum(n * (piece + kerf) for n, piece in zip(cut.pieces, pieces, strict=True))
        assert used + cut.rest_mm == cut.stick.length_mm
        assert cut.rest_mm >= 0
    for at, count in enumerate(wanted):
        made = sum(cut.count * cut.pieces[at] for cut in plan.cuts)
        assert made + plan.missing[at] >= count
    for stick in set(sticks):
        if stick.most is not None:
            cut = sum(each.count for each in plan.cuts if each.stick == stick)
            assert cut <= stick.most * sticks.count(stick)
    assert plan.price == sum(cut.count * cut.stick.price for cut in plan.cuts)
    assert plan.proven


@given(SMALL, st.builds(Stick, st.integers(6, 14), st.integers(1, 9)))
@settings(max_examples=60)
def test_one_kind_of_stick_more_is_never_worse(told, more):
    pieces, counts, sticks, kerf = told
    wanted = counts[: len(pieces)]
    fewer, every = (bare_plan(pieces, wanted, s, kerf) for s in (sticks, [*sticks, more]))
    assert (sum(every.missing), every.price) <= (
        sum(fewer.missing),
        fewer.price if sum(every.missing) == sum(fewer.missing) else math.inf,
    )


@given(SMALL, st.integers(2, 20))
@settings(max_examples=40)
def test_it_is_the_same_in_every_unit(told, scale):
    pieces, counts, sticks, kerf = told
    wanted = counts[: len(pieces)]
    larger = [Stick(each.length_mm * scale, each.price, each.most) for each in sticks]
    one = bare_plan(pieces, wanted, sticks, kerf)
    other = bare_plan([each * scale for each in pieces], wanted, larger, kerf * scale)
    assert (one.price, sum(one.missing)) == (other.price, sum(other.missing))


def stick_by_stick(pieces, wanted, sticks, kerf):
    """Fewest missing, then least money, by the assignment model of Kantorovich and another solver:
    a piece to a stick, each stick by itself."""
    bars = [s for s in sticks for _ in range(sum(wanted) if s.most is None else s.most)]
    kinds = len(pieces)
    dearest = 1 + sum(bar.price for bar in bars)
    columns = len(bars) * (1 + kinds) + kinds
    costs = np.zeros(columns)
    costs[: len(bars)] = [bar.price for bar in bars]
    costs[columns - kinds :] = dearest
    upper = np.array([1] * len(bars) + [*wanted] * (len(bars) + 1))
    rows, lows, highs = [], [], []
    for number, bar in enumerate(bars):
        row = np.zeros(columns)
        row[number] = -bar.length_mm
        for kind, piece in enumerate(pieces):
            row[len(bars) + number * kinds + kind] = piece + kerf
        rows.append(row)
        lows.append(-np.inf)
        highs.append(0)
    for kind, count in enumerate(wanted):
        row = np.zeros(columns)
        row[len(bars) + kind :: kinds] = 1
        rows.append(row)
        lows.append(count)
        highs.append(np.inf)
    found = milp(
        costs,
        integrality=np.ones(columns),
        bounds=Bounds(0, upper),
        constraints=LinearConstraint(np.array(rows), lows, highs),
        options={"mip_rel_gap": 0},
    )
    assert found.success
    return divmod(round(found.fun), dearest)


@given(SMALL)
@settings(max_examples=40)
def test_another_solver_misses_as_few_and_pays_as_much(told):
    pieces, counts, sticks, kerf = told
    wanted = counts[: len(pieces)]
    plan = bare_plan(pieces, wanted, sticks, kerf)
    assert (sum(plan.missing), plan.price) == stick_by_stick(pieces, wanted, sticks, kerf)


@pytest.mark.parametrize("seed", range(40))
def test_a_plan_from_patterns_made_as_wanted_is_called_best_only_where_it_is(seed, monkeypatch):
    monkeypatch.setattr("nejime.material.bare.MOST_PATTERNS", 0)
    chance = random.Random(seed)
    pieces = chance.sample(range(11, 60), 4)
    wanted = [chance.randint(1, 3) for _ in pieces]
    sticks = [Stick(100, 7, chance.randint(1, 2)), Stick(70, 5, chance.randint(1, 2))]
    plan = bare_plan(pieces, wanted, sticks)
    found, least = (sum(plan.missing), plan.price), stick_by_stick(pieces, wanted, sticks, 0)
    assert found == least if plan.proven else found >= least


def test_without_time_nothing_is_forgotten_and_nothing_is_called_best():
    wanted = [50, 50, 20, 31, 12]
    plan = bare_plan([40, 35, 21, 17, 13], wanted, [Stick(100, 3, 20), Stick(90, 2, 9)], most_s=0)
    made = [sum(cut.count * cut.pieces[at] for cut in plan.cuts) for at in range(5)]
    assert all(a + b >= c for a, b, c in zip(made, plan.missing, wanted, strict=True))
    assert not plan.proven


@given(SMALL)
@settings(max_examples=40)
def test_a_stick_more_of_a_limited_kind_is_never_worse(told):
    pieces, counts, sticks, kerf = told
    wanted = counts[: len(pieces)]
    more = [s if s.most is None else replace(s, most=s.most + 1) for s in sticks]
    fewer, every = (bare_plan(pieces, wanted, s, kerf) for s in (sticks, more))
    assert (sum(every.missing), every.price) <= (sum(fewer.missing), fewer.price)
