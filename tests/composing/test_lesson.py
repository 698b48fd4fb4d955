"""What a lesson teaches raises nothing: its forms, and its simple places for all other stems."""

from __future__ import annotations

import pytest
from composing.making import RULES

from nejime.composing.checks import findings
from nejime.composing.setting import setting
from nejime.forms.piece import piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel

DEFAULT = RULES["width-plus-height"]
DISH_FORMS = sorted({form for form, kind in DEFAULT.forms if kind == "shallow"})
COUNTS = [(0, 0, 3), (1, 1, 3), (2, 1, 3), (3, 1, 3), (3, 2, 4), (4, 2, 3), (5, 2, 4), (6, 3, 5)]
NOTHING = "a textbook first lesson in a dish of 30 by 6 cm raises no finding"


@pytest.mark.source("practice", NOTHING)
@pytest.mark.parametrize("opens", ["right", "left"])
@pytest.mark.parametrize("size", ["small", "usual", "large"])
@pytest.mark.parametrize("form", DISH_FORMS)
def test_a_lesson_piece_raises_no_finding(form, size, opens):
    bare = piece(vessel("round", 30, 6), DEFAULT, form, size=size, opens=opens)
    for helpers, hearts, leaves in COUNTS:
        full = with_supporting(bare, helpers=helpers, hearts=hearts, leaves=leaves)
        found = findings(setting(full))
        assert not found, (helpers, hearts, leaves, found)


@pytest.mark.source("practice", NOTHING)
@pytest.mark.parametrize("form", DISH_FORMS)
def test_three_stems_alone_are_reminded_of_their_pins_only(form):
    bare = piece(vessel("round", 30, 6), DEFAULT, form)
    assert [each.code for each in findings(setting(bare))] == ["holder-bare"]


@pytest.mark.source("practice", "the forms of a tall vase, as taught")
@pytest.mark.parametrize("form", ["upright", "slanting", "hanging"])
def test_three_stems_in_a_tall_vase_raise_nothing(form):
    bare = piece(vessel("vase", 10, 25), DEFAULT, form)
    assert not findings(setting(bare))
