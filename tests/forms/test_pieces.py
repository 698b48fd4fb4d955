"""What must hold for every piece: mirror, half turn, scale, and the rim."""

import math

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from nejime.basis.angles import from_the_other_side, mirrored
from nejime.basis.errors import InputError
from nejime.forms.holder import fits, holder
from nejime.forms.piece import piece
from nejime.forms.placing import mirrored_place
from nejime.forms.rules import packaged
from nejime.forms.shortfall import too_short, ways_out
from nejime.forms.supporting import MOST, with_supporting
from nejime.forms.tall import in_vase_cm
from nejime.forms.vessel import vessel

RULES = packaged()
TAUGHT = [
    (rule.name, form, kind, size)
    for rule in RULES.values()
    for (form, kind), taught in rule.forms.items()
    for size in taught.factor
]


OPENS = st.sampled_from(["right", "left"])


@st.composite
def pieces(draw):
    """A piece with supporting stems in a vessel of any shape that takes a holder."""
    name, form, kind, size = draw(st.sampled_from(TAUGHT))
    shape = (
        "vase"
        if kind == "tall"
        else draw(st.sampled_from(["round", "oval", "rectangle", "bowl", "footed"]))
    )
    width = draw(st.floats(7, 14) if kind == "tall" else st.floats(13, 60))
    height = draw(st.floats(18, 45) if kind == "tall" else st.floats(5, 14))
    depth = width if kind == "tall" else width * draw(st.floats(0.5, 1.0))
    made = vessel(shape, width, height, depth_cm=depth)
    try:
        planned = piece(made, RULES[name], form, size=size, opens=draw(OPENS))
    except InputError:  # no holder lies flat
        reject()
    return with_supporting(planned, helpers=2, hearts=1, leaves=3)


def _again(planned, **changes):
    asked = {"size": planned.size, "opens": planned.opens, "held": planned.holder} | changes
    made = asked.pop("vessel", planned.vessel)
    again = piece(made, planned.rule, planned.form.name, **asked)
    return with_supporting(again, helpers=2, hearts=1, leaves=3)


@given(pieces())
def test_opening_to_the_other_side_is_the_mirror_and_twice_is_nothing(planned):
    other = _again(planned, opens="left" if planned.opens == "right" else "right")
    assert other.place.word == mirrored_place(planned.place.word)
    for one, two in zip(planned.stems, other.stems, strict=True):
        assert two.bearing_deg == pytest.approx(mirrored(one.bearing_deg))
        assert two.length_cm == pytest.approx(one.length_cm)
        assert two.stands_deg == pytest.approx(one.stands_deg)
        assert two.end.x_cm == pytest.approx(-one.end.x_cm, abs=1e-9)
        assert two.end.y_cm == pytest.approx(one.end.y_cm, abs=1e-9)
    assert _again(other, opens=planned.opens) == planned


@given(pieces())
def test_the_teachers_side_is_a_half_turn(planned):
    for stem in planned.stems:
        turned = from_the_other_side(stem.bearing_deg)
        across, away = math.sin(math.radians(turned)), math.cos(math.radians(turned))
        step_x = stem.end.x_cm - stem.start.x_cm
        step_y = stem.end.y_cm - stem.start.y_cm
        assert stem.reach_cm * across == pytest.approx(-step_x, abs=1e-6)
        assert stem.reach_cm * away == pytest.approx(-step_y, abs=1e-6)


@given(st.sampled_from(TAUGHT), st.floats(20, 40), st.floats(1.0, 1.5))
def test_lengths_grow_with_the_vessel(taught, width, factor):
    name, form, kind, size = taught
    shape = "vase" if kind == "tall" else "round"
    width, height = (width / 3, width) if kind == "tall" else (width, width / 5)
    one, other = (
        piece(vessel(shape, width * by, height * by), RULES[name], form, size=size)
        for by in (1.0, factor)
    )
    for small, large in zip(one.main, other.main, strict=True):
        grown = large.length_cm / small.length_cm
        if RULES[name].measures == "length":
            assert grown == pytest.approx(factor)
        else:  # a height over the water, but the pins do not grow
            assert grown == pytest.approx(factor, rel=0.1)


@given(pieces())
def test_every_stem_clears_the_rim_or_hangs_over_a_mouth(planned):
    for stem in planned.stems:
        assert stem.stands_deg <= stem.tilt_deg + 1e-9
        if planned.holder is None:
            continue
        way = planned.vessel.to_rim_cm(stem.start.x_cm, stem.start.y_cm, stem.bearing_deg)
        at_rim = stem.start.z_cm + way / max(math.tan(math.radians(stem.stands_deg)), 1e-9)
        assert at_rim > planned.vessel.height_cm


