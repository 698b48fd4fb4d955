"""The steps: in the order in which things are done, the new dark, what stands light."""

import pytest
from drawings.reading_svg import SVG, lines, tree

from nejime.basis.sayings import Words
from nejime.drawings.material import FAINT
from nejime.drawings.scene import scene
from nejime.drawings.steps import rim_distances, steps
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel

RULE = packaged()["width-plus-height"]
BARE = piece(vessel("round", 30, 6), RULE, "upright")
FULL = with_supporting(BARE, helpers=2, hearts=1, leaves=3)


def test_each_thing_has_its_step():
    made = steps(FULL, None, Words())
    assert [step.id for step in made] == [
        "holder",
        "first",
        "second",
        "third",
        "helper",
        "heart",
        "leaf",
    ]
    assert made[4].stems == ("sub-1", "sub-2")
    assert all(Words().say(step.says) for step in made)


def test_a_tall_vase_has_no_pin_holder_to_lay():
    vase = piece(vessel("vase", 10, 25), RULE, "upright")
    assert [step.id for step in steps(vase, None, Words())] == ["first", "second", "third"]


def test_only_what_is_new_is_named_and_what_stands_is_light():
    _, first, second, *_ = steps(FULL, None, Words())
    assert FAINT not in first.svg
    assert FAINT in second.svg
    assert [text for text, _ in lines(second.svg)] == ["45°", "second · soe 副", "41 cm"]


def test_all_steps_show_the_vessel_in_the_same_place():
    _, *stems = steps(FULL, None, Words())
    rims = {next(tree(step.svg).iter(f"{SVG}path")).attrib["d"] for step in stems}
    assert len(rims) == 1


@pytest.mark.source(
    "hand",
    "8 cm holder, middle at (x, y) in a rim of radius 15: its left edge at x - 4; from there the "
    "rim is sqrt(225 - y²) + x - 4 away",
)
def test_the_holders_distance_from_the_rim():
    x, y = BARE.place.x_cm, BARE.place.y_cm
    assert BARE.holder.width_cm == 8.0
    (_, _, side, _), (_, _, front, _) = rim_distances(scene(BARE))
    assert side == pytest.approx((225 - y * y) ** 0.5 + x - 4)
    assert front == pytest.approx((225 - x * x) ** 0.5 + y - 4)
