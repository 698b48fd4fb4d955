"""A piece moved by hand: what was set comes back in its vessel, and goes into any other."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.forms.arranged import (
    Design,
    SetStem,
    aimed,
    arranged,
    holder_to,
    moved_to,
    next_id,
)
from nejime.forms.rules import packaged
from nejime.forms.vessel import Vessel, vessel

RULE = packaged()["width-plus-height"]
DISH = vessel("round", 30, 6)
lengths = st.floats(8, 100)
leans = st.floats(0, 60)
directions = st.floats(0, 359.9)
vessels = st.builds(
    lambda width, height: vessel("round", width, height), st.floats(22, 45), st.floats(4, 9)
)


def moved(made: Vessel, length: float, lean: float, direction: float, opens: str) -> Design:
    design = replace(Design(), opens=opens)
    planned = aimed(design, made, None, RULE)
    return moved_to(
        design, planned, "second", length_cm=length, tilt_deg=lean, bearing_deg=direction
    )


@pytest.mark.source("own", "a design without changes is the form itself")
def test_what_nobody_moved_is_as_the_form_has_it() -> None:
    assert arranged(Design(), DISH, None, RULE).stems == aimed(Design(), DISH, None, RULE).stems


@pytest.mark.source(
    "hand", "what is set is what stands, as far as the rim and the rule's limits let"
)
@given(lengths, leans, directions, st.sampled_from(["right", "left"]))
def test_a_stem_stands_as_it_was_set(
    length: float, lean: float, direction: float, opens: str
) -> None:
    stem = arranged(moved(DISH, length, lean, direction, opens), DISH, None, RULE).stem("second")
    assert stem.length_cm == pytest.approx(length)
    assert stem.tilt_deg == pytest.approx(lean)
    assert math.cos(math.radians(stem.bearing_deg - direction)) == pytest.approx(1.0)
    assert stem.stands_deg <= stem.tilt_deg + 1e-9


@pytest.mark.source("hand", "mirror: x changes its sign, y and z stay")
@given(lengths, leans, directions)
def test_the_piece_that_opens_to_the_left_is_the_mirror(
    length: float, lean: float, direction: float
) -> None:
    right = moved(DISH, length, lean, direction, "right")
    one = arranged(right, DISH, None, RULE).stem("second").end
    other = arranged(replace(right, opens="left"), DISH, None, RULE).stem("second").end
    assert (one.x_cm, one.y_cm, one.z_cm) == pytest.approx((-other.x_cm, other.y_cm, other.z_cm))


@pytest.mark.source("hand", "lengths in proportion: length over the first stem is the same")
@given(vessels, lengths, leans, directions)
def test_in_another_vessel_the_lengths_keep_their_proportion(
    other: Vessel, length: float, lean: float, direction: float
) -> None:
    design = moved(DISH, length, lean, direction, "right")
    shares = []
    for made in (DISH, other):
        piece = arranged(design, made, None, RULE)
        shares.append(piece.stem("second").length_cm / piece.stem("first").length_cm)
    assert shares[0] == pytest.approx(shares[1])


@pytest.mark.source("hand", "a foot is on the pins: within half the holder's measure of its middle")
@given(st.floats(-60, 60), st.floats(-60, 60))
def test_a_foot_never_leaves_the_pins(x: float, y: float) -> None:
    planned = aimed(Design(), DISH, None, RULE)
    piece = arranged(moved_to(Design(), planned, "third", foot_cm=(x, y)), DISH, None, RULE)
    assert piece.holder is not None
    start = piece.stem("third").start
    way = math.dist((start.x_cm, start.y_cm), (piece.place.x_cm, piece.place.y_cm))
    assert way <= piece.holder.width_cm / 2 + 1e-9


@pytest.mark.source("hand", "the pin holder lies inside the floor, wherever it is pushed")
@given(st.floats(-90, 90), st.floats(-90, 90), vessels)
def test_the_pin_holder_stays_on_the_floor(x: float, y: float, made: Vessel) -> None:
    design = holder_to(Design(), aimed(Design(), made, None, RULE), x, y)
    piece = arranged(design, made, None, RULE)
    assert piece.holder is not None
    far = math.hypot(piece.place.x_cm, piece.place.y_cm) + piece.holder.width_cm / 2
    assert far <= made.floor_width_cm / 2 + 1e-6


@pytest.mark.source("own", "ids count up, and never twice")
def test_one_more_stem_gets_a_name_of_its_own() -> None:
    design = replace(Design(), stems=(*Design().stems, SetStem("leaf-1", "leaf")))
    assert next_id(design, "leaf") == "leaf-2"
    assert next_id(design, "helper") == "sub-1"


def test_a_piece_in_a_tall_vase_takes_its_changes() -> None:
    vase = vessel("vase", 11, 26)
    planned = aimed(Design(form="slanting"), vase, None, RULE)
    design = moved_to(Design(form="slanting"), planned, "first", tilt_deg=30, length_cm=50)
    stem = arranged(design, vase, None, RULE).stem("first")
    assert stem.tilt_deg == 30
    assert stem.cut_cm > 50
