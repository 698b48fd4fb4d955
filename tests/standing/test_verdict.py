"""The three words: thresholds, direction, symmetry, and what is said with them."""

from __future__ import annotations

import math
import string
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.angles import apart, from_the_other_side, mirrored
from nejime.basis.errors import InputError
from nejime.basis.sayings import Words, texts
from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.placing import Place
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece, Stem
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.standing.draws import SAMPLES, column
from nejime.standing.levels import holder_foot, tippings, vessel_foot
from nejime.standing.loads import loads
from nejime.standing.masses import Body
from nejime.standing.tipping import Ellipse, Polygon, Tipping
from nejime.standing.verdict import Verdict, _word, judge

RULE = packaged()["width-plus-height"]
DISH = vessel("round", 30, 6)
BODIES = {
    "first": Body("leafy-branch", 8),
    "second": Body("leafy-branch", 7),
    "third": Body("firm-stem", 6, 15),
}


def slanting(holder_cm: float = 7.0, **changes: object) -> Piece:
    return piece(DISH, RULE, "slanting", held=holder(holder_cm), **changes)


def with_weight(first_g: float) -> dict[str, Body]:
    return BODIES | {"first": Body("leafy-branch", 8, weighed_g=first_g)}


# The table of draws.


@pytest.mark.source(
    "hand", "a standard normal column: mean 0, deviation 1, nine in ten below 1.2816"
)
def test_the_draws_are_standard_normal_and_fixed() -> None:
    one = column(17)
    assert len(one) == SAMPLES
    assert float(np.mean(one)) == pytest.approx(0.0, abs=1e-9)
    assert float(np.std(one)) == pytest.approx(1.0, abs=0.01)
    assert float(np.quantile(one, 0.9)) == pytest.approx(1.2816, abs=0.02)
    assert column(17) is one
    assert not np.array_equal(one, column(18))
    assert abs(float(np.corrcoef(one, column(18))[0, 1])) < 0.15


def test_the_same_piece_gets_the_same_verdict() -> None:
    assert judge(slanting(), BODIES) == judge(slanting(), BODIES)


# The words.


def flat(factor: float, *, margin_cm: float = 2.0, nudge_g: float = 30.0) -> Tipping:
    same = np.ones(SAMPLES)
    return Tipping(factor * same, 0.0 * same, margin_cm * same, nudge_g * same)


@pytest.mark.source("own", "stands: 95 in 100, nine in ten at 1.2, 10 g at the top; falls under 20")
@pytest.mark.parametrize(
    ("tip", "word", "cause"),
    [
        (flat(1.25), "stands", ""),
        (flat(1.15), "try-first", "chance"),
        (flat(0.8, margin_cm=-1.0, nudge_g=0.0), "falls", "chance"),
        (flat(2.0, nudge_g=9.0), "try-first", "nudge"),
        (flat(2.0, margin_cm=0.19), "try-first", "edge"),
        (flat(0.8, margin_cm=-0.19), "try-first", "edge"),
        (flat(math.inf), "stands", ""),
    ],
)
def test_the_words_follow_the_stated_limits(tip: Tipping, word: str, cause: str) -> None:
    assert _word(tip) == (word, cause)


@pytest.mark.parametrize(("standing_of_400", "word"), [(79, "falls"), (80, "try-first")])
def test_fewer_than_one_in_five_is_a_fall(standing_of_400: int, word: str) -> None:
    factor = np.where(np.arange(SAMPLES) < standing_of_400, 3.0, 0.5)
    assert _word(replace(flat(1.0), factor=factor))[0] == word


def test_a_light_piece_on_a_large_holder_stands_and_a_heavy_one_on_a_small_falls() -> None:
    good = judge(slanting(9), with_weight(15))
    assert good.word == "stands"
    assert good.chance > 0.99
    bad = judge(slanting(5), with_weight(250))
    assert bad.word == "falls"
    assert bad.level == "holder"
    assert bad.margin_cm < 0
    assert bad.nudge_g == 0
    # It leans to the front left, and so it falls.
    assert apart(bad.bearing_deg, slanting().stem("first").bearing_deg) < 30
    assert Words().say(bad.reason) == "Will fall: the pin holder tips towards the front left."


LIGHT = vessel("bowl", 24, 9, mass_g=150, foot_width_cm=6, floor_width_cm=12, ware="plastic")
"""A light bowl on a narrow foot: it tips before a heavy pin holder in it does."""


def in_light_bowl(water_cm: float) -> Piece:
    return piece(LIGHT, RULE, "slanting", held=holder(10, mass_g=1000), water_cm=water_cm)


def with_bough(first_g: float) -> dict[str, Body]:
    return BODIES | {"first": Body("leafy-branch", 14, weighed_g=first_g)}


def test_a_heavy_branch_in_a_light_narrow_footed_bowl_tips_the_bowl() -> None:
    found = judge(in_light_bowl(2.8), with_bough(450))
    assert found.word == "falls"
    assert found.level == "vessel"
    assert Words().say(found.reason) == "Will fall: the bowl tips towards the front left."


