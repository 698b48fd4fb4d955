"""Directions in the house frame, and what a picture from the front shows of them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis import angles

TILTS, BEARINGS = st.floats(1, 179), st.floats(0, 359.99)


@given(TILTS, BEARINGS)
def test_tilt_and_bearing_come_back(tilt, bearing):
    back_tilt, back_bearing = angles.tilt_and_bearing(*angles.line(tilt, bearing))
    assert back_tilt == pytest.approx(tilt, abs=1e-6)
    assert angles.apart(back_bearing, bearing) == pytest.approx(0, abs=1e-6)


@pytest.mark.source(
    "hand", "front picture: atan(tan 45 · sin 45) = 35.3; √(1 − sin² 45 · cos² 45) = 0.866"
)
@pytest.mark.parametrize(
    ("tilt", "bearing", "apparent", "share"),
    [(45, 225, 35.3, 0.866), (75, 135, 69.2, 0.730), (15, 225, 10.7, 0.983)],
)
def test_a_stem_as_the_viewer_sees_it(tilt, bearing, apparent, share):
    x, _, z = angles.line(tilt, bearing)
    assert math.degrees(math.atan2(abs(x), z)) == pytest.approx(apparent, abs=0.1)
    assert math.hypot(x, z) == pytest.approx(share, abs=0.001)


@pytest.mark.parametrize(
    ("bearing", "word"),
    [
        (0, "away"),
        (90, "right"),
        (135, "front-right"),
        (180, "front"),
        (225, "front-left"),
        (350, "away"),
    ],
)
def test_words_for_directions(bearing, word):
    assert angles.compass_word(bearing) == word


@given(BEARINGS)
def test_a_mirror_and_a_half_turn_undo_themselves(bearing):
    for turned in (angles.mirrored, angles.from_the_other_side):
        assert angles.apart(turned(turned(bearing)), bearing) == pytest.approx(0, abs=1e-9)
