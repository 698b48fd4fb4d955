"""Faults of composition, one piece each: what must be found, and what must not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from composing.making import BRANCH, CLUMP, HEART, RULES, TULIP, dish, looked_at, with_stem

from nejime.basis.sayings import texts
from nejime.composing.checks import KINDS
from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.stems import Piece
from nejime.forms.vessel import vessel

SPREAD = {"spread-wide", "spread-narrow"}
TRIANGLE = {"triangle-flat", "triangle-equal", "triangle-alike"}


def codes(made, **asked) -> set[str]:
    return {each.code for each in looked_at(*made, **asked)}


def well_made():
    """An upright piece with three helper stems and a flower at the heart, nothing wrong with it."""
    made = dish()
    made = with_stem(made, "sub-1", "first", (36.0, 20.0, 350.0), (0.3, 1.8))
    made = with_stem(made, "sub-2", "second", (26.0, 32.0, 250.0), (-1.8, 0.6))
    made = with_stem(made, "sub-3", "third", (18.0, 55.0, 112.0), (0.9, -0.2), TULIP)
    return with_stem(made, "heart-1", "third", (14.0, 45.0, 165.0), (0.6, -1.4), HEART)


@pytest.mark.source("practice", "lengths 54, 40.5, 30.4 and leans 12, 45, as low as the rim allows")
def test_a_well_made_upright_piece_has_no_fault():
    assert not codes(well_made())


@pytest.mark.source("practice", "slanting: the leans of first and second change places")
def test_a_slanting_piece_keeps_its_own_numbers():
    made = dish((54.0, 45.0, 225.0), (40.5, 15.0, 225.0), form="slanting", at=(5.0, 4.0))
    found = codes(made)
    assert not found & (
        {"cross", "flat", "triangle-flat", "holder-middle", "holder-place"} | SPREAD
    )


@pytest.mark.source("practice", "72, 48, 36 at 20, 45, 60 degrees, the third to the front")
def test_a_third_to_the_front_does_not_stab():
    made = dish(
        (72.0, 20.0, 225.0),
        (48.0, 45.0, 135.0),
        (36.0, 60.0, 180.0),
        rule="twice-upright",
    )
    assert not codes(made) & {"stabs", "spread-narrow", "flat", "tall"}


@pytest.mark.source("practice", "36, 18, 18 at 70, 0 to 10, 50 degrees")
def test_a_water_viewing_piece_is_neither_flat_nor_small():
    made = dish(
        (36.0, 70.0, 135.0),
        (18.0, 5.0, 135.0),
        (18.0, 50.0, 165.0),
        rule="water-viewing",
        form="water-viewing",
        at=(-5.0, 4.0),
    )
    assert not codes(made) & ({"flat", "small", "helper-long"} | SPREAD)


@pytest.mark.source("averill1913", "p. 57: branches must never cross each other")
def test_a_helper_over_the_first_stem_crosses():
    made = with_stem(dish(), "sub-1", "first", (40.0, 30.0, 275.0), (3.0, 0.3))
    crossings = [f for f in looked_at(*made) if f.code == "cross"]
    assert crossings
    assert all(f.who[-1] == "sub-1" for f in crossings)


@pytest.mark.source("averill1913", "p. 57: together at the base for four inches")
def test_what_meets_only_at_the_foot_does_not_cross():
    made = with_stem(dish(), "sub-1", "first", (34.0, 20.0, 120.0), (-0.8, 0.5))
    assert "cross" not in codes(made)


@pytest.mark.source("averill1913", "p. 57: with the lines of grasses left out, our own exception")
def test_grasses_may_cross():
    grass = replace(BRANCH, kind="grass", plant="susuki", woody=False)
    made = with_stem(dish(), "sub-1", "first", (40.0, 30.0, 275.0), (3.0, 0.3), grass)
    known = {**made[1], "first": grass, "second": grass}
    assert "cross" not in codes((made[0], known))


@pytest.mark.source("own", "3 cm beside the first stem at its own lean and direction")
def test_a_helper_beside_the_first_makes_rails():
    made = with_stem(dish(), "sub-1", "first", (40.0, 12.0, 225.0), (3.0, 0.0))
    found = codes(made)
    assert "rails" in found
    assert "cross" not in found
    assert "rails" not in codes(made, allow=frozenset({"rows"}))


@pytest.mark.source("own", "leaning 25 forward and 25 back, both 0 from the front, 3 cm apart")
def test_rails_that_only_the_front_sees():
    made = with_stem(dish(), "sub-1", "first", (36.0, 25.0, 0.0), (0.0, 1.5))
    made = with_stem(made, "sub-2", "first", (30.0, 25.0, 180.0), (3.0, 1.0))
    pairs = {f.who for f in looked_at(*made) if f.code == "front-rails"}
    assert ("sub-1", "sub-2") in pairs
    assert ("sub-1", "sub-2") not in {f.who for f in looked_at(*made) if f.code == "rails"}


@pytest.mark.source("practice", "directions 270, 270, 90: one upright plane")
def test_a_piece_in_one_plane_is_flat():
    found = codes(dish((54.0, 12.0, 270.0), (40.5, 45.0, 270.0), (30.4, 68.0, 90.0)))
    assert {"flat", "no-front"} <= found


@pytest.mark.source("practice", "second and third on the same side")
def test_second_and_third_together_leave_a_side_empty():
    found = codes(dish(third=(30.4, 68.0, 215.0)))
    assert {"spread-narrow", "one-side"} <= found


@pytest.mark.source("practice", "second back left, third front right")
def test_second_and_third_opposite_are_too_far_apart():
    found = codes(dish(second=(40.5, 50.0, 315.0)))
    assert "spread-wide" in found
    assert "spread-narrow" not in found


@pytest.mark.source("conder1896", "scan 0028: monotonous symmetry is particularly avoided")
def test_joined_palms_on_a_centred_holder():
    made = dish(
        (54.0, 0.0, 0.0),
        (36.0, 45.0, 225.0),
        (36.0, 45.0, 135.0),
        at=(0.0, 0.0),
        feet=((0.0, 0.5), (-0.6, 0.0), (0.6, 0.0)),
    )
    found = codes(made)
    assert {"palms", "symmetric", "holder-middle"} <= found
    assert "one-side" not in found


@pytest.mark.source("practice", "a helper stem is shorter than the stem it follows: 54 of 54")
def test_a_helper_as_long_as_its_leader_is_a_fault():
    made = with_stem(dish(), "sub-1", "first", (54.0, 18.0, 330.0), (0.3, 1.8))
    (found,) = [f for f in looked_at(*made) if f.code == "helper-long"]
    assert found.fault
    assert found.who == ("first", "sub-1")


@pytest.mark.source("practice", "helper stems are cut at varying lengths: both 30 cm")
def test_helpers_of_one_length_are_noted():
    made = with_stem(dish(), "sub-1", "first", (30.0, 20.0, 330.0), (0.0, 1.5))
    made = with_stem(made, "sub-2", "first", (30.0, 22.0, 240.0), (-1.5, 0.0))
    assert "helper-equal" in codes(made)


@pytest.mark.source("averill1913", "p. 57: always uneven; two are allowed elsewhere")
@pytest.mark.parametrize("number", range(1, 8))
def test_only_four_and_six_of_a_kind_are_even(number):
    made = dish(clump=CLUMP)
    others = [replace(BRANCH, plant=f"other-{at}") for at in range(3)]
    known = {**made[1], "first": others[0], "second": others[1], "third": others[2]}
    full = (made[0], known)
    mains = ["first", "second", "third"][:number]
    known.update(dict.fromkeys(mains, BRANCH))
    for at in range(number - len(mains)):
        full = with_stem(full, f"sub-{at + 1}", "first", (20 + 3.0 * at, 20, 60.0 * at), (0, 0))
    assert ("even" in codes(full)) == (number in (4, 6))


def three_and_three():
    made = dish()
    for at in range(3):
        numbers = (18.0 + 3 * at, 40.0, 100.0 + 40 * at)
        made = with_stem(made, f"heart-{at + 1}", "third", numbers, (0.5 * at, -1.0), TULIP)
    return made


@pytest.mark.source("practice", "three branches and three flowers: taught everywhere")
def test_three_branches_and_three_flowers_are_no_fault():
    assert not codes(three_and_three()) & {"even", "equal-counts"}


@pytest.mark.source("memory", "an old list of tea flowers: equal counts")
def test_equal_counts_are_found_where_asked_for():
    assert "equal-counts" in codes(three_and_three(), also=frozenset({"equal-counts"}))


@pytest.mark.source("memory", "an old list of tea flowers: a flower like a target")
def test_a_flower_that_faces_the_seat_stares():
    made = with_stem(dish(), "heart-1", "third", (14.0, 72.0, 180.0), (0.6, -1.4), HEART)
    assert "stares" in codes(made)


@pytest.mark.source("memory", "an old list of tea flowers: a branch that stabs")
def test_a_long_stem_at_the_viewer_stabs():
    made = with_stem(dish(), "sub-1", "third", (24.0, 88.0, 180.0), (0.0, -1.5))
    assert "stabs" in codes(made)


@pytest.mark.source("memory", "an old list: a branch that points at the ground; own limit of 160")
def test_an_end_that_points_down_is_a_fault_but_for_weeping_material():
    made = with_stem(dish(), "sub-1", "first", (30.0, 165.0, 225.0), (-1.0, 0.0))
    assert "down" in codes(made)
    weeping = {**made[1], "sub-1": replace(BRANCH, weeping=True)}
    assert "down" not in codes((made[0], weeping))


@pytest.mark.source("memory", "an old list of tea flowers: dipping in water")
def test_a_leaf_in_the_water_is_a_fault():
    made = dish(clump=(*CLUMP, (0.0, -1.0, 0.5, 85.0, 60.0, 12.0, 4.0, 2.0)))
    assert "leaf-in-water" in codes(made)


@pytest.mark.source("practice", "the pin holder is hidden; the water is not")
def test_without_leaves_the_holder_shows_and_the_water_is_open():
    found = {f.code: f for f in looked_at(*dish(clump=()))}
    assert not found["holder-bare"].fault  # nobody has come to the leaves yet
    assert "water-hidden" not in found
    one_low_leaf = ((0.0, -2.0, 2.0, 60.0, 180.0, 15.0, 4.0, 2.0),)
    found = {f.code: f for f in looked_at(*dish(clump=one_low_leaf))}
    assert found["holder-shows"].fault


@pytest.mark.source("practice", "never in the middle of a wide dish, but in a footed bowl")
def test_a_holder_in_the_middle_is_noted_where_it_is_not_the_form():
    made = dish(at=(0.0, 0.0))
    assert "holder-middle" in codes(made)
    assert "holder-middle" not in codes(made, allow=frozenset({"holder-middle"}))


@pytest.mark.source(
    "hand",
    "foot 2.22 cm high at (-3.8, -4.8), rim 15 cm round and 6 high: towards 135 the way t solves "
    "t² + 1.41 t + 37.5 = 225, t = 13.0; 75 degrees rise 3.5 cm to 5.7, under the rim; 68 degrees "
    "rise 5.3 to 7.5, over it",
)
def test_a_straight_third_of_75_degrees_runs_into_the_rim():
    (found,) = [f for f in looked_at(*dish(third=(30.4, 75.0, 135.0))) if f.code == "rim"]
    assert found.who == ("third",)
    # Half of the 7 mm counts, 0.2 % of the first stem does not.
    low = 6.0 + 0.35 - 5.7 - 0.002 * 54
    assert found.says.quantities["low_cm"] == pytest.approx(low, abs=0.05)
    assert "rim" not in codes(dish(third=(30.4, 68.0, 135.0)))


@pytest.mark.source("practice", "two ends level beside each other")
def test_level_ends_are_noted():
    made = with_stem(dish(), "sub-1", "first", (32.5, 12.0, 340.0), (0.3, 1.8))
    made = with_stem(made, "sub-2", "first", (33.0, 14.0, 225.0), (1.0, 1.0))
    assert ("sub-1", "sub-2") in {f.who for f in looked_at(*made) if f.code == "level"}


@pytest.mark.source("conder1896", "scan 0028: equal sides are avoided; sin 57.8 × 23.1 = 19.5")
def test_an_even_sided_triangle_is_a_fault():
    # Ends from the front: 40 high; 12.3 high and 19.5 × sin 55 = 16.0 to either side: 32, 32, 32.
    made = dish(
        (40.0, 0.0, 0.0),
        (23.1, 57.8, 235.0),
        (23.1, 57.8, 125.0),
        feet=((0.0, 0.0), (-0.5, 0.0), (0.5, 0.0)),
    )
    assert "triangle-equal" in codes(made)


@pytest.mark.source("practice", "one to three times width and height: 20 and 120 of 36")
@pytest.mark.source(
    "hand",
    "120 cm of 15 mm: 0.6 × 177 mm² = 127 g at 0.55 × 120 × sin 12 = 13.7 cm, 10.4 beyond the edge "
    "at 3.35: 1,320 g·cm against 0.895 × 500 g × 3.35 cm = 1,500: with the others 1.2 at most",
)
def test_a_first_stem_too_short_and_too_long():
    small = codes(dish((20.0, 12.0, 225.0), (15.0, 45.0, 225.0), (11.0, 60.0, 135.0)))
    assert "small" in small
    assert "tall" not in small
    made = dish((120.0, 12.0, 225.0))
    tall = codes((made[0], {**made[1], "first": replace(BRANCH, thickness_mm=15.0)}))
    assert {"tall", "tips"} <= tall
    assert "small" not in tall


@pytest.mark.source(
    "hand",
    "feet 3.2 cm apart, leaning 8.5 and 19.5 degrees from the front: they meet 3.2 / (0.354 - "
    "0.149) = 15.6 cm up and enclose 25 cm²; 0.007 × 54² is 20",
)
def test_two_crossing_stems_enclose_a_window():
    made = with_stem(dish(), "sub-1", "first", (40.0, 19.5, 270.0), (3.2, 0.3))
    assert "window" in codes(made)
    lower = with_stem(dish(), "sub-1", "first", (40.0, 30.0, 270.0), (3.2, 0.3))
    assert "window" not in codes(lower)  # 7.5 cm up: 12 cm²
    assert "window" not in codes(dish())


@pytest.mark.source("hand", "foot 3.4 cm from the middle of a pin holder of 7: 97 % of its half")
def test_a_foot_at_the_edge_is_off_the_pins():
    made = with_stem(dish(), "sub-1", "first", (30.0, 18.0, 330.0), (0.0, 3.4))
    assert ("sub-1",) in {f.who for f in looked_at(*made) if f.code == "off-pins"}
    made = with_stem(dish(), "sub-1", "first", (30.0, 18.0, 330.0), (0.0, 3.0))
    assert "off-pins" not in codes(made)


@pytest.mark.source("practice", "five stems and more want one behind: depth to the back")
def test_five_stems_all_in_front_have_no_back():
    made = with_stem(dish(), "sub-1", "first", (36.0, 20.0, 200.0), (0.3, -0.5))
    assert "no-back" not in codes(made)
    made = with_stem(made, "sub-2", "second", (26.0, 32.0, 250.0), (-1.8, -0.6))
    assert "no-back" in codes(made)
    assert "no-back" not in codes(made, allow=frozenset({"front-only"}))


@pytest.mark.source(
    "hand", "ends at 30, 20 and 10 cm on one line of 40 degrees through one foot: no angle at all"
)
def test_main_ends_on_one_line_make_no_triangle():
    feet = ((0.0, 0.0),) * 3
    line = (40.0, 40.0, 225.0), (30.0, 40.0, 225.0), (20.0, 40.0, 225.0)
    assert "triangle-flat" in codes(dish(*line, feet=feet))


@pytest.mark.source("hand", "120 and 90 cm at 85 degrees to both sides: 209 cm, vessels of 30: 7")
def test_a_piece_much_wider_than_its_vessel_is_noted():
    made = dish((60.0, 10.0, 225.0), (90.0, 80.0, 270.0), (90.0, 80.0, 90.0))
    assert "wide" in codes(made)
    assert "wide" not in codes(dish())


@pytest.mark.source("practice", "this form has its pin holder front left; it lies back right")
def test_a_pin_holder_in_the_wrong_quarter_is_noted():
    assert "holder-place" in codes(dish(at=(5.0, 4.0)))


@pytest.mark.source("averill1913", "p. 57: the stems leave the water as one, in classical pieces")
def test_feet_apart_are_found_where_the_classical_form_is_asked_for():
    made = dish(feet=((-3.0, 0.0), (3.0, 0.0), (0.0, -3.0)))
    made = with_stem(made, "sub-1", "first", (36.0, 30.0, 90.0), (3.0, 0.5))
    assert "loose-feet" in codes(made, allow=frozenset({"classical"}))
    assert "loose-feet" not in codes(made)


@pytest.mark.source("memory", "an old list of tea flowers: the same colour on both sides")
def test_one_colour_on_both_sides_is_found_only_where_asked_for():
    made = with_stem(dish(), "sub-1", "second", (25.0, 40.0, 270.0), (-1.0, 0.0), TULIP)
    made = with_stem(made, "sub-2", "third", (20.0, 40.0, 90.0), (1.0, 0.0), TULIP)
    made = with_stem(made, "heart-1", "third", (14.0, 30.0, 165.0), (0.0, -1.0), HEART)
    known = {stem: replace(each, colour="") for stem, each in made[1].items()}
    known |= {stem: made[1][stem] for stem in ("sub-1", "sub-2", "heart-1")}
    assert "colour-both-sides" in codes((made[0], known), also=frozenset({"colour-both-sides"}))
    assert "colour-both-sides" not in codes((made[0], known))


def test_every_finding_has_its_sentence_and_no_sentence_is_left_over():
    said = {key.split(".")[1] for key in texts() if key.startswith("composing.")}
    assert said - {"do", "side", "why", "none", "stem"} == set(KINDS)


# Check values of the trade.


@pytest.mark.source(
    "practice", "all round: the three stand 120 degrees apart in plan, 5 more or less"
)
def test_an_all_round_piece_raises_nothing_of_front_and_back():
    made = piece(dish()[0].vessel, RULES["width-plus-height"], "all-round", held=holder(7.0))
    bearings = sorted(stem.bearing_deg for stem in made.main)
    gaps = [(b - a) % 360 for a, b in zip(bearings, [*bearings[1:], bearings[0]], strict=True)]
    assert gaps == pytest.approx([120, 120, 120], abs=5)
    found = {f.code for f in looked_at(made)}
    assert not found & {"no-front", "no-back", "symmetric", "holder-middle", *SPREAD}


def summer_piece() -> Piece:
    return piece(
        vessel("oval", 40, 6, depth_cm=30),
        RULES["width-plus-height"],
        "upright",
        held=holder(7.0),
        season="summer",
    )


@pytest.mark.source("averill1913", "ch. 9: in summer more than half of the water is to be seen")
def test_a_summer_piece_has_open_water_and_its_holder_at_the_back():
    made = summer_piece()
    assert made.place.word == "back left"
    assert "water-hidden" not in {f.code for f in looked_at(made)}


@pytest.mark.source("averill1913", "ch. 9: where leaves cover it, that is said")
def test_covered_water_is_found_but_not_in_winter():
    wide = tuple(
        (0.5, 0.0, 2.0 + reach, 55.0, towards, 25.0, 7.0, 6.0)
        for reach in (1.0, 8.0)
        for towards in (20.0, 50.0, 80.0, 110.0, 330.0)
    )
    made = dish(clump=wide)
    assert "water-hidden" in codes(made)
    assert "water-hidden" not in codes((replace(made[0], season="winter"), made[1]))


@pytest.mark.source("conder1896", "scan 0191: iris between camellia and peach")
def test_a_herb_between_two_trees_is_found_only_where_asked_for():
    iris = replace(TULIP, plant="iris")
    camellia = replace(BRANCH, plant="camellia")
    made = dish((54.0, 12.0, 135.0), (40.5, 45.0, 225.0), (30.4, 68.0, 135.0))
    known = {**made[1], "first": iris, "second": camellia, "third": BRANCH}
    asked = frozenset({"herb-between-trees"})
    assert "herb-between-trees" in codes((made[0], known), also=asked)
    assert "herb-between-trees" not in codes((made[0], known))
    known = {**made[1], "first": camellia, "second": iris, "third": BRANCH}
    assert "herb-between-trees" not in codes((made[0], known), also=asked)


@pytest.mark.source("memory", "an old list of tea flowers: a leaf that hides a flower")
@pytest.mark.source(
    "hand",
    "ends 17.7 high at y = -0.1 and 27.4 at -21.3; from the first the eye (-57, 46) is seen over "
    "17.7 + 21.2 × 28.3 / 57 = 28.2 there: within the second's 3 cm",
)
def test_a_flower_behind_a_flower_and_behind_a_leaf():
    made = with_stem(dish(), "sub-1", "first", (16.0, 14.0, 0.0), (0.0, 0.0), TULIP)
    made = with_stem(made, "heart-1", "third", (30.0, 33.0, 180.0), (0.0, -1.0), HEART)
    assert "flower-hidden" in codes(made)
    behind = with_stem(
        dish(clump=(*CLUMP, (0.0, -2.0, 4.0, 10.0, 180.0, 0.0, 9.0, 5.0))),
        "heart-1",
        "third",
        (12.0, 12.0, 0.0),
        (0.0, 0.5),
        HEART,
    )
    assert "leaf-hides" in codes(behind)
