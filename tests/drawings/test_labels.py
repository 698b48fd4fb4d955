"""Labels never lie on each other and never run out of the picture, whatever is drawn."""

import pytest
from drawings.reading_svg import Box, clashes, lines, size
from hypothesis import Phase, given, reject, settings
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.drawings.bowl_mat import bowl_mat_sheets
from nejime.drawings.cutting_strip import cutting_strip
from nejime.drawings.elevation import HEIGHTS, LEANS, LENGTHS, NAMES, VESSEL, elevation
from nejime.drawings.icons import vessel_icon
from nejime.drawings.labels import Board, Label, rows_below
from nejime.drawings.lean_card import lean_card
from nejime.drawings.measuring import how_to_measure
from nejime.drawings.plan import plan
from nejime.drawings.scene import scene
from nejime.drawings.steps import steps
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import SHAPES, vessel

RULES = packaged()
TAUGHT = [
    (rule.name, form, kind, size)
    for rule in RULES.values()
    for (form, kind), taught in rule.forms.items()
    for size in taught.factor
]
ALL = frozenset((NAMES, LENGTHS, LEANS, HEIGHTS, VESSEL))


@st.composite
def pieces(draw):
    """A piece of any form, size and opening, in a vessel of 10 to 60 cm, with supporting stems."""
    name, form, kind, how_large = draw(st.sampled_from(TAUGHT))
    shallow = [shape for shape in SHAPES if shape != "vase"]
    shape = "vase" if kind == "tall" else draw(st.sampled_from(shallow))
    width = draw(st.floats(10, 60))
    height = draw(st.floats(15, 60)) if kind == "tall" else draw(st.floats(4, 20))
    depth = width * draw(st.floats(0.3, 1.0)) if shape in ("oval", "rectangle") else width
    wall = draw(st.sampled_from(["straight", "curved"])) if shape in ("bowl", "footed") else None
    made = vessel(shape, width, height, depth_cm=depth, wall=wall or "straight")
    try:
        bare = piece(
            made,
            RULES[name],
            form,
            size=how_large,
            opens=draw(st.sampled_from(["right", "left"])),
        )
    except InputError:  # no pin holder lies flat
        reject()
    return with_supporting(
        bare,
        helpers=draw(st.integers(0, 4)),
        hearts=draw(st.integers(0, 2)),
        leaves=draw(st.integers(0, 4)),
    )


# A failing piece is long enough as it is; making it smaller takes minutes.
QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
UNITS = st.sampled_from(["cm", "in", "both"])


@given(pieces(), UNITS, st.sampled_from([(80.0, 9.0), (60.0, 9.0), (110.0, 18.0)]))
@settings(max_examples=8, deadline=None, phases=QUICK)
def test_on_the_views(made, unit, paper):
    words, (wide, text_pt) = Words(unit=unit), paper
    shown = scene(made)
    views = [
        elevation(shown, side, words, width_mm=wide, text_pt=text_pt, shows=ALL)
        for side in ("front", "right", "teacher")
    ]
    views += [
        plan(shown, words, width_mm=wide, text_pt=text_pt, turned=turned)
        for turned in (False, True)
    ]
    assert [clashes(svg) for svg in views] == [[]] * len(views)


@given(pieces(), UNITS, st.sampled_from([(34.0, 9.0), (50.0, 9.0), (62.0, 18.0)]))
@settings(max_examples=6, deadline=None, phases=QUICK)
def test_on_the_steps(made, unit, paper):
    wide, text_pt = paper
    drawn = steps(made, None, Words(unit=unit), width_mm=wide, text_pt=text_pt)
    assert [clashes(step.svg) for step in drawn] == [[]] * len(drawn)


@given(pieces(), UNITS, st.sampled_from(["a4", "letter"]), st.sampled_from([12.0, 18.0]))
@settings(max_examples=6, deadline=None, phases=QUICK)
def test_on_the_tools(made, unit, page, text_pt):
    words = Words(unit=unit)
    drawn = [
        lean_card(made, words, page=page, text_pt=text_pt),
        cutting_strip(made, words, page=page, text_pt=text_pt),
        *bowl_mat_sheets(made, words, page=page, text_pt=text_pt),
    ]
    assert [clashes(svg) for svg in drawn] == [[]] * len(drawn)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("text_pt", [9.0, 18.0])
def test_on_the_small_drawings(shape, text_pt):
    words = Words(unit="both")
    wide = 80.0 * text_pt / 9.0
    assert clashes(how_to_measure(shape, words, width_mm=wide, text_pt=text_pt)) == []
    icon = vessel_icon(vessel(shape, 33, 12), words, width_mm=wide / 2, text_pt=text_pt)
    assert clashes(icon) == []


def test_lines_that_lie_on_each_other_are_found():
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20">'
        '<text x="2" y="8" font-size="4">one</text><text x="5" y="9" font-size="4">two</text>'
        '<text x="36" y="18" font-size="4">three</text></svg>'
    )
    assert clashes(svg) == ["'one' lies on 'two'", "'three' runs out of the picture"]


def test_a_board_that_forgets_what_is_taken_is_found(monkeypatch):
    shown = scene(piece(vessel("round", 30, 6), RULES["width-plus-height"], "upright"))
    crowd = [Label((f"label {number}",), (20.0, 20.0)) for number in range(6)]

    def boxes():
        board = Board(60.0, 60.0)
        placed = [board.place(label) for label in crowd]
        return [Box(*each.box) for each in placed if each]

    def overlapping(found):
        return [1 for i, one in enumerate(found) for two in found[i + 1 :] if one.overlaps(two)]

    assert not overlapping(boxes())
    monkeypatch.setattr(Board, "reserve", lambda self, box: None)
    assert overlapping(boxes())
    assert shown.stems


def test_labels_that_find_no_place_go_below_the_drawing():
    board = Board(40.0, 12.0)
    crowd = [Label((f"label number {number}",), (20.0, 6.0)) for number in range(9)]
    left = [label for label in crowd if board.place(label) is None]
    assert left
    placed, more = rows_below(left, 40.0, 12.0)
    for each in placed:
        assert each.box[1] >= 12.0
        assert each.box[3] <= 12.0 + more


@pytest.mark.source("own", "nothing on a drawing is smaller than 9 pt, 3.175 mm, on paper")
def test_lettering_is_as_large_as_asked_and_the_drawing_says_its_width():
    shown = scene(piece(vessel("round", 30, 6), RULES["width-plus-height"], "upright"))
    svg = elevation(shown, "front", Words(), width_mm=80.0)
    assert size(svg)[0] == 80.0
    assert 'width="80mm"' in svg
    sizes = {part.split('"')[1] for part in svg.split("font-size=")[1:]}
    assert min(map(float, sizes)) >= 3.17
    assert {text for text, _ in lines(svg)} >= {"first · shin 真", "54 cm", "15°", "45°"}
