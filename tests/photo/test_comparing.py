"""A piece beside its plan: what is said of single stems, and what of the whole piece once."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from photo.made_up import camera, made_stem, measured, only_leans, plan, unsure

from nejime.basis.angles import mirrored
from nejime.photo.comparing import compared, mirrored_plan, opens_otherwise
from nejime.photo.depth import depth
from nejime.photo.differences import pairs
from nejime.photo.in_common import best_turn_deg, distance
from nejime.photo.upright import in_picture_deg


def test_a_piece_as_planned_has_nothing_to_change() -> None:
    found = compared(measured(plan()), plan())
    assert found.changes == ()
    whole = (found.mirrored, found.turn, found.scale, found.holder_cm)
    assert whole == (False, None, None, None)
    assert all(each.near for each in found.stems)
    assert found.uneven_as_meant
    assert found.depth is not None
    assert found.depth.near


@pytest.mark.source(
    "hand",
    "the second stem is 40.5 cm at 45°; 14° too upright its end is 2·40.5·sin 7° = 9.87 cm away",
)
def test_one_stem_too_upright_is_told_with_what_it_moves() -> None:
    found = compared(measured(plan(), {"second": {"lean": -14.0}}), plan())
    [change] = found.changes
    assert (change.kind, change.stem) == ("lean", "second")
    assert change.effect_cm == pytest.approx(9.87, abs=0.005)


@settings(max_examples=60, deadline=None)
@given(st.floats(-30, 30), st.floats(-60, 60), st.floats(0.6, 1.4))
@pytest.mark.source("hand", "the parts squared add up to the squared distance of the two ends")
def test_the_effects_add_up_to_the_distance_of_the_end(
    lean: float, turn: float, share: float
) -> None:
    planned = plan()
    aim = planned.stem("second")
    made = made_stem(aim, lean=lean, turn=turn, share=share)
    assert made.line is not None
    [stem] = compared(replace(measured(planned), stems=(made,)), planned).stems
    if stem.direction is None or stem.away_cm is None:
        return
    assert stem.away_cm == pytest.approx(math.dist(made.line.end_cm, aim.end), abs=1e-6)


def test_what_the_interval_does_not_allow_is_not_said() -> None:
    made = measured(plan(), {"second": {"lean": -14.0}})
    found = compared(unsure(made, "second", 15.0), plan())
    assert found.changes == ()
    second = next(each for each in found.stems if each.id == "second")
    assert second.lean is not None
    assert not second.lean.near


@pytest.mark.source("practice", "a lesson allows 10° of lean and 5 % of length either way")
@pytest.mark.parametrize(("lean", "share"), [(8.0, 1.0), (-8.0, 1.0), (0.0, 1.03), (0.0, 0.97)])
def test_what_a_lesson_allows_is_no_change(lean: float, share: float) -> None:
    found = compared(measured(plan(), {"second": {"lean": lean, "share": share}}), plan())
    assert found.changes == ()


@pytest.mark.source("practice", "nobody cuts a centimetre off a stem of a hand's length")
def test_a_centimetre_is_not_worth_a_word() -> None:
    planned = plan()
    share = 1.0 + 1.2 / planned.stem("third").length_cm
    made = measured(planned, {"third": {"share": share, "half_cm": 0.2}})
    assert compared(made, planned).changes == ()


def test_the_largest_effect_comes_first() -> None:
    told = {"first": {"share": 1.1}, "second": {"lean": -25.0}, "third": {"share": 1.2}}
    found = compared(measured(plan(), told), plan())
    effects = [each.effect_cm for each in found.changes]
    assert len(effects) == 3
    assert effects == sorted(effects, reverse=True)


@settings(max_examples=40, deadline=None)
@given(st.one_of(st.floats(20, 160), st.floats(-160, -20)))
def test_a_turned_bowl_is_one_change(turn: float) -> None:
    found = compared(measured(plan(), {"all": {"turn": turn}}), plan())
    assert found.turn is not None
    assert found.turn.by_deg == pytest.approx(turn, abs=1e-6)
    assert found.changes == ()
    assert not found.mirrored


def test_a_turned_bowl_keeps_what_else_is_wrong() -> None:
    told = {"all": {"turn": 25.0}, "second": {"lean": -14.0}}
    found = compared(measured(plan(), told), plan())
    assert found.turn is not None
    assert [(each.kind, each.stem) for each in found.changes] == [("lean", "second")]


def test_one_turned_stem_is_no_turned_bowl() -> None:
    found = compared(measured(plan(), {"third": {"turn": 40.0}}), plan())
    assert found.turn is None
    assert [(each.kind, each.stem) for each in found.changes] == [("direction", "third")]


@settings(max_examples=30, deadline=None)
@given(st.floats(-170, 170))
@pytest.mark.source("virtanen2020", "scipy.optimize.minimize_scalar over the same distances")
def test_the_best_turn_is_the_best(turn: float) -> None:
    from scipy.optimize import minimize_scalar

    told = {"all": {"turn": turn}, "third": {"turn": turn + 11.0, "lean": 6.0}}
    known = pairs(measured(plan(), told), plan())
    best = best_turn_deg(known)
    near = minimize_scalar(
        lambda each: distance(known, each), bounds=(best - 30, best + 30), method="bounded"
    )
    assert distance(known, best) <= near.fun + 1e-6


@pytest.mark.parametrize("opens", ["right", "left"])
def test_a_piece_that_opens_to_the_other_side_is_compared_with_the_mirror(opens: str) -> None:
    planned = plan(opens)  # type: ignore[arg-type]
    other = plan("left" if opens == "right" else "right")
    found = compared(measured(other, {"second": {"lean": -14.0}}), planned)
    assert found.mirrored
    assert [(each.kind, each.stem) for each in found.changes] == [("lean", "second")]


def test_a_plan_is_not_its_own_mirror() -> None:
    assert not opens_otherwise(measured(plan()), plan())


def test_the_mirrored_plan_is_what_the_form_gives_on_the_other_side() -> None:
    ours, forms = mirrored_plan(plan("right")), plan("left")
    for one, other in zip(ours.stems, forms.stems, strict=True):
        assert one.bearing_deg == pytest.approx(other.bearing_deg)
        assert one.start == pytest.approx(other.start)
        assert one.foot == pytest.approx(other.foot)
        assert one.end == pytest.approx(other.end)
        assert one.bearing.aim == pytest.approx(mirrored(plan("right").stem(one.id).bearing.aim))
    assert ours.place.word == forms.place.word


@settings(max_examples=20, deadline=None)
@given(st.floats(0.5, 0.9))
def test_a_smaller_piece_in_proportion_is_one_scale(share: float) -> None:
    found = compared(measured(plan(), {"all": {"share": share, "half_cm": 0.3}}), plan())
    assert found.scale is not None
    assert found.scale.share == pytest.approx(share)
    assert found.changes == ()


@pytest.mark.source("hand", "a plan seen as a relief: every direction at 90° or 270°, depth 0")
def test_a_flat_piece_is_named() -> None:
    planned = plan()
    told = {
        each.id: {"turn": (90.0 if each.bearing_deg < 180.0 else 270.0) - each.bearing_deg}
        for each in planned.stems
    }
    found = compared(measured(planned, told), planned)
    assert found.depth is not None
    assert found.depth.flat
    assert found.depth.made.value == pytest.approx(0.0, abs=1e-6)
    ways = [0.0, *(each.end.y_cm - each.start.y_cm for each in planned.stems)]
    assert found.depth.aim_cm == pytest.approx(max(ways) - min(ways))


def test_a_flat_piece_is_not_named_where_nobody_can_know() -> None:
    planned = plan()
    told = {
        each.id: {
            "turn": (90.0 if each.bearing_deg < 180.0 else 270.0) - each.bearing_deg,
            "half": 20.0,
        }
        for each in planned.stems
    }
    found = depth(measured(planned, told), planned)
    assert found is not None
    assert found.made.half > 5.0
    assert not found.flat


@pytest.mark.source("hand", "all feet 4 cm to the left and 1 cm to the back")
def test_a_pin_holder_that_lies_elsewhere_is_told() -> None:
    found = compared(measured(plan(), {"all": {"foot": (-4.0, 1.0)}}), plan())
    assert found.holder_cm == pytest.approx((-4.0, 1.0))
    near = compared(measured(plan(), {"all": {"foot": (-1.0, 0.5)}}), plan())
    assert near.holder_cm is None


@pytest.mark.source("practice", "tulips and anemones grow 2 to 5 cm after they were cut")
def test_a_tulip_that_grew_is_no_fault() -> None:
    planned = plan()
    share = 1.0 + 3.0 / planned.stem("third").length_cm
    made = measured(planned, {"third": {"share": share}})
    assert [each.kind for each in compared(made, planned).changes] == ["length"]
    grown = compared(made, planned, {"third": 5.0})
    assert grown.changes == ()
    assert [each.id for each in grown.stems if each.grew] == ["third"]


def test_from_one_picture_only_the_lean_in_it_is_compared() -> None:
    planned, seen = plan(), camera()
    meant = {each.id: in_picture_deg(each.start, each.end, seen) or 0.0 for each in planned.stems}
    right = compared(only_leans(planned, meant), planned)
    assert right.changes == ()
    wrong = compared(only_leans(planned, {**meant, "second": meant["second"] + 20.0}), planned)
    [change] = wrong.changes
    assert (change.kind, change.stem) == ("picture", "second")
    assert change.effect_cm == pytest.approx(
        2.0 * planned.stem("second").length_cm * math.sin(math.radians(10.0))
    )
    other = compared(only_leans(planned, {name: -lean for name, lean in meant.items()}), planned)
    assert other.mirrored


def test_the_triangle_is_as_meant_only_where_every_side_has_its_share() -> None:
    planned = plan()
    larger = compared(measured(planned, {"all": {"share": 1.3}}), planned)
    assert larger.uneven_as_meant
    changed = compared(measured(planned, {"third": {"share": 2.2}}), planned)
    assert not changed.uneven_as_meant
    swapped = {"second": {"turn": 90.0, "lean": 20.0}, "third": {"turn": 90.0}}
    assert not compared(measured(planned, swapped), planned).uneven_as_meant


def test_a_stem_that_nobody_marked_is_named() -> None:
    made = measured(plan())
    found = compared(replace(made, stems=made.stems[:2]), plan())
    assert found.unmarked == ("third",)
    assert found.depth is None
