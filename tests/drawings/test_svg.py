"""The SVG text itself: well formed, escaped, plain attributes, short numbers, the same bytes."""

import re

import pytest
from drawings.reading_svg import SVG, tree

from nejime.basis.sayings import Words
from nejime.drawings.elevation import elevation
from nejime.drawings.material import FAINT
from nejime.drawings.plan import plan
from nejime.drawings.scene import Look, drawing_key, scene
from nejime.drawings.svg import (
    INK,
    PAPER,
    SOFT,
    Path,
    Picture,
    Text,
    number,
    outline,
    written,
)
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel

RULE = packaged()["width-plus-height"]
DISH = piece(vessel("round", 30, 6), RULE, "upright")


def picture(*marks):
    return written(Picture(40.0, 20.0, marks, "a < b", 'says "so" & more'))


def test_words_are_escaped():
    svg = picture(Text((1.0, 5.0), "<b> & \"c\" 'd'"))
    assert tree(svg).findtext(f"{SVG}title") == "a < b"
    assert tree(svg).findtext(f"{SVG}desc") == 'says "so" & more'
    assert tree(svg).findtext(f"{SVG}text") == "<b> & \"c\" 'd'"


@pytest.mark.parametrize(
    "drawn", [elevation(scene(DISH), "front", Words()), plan(scene(DISH), Words())]
)
def test_only_plain_attributes_and_short_numbers(drawn):
    assert "style" not in drawn
    assert "class=" not in drawn
    assert not re.search(r"\d\.\d{3}", drawn)
    assert not re.search(r"nan|inf|None", drawn.replace("font", ""))
    assert tree(drawn).attrib["role"] == "img"


@pytest.mark.source("hand", "rounding to hundredths: 1/3 is 0.33, 2.5 stays, -0.001 is 0")
def test_numbers_are_short():
    assert [number(value) for value in (1 / 3, 2.5, 7.0, -0.001)] == ["0.33", "2.5", "7", "0"]


@pytest.mark.source("hand", "steps (1, 0), (0, 1), (-1, 0) from (1, 1)")
def test_a_path_is_written_in_steps():
    points = ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    assert outline(points, curved=False, closed=True) == "M1 1l1 0l0 1l-1 0z"


@pytest.mark.source("hand", "300 steps of 0.004 mm make 1.2 mm: none may be lost by rounding")
def test_rounding_never_adds_up():
    points = [(0.004 * step, 0.0) for step in range(301)]
    path = outline(points, curved=False, closed=False)
    steps = [float(x) for x in re.findall(r"l([\d.]+) ", path)]
    assert sum(steps) == pytest.approx(1.2)


def test_a_smooth_path_goes_through_its_points():
    points = ((0.0, 0.0), (3.0, 4.0), (6.0, 1.0))
    pieces = re.findall(r"c([^cz]+)", outline(points, curved=True, closed=False))
    ends = [[float(x) for x in re.findall(r"-?[\d.]+", each)[-2:]] for each in pieces]
    assert ends == [[3.0, 4.0], [3.0, -3.0]]


def test_equal_pieces_give_equal_bytes():
    again = piece(vessel("round", 30, 6, name="another"), RULE, "upright")
    assert drawing_key(DISH) == drawing_key(again)
    for draw in (
        lambda made: elevation(scene(made), "front", Words()),
        lambda made: plan(scene(made), Words()),
    ):
        assert draw(DISH) == draw(again)


@pytest.mark.parametrize(
    ("other", "looks"),
    [
        (piece(vessel("round", 31, 6), RULE, "upright"), None),
        (piece(vessel("round", 30, 6), RULE, "upright", opens="left"), None),
        (piece(vessel("round", 30, 6), RULE, "slanting"), None),
        (piece(vessel("round", 30, 6), RULE, "upright", water_cm=4.0), None),
        (DISH, {"first": Look("grass", 3, 1, "grass")}),
    ],
)
def test_what_looks_different_has_another_key(other, looks):
    assert drawing_key(other, looks) != drawing_key(DISH)


def luminance(colour):
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.source(
    "memory", "WCAG 2.2, 1.4.3 and 1.4.11: 4.5 for lettering, 3 for lines; its relative luminance"
)
def test_inks_stand_out_from_paper():
    def contrast(colour):
        return (luminance(PAPER) + 0.05) / (luminance(colour) + 0.05)

    assert contrast("#767676") == pytest.approx(4.54, abs=0.01)  # the grey that is often quoted
    assert min(contrast(INK), contrast(SOFT)) >= 4.5
    assert contrast(FAINT) >= 3.0


def test_stems_differ_without_colour():
    svg = plan(scene(DISH), Words())
    lines = [path.attrib for path in tree(svg).iter(f"{SVG}path")]
    thick = [each for each in lines if float(each.get("stroke-width", 0)) in (0.42, 0.5)]
    patterns = [each.get("stroke-dasharray", "") for each in thick if each["stroke"] == INK]
    assert len(set(patterns)) == len(patterns) == 3
    assert {each["stroke"] for each in lines if "stroke" in each} <= {INK, SOFT, PAPER}


def test_a_path_without_stroke_has_no_pen():
    svg = picture(Path(((0.0, 0.0), (1.0, 1.0)), stroke=None))
    assert "stroke=" not in svg.split("<desc>")[1]
