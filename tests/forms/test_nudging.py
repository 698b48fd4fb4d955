"""Corrections by hand: lower, shorter, turned, left out; the pin holder moved."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.angles import apart, mirrored
from nejime.basis.errors import InputError
from nejime.forms.nudging import TOWARDS_DEG, Nudge, Towards, nudged, turned_deg
from nejime.forms.piece import piece
from nejime.forms.rules import DEFAULT_RULE, packaged
from nejime.forms.stems import Opens, Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import Shape, vessel

SIDES: tuple[Towards, ...] = ("left", "right", "front", "back")


def a_piece(opens: Opens = "right", shape: Shape = "round", width: float = 30, high: float = 6):
    made = piece(vessel(shape, width, high), packaged()[DEFAULT_RULE], "upright", opens=opens)
    return with_supporting(made, leaves=2)


def test_what_nobody_corrected_stays_as_it_is() -> None:
    made = a_piece()
    after = nudged(made, {"second": Nudge(lower_deg=5.0)})
    assert [each for each in after.stems if each.id != "second"] == [
        each for each in made.stems if each.id != "second"
    ]


@pytest.mark.source(
    "hand",
    "in a dish 30 × 6 the first is 1.5·36 = 54 cm at 15°: lowered by 10° its end is"
    " 54·cos 25° = 48.94 cm above the pins",
)
def test_a_lowered_first_stem_ends_lower() -> None:
    stem = nudged(a_piece(), {"first": Nudge(lower_deg=10.0)}).stem("first")
    assert stem.length_cm == pytest.approx(54.0)
    assert stem.stands_deg == pytest.approx(25.0)
    assert stem.height_cm == pytest.approx(48.94, abs=0.005)


@pytest.mark.source(
    "hand", "the third of a dish 30 × 6 is 0.5·40.5 = 20.25 cm; cut 3 cm shorter 17.25 cm"
)
def test_a_shorter_stem_keeps_its_lean_and_direction() -> None:
    before = a_piece().stem("third")
    after = nudged(a_piece(), {"third": Nudge(longer_cm=-3.0)}).stem("third")
    assert after.length_cm == pytest.approx(17.25)
    assert after.cut_cm == pytest.approx(17.25, rel=0.003)
    assert (after.stands_deg, after.bearing_deg) == pytest.approx(
        (before.stands_deg, before.bearing_deg)
    )


def test_the_rim_stops_a_lean() -> None:
    """Not below atan(way to the rim / rise of the rim), however far it is pushed."""
    after = nudged(a_piece(), {"third": Nudge(lower_deg=60.0)}).stem("third")
    made = a_piece().vessel
    way = made.to_rim_cm(after.start.x_cm, after.start.y_cm, after.bearing_deg)
    most = math.degrees(math.atan2(way, made.height_cm - after.start.z_cm))
    assert after.stands_deg < most
    assert after.tilt_deg > after.stands_deg


@pytest.mark.source("hand", "clockwise from the back: front left is 225°, left 270°, front 180°")
@pytest.mark.parametrize(
    ("bearing", "side", "by", "after"),
    [
        (225.0, "left", 15.0, 240.0),
        (225.0, "front", 15.0, 210.0),
        (225.0, "left", 90.0, 270.0),
        (350.0, "back", 30.0, 0.0),
        (135.0, "right", 20.0, 115.0),
        (270.0, "right", 15.0, 255.0),  # both ways are equally long: by the front
        (180.0, "back", 0.0, 180.0),
    ],
)
def test_a_stem_turns_the_shorter_way_and_stops(
    bearing: float, side: Towards, by: float, after: float
) -> None:
    assert turned_deg(bearing, side, by) == pytest.approx(after)


@given(st.floats(0, 359.9), st.sampled_from(SIDES), st.floats(0, 180))
def test_a_turn_never_leads_away_from_its_side(bearing: float, side: Towards, by: float) -> None:
    aim = TOWARDS_DEG[side]
    after = turned_deg(bearing, side, by)
    assert apart(after, aim) == pytest.approx(max(0.0, apart(bearing, aim) - by), abs=1e-6)


@given(st.floats(-20, 30), st.floats(-5, 20), st.sampled_from(("front", "back")), st.floats(0, 40))
def test_the_other_side_is_the_mirror(
    lower: float, longer: float, side: Towards, by: float
) -> None:
    nudge = {"first": Nudge(lower, longer, side, by), "third": Nudge(-lower)}
    right, left = nudged(a_piece("right"), nudge), nudged(a_piece("left"), nudge)
    for one, other in zip(right.stems, left.stems, strict=True):
        assert (other.end.x_cm, other.end.y_cm, other.end.z_cm) == pytest.approx(
            (-one.end.x_cm, one.end.y_cm, one.end.z_cm), abs=1e-6
        )
        assert apart(other.bearing_deg, mirrored(one.bearing_deg)) == pytest.approx(0, abs=1e-6)


def feet(made: Piece) -> list[tuple[float, float]]:
    return [
        (stem.foot.x_cm - made.place.x_cm, stem.foot.y_cm - made.place.y_cm) for stem in made.stems
    ]


def test_stems_go_with_the_pin_holder() -> None:
    before = a_piece()
    after = nudged(before, {}, "back right")
    assert after.place.word == "back right"
    for one, other in zip(feet(before), feet(after), strict=True):
        assert other == pytest.approx(one)


def test_a_leaf_is_left_out_alone() -> None:
    after = nudged(a_piece(), {"leaf-1": Nudge(off=True)})
    assert [stem.id for stem in after.stems] == ["first", "second", "third", "leaf-2"]


def test_of_a_stem_something_must_stay() -> None:
    with pytest.raises(InputError) as trouble:
        nudged(a_piece(), {"third": Nudge(longer_cm=-19.0), "second": Nudge(longer_cm=-2.0)})
    assert [fault.field for fault in trouble.value.faults] == ["third.cut_by"]


def test_in_a_tall_vase_the_stem_leans_over_the_mouth_on_its_new_side() -> None:
    made = a_piece(shape="vase", width=10, high=24)
    after = nudged(made, {"first": Nudge(towards="left", turn_deg=45.0)}).stem("first")
    assert after.bearing_deg == pytest.approx(270.0)
    assert after.start.x_cm < 0
    assert after.start.y_cm == pytest.approx(0.0, abs=1e-9)
    assert after.foot.x_cm > after.start.x_cm