@given(pieces())
def test_the_holder_lies_on_the_floor_inside_the_vessel(planned):
    if planned.holder is None:
        return
    assert fits(planned.holder, planned.vessel)
    half_x = planned.vessel.floor_width_cm / 2
    half_y = planned.vessel.floor_depth_cm / 2
    for angle in range(0, 360, 15):
        x = planned.place.x_cm + planned.holder.width_cm / 2 * math.cos(math.radians(angle))
        y = planned.place.y_cm + planned.holder.depth_cm / 2 * math.sin(math.radians(angle))
        if planned.vessel.round_plan:
            assert (x / half_x) ** 2 + (y / half_y) ** 2 <= 1.0 + 1e-9
        else:
            assert abs(x) <= half_x
            assert abs(y) <= half_y


@given(pieces())
def test_feet_in_a_vase_are_inside_it(planned):
    if planned.holder is not None:
        return
    for stem in planned.stems:
        assert planned.vessel.base_cm - 1e-6 <= stem.foot.z_cm <= planned.vessel.height_cm
        assert math.hypot(stem.foot.x_cm, stem.foot.y_cm) <= planned.vessel.width_cm / 2 + 1e-6
        assert stem.cut_cm >= stem.length_cm


@given(pieces())
def test_a_longer_lean_of_the_rim_never_lowers_a_stem(planned):
    if planned.holder is None or planned.vessel.shape == "footed":
        return
    higher = vessel(
        planned.vessel.shape,
        planned.vessel.width_cm,
        planned.vessel.height_cm + 2,
        depth_cm=planned.vessel.depth_cm,
    )
    taller = _again(planned, vessel=higher)
    for one, two in zip(planned.main, taller.main, strict=True):
        assert two.stands_deg <= one.stands_deg + 1e-9


@given(pieces(), st.floats(0.4, 0.9))
def test_every_way_out_uses_the_branch_that_there_is(planned, share):
    have = planned.stem("first").cut_cm * share
    assert too_short(planned, "first", have)
    small = (vessel("round", 16, 4, name="small dish"), None)
    for way in ways_out(planned, "first", have, [small]):
        assert not too_short(way.piece, "first", have)
        assert way.piece.stem("first").height_cm < planned.stem("first").height_cm + 1e-6 or (
            planned.stem("first").stands_deg > 90
        )


@pytest.mark.source("practice", "helper stems are shorter than the main stem that they follow")
@given(pieces())
def test_supporting_stems_are_shorter_than_whom_they_follow(planned):
    for stem in planned.stems:
        if stem.role == "helper":
            assert stem.length_cm < planned.stem(stem.leader).length_cm


def test_there_are_never_more_supporting_stems_than_places():
    planned = piece(vessel("round", 30, 6), RULES["width-plus-height"], "upright")
    many = with_supporting(planned, helpers=99, hearts=99, leaves=99)
    assert len(many.stems) == 3 + sum(MOST.values())
    assert len({stem.id for stem in many.stems}) == len(many.stems)


@pytest.mark.source("practice", "a 9 cm holder weighs 0.8 to 1 kg")
def test_a_nine_centimetre_holder_weighs_about_what_the_trade_says():
    assert 800 <= holder(9).mass.g <= 1000


@pytest.mark.source(
    "hand", "mouth 6, body 16, stem 1: reach 3 + 8 − 1 = 10; at 30° it rests 10/tan 30 = 17.3 down"
)
def test_a_stem_goes_further_in_a_body_wider_than_the_mouth():
    vase = vessel("vase", 6, 40, body_cm=16)
    assert in_vase_cm(vase, 30, 225) == pytest.approx(10 / math.sin(math.radians(30)), abs=1e-6)


@pytest.mark.source(
    "hand", "cylinder, mouth 10, stem 1: 9/sin 45 = 12.7; at 10° the floor comes first"
)
def test_a_stem_in_a_cylinder_rests_on_the_wall_or_on_the_floor():
    vase = vessel("vase", 10, 25)
    assert in_vase_cm(vase, 45, 225) == pytest.approx(9 / math.sin(math.radians(45)), abs=1e-6)
    assert in_vase_cm(vase, 10, 225) == pytest.approx(vase.inside_cm / math.cos(math.radians(10)))


@pytest.mark.source("practice", "fuller third: 3/4 of the second; hand: small piece 36, 27, 20.3")
def test_a_smaller_piece_keeps_what_was_asked_of_the_larger_one():
    large = piece(vessel("round", 30, 6), RULES["width-plus-height"], "upright", size="large")
    asked = piece(
        vessel("round", 30, 6),
        RULES["width-plus-height"],
        "upright",
        size="large",
        fuller_third=True,
    )
    ways = ways_out(with_supporting(asked, helpers=1, leaves=2), "first", 55)
    assert {len(way.piece.stems) for way in ways} == {6}
    smaller = next(way.piece for way in ways if way.kind == "smaller piece")
    assert smaller.stem("third").length_cm == pytest.approx(30.4, abs=0.5)
    plain = next(way.piece for way in ways_out(large, "first", 55) if way.kind == "smaller piece")
    assert plain.stem("third").length_cm == pytest.approx(20.3, abs=0.5)
