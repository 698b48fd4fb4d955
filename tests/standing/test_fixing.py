"""Stems in a tall vase: friction against a linear program, the cross-bar by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import linprog

from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel
from nejime.standing.fixing import cross_bar, leaning, wall_push_n, wedge_n
from nejime.standing.loads import loads
from nejime.standing.masses import Body

RULE = packaged()["width-plus-height"]
TILTS = np.arange(5.0, 89.0, 0.5)


def feasible(tilt_deg: float, span: float, centre: float, friction: float) -> bool:
    """Whether pushes and frictions exist that balance a stem of weight 1 (linear program).

    Unknown: push of the rim square to the stem, friction there along it, push and friction of the
    wall. Balanced: across, upwards, and moments about the lower end.
    """
    tilt = math.radians(tilt_deg)
    along = np.array([math.sin(tilt), math.cos(tilt)])
    square = np.array([-math.cos(tilt), math.sin(tilt)])
    rim = span / math.sin(tilt) * along

    def turn(arm: np.ndarray, force: np.ndarray) -> float:
        return float(arm[0] * force[1] - arm[1] * force[0])

    balance = np.array(
        [
            [square[0], along[0], 1.0, 0.0],
            [square[1], along[1], 0.0, 1.0],
            [turn(rim, square), turn(rim, along), 0.0, 0.0],
        ]
    )
    # The weight acts `centre` out from the wall: it turns the stem by −centre.
    wanted = np.array([0.0, 1.0, centre])
    rub = np.array(
        [
            [-friction, 1, 0, 0],
            [-friction, -1, 0, 0],
            [0, 0, -friction, 1],
            [0, 0, -friction, -1],
        ]
    )
    free = (None, None)
    found = linprog(
        np.zeros(4),
        A_ub=rub,
        b_ub=np.zeros(4),
        A_eq=balance,
        b_eq=wanted,
        bounds=[(0, None), free, (0, None), free],
    )
    return bool(found.status == 0)


@pytest.mark.source("hand", "the three balances and four frictions as a linear program (scipy)")
@pytest.mark.parametrize("friction", [0.2, 0.35, 0.5])
@pytest.mark.parametrize(("centre", "span"), [(1.0, 0.3), (0.5, 0.2), (2.0, 0.25)])
def test_a_leaning_stem_rests_where_a_linear_program_finds_a_balance(
    friction: float, centre: float, span: float
) -> None:
    out = centre * np.sin(np.radians(TILTS))
    found = leaning(TILTS, span, out, friction)
    expected = [
        feasible(tilt, span, reach, friction) for tilt, reach in zip(TILTS, out, strict=True)
    ]
    assert found.rests.tolist() == expected
    assert any(expected)
    assert not all(expected)


@pytest.mark.source("hand", "sin³θ = 0.3: θ = 42.0233°, a classical problem of statics")
def test_without_friction_there_is_one_lean() -> None:
    classical = math.degrees(math.asin(0.3 ** (1 / 3)))
    assert classical == pytest.approx(42.0233, abs=1e-4)
    tilts = classical + np.array([-0.05, 0.0, 0.05])
    found = leaning(tilts, 0.3, np.sin(np.radians(tilts)), friction=1e-6)
    assert found.rests.tolist() == [False, True, False]
    assert found.slides_down.tolist() == [True, False, False]
    assert found.slips_out.tolist() == [False, False, True]


def test_steeper_stems_slide_down_and_flatter_ones_slip_out() -> None:
    found = leaning(TILTS, 0.3, np.sin(np.radians(TILTS)), 0.35)
    state = np.where(found.slides_down, 0, np.where(found.rests, 1, 2))
    assert all(low <= high for low, high in pairwise(state.tolist()))
    assert set(state.tolist()) == {0, 1, 2}


@pytest.mark.source("hand", "0.15·9.81·20/12 = 2.45 N; 2·√(1.4715² + 2.4525²) / 0.7 = 8.17 N")
@pytest.mark.parametrize(
    ("g", "arm", "leg", "push", "wedge"),
    [
        (150, 20, 12, 2.4525, 8.1716),
        # 0.3·9.81·30/12 = 7.3575; 2·√(2.943² + 7.3575²)/0.7 = 22.641
        (300, 30, 12, 7.3575, 22.641),
        # 0.5·9.81·35/15 = 11.445; 2·√(4.905² + 11.445²)/0.7 = 35.576
        (500, 35, 15, 11.445, 35.576),
    ],
)
def test_the_cross_bar_by_hand(g: float, arm: float, leg: float, push: float, wedge: float) -> None:
    assert wall_push_n(g, arm, leg) == pytest.approx(push, abs=1e-4)
    assert wedge_n(g, arm, leg) == pytest.approx(wedge, abs=1e-3)


def test_a_shallow_vessel_has_no_cross_bar() -> None:
    assert cross_bar(piece(vessel("round", 30, 6), RULE, "upright"), {}) is None


@pytest.mark.source("averill1913", "p. 47: at least an inch under the water; full to 0.8 below")
def test_the_bar_lies_an_inch_under_the_water() -> None:
    planned = piece(vessel("vase", 10, 28), RULE, "slanting")
    bar = cross_bar(planned, {})
    assert bar is not None
    assert bar.needed
    assert bar.depth_cm == pytest.approx(planned.vessel.inside_cm - planned.water_cm + 2.5, abs=0.1)


@pytest.mark.source("hand", "of a stiff upright stem the part in the vase weighs at its middle")
def test_the_part_in_the_vase_counts_where_it_is() -> None:
    planned = piece(vessel("vase", 10, 28), RULE, "slanting")
    stem = planned.stem("first")
    # Next to nothing of it is above the mouth.
    short = replace(planned, stems=(replace(stem, length_cm=0.01),))
    found = loads(short, {"first": Body("bare-branch", 20)}, drawn=False)
    middle = [(low + high) / 2 for low, high in zip(stem.start[:2], stem.foot[:2], strict=True)]
    assert found.place_cm[0, 0] == pytest.approx(middle, abs=0.15)


def test_a_branch_that_hangs_over_the_mouth_needs_the_bar_and_a_heavy_one_is_warned_of() -> None:
    planned = piece(vessel("vase", 9, 28), RULE, "hanging")
    bar = cross_bar(planned, {"first": Body("leafy-branch", 9, weighed_g=500.0)})
    assert bar is not None
    assert "first" in bar.needed_by
    assert bar.hard
    assert "standing.wedged-hard" in {said.key for said in bar.remarks}