def test_a_tall_vase_has_one_level() -> None:
    planned = piece(vessel("vase", 9, 28, ware="glass", mass_g=300), RULE, "slanting")
    found = judge(planned, with_bough(1200))
    assert [each.level for each in found.levels] == ["vessel"]
    assert found.word == "falls"
    # Its two longest stems lean to the left.
    assert Words().say(found.reason) == "Will fall: the vase tips towards the left."


def test_a_limp_flower_is_tried_first_at_best() -> None:
    limp = BODIES | {"first": Body("soft-stem", 4, 20)}
    found = judge(slanting(12), limp)
    assert found.word == "try-first"
    assert found.level == "stem"
    assert found.reason.key == "standing.try-limp"


def test_a_piece_without_stems_cannot_be_judged() -> None:
    with pytest.raises(InputError):
        judge(replace(slanting(), stems=()), {})


# Level by level, by hand.


@pytest.mark.source("own", "a holder tips 1.5 mm inside its edge; a vessel over its foot")
def test_what_tips_over_what() -> None:
    assert holder_foot(holder(7)) == Ellipse(3.35, 3.35)
    assert holder_foot(holder(9, 6)) == Polygon(
        ((-4.35, -2.85), (4.35, -2.85), (4.35, 2.85), (-4.35, 2.85))
    )
    assert vessel_foot(vessel("round", 30, 6, foot_width_cm=20)) == Ellipse(10, 10)
    oblong = vessel_foot(vessel("rectangle", 45, 5, depth_cm=13, foot_width_cm=40))
    assert isinstance(oblong, Polygon)
    assert max(x for x, _ in oblong.corners_cm) == pytest.approx(20)


@pytest.mark.source("hand", "m·0.8947·R / (|Σ g·r| − R·Σ g) at the holder, for each draw")
def test_the_holder_level_is_the_closed_form() -> None:
    planned = slanting(7)
    found = loads(planned, BODIES, drawn=True)
    tip = tippings(planned, found, (), planned.water_cm)["holder"]
    middle = np.array([planned.place.x_cm, planned.place.y_cm])
    moment = np.sum(found.g[..., None] * (found.place_cm - middle), axis=1)
    held = planned.holder
    assert held is not None
    mass = held.mass.g * np.exp(0.15 * column(0)) * (1 - 1 / 9.5)
    by_hand = mass * 3.35 / (np.hypot(*moment.T) - 3.35 * found.g.sum(axis=1))
    assert tip.factor == pytest.approx(by_hand)


# Properties.


def other_side(planned: Piece) -> Piece:
    """The piece mirrored left to right, stem by stem."""

    def turned(stem: Stem) -> Stem:
        flip = {"x_cm": -stem.start.x_cm}
        return replace(
            stem,
            bearing_deg=mirrored(stem.bearing_deg),
            start=stem.start._replace(**flip),
            foot=stem.foot._replace(x_cm=-stem.foot.x_cm),
        )

    place = Place("", "", -planned.place.x_cm, planned.place.y_cm)
    return replace(planned, place=place, stems=tuple(map(turned, planned.stems)))


def half_turned(planned: Piece) -> Piece:
    def turned(stem: Stem) -> Stem:
        return replace(
            stem,
            bearing_deg=from_the_other_side(stem.bearing_deg),
            start=stem.start._replace(x_cm=-stem.start.x_cm, y_cm=-stem.start.y_cm),
            foot=stem.foot._replace(x_cm=-stem.foot.x_cm, y_cm=-stem.foot.y_cm),
        )

    place = Place("", "", -planned.place.x_cm, -planned.place.y_cm)
    return replace(planned, place=place, stems=tuple(map(turned, planned.stems)))


def alike(one: Verdict, other: Verdict) -> None:
    assert (one.word, one.level, one.chance) == (other.word, other.level, other.chance)
    assert one.load_factor == pytest.approx(other.load_factor)
    assert one.margin_cm == pytest.approx(other.margin_cm)


@settings(max_examples=15, deadline=None)
@given(st.sampled_from([5.0, 6.0, 7.0, 9.0]), st.floats(10, 200))
def test_mirrored_or_turned_it_gets_the_same_word(size: float, first_g: float) -> None:
    planned, known = slanting(size), with_weight(first_g)
    one = judge(planned, known, remarks=False)
    flipped = judge(other_side(planned), known, remarks=False)
    alike(one, flipped)
    assert apart(flipped.bearing_deg, mirrored(one.bearing_deg)) < 1e-6
    turned = judge(half_turned(planned), known, remarks=False)
    alike(one, turned)
    assert apart(turned.bearing_deg, from_the_other_side(one.bearing_deg)) < 1e-6


