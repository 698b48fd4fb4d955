"""Lengths, leans and directions that the trade states. Tolerance of a lesson: 0.5 cm, 1°."""

import math

import pytest

from nejime.basis.angles import apart
from nejime.basis.errors import InputError
from nejime.forms.piece import piece
from nejime.forms.rules import SIZES, packaged
from nejime.forms.tall import vase_tilt_deg
from nejime.forms.vessel import vessel

RULES = packaged()
DISH = vessel("round", 30, 6)


def _lengths(planned):
    return [stem.length_cm for stem in planned.main]


@pytest.mark.parametrize(
    ("rule", "form", "size", "lengths"),
    [
        pytest.param(
            "width-plus-height",
            "upright",
            "usual",
            (54.0, 40.5, 20.3),
            marks=pytest.mark.source("practice", "1.5 × (30 + 6); 3/4; 1/2"),
        ),
        pytest.param(
            "width-plus-height",
            "upright",
            "large",
            (72.0, 54.0, 27.0),
            marks=pytest.mark.source("practice", "2 × 36; 3/4; the third must be 1/2"),
        ),
        pytest.param(
            "width-plus-height",
            "upright",
            "small",
            (36.0, 27.0, 20.3),
            marks=pytest.mark.source("memory", "1 × 36 from memory; 3/4; third 3/4 of the second"),
        ),
        pytest.param(
            "twice-upright",
            "upright",
            "usual",
            (72.0, 48.0, 36.0),
            marks=pytest.mark.source("practice", "2 × 36; 2/3 and 1/2 of the first"),
        ),
        pytest.param(
            "twice-upright",
            "slanting",
            "usual",
            (54.0, 36.0, 27.0),
            marks=pytest.mark.source("practice", "1.5 × 36; ratios taken as upright"),
        ),
        pytest.param(
            "water-viewing",
            "water-viewing",
            "usual",
            (36.0, 18.0, 18.0),
            marks=pytest.mark.source("practice", "1 × 36; 1/2; 1/2"),
        ),
    ],
)
def test_lengths_in_a_round_dish(rule, form, size, lengths):
    assert _lengths(piece(DISH, RULES[rule], form, size=size)) == pytest.approx(lengths, abs=0.5)


@pytest.mark.source("practice", "other teachers: third 3/4 of the second in a usual piece: 30.4")
def test_the_fuller_third_is_one_switch():
    planned = piece(DISH, RULES["width-plus-height"], "upright", fuller_third=True)
    assert planned.stem("third").length_cm == pytest.approx(30.4, abs=0.5)


@pytest.mark.parametrize(
    ("rule", "form", "tilts"),
    [
        pytest.param(
            "twice-upright",
            "upright",
            (20, 45, 60),
            marks=pytest.mark.source("practice", "20/45/60"),
        ),
        pytest.param(
            "twice-upright",
            "slanting",
            (45, 20, 60),
            marks=pytest.mark.source("practice", "45/20/60"),
        ),
        pytest.param(
            "water-viewing",
            "water-viewing",
            (70, 0, 50),
            marks=pytest.mark.source("practice", "70/about 0/50"),
        ),
        pytest.param(
            "width-plus-height",
            "upright",
            (15, 45, 75),
            marks=pytest.mark.source("practice", "10 to 15, 45, 75"),
        ),
        pytest.param(
            "width-plus-height",
            "slanting",
            (45, 15, 75),
            marks=pytest.mark.source("practice", "the first two exchanged"),
        ),
    ],
)
def test_leans(rule, form, tilts):
    planned = piece(DISH, RULES[rule], form)
    assert [stem.tilt_deg for stem in planned.main] == pytest.approx(tilts, abs=1.0)


@pytest.mark.source("practice", "10 to 15 to the front left, 45, 75 to the front right")
def test_directions_of_the_upright_form():
    planned = piece(DISH, RULES["width-plus-height"], "upright")
    assert [stem.bearing_deg for stem in planned.main] == [225, 225, 135]
    assert planned.stem("first").tilt[:3] == (10, 15, 15)


@pytest.mark.source("practice", "slanting: holder from the front left to the back right")
def test_slanting_exchanges_the_first_two_and_moves_the_holder():
    upright, slanting = (
        piece(DISH, RULES["width-plus-height"], form) for form in ("upright", "slanting")
    )
    assert _lengths(upright) == _lengths(slanting)
    assert [s.tilt_deg for s in slanting.main] == [
        upright.stem("second").tilt_deg,
        upright.stem("first").tilt_deg,
        upright.stem("third").tilt_deg,
    ]
    assert (upright.place.word, slanting.place.word) == ("front left", "back right")


@pytest.mark.source("practice", "twice-upright, slanting: holder at the back right, any season")
def test_the_other_traditions_slanting_holder_stays_at_the_back():
    planned = piece(DISH, RULES["twice-upright"], "slanting")
    assert planned.place.word == "back right"
    assert not planned.form.season_moves_holder


@pytest.mark.source("practice", "seen from all sides: the three 120° apart in plan")
def test_the_all_round_form_stands_in_thirds():
    planned = piece(DISH, RULES["width-plus-height"], "all-round")
    bearings = [stem.bearing_deg for stem in planned.main]
    for one, other in zip(bearings, bearings[1:] + bearings[:1], strict=True):
        assert apart(one, other) == pytest.approx(120.0, abs=5.0)


