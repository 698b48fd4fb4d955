"""Averill (1913), Japanese Flower Arrangement: heights above the water and bare stems."""

import math

import pytest

from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.tall import DIP_CM
from nejime.forms.vessel import vessel
from nejime.forms.waterline import bare_stem_cm

RULE = packaged()["height-above-water"]


@pytest.mark.source(
    "averill1913", "ch. 15: once and a half the diameter, above the water: 1.5 × 30"
)
def test_the_highest_flower_stands_once_and_a_half_the_diameter_above_the_water():
    first = piece(vessel("round", 30, 6), RULE, "upright").stem("first")
    assert first.above_water_cm == pytest.approx(45.0, abs=0.5)


@pytest.mark.source("averill1913", "ch. 15; hand: 45 / cos 15° = 46.6 of stem show over the water")
def test_the_visible_stem_of_that_height_is_longer_than_the_height():
    first = piece(vessel("round", 30, 6), RULE, "upright").stem("first")
    assert first.length_cm - first.below_cm == pytest.approx(46.6, abs=0.5)


@pytest.mark.source("averill1913", "ch. 15: a vase a foot high, a flower a foot and a half: 18 in")
def test_a_vase_a_foot_high_gets_a_flower_a_foot_and_a_half_high():
    first = piece(vessel("vase", 10, 30.48), RULE, "upright").stem("first")
    assert first.above_water_cm == pytest.approx(45.72, abs=0.5)


@pytest.mark.source("averill1913", "ch. 15: the stand counts; hand: (25 + 5) × 1.5 = 45")
def test_a_stand_counts_as_height():
    first = piece(vessel("vase", 10, 25, stand_cm=5), RULE, "upright").stem("first")
    assert first.above_water_cm == pytest.approx(45.0, abs=0.5)


@pytest.mark.source("averill1913", "ch. 15: the depth of a shallow vessel does not count")
def test_the_depth_of_a_dish_does_not_change_the_height():
    low, high = (
        piece(vessel("round", 30, height), RULE, "upright").stem("first") for height in (5, 9)
    )
    assert low.above_water_cm == pytest.approx(high.above_water_cm, abs=1e-6)


@pytest.mark.source("averill1913", "ch. 12: spring 3 in, summer 2 in, autumn 4 in; winter not read")
@pytest.mark.parametrize(
    ("season", "inches"), [("spring", 3.0), ("summer", 2.0), ("autumn", 4.0), ("winter", None)]
)
def test_bare_stems_over_the_water_by_season(season, inches):
    expected = None if inches is None else inches * 2.54
    assert bare_stem_cm(season) == (None if expected is None else pytest.approx(expected, abs=1.0))


@pytest.mark.source("averill1913", "p. 47: a cross-bar at least an inch under the water")
def test_a_stem_in_a_tall_vase_dips_an_inch_under_the_water():
    assert pytest.approx(2.54, abs=0.05) == DIP_CM
    planned = piece(vessel("vase", 10, 25), packaged()["width-plus-height"], "upright")
    for stem in planned.main:
        assert planned.vessel.base_cm + planned.water_cm - stem.foot.z_cm >= DIP_CM - 1e-6


@pytest.mark.source("averill1913", "p. 77: left and right depend on who looks; a half turn")
def test_the_other_side_is_a_half_turn_not_a_mirror():
    from nejime.basis.angles import from_the_other_side, mirrored

    for bearing in (0.0, 45.0, 135.0, 225.0, 300.0):
        assert from_the_other_side(bearing) == (bearing + 180) % 360
        assert math.isclose(mirrored(mirrored(bearing)), bearing)
    assert from_the_other_side(225) != mirrored(225)
