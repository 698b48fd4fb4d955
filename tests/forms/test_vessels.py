"""Water in every shape, and numbers that cannot be."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.forms.limits import vessel_faults
from nejime.forms.vessel import to_edge_cm, vessel


@pytest.mark.source("hand", "π 15² × 3 = 2120.6 ml")
def test_water_in_a_round_dish():
    assert vessel("round", 30, 6).volume_ml(3) == pytest.approx(2120.6, abs=0.1)


@pytest.mark.source("hand", "π 18 × 12 × 3 = 2035.8 ml")
def test_water_in_an_oval_dish():
    assert vessel("oval", 36, 6, depth_cm=24).volume_ml(3) == pytest.approx(2035.8, abs=0.1)


@pytest.mark.source("hand", "40 × 20 × 3 = 2400 ml; with corners of 2 less (4 − π) 2² × 3 = 10.3")
@pytest.mark.parametrize(("corner", "millilitres"), [(0.0, 2400.0), (2.0, 2389.7)])
def test_water_in_an_oblong(corner, millilitres):
    dish = vessel("rectangle", 40, 6, depth_cm=20, corner_radius_cm=corner)
    assert dish.volume_ml(3) == pytest.approx(millilitres, abs=0.1)


@pytest.mark.source("hand", "frustum π 3/3 (10² + 10 × 13 + 13²) = 1253.5 ml")
def test_water_in_a_sloping_bowl():
    # The rim of a bowl whose wall goes from radius 10 at the floor to 13 at a depth of 3.
    inside = 3.0
    bowl = vessel("bowl", 26, inside + 0.72, floor_width_cm=20)
    assert bowl.inside_cm == pytest.approx(inside)
    assert bowl.volume_ml(inside) == pytest.approx(1253.5, abs=0.1)


@pytest.mark.source("hand", "spherical cap, R 15, depth 4: π 16 (45 − 4)/3 = 687.0 ml")
def test_water_in_a_round_bottomed_bowl():
    radius_there = math.sqrt(15**2 - 11**2)
    bowl = vessel("bowl", 2 * radius_there, 4 + 0.72, floor_width_cm=1e-6, wall="curved")
    assert bowl.volume_ml(4) == pytest.approx(687.0, abs=0.1)


@pytest.mark.source("hand", "body π 8² × 0.7 d, neck frustum π 0.3 d/3 (8² + 8 × 3 + 3²)")
def test_water_in_a_narrow_mouthed_vase():
    vase = vessel("vase", 6, 30, body_cm=16)
    deep = vase.inside_cm
    by_hand = math.pi * 64 * 0.7 * deep + math.pi * 0.3 * deep / 3 * (64 + 24 + 9)
    assert vase.volume_ml(deep) == pytest.approx(by_hand, rel=1e-9)


SHAPES = st.sampled_from(["round", "oval", "rectangle", "bowl", "footed", "vase"])
WIDTHS = st.floats(6, 60)


@given(SHAPES, WIDTHS, st.floats(4, 40), st.floats(0.3, 1.0), st.floats(0.0, 1.0))
def test_level_to_volume_and_back(shape, width, height, across, share):
    made = vessel(shape, width, height, depth_cm=width * across)
    level = share * made.inside_cm
    assert made.water_cm(made.volume_ml(level)) == pytest.approx(level, abs=1e-6)


@given(SHAPES, WIDTHS, st.floats(4, 40), st.floats(0.1, 3.0))
def test_twice_as_large_holds_eight_times_as_much(shape, width, height, factor):
    one = vessel(shape, width, height, wall_cm=0.5, foot_height_cm=1.0)
    other = vessel(
        shape, width * factor, height * factor, wall_cm=0.5 * factor, foot_height_cm=factor
    )
    assert other.volume_ml(other.inside_cm) == pytest.approx(
        factor**3 * one.volume_ml(one.inside_cm), rel=1e-9
    )


@pytest.mark.source("hand", "circle of radius 5 from (3, 0): right 2, left 8, away 4")
@pytest.mark.parametrize(("bearing", "way"), [(90, 2), (270, 8), (0, 4)])
def test_the_way_to_a_round_rim(bearing, way):
    assert to_edge_cm(5, 5, None, (3, 0), bearing) == pytest.approx(way)


@pytest.mark.source(
    "hand", "10 × 6 with corners of 2: along 45° from (4, 2) to the corner's circle"
)
def test_the_way_to_a_rounded_corner():
    # From (3, 1), the centre of the corner's circle, every way into the corner is its radius.
    assert to_edge_cm(5, 3, 2, (3, 1), 45) == pytest.approx(2.0)
    assert to_edge_cm(5, 3, 0, (3, 1), 45) == pytest.approx(2 * math.sqrt(2))


@given(st.floats(0, 360), st.floats(-0.6, 0.6), st.floats(-0.6, 0.6), st.floats(0, 0.99))
def test_the_edge_is_on_the_outline(bearing, share_x, share_y, round_share):
    a, b = 9.0, 5.0
    corner = round_share * b
    start = (share_x * a, share_y * b)
    way = to_edge_cm(a, b, corner, start, bearing)
    angle = math.radians(bearing)
    x, y = start[0] + way * math.sin(angle), start[1] + way * math.cos(angle)
    over_x, over_y = abs(x) - (a - corner), abs(y) - (b - corner)
    if over_x > 0 and over_y > 0:
        assert math.hypot(over_x, over_y) == pytest.approx(corner, abs=1e-6)
    else:
        assert max(abs(x) - a, abs(y) - b) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    ("numbers", "fields"),
    [
        ({"width": 0.0, "height": 6.0}, {"width"}),
        ({"width": -3.0, "height": 6.0}, {"width"}),
        ({"width": 300.0, "height": math.nan}, {"width", "height"}),
        ({"width": math.inf, "height": 6.0}, {"width"}),
        ({"width": 30.0, "height": 6.0, "floor_width": 31.0}, {"floor_width"}),
        ({"width": 30.0, "height": 6.0, "depth": 10.0, "corner_radius": 6.0}, {"corner_radius"}),
        ({"width": 30.0, "height": 6.0, "mass": 2.0}, {"mass"}),
        ({"width": 30.0}, {"height"}),
        ({"width": 30.0, "height": 6.0}, set()),
    ],
)
def test_impossible_numbers_are_all_named(numbers, fields):
    assert {fault.field for fault in vessel_faults(numbers)} == fields


@pytest.mark.source("own", "floor and foot of a vase go by its widest measure: 0.95 × 11 = 10.45")
def test_a_narrow_mouthed_vase_stands_on_its_body_not_on_its_mouth():
    vase = vessel("vase", 4, 24, body_cm=11)
    assert vase.foot_width_cm == pytest.approx(10.45)
    assert vase.floor_width_cm == pytest.approx(11.0)
    assert vase.mass.g > vessel("vase", 4, 24).mass.g