@pytest.mark.source(
    "hand",
    "54 cos 15 = 52.2, 40.5 cos 45 = 28.6; reach 54 sin 15 = 14.0, 40.5 sin 45 = 28.6; "
    "the third, 20.25, at 75° would end 5.2 above and reach 19.6: lifted by the rim it ends higher",
)
def test_heights_and_reaches_in_a_round_dish():
    first, second, third = piece(DISH, RULES["width-plus-height"], "upright").main
    assert (first.height_cm, second.height_cm) == pytest.approx((52.2, 28.6), abs=0.5)
    assert (first.reach_cm, second.reach_cm) == pytest.approx((14.0, 28.6), abs=0.5)
    assert 5.2 <= third.height_cm < second.height_cm < first.height_cm
    assert third.reach_cm <= 19.6


@pytest.mark.source(
    "practice",
    "1.5 × (25 + 10) = 52.5 shows; cut 52.5 + 25 = 77.5; second 39.4 + 12.5 = 51.9 to trim",
)
def test_a_tall_vase_shows_the_rules_length_and_is_cut_longer():
    planned = piece(vessel("vase", 10, 25), RULES["width-plus-height"], "upright")
    first, second, _ = planned.main
    assert first.length_cm == pytest.approx(52.5, abs=0.5)
    assert first.cut_cm == pytest.approx(77.5, abs=0.5)
    assert second.cut_cm == pytest.approx(51.9, abs=0.5)


@pytest.mark.source("practice", "a 45 × 13 × 5 oblong: the long side counts: 1.5 × 50 = 75")
@pytest.mark.parametrize(("width", "depth"), [(45, 13), (13, 45)])
def test_an_oblong_is_measured_along_its_long_side_and_says_so(width, depth):
    dish = vessel("rectangle", width, 5, depth_cm=depth)
    planned = piece(dish, RULES["width-plus-height"], "upright")
    assert planned.stem("first").length_cm == pytest.approx(75.0, abs=0.5)
    assert "forms.measure-used" in {remark.key for remark in planned.remarks}
    assert "forms.offer-small" in {remark.key for remark in planned.remarks}


@pytest.mark.source(
    "practice", "an oblong narrower than 20 cm has left and right, no front and back"
)
def test_a_narrow_oblong_has_left_and_right_only():
    planned = piece(vessel("rectangle", 45, 5, depth_cm=13), RULES["width-plus-height"], "upright")
    assert planned.place.word == "left"


@pytest.mark.source("practice", "in a bowl under about 15 cm the holder has one place")
def test_a_small_bowl_has_one_place():
    planned = piece(vessel("bowl", 14, 6), RULES["width-plus-height"], "upright")
    assert planned.place.word == "middle"


@pytest.mark.source("practice", "never in the middle of a wide dish, in upright and slanting forms")
@pytest.mark.parametrize("form", ["upright", "slanting"])
def test_the_holder_is_never_in_the_middle_of_a_wide_dish(form):
    where = piece(DISH, RULES["width-plus-height"], form).place
    assert math.hypot(where.x_cm, where.y_cm) > 3.0


@pytest.mark.source("practice", "hanging: the first may end lower than its companions")
def test_in_the_hanging_form_the_first_need_not_be_the_highest():
    planned = piece(vessel("vase", 10, 25), RULES["width-plus-height"], "hanging")
    assert not planned.form.first_is_highest
    assert planned.stem("first").height_cm < planned.stem("second").height_cm


@pytest.mark.source("practice", "deeper in the vase is more upright; hand: atan(9/9) = 45")
def test_a_stem_pushed_deeper_into_a_vase_stands_more_upright():
    tilts = [vase_tilt_deg(9.0, depth) for depth in range(3, 25)]
    assert tilts == sorted(tilts, reverse=True)
    assert vase_tilt_deg(9.0, 9.0) == pytest.approx(45.0)


@pytest.mark.source("practice", "slanting in a tall vase: no lean towards the viewer")
def test_the_slanting_form_in_a_tall_vase_keeps_to_the_side():
    planned = piece(vessel("vase", 10, 25), RULES["width-plus-height"], "slanting")
    assert planned.stem("first").bearing_deg == planned.stem("second").bearing_deg == 270


@pytest.mark.parametrize("size", SIZES)
def test_a_size_that_is_not_taught_is_refused(size):
    rule = RULES["twice-upright"]
    if size in rule.form("upright", "shallow").factor:
        assert piece(DISH, rule, "upright", size=size).size == size
    else:
        with pytest.raises(InputError) as refused:
            piece(DISH, rule, "upright", size=size)
        assert refused.value.faults[0].field == "size"


def test_a_form_that_the_proportions_lack_is_refused_with_what_there_is():
    with pytest.raises(InputError) as refused:
        piece(DISH, RULES["water-viewing"], "upright")
    fault = refused.value.faults[0]
    assert fault.field == "form"
    assert fault.try_instead is not None
    assert "water-viewing" in fault.try_instead.quantities["choices"]


@pytest.mark.source("practice", "spring and summer show the water: back; autumn and winter hide it")
@pytest.mark.parametrize(
    ("season", "place"),
    [
        ("spring", "back left"),
        ("summer", "back left"),
        ("autumn", "front left"),
        (None, "front left"),
    ],
)
def test_the_holder_goes_by_the_season_where_the_form_lets_it(season, place):
    planned = piece(DISH, RULES["width-plus-height"], "upright", season=season)
    assert planned.place.word == place
    slanting = piece(DISH, RULES["width-plus-height"], "slanting", season=season)
    assert slanting.place.word == "back right"