@settings(max_examples=15, deadline=None)
@given(st.floats(10, 200), st.floats(1.05, 2.0))
def test_a_heavier_leaning_branch_never_stands_better(first_g: float, more: float) -> None:
    one = judge(slanting(), with_bough(first_g), remarks=False)
    other = judge(slanting(), with_bough(first_g * more), remarks=False)
    if apart(one.bearing_deg, slanting().stem("first").bearing_deg) < 60:
        assert other.load_factor.median <= one.load_factor.median + 1e-9
        assert other.chance <= one.chance


def test_more_stems_change_nothing_in_the_draws_of_the_others() -> None:
    planned = slanting()
    full = with_supporting(planned, helpers=3, hearts=2, leaves=3)
    alone, together = loads(planned, BODIES, drawn=True), loads(full, BODIES, drawn=True)
    assert together.g[:, :3] == pytest.approx(alone.g)
    one, other = judge(planned, BODIES).stems[0], judge(full, BODIES).stems[0]
    assert other.reach_cm == pytest.approx(one.reach_cm)
    assert other.foot_tilt_deg == pytest.approx(one.foot_tilt_deg)


# What is said.


def keys(found: Verdict) -> set[str]:
    return {said.key for said in found.remarks}


def test_where_one_branch_decides_it_is_to_be_weighed() -> None:
    known = {stem: replace(body, weighed_g=15.0) for stem, body in BODIES.items()}
    unsure = known | {"first": Body("leafy-branch", 12)}
    planned = piece(DISH, RULE, "slanting", held=holder(6, mass_g=330))
    found = judge(planned, unsure)
    assert found.word == "try-first"
    assert found.weigh_the_branch
    assert found.weigh == "first"
    assert "Weigh the first stem: its weight decides." in [
        Words().say(said) for said in found.remarks
    ]
    # Once weighed it is not asked for again, and the word is settled one way or the other.
    light, heavy = (
        judge(planned, known | {"first": Body("leafy-branch", 12, weighed_g=g)})
        for g in (15.0, 150.0)
    )
    assert light.word == "stands"
    assert heavy.word == "falls"
    assert not light.weigh_the_branch
    assert not heavy.weigh_the_branch


def test_a_certain_verdict_asks_for_no_scale() -> None:
    assert judge(slanting(9), with_weight(15)).weigh is None


def test_a_soft_stem_that_turns_on_the_pins_is_a_remark_and_no_verdict() -> None:
    soft = BODIES | {"third": Body("soft-stem", 5, 40)}
    found = judge(slanting(10), soft)
    assert found.word == "stands"
    assert "standing.turns-on-pins" in keys(found)
    assert "standing.turns-on-pins" not in keys(judge(slanting(10), BODIES))


def test_a_thick_branch_is_to_be_split() -> None:
    assert "standing.split-foot" in keys(
        judge(slanting(), BODIES | {"first": Body("bare-branch", 13)})
    )


def test_a_bowl_that_only_its_water_holds_is_to_be_topped_up() -> None:
    full, low = (judge(in_light_bowl(level), with_bough(250)) for level in (8.0, 2.2))
    assert full.word == "stands"
    assert low.word != "stands"
    assert "standing.top-up-bowl" in keys(full)
    assert "standing.top-up-bowl" not in keys(low)
    assert "standing.top-up-bowl" not in keys(judge(in_light_bowl(8.0), with_bough(50)))


def test_stems_held_without_pins_are_to_be_shaken() -> None:
    found = judge(replace(slanting(), holder=None), BODIES)
    assert [each.level for each in found.levels] == ["vessel"]
    assert "standing.not-computed" in keys(found)


def test_what_was_assumed_is_said() -> None:
    assert "standing.assumed-all" in keys(judge(slanting(), {}))
    assert "standing.assumed" in keys(judge(slanting(), {"first": BODIES["first"]}))
    assert not {"standing.assumed", "standing.assumed-all"} & keys(judge(slanting(), BODIES))


@settings(max_examples=20, deadline=None)
@given(
    st.sampled_from(["round", "bowl", "vase", "rectangle", "footed"]),
    st.floats(14, 40),
    st.floats(5, 30),
    st.sampled_from(["upright", "slanting"]),
    st.sampled_from(["bare-branch", "leafy-branch", "soft-stem"]),
    st.floats(3, 18),
)
def test_whatever_is_said_can_be_said(
    shape: str, width: float, height: float, form: str, kind: str, thick: float
) -> None:
    if shape == "vase":
        width, height = width / 3, height + 10
    try:
        planned = piece(vessel(shape, width, height), RULE, form)
    except InputError:
        return
    found = judge(planned, {"first": Body(kind, thick), "second": Body(kind, thick, 10)})
    assert 0 <= found.chance <= 1
    assert found.load_factor.low <= found.load_factor.median <= found.load_factor.high
    for said in (found.reason, *found.remarks):
        assert Words().say(said)


def test_no_sentence_speaks_of_the_reckoning() -> None:
    mine = {key: text for key, text in texts().items() if key.startswith("standing.")}
    assert mine
    for text in mine.values():
        assert not {"factor", "probability", "monte", "percent"} & set(
            text.lower().translate(str.maketrans("", "", string.punctuation)).split()
        )
