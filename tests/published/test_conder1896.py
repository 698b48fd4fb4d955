"""Conder (1896-97): a composition is one and a half to twice as high as a standing vase."""

import pytest

from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel

RULE = packaged()["standing-vase"]


@pytest.mark.source("conder1896", "scan 0262: 1.5 to 2 × height; hand: 25 cm gives 37.5 to 50")
@pytest.mark.parametrize(("size", "least", "most"), [("small", 37.5, 37.5), ("usual", 37.5, 50.0)])
def test_every_size_lies_in_the_printed_range(size, least, most):
    first = piece(vessel("vase", 10, 25), RULE, "upright", size=size).stem("first")
    assert least - 0.5 <= first.above_water_cm <= most + 0.5


@pytest.mark.source("conder1896", "scan 0262: 1.5 to 2 × height; hand: large = 50")
def test_the_large_piece_is_twice_the_vase():
    first = piece(vessel("vase", 10, 25), RULE, "upright", size="large").stem("first")
    assert first.above_water_cm == pytest.approx(50.0, abs=0.5)


@pytest.mark.source("conder1896", "scan 0262: outside 1.5 to 2 × height is unusual")
def test_a_height_outside_the_printed_range_is_unusual():
    assert RULE.unusual(30 / 25)
    assert not RULE.unusual(45 / 25)
    assert RULE.unusual(55 / 25)
