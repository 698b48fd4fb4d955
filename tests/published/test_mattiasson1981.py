"""A level bar held at one end with a weight at the other: large deflection.

The printed table and, independently, the elliptic integrals from which it was made.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ellipe, ellipeinc, ellipk, ellipkinc

from nejime.standing.bending import bent, rods

TABLE = [  # P·L²/EI; drop, shortening (over the length), slope at the end in radians
    (1.0, 0.30172, 0.05643, 0.46135),
    (2.0, 0.49346, 0.16064, 0.78175),
    (3.0, 0.60325, 0.25442, 0.98602),
    (5.0, 0.71379, 0.38763, 1.21537),
    (10.0, 0.81061, 0.55500, 1.43029),
]
THICK_MM = 10.0
SECTION_M4 = math.pi / 64 * (THICK_MM / 1000) ** 4


def elliptic(load: float) -> tuple[float, float, float]:
    """Drop, shortening and slope: with k² = (1 + sin θ) / 2 and sin φ₁ = 1 / (k√2),
    K(k) − F(φ₁, k) = √load and drop = 1 − 2·(E(k) − E(φ₁, k)) / √load."""

    def root(slope: float) -> float:
        k2 = (1 + math.sin(slope)) / 2
        return float(ellipk(k2) - ellipkinc(math.asin(1 / math.sqrt(2 * k2)), k2) - math.sqrt(load))

    slope = brentq(root, 1e-9, math.pi / 2 - 1e-12, xtol=1e-14)
    k2 = (1 + math.sin(slope)) / 2
    start = math.asin(1 / math.sqrt(2 * k2))
    drop = 1 - 2 * (ellipe(k2) - ellipeinc(start, k2)) / math.sqrt(load)
    return float(drop), 1 - math.sqrt(2 * math.sin(slope) / load), float(slope)


@pytest.mark.source("mattiasson1981", "table for the end load: drop, shortening and slope")
@pytest.mark.parametrize("row", TABLE)
def test_the_printed_table_is_what_the_elliptic_integrals_give(
    row: tuple[float, float, float, float],
) -> None:
    assert elliptic(row[0]) == pytest.approx(row[1:], abs=6e-6)


@pytest.mark.source("bisshopp1945", "solution by elliptic integrals; printed by mattiasson1981")
@pytest.mark.parametrize("row", TABLE)
def test_a_level_bar_with_a_weight_at_its_end(row: tuple[float, float, float, float]) -> None:
    load, *expected = row
    # A bar of 1 m without weight, E·I = 1 N·m², a head that weighs `load` newtons.
    bar = rods(
        thickness_mm=THICK_MM,
        stiffness_gpa=1.0 / SECTION_M4 / 1e9,
        stem_g=0.0,
        head_g=load / 9.81 * 1000,
    )
    for links, within in ((60, 2e-4), (240, 2e-5)):
        found = bent(bar, 100.0, 90.0, links=links)
        slope = np.radians(found.end_tilt_deg - 90.0)
        given = (-found.end_up_cm / 100, 1 - found.end_out_cm / 100, slope)
        assert given == pytest.approx(expected, abs=within)
        assert found.holds
