"""Tools at true size: a millimetre is a millimetre, a lean is a lean, a length is a length."""

import math
import re

import pytest
from drawings.reading_svg import SVG, lines, size, tree

from nejime.basis.sayings import Words
from nejime.drawings.bowl_mat import _holder, bowl_mat_sheets, laid_out
from nejime.drawings.cutting_strip import cutting_strip, folded
from nejime.drawings.lean_card import lean_card
from nejime.drawings.pages import usable_mm
from nejime.drawings.scene import scene
from nejime.forms.leaning import allowed_deg, lowest_tilt_deg
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel

RULE = packaged()["width-plus-height"]
DISH = piece(vessel("round", 30, 6), RULE, "upright")
SMALL = piece(vessel("bowl", 15, 5.5), RULE, "upright")
ROUND = piece(vessel("round", 30, 6), RULE, "all-round")
OBLONG = piece(vessel("rectangle", 45, 5, depth_cm=13), RULE, "upright")
TOOLS = {
    "lean card": lambda page: [lean_card(DISH, Words(), page=page)],
    "bowl mat": lambda page: bowl_mat_sheets(ROUND, Words(), page=page),
    "cutting strip": lambda page: [cutting_strip(DISH, Words(), page=page)],
}


def paths(svg):
    """Start, end and attributes of every path of straight steps."""
    for path in tree(svg).iter(f"{SVG}path"):
        start, *steps = re.findall(r"[Ml]([^Mlz]+)", path.attrib["d"])
        if "c" in path.attrib["d"]:
            continue
        x, y = map(float, re.findall(r"-?[\d.]+", start))
        spots = [(x, y)]
        for step in steps:
            dx, dy = map(float, re.findall(r"-?[\d.]+", step))
            spots.append((spots[-1][0] + dx, spots[-1][1] + dy))
        yield spots, path.attrib


@pytest.mark.source("hand", "ten centimetres are 100 mm")
@pytest.mark.parametrize("tool", TOOLS)
@pytest.mark.parametrize("page", ["a4", "letter"])
def test_one_unit_is_one_millimetre_and_the_check_line_is_ten_centimetres(tool, page):
    for svg in TOOLS[tool](page):
        wide, high = size(svg)
        attributes = tree(svg).attrib
        assert attributes["width"] == f"{wide:g}mm"
        assert attributes["height"] == f"{high:g}mm"
        level = [
            spots[1][0] - spots[0][0]
            for spots, _ in paths(svg)
            if len(spots) == 2 and spots[0][1] == spots[1][1]
        ]
        assert any(long == pytest.approx(100.0, abs=1e-9) for long in level)
        assert any("10 cm" in text for text, _ in lines(svg))


@pytest.mark.source("hand", "A4 is 210 by 297, Letter 8.5 by 11 in = 215.9 by 279.4; margins of 10")
def test_drawings_stay_inside_the_margins_of_their_page():
    assert usable_mm("a4") == (190.0, 277.0)
    assert usable_mm("letter", landscape=True) == pytest.approx((259.4, 195.9))
    assert size(cutting_strip(DISH, Words(), page="a4")) == (190.0, 277.0)


def rays(svg, least_mm):
    """Long lines that are not level, upright or part of a rule: direction on paper and dash."""
    for spots, attributes in paths(svg):
        if len(spots) != 2 or float(attributes.get("stroke-width", 0)) < 0.3:
            continue
        (x, y), (x2, y2) = spots
        if math.hypot(x2 - x, y2 - y) > least_mm:
            yield math.degrees(math.atan2(x2 - x, y - y2)), attributes.get("stroke-dasharray", "")


@pytest.mark.source(
    "practice", "upright form: 15, 45, 75; in a 30 x 6 dish the rim lifts the third"
)
def test_the_fan_has_the_leans_of_the_piece_on_both_sides():
    found = sorted(angle for angle, _ in rays(lean_card(DISH, Words()), 80.0))
    leans = [stem.stands_deg for stem in DISH.stems]
    assert leans[:2] == [15.0, 45.0]
    expected = sorted([*leans, *(-lean for lean in leans)])
    assert found == pytest.approx(expected, abs=0.05)


@pytest.mark.source("hand", "front left is 225, front right 135 clockwise from straight away")
@pytest.mark.parametrize("made", [SMALL, DISH, OBLONG], ids=["small", "dish", "oblong"])
def test_the_rays_of_the_mat_point_where_the_stems_point(made):
    (svg,) = bowl_mat_sheets(made, Words())
    found = sorted(angle % 360 for angle, _ in rays(svg, 10.0))
    assert found == pytest.approx([135.0, 225.0], abs=0.2)


