"""Tipping by hand, against a search over all directions, and by its properties."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from nejime.basis.angles import apart
from nejime.standing.tipping import (
    Bodies,
    Ellipse,
    Foot,
    Polygon,
    bodies,
    circle,
    rectangle,
    tipping,
)

CORNERS = ((5.0, 0.0), (2.0, 4.0), (-4.0, 3.0), (-3.0, -4.0), (3.0, -3.0))


def load(*stems: tuple[float, float, float]) -> Bodies:
    """Stems as (grams, x, y)."""
    return bodies([g for g, _, _ in stems], [(x, y) for _, x, y in stems])


@pytest.mark.source("hand", "462·0.895·3.35 / (50·(20 − 3.35)) = 1385.19 / 832.5 = 1.6639")
def test_one_stem_on_a_pin_holder() -> None:
    found = tipping(circle(3.35), load((462 * 0.895, 0, 0)), load((50, 20, 0)))
    assert float(found.factor) == pytest.approx(1.6639, abs=1e-4)
    assert float(found.bearing_deg) == pytest.approx(90.0)


@pytest.mark.source("hand", "10·5 / (2·(20 − 5)) = 5/3; centre 2·20/12 = 3.333, 5 − 3.333 = 1.667")
def test_a_stem_over_the_long_side_of_a_rectangle() -> None:
    found = tipping(rectangle(20, 10), load((10, 0, 0)), load((2, 0, 20)), top_cm=24.0)
    assert float(found.factor) == pytest.approx(5 / 3)
    assert float(found.margin_cm) == pytest.approx(5 / 3)
    assert float(found.bearing_deg) == pytest.approx(0.0)
    # hand: 12 g · 1.667 cm / 24 cm = 0.8333 g at the top
    assert float(found.nudge_g) == pytest.approx(20 / 24)


@pytest.mark.source("hand", "1.7·45 / (0.25·(350 − 45)) = 76.5 / 76.25 = 1.0033")
def test_a_branch_out_of_a_tall_vase() -> None:
    found = tipping(circle(4.5), load((1700, 0, 0)), load((250, -35, 0)))
    assert float(found.factor) == pytest.approx(1.0033, abs=5e-5)
    assert float(found.bearing_deg) == pytest.approx(270.0)


@pytest.mark.source(
    "hand", "12·π/4·49 = 461.8 g, ·0.895·3.35/(120·21.65) = 0.5330; a second at −3.35 holds 3 times"
)
def test_a_second_pin_holder_on_the_far_edge_holds_three_times_as_much() -> None:
    held = 12 * math.pi / 4 * 49 * 0.895
    alone = tipping(circle(3.35), load((held, 0, 0)), load((120, 25, 0)))
    both = tipping(circle(3.35), load((held, 0, 0), (held, -3.35, 0)), load((120, 25, 0)))
    assert float(alone.factor) == pytest.approx(0.5330, abs=5e-5)
    assert float(both.factor) == pytest.approx(3 * float(alone.factor))


@pytest.mark.source("hand", "m·R / (|Σ m·r| − R·Σ m): 800·4 / (hypot(40·10, 30·8) − 4·70)")
def test_two_stems_square_to_each_other() -> None:
    found = tipping(circle(4), load((800, 0, 0)), load((40, 10, 0), (30, 0, -8)))
    assert float(found.factor) == pytest.approx(3200 / (math.hypot(400, 240) - 280))
    assert float(found.bearing_deg) == pytest.approx(90 + math.degrees(math.atan2(240, 400)))


def test_corners_may_go_round_either_way() -> None:
    base, stem = load((800, 0.3, 0.2)), load((60, 20, -9))
    one, other = (tipping(Polygon(way), base, stem) for way in (CORNERS, CORNERS[::-1]))
    assert float(one.factor) == pytest.approx(float(other.factor))
    assert float(one.margin_cm) == pytest.approx(float(other.margin_cm))


def test_over_the_foot_nothing_overturns() -> None:
    found = tipping(circle(4), load((800, 0, 0)), load((900, 3.9, 0)))
    assert math.isinf(float(found.factor))
    assert found.stands
    assert float(found.margin_cm) > 0


def test_a_base_that_tips_alone_has_no_reserve() -> None:
    found = tipping(circle(4), load((800, 4.1, 0)), load((1, 0, 0)))
    assert float(found.factor) == 0.0
    assert not found.stands


places = st.tuples(st.floats(1, 200), st.floats(-40, 40), st.floats(-40, 40))
inner = st.tuples(st.floats(100, 2000), st.floats(-1.5, 1.5), st.floats(-1.5, 1.5))
feet: list[Foot] = [circle(4), Ellipse(6, 3), rectangle(9, 6), Polygon(CORNERS)]


def searched(
    foot: Foot, base: Bodies, stems: Bodies, turn: npt.NDArray[np.float64]
) -> tuple[float, float]:
    """The least of rest over overturning moment, and of the distance to the edge, over bearings.

    The definition of both, direction by direction.
    """
    normal = np.stack([np.sin(turn), np.cos(turn)], axis=-1)
    if isinstance(foot, Ellipse):
        reach = np.hypot(foot.half_width_cm * normal[:, 0], foot.half_depth_cm * normal[:, 1])
    else:
        reach = np.max(normal @ np.array(foot.corners_cm).T, axis=-1)
    rest = base.g * reach - normal @ base.moment_g_cm
    over = normal @ stems.moment_g_cm - stems.g * reach
    factor = np.min(np.where(over > 1e-9, rest / np.where(over > 1e-9, over, 1), np.inf))
    centre = (base.moment_g_cm + stems.moment_g_cm) / (base.g + stems.g)
    return float(factor), float(np.min(reach - normal @ centre))


@pytest.mark.source("hand", "least of rest over overturning moment, searched in 14,400 directions")
@pytest.mark.parametrize("foot", feet)
@given(inner, st.lists(places, min_size=1, max_size=4))
def test_no_direction_tips_sooner(
    foot: Foot, under: tuple[float, float, float], stems: list[tuple[float, float, float]]
) -> None:
    base, above = load(under), load(*stems)
    found = tipping(foot, base, above)
    fan = np.linspace(0, 2 * np.pi, 14_400, endpoint=False)
    if isinstance(foot, Polygon):  # among them the directions square to a side
        corners = np.array(foot.corners_cm)
        side = np.roll(corners, -1, axis=0) - corners
        fan = np.concatenate([fan, np.arctan2(side[:, 1], -side[:, 0])])
    factor, margin = searched(foot, base, above, fan)
    if factor < 100:
        assert float(found.factor) == pytest.approx(factor, rel=5e-4)
        there = np.radians([float(found.bearing_deg)])
        assert searched(foot, base, above, there)[0] == pytest.approx(factor, rel=5e-4)
    if margin > 0 or isinstance(foot, Ellipse):
        assert float(found.margin_cm) == pytest.approx(margin, abs=2e-3)
    else:  # beyond a corner: counted from the side, the search counts from the corner
        assert margin - 2e-3 <= float(found.margin_cm) <= 2e-3


@pytest.mark.source("hand", "the feet's upward pushes must balance all weights: linear program")
@given(inner, st.lists(places, min_size=1, max_size=3))
def test_it_stands_where_upward_pushes_of_the_corners_can_balance_it(
    under: tuple[float, float, float], stems: list[tuple[float, float, float]]
) -> None:
    found = tipping(Polygon(CORNERS), load(under), load(*stems))
    whole = load(under, *stems)
    corners = np.array(CORNERS)
    balance = np.vstack([np.ones(len(corners)), corners.T])
    wanted = np.array([1.0, *(whole.moment_g_cm / whole.g)])
    pushes = linprog(np.zeros(len(corners)), A_eq=balance, b_eq=wanted, bounds=(0, None))
    if abs(float(found.margin_cm)) > 1e-6:
        assert bool(found.stands) == (pushes.status == 0)
        assert bool(found.stands) == (float(found.margin_cm) > 0)


stems_of = st.lists(places, min_size=1, max_size=4)


@pytest.mark.parametrize("foot", feet)
@given(inner, stems_of, st.floats(0.1, 10))
def test_heavier_altogether_is_the_same(
    foot: Foot, under: tuple[float, float, float], stems: list[tuple[float, float, float]], k: float
) -> None:
    one = tipping(foot, load(under), load(*stems))
    other = tipping(
        foot, load((k * under[0], *under[1:])), load(*((k * g, x, y) for g, x, y in stems))
    )
    if not 0 < float(one.factor) < 1e6:
        return
    assert float(other.factor) == pytest.approx(float(one.factor), rel=1e-6)
    assert float(other.margin_cm) == pytest.approx(float(one.margin_cm), abs=1e-9)


@given(stems_of, st.floats(0, 360))
def test_turned_altogether_it_tips_in_the_turned_direction(
    stems: list[tuple[float, float, float]], turn_deg: float
) -> None:
    turn = math.radians(turn_deg)

    def turned(g: float, x: float, y: float) -> tuple[float, float, float]:
        # Clockwise from above, as bearings go.
        return g, x * math.cos(turn) + y * math.sin(turn), y * math.cos(turn) - x * math.sin(turn)

    one = tipping(circle(4), load((800, 0, 0)), load(*stems))
    other = tipping(circle(4), load((800, 0, 0)), load(*(turned(*stem) for stem in stems)))
    if not float(one.factor) < 1e6:
        return
    assert float(other.factor) == pytest.approx(float(one.factor), rel=1e-6)
    expected = (float(one.bearing_deg) + turn_deg) % 360
    assert apart(float(other.bearing_deg), expected) < 1e-3


@pytest.mark.parametrize("foot", feet[:3])
@given(stems_of)
def test_mirrored_it_tips_in_the_mirrored_direction(
    foot: Foot, stems: list[tuple[float, float, float]]
) -> None:
    one = tipping(foot, load((800, 0, 0)), load(*stems))
    other = tipping(foot, load((800, 0, 0)), load(*((g, -x, y) for g, x, y in stems)))
    if not float(one.factor) < 1e6:
        return
    assert float(other.factor) == pytest.approx(float(one.factor), rel=1e-6)
    assert float(other.margin_cm) == pytest.approx(float(one.margin_cm), abs=1e-6)


@pytest.mark.parametrize("foot", feet)
@given(inner, stems_of, st.floats(1, 100))
def test_more_weight_on_the_side_that_leans_never_helps(
    foot: Foot, under: tuple[float, float, float], stems: list[tuple[float, float, float]], g: float
) -> None:
    one = tipping(foot, load(under), load(*stems))
    if not 0 < float(one.factor) < 1e6:
        return
    bearing = math.radians(float(one.bearing_deg))
    far = (g, 50 * math.sin(bearing), 50 * math.cos(bearing))
    assert float(tipping(foot, load(under), load(*stems, far)).factor) <= float(one.factor) + 1e-9


@pytest.mark.parametrize("foot", feet)
@given(inner, stems_of)
def test_the_reserve_is_one_where_the_centre_is_on_the_edge(
    foot: Foot, under: tuple[float, float, float], stems: list[tuple[float, float, float]]
) -> None:
    factor = float(tipping(foot, load(under), load(*stems)).factor)
    if not 1e-3 < factor < 1e3:
        return
    limit = tipping(foot, load(under), load(*((factor * g, x, y) for g, x, y in stems)))
    assert float(limit.factor) == pytest.approx(1.0, rel=1e-6)
    assert float(limit.margin_cm) == pytest.approx(0.0, abs=2e-3)


def test_a_foot_that_is_larger_by_a_share_is_the_same_as_a_larger_foot() -> None:
    base, stems = load((900, 0.5, 0.2)), load((60, 20, -9))
    scaled = tipping(Ellipse(5, 4), base, stems, size=1.2)
    larger = tipping(Ellipse(6, 4.8), base, stems)
    assert float(scaled.factor) == pytest.approx(float(larger.factor))
    assert float(scaled.margin_cm) == pytest.approx(float(larger.margin_cm), abs=1e-6)
    assert float(scaled.bearing_deg) == pytest.approx(float(larger.bearing_deg))
