"""Bending against a general solver of boundary value problems, and by its properties."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_bvp

from nejime.standing.bending import Bent, Rods, bent, rods, standing
from nejime.standing.masses import stem_kinds

G_M_S2 = 9.81


def independent(
    along_m: float,
    tilt_deg: float,
    *,
    thick_mm: float,
    taper: float,
    gpa: float,
    stem_g: float,
    head_g: float,
) -> tuple[float, float]:
    """Where the end of a tapering stem comes to lie (out, up, in m), by collocation.

    The stem's mass follows its section. Unknowns over s in 0..1: angle, moment, out, up.
    """
    foot_ei = gpa * 1e9 * math.pi / 64 * (thick_mm / 1000) ** 4
    weight, head = stem_g / 1000 * G_M_S2, head_g / 1000 * G_M_S2
    fall = 1 - taper

    def above(s: np.ndarray) -> np.ndarray:
        whole = 1 - fall + fall**2 / 3
        return head + weight * (1 - (s - fall * s**2 + fall**2 * s**3 / 3) / whole)

    def slope(s: np.ndarray, y: np.ndarray) -> np.ndarray:
        angle, moment = y[0], y[1]
        bend = foot_ei * (1 - fall * s) ** 4
        turn = along_m * moment / bend
        return np.vstack(
            [
                turn,
                -along_m * above(s) * np.sin(angle),
                along_m * np.sin(angle),
                along_m * np.cos(angle),
            ]
        )

    def ends(at_foot: np.ndarray, at_end: np.ndarray) -> np.ndarray:
        return np.array([at_foot[0] - math.radians(tilt_deg), at_end[1], at_foot[2], at_foot[3]])

    s = np.linspace(0, 1, 41)
    first = np.zeros((4, 41))
    first[0] = math.radians(tilt_deg)
    found = solve_bvp(slope, ends, s, first, tol=1e-9, max_nodes=20000)
    assert found.success, found.message
    return float(found.y[2, -1]), float(found.y[3, -1])


STEMS = [  # length in m, tilt; thickness mm, taper, GPa, stem g, head g
    (0.60, 45.0, 8.0, 0.35, 2.5, 26.0, 0.0),
    (0.45, 15.0, 7.0, 0.35, 2.5, 15.0, 5.0),
    (0.40, 30.0, 6.0, 0.85, 0.5, 9.0, 25.0),
    (0.30, 75.0, 6.0, 0.70, 0.9, 8.0, 15.0),
    (0.50, 105.0, 6.0, 0.35, 2.5, 8.0, 2.0),
    (0.40, 90.0, 6.0, 0.85, 0.5, 9.0, 25.0),
    (1.00, 45.0, 10.0, 1.0, 1 / (math.pi / 64 * 0.01**4) / 1e9, 1000 / 9.81, 1000 / 9.81),
    (1.00, 60.0, 10.0, 1.0, 1 / (math.pi / 64 * 0.01**4) / 1e9, 500 / 9.81, 500 / 9.81),
    (1.00, 90.0, 10.0, 1.0, 1 / (math.pi / 64 * 0.01**4) / 1e9, 1000 / 9.81, 0.0),
    (1.00, 90.0, 10.0, 1.0, 1 / (math.pi / 64 * 0.01**4) / 1e9, 5000 / 9.81, 0.0),
    (1.00, 90.0, 10.0, 1.0, 1 / (math.pi / 64 * 0.01**4) / 1e9, 10000 / 9.81, 0.0),
]


def as_rods(stem: tuple[float, ...]) -> Rods:
    _, _, thick, taper, gpa, stem_g, head_g = stem
    return rods(thickness_mm=thick, taper=taper, stiffness_gpa=gpa, stem_g=stem_g, head_g=head_g)


@pytest.mark.source("hand", "the same equation solved by scipy.integrate.solve_bvp at 1e-9")
@pytest.mark.parametrize("stem", STEMS)
@pytest.mark.parametrize(("links", "within"), [(30, 1e-3), (120, 6e-5)])
def test_the_end_lies_where_a_general_solver_puts_it(
    stem: tuple[float, ...], links: int, within: float
) -> None:
    length, tilt, thick, taper, gpa, stem_g, head_g = stem
    out, up = independent(
        length, tilt, thick_mm=thick, taper=taper, gpa=gpa, stem_g=stem_g, head_g=head_g
    )
    found = bent(as_rods(stem), 100 * length, tilt, links=links)
    missed = math.hypot(float(found.end_out_cm) / 100 - out, float(found.end_up_cm) / 100 - up)
    assert missed < within * length


@pytest.mark.source("hand", "tilt and length of the line to the end are what was asked")
@pytest.mark.parametrize("stem", STEMS[:5])
def test_a_stem_stands_as_it_is_described(stem: tuple[float, ...]) -> None:
    length, tilt = 100 * stem[0], stem[1]
    found = standing(as_rods(stem), length, tilt)
    assert found.holds
    assert math.hypot(found.end_out_cm, found.end_up_cm) == pytest.approx(length, rel=1e-6)
    assert math.degrees(math.atan2(found.end_out_cm, found.end_up_cm)) == pytest.approx(tilt)
    # Held at the foot as found, the stem hangs the same.
    again = bent(as_rods(stem), found.along_cm, found.foot_tilt_deg)
    assert float(again.end_out_cm) == pytest.approx(float(found.end_out_cm), abs=1e-4)
    assert float(again.end_up_cm) == pytest.approx(float(found.end_up_cm), abs=1e-4)


def test_a_sagging_stem_wants_a_steeper_foot_and_a_longer_cut() -> None:
    found = standing(as_rods(STEMS[2]), 40.0, 30.0)
    assert found.foot_tilt_deg < 30.0 < found.end_tilt_deg
    assert found.along_cm > 40.0


def test_a_stem_far_too_limp_counts_as_straight_and_is_marked() -> None:
    limp = rods(thickness_mm=2.0, stiffness_gpa=0.05, stem_g=5.0, head_g=30.0)
    found = standing(limp, 50.0, 30.0)
    assert not found.holds
    assert float(found.foot_tilt_deg) == pytest.approx(30.0)
    # Straight: the head at the end, the stem at its middle.
    middle = (5.0 * 25.0 + 30.0 * 50.0) / 35.0
    assert float(found.centre_out_cm) == pytest.approx(middle * math.sin(math.radians(30)))


def test_shapes_broadcast_and_each_stem_is_as_it_is_alone() -> None:
    many = rods(
        thickness_mm=np.array([8.0, 6.0]),
        taper=np.array([0.35, 0.85]),
        stiffness_gpa=np.array([2.5, 0.5]),
        stem_g=np.array([26.0, 9.0]),
        head_g=np.array([0.0, 20.0]),
    )
    tilts = np.array([[10.0], [40.0], [70.0]])
    together = standing(many, np.array([60.0, 40.0]), tilts)
    assert together.free_g.shape == (3, 2)
    one = rods(thickness_mm=6.0, taper=0.85, stiffness_gpa=0.5, stem_g=9.0, head_g=20.0)
    alone = standing(one, 40.0, 70.0)
    assert float(together.centre_out_cm[2, 1]) == pytest.approx(float(alone.centre_out_cm))


@settings(max_examples=30, deadline=None)
@given(
    st.floats(20, 60),
    st.floats(0, 80),
    st.floats(5, 9),
    st.floats(0, 20),
    st.floats(0.0, 0.8),
)
def test_no_mass_is_lost_and_the_moment_is_weight_times_arm(
    length: float, tilt: float, thick: float, head: float, held: float
) -> None:
    stem = rods(
        thickness_mm=thick,
        stiffness_gpa=3.0,
        stem_g=20.0,
        head_g=head,
        taper=0.35,
        foliage=0.5,
        leaves_from=0.2,
        held_from=held,
    )
    found = bent(stem, length, tilt)
    assert float(found.free_g + found.held_g) == pytest.approx(20.0 + head)
    if found.holds:
        assert 0.0 <= float(found.centre_out_cm) <= length
    assert float(found.moment_g_cm) == pytest.approx(float(found.free_g * found.centre_out_cm))


def test_a_thirsty_stem_hangs_lower() -> None:
    def end(wilted: float) -> Bent:
        stem = rods(
            thickness_mm=6.0, stiffness_gpa=0.5, stem_g=9.0, head_g=15.0, taper=0.85, wilted=wilted
        )
        return bent(stem, 40.0, 45.0)

    assert end(1.0).end_up_cm < end(0.0).end_up_cm


@pytest.mark.source("practice", "a good gerbera held level droops less than 30°")
def test_a_fresh_soft_stem_droops_as_little_as_the_trade_asks() -> None:
    kind = stem_kinds()["soft-stem"]
    mass = kind.g_cm3 * math.pi / 4 * 0.6**2 * 40
    gerbera = rods(
        thickness_mm=6.0,
        stiffness_gpa=kind.stiffness_gpa,
        stem_g=mass,
        head_g=25.0,
        taper=kind.taper,
    )
    found = bent(gerbera, 40.0, 90.0)
    assert math.degrees(math.atan2(-found.end_up_cm, found.end_out_cm)) < 30.0