def test_every_ray_of_a_large_bowl_is_on_some_sheet():
    sheets = laid_out(ROUND, "a4", lambda wide: 34.0)
    shown = [stem.id for sheet in sheets for stems, _ in sheet.rays for stem in stems]
    assert sorted(shown) == ["first", "second", "third"]
    assert not any(sheet.whole for sheet in sheets)
    assert laid_out(SMALL, "a4", lambda wide: 34.0)[0].whole


@pytest.mark.source("hand", "15 cm inside and walls of 0.6 cm: 16.2 cm across, 162 mm on paper")
def test_the_bowls_outline_is_at_true_size():
    (svg,) = bowl_mat_sheets(SMALL, Words())
    ring = max((spots for spots, _ in paths(svg)), key=len)
    xs = [x for x, _ in ring]
    assert max(xs) - min(xs) == pytest.approx(162.0, abs=0.1)


@pytest.mark.source("hand", "strips of 25: 54 = 2 x 25 + 4; 41 = 25 + 16; 20; 50 = 2 x 25; 25")
@pytest.mark.parametrize(
    ("cut", "strips", "rest"), [(54, 2, 4), (41, 1, 16), (20, 0, 20), (50, 2, 0), (25, 1, 0)]
)
def test_a_long_stem_is_measured_in_strips_and_a_rest(cut, strips, rest):
    assert folded(cut) == (strips, rest)


def test_the_marks_stand_at_their_rest():
    svg = cutting_strip(DISH, Words())
    strip = next(spots for spots, _ in paths(svg) if len(spots) == 4 and spots[0] == (4.0, 4.0))
    top = strip[0][1]
    marks = {
        round(spots[0][1] - top, 2)
        for spots, attributes in paths(svg)
        if len(spots) == 2 and float(attributes.get("stroke-width", 0)) > 0.45
    }
    assert marks == {round(folded(stem.cut_cm)[1] * 10, 2) for stem in DISH.stems}


@pytest.mark.source("hand", "an inch is 25.4 mm: the ninth stands 228.6 mm from the edge")
def test_the_rulers_are_true():
    svg = cutting_strip(DISH, Words())
    ticks = {
        (round(abs(spots[1][0] - spots[0][0]), 2), round(spots[0][1] - 4.0, 2))
        for spots, _ in paths(svg)
        if len(spots) == 2 and spots[0][1] == spots[1][1]
    }
    assert (7.0, 228.6) in ticks
    assert (7.0, 200.0) in ticks
    assert (5.0, 130.0) in ticks


def test_the_band_of_the_lean_card_ends_where_the_rim_does() -> None:
    """The rim lifts a dish's third stem to 69 degrees: 85 would lie under it."""
    third = DISH.stem("third")
    least, most = allowed_deg(DISH, third)
    assert third.tilt.least == least < third.stands_deg
    assert most == pytest.approx(lowest_tilt_deg(DISH, third.start, third.bearing_deg))
    assert most < third.tilt.most
    first = DISH.stem("first")
    assert allowed_deg(DISH, first) == (first.tilt.least, first.tilt.most)


def test_the_degrees_of_the_lean_card_have_figures_on_both_sides() -> None:
    """At 69 degrees the third stem's ray goes through the 70 and says its own number."""
    svg = lean_card(DISH, Words())
    assert [svg.count(f">{figure}<") for figure in range(10, 90, 10)] == [2, 2, 2, 2, 2, 2, 0, 2]


def test_a_bowl_mat_shows_as_much_of_the_pin_holder_as_lies_on_the_sheet() -> None:
    said = " ".join(re.sub(r"<[^>]+>", " ", "".join(bowl_mat_sheets(SMALL, Words()))).split())
    assert "where the pin holder lies" in said
    assert "foot of the bowl" in said
    wide = piece(vessel("rectangle", 30, 6, depth_cm=25), RULE, "upright")
    sheets = laid_out(wide, "a4", lambda _: 40.0)
    assert any(_holder(scene(wide), s.projection, s.wide_mm, s.field_mm) for s in sheets)


def test_strip_and_handout_say_one_number() -> None:
    """33.4 cm is said 33: a strip of 25 and 8, not 8.5."""
    assert folded(33.4) == (1, 8)
    assert folded(49.8) == (2, 0)
