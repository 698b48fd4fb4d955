"""Upright stems under their own weight or a head: where they can no longer carry themselves.

Also the small deflections of the handbooks.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import jv

from nejime.standing.bending import Rods, bent, rods

THICK_MM = 10.0
SECTION_M4 = math.pi / 64 * (THICK_MM / 1000) ** 4


def bar(*, own_n: object = 0.0, head_n: object = 0.0, taper: float = 1.0) -> Rods:
    """A bar of E·I = 1 N·m² at its foot, with a weight of its own and of its head in newtons."""
    return rods(
        thickness_mm=THICK_MM,
        stiffness_gpa=1.0 / SECTION_M4 / 1e9,
        stem_g=np.asarray(own_n) / 9.81 * 1000,
        head_g=np.asarray(head_n) / 9.81 * 1000,
        taper=taper,
    )


@pytest.mark.source("greenhill1881", "w·L³/EI = 9/4 · j², j the first zero of J of order -1/3")
def test_an_upright_stem_carries_itself_up_to_greenhills_height() -> None:
    zero = brentq(lambda x: jv(-1 / 3, x), 1.5, 2.2)
    critical = 9 / 4 * zero**2
    assert critical == pytest.approx(7.837, abs=5e-4)
    found = bent(bar(own_n=critical * np.array([0.999, 1.001])), 100.0, 0.0, links=200)
    assert found.holds.tolist() == [True, False]


@pytest.mark.source("timoshenko1961", "Euler's column: P·L²/EI = π²/4")
def test_an_upright_stem_carries_a_head_up_to_eulers_load() -> None:
    critical = math.pi**2 / 4
    found = bent(bar(head_n=critical * np.array([0.999, 1.001])), 100.0, 0.0, links=200)
    assert found.holds.tolist() == [True, False]


@pytest.mark.source(
    "roark", "cantilever: P·L³/3EI under an end load, w·L⁴/8EI under its own weight"
)
@pytest.mark.parametrize(
    ("loads", "drop_cm"),
    [({"head_n": 0.03}, 100 * 0.03 / 3), ({"own_n": 0.08}, 100 * 0.08 / 8)],
)
def test_a_little_load_bends_as_the_handbook_says(loads: dict[str, float], drop_cm: float) -> None:
    found = bent(bar(**loads), 100.0, 90.0, links=60)
    assert -float(found.end_up_cm) == pytest.approx(drop_cm, rel=1e-3)


@pytest.mark.source("hand", "∫ x²/(1-(1-a)(1-x))⁴ from 0 to 1 is 1/(3a): drop = P·L³/(3·E·I·a)")
@pytest.mark.parametrize("taper", [0.7, 0.5, 0.35])
def test_an_evenly_tapering_stem_drops_as_its_closed_form(taper: float) -> None:
    found = bent(bar(head_n=0.003, taper=taper), 100.0, 90.0, links=200)
    assert -float(found.end_up_cm) == pytest.approx(100 * 0.003 / (3 * taper), rel=1e-3)
