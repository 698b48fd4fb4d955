"""A request to measure pictures is read, or refused with every fault at its place."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Words
from nejime.photo.asked import Asked, Known, Marker, Pins, Rim
from nejime.reading.checking import known_keys
from nejime.reading.measuring import (
    MarksTable,
    Picture,
    PinsTable,
    RimTable,
    ViewTable,
    read_request,
    read_request_text,
)

RIM = [[900, 1500], [1400, 1300], [2000, 1250], [2600, 1300], [3100, 1500], [2000, 1800]]
CORNERS = [[900, 1800], [3100, 1800], [2600, 1300], [1400, 1300]]
ROUND = {
    "vessel": {"shape": "round", "rim_diameter_cm": 28, "height_cm": 6.5},
    "holder": {"x_cm": -5, "y_cm": -1, "height_cm": 2.0, "radius_cm": 3},
    "views": [
        {
            "width": 4032,
            "height": 3024,
            "focal_35mm": 26,
            "rim": RIM,
            "stems": [
                {"id": "first", "tip": [2110, 480], "base": [1740, 1960], "cut_length_cm": 50},
                {"id": "second", "tip": [1040, 1200], "mid": [1300, 1500]},
            ],
        },
        {
            "width": 3024,
            "height": 4032,
            "focal_35mm": None,
            "rim": RIM,
            "stems": [{"id": "first", "tip": [110, 480], "aim_tilt_deg": 15}],
        },
    ],
}
RECTANGLE = {
    "vessel": {"shape": "rectangle", "rim_width_cm": 30, "rim_depth_cm": 20, "height_cm": 7},
    "views": [
        {
            "width": 4032,
            "height": 3024,
            "focal_35mm": 26.0,
            "corners": CORNERS,
            "stems": [{"id": "first", "tip": [2110, 480]}],
        }
    ],
}
MARKER = Marker(2, ((10, 10), (50, 10), (50, 50), (10, 50)))


def no_picture(name: str) -> Picture:
    raise refuse("a.jpg", "desk.no-file", "desk.cannot-read-try", file=name)


def read(tree: Any) -> Asked:
    return read_request(tree, no_picture)


def changed(tree: Any, *path: Any, to: Any = ...) -> Any:
    """A copy of a request in which one place is another, or is left out."""
    made = json.loads(json.dumps(tree))
    inside = made
    for part in path[:-1]:
        inside = inside[part]
    if to is ...:
        del inside[path[-1]]
    else:
        inside[path[-1]] = to
    return made


def told(tree: Any) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as caught:
        read(tree)
    words = Words()
    for fault in caught.value.faults:
        assert words.say(fault.says)
        assert fault.try_instead is not None
        assert words.say(fault.try_instead)
    return [(fault.field, fault.says.key) for fault in caught.value.faults]


def test_a_request_is_read() -> None:
    asked = read(ROUND)
    assert asked.rim == Rim("round", 28, 28, 6.5)
    assert asked.pins == Pins(-5, -1, 2.0, 3)
    front, side = asked.views
    assert (front.width_px, front.height_px, front.focal_35mm) == (4032, 3024, 26)
    assert (side.width_px, side.height_px, side.focal_35mm) == (3024, 4032, None)
    assert front.rim == tuple((x, y) for x, y in RIM)
    assert (front.stems[0].tip, front.stems[0].base) == ((2110, 480), (1740, 1960))
    assert front.stems[1].mid == (1300, 1500)
    assert asked.known_of("first") == Known(cut_length_cm=50, aim_tilt_deg=15)
    assert asked.known_of("second") == Known()


def test_a_rectangle_has_corners() -> None:
    asked = read(RECTANGLE)
    assert asked.rim == Rim("rectangle", 30, 20, 7)
    assert asked.views[0].rim == tuple((x, y) for x, y in CORNERS)
    assert asked.pins == Pins()


def test_a_picture_says_its_own_size_focal_length_and_card() -> None:
    view = {"image": "front.jpg", "rim": RIM, "stems": [{"id": "first", "tip": [2110, 480]}]}
    tree = changed(ROUND, "views", to=[view])
    asked = read_request(tree, {"front.jpg": Picture(4032, 3024, 27.0, (MARKER,))}.__getitem__)
    assert (asked.views[0].width_px, asked.views[0].height_px) == (4032, 3024)
    assert asked.views[0].focal_35mm == 27.0
    assert asked.views[0].card == (MARKER,)
    written = read_request(
        changed(tree, "views", 0, "focal_35mm", to=26), lambda name: Picture(4032, 3024, 27.0)
    )
    assert written.views[0].focal_35mm == 26


def test_a_card_may_be_written_instead_of_found() -> None:
    card = [{"id": 2, "corners": [[10, 10], [50, 10], [50, 50], [10, 50]]}]
    asked = read(changed(ROUND, "views", 0, "card", to=card))
    assert asked.views[0].card == (MARKER,)
    assert told(changed(ROUND, "views", 0, "card", to=card * 2)) == [
        ("views[1].card[2].id", "reading.measuring.marker-twice")
    ]


@pytest.mark.source("cipa-exif", "FocalLengthIn35mmFilm: 0 means that it is not known")
def test_a_focal_length_of_nothing_is_not_known() -> None:
    assert read(changed(ROUND, "views", 0, "focal_35mm", to=0)).views[0].focal_35mm is None
    assert read(changed(ROUND, "views", 0, "focal_35mm")).views[0].focal_35mm is None


def test_what_is_optional_may_be_null() -> None:
    tree = changed(changed(ROUND, "holder", to=None), "views", 0, "width", to=4032.0)
    tree = changed(tree, "views", 0, "stems", 0, "base", to=None)
    asked = read(changed(tree, "views", 0, "stems", 0, "cut_length_cm", to=None))
    assert (asked.pins, asked.views[0].width_px) == (Pins(), 4032)
    assert asked.views[0].stems[0].base is None
    assert asked.known_of("first") == Known(aim_tilt_deg=15)


@pytest.mark.parametrize(
    ("path", "value", "field", "key"),
    [
        (("vessel", "shape"), "oval", "vessel.shape", "not-one-of"),
        (("vessel", "rim_diameter_cm"), "28", "vessel.rim_diameter_cm", "measuring.not-plain-cm"),
        (("vessel", "rim_diameter_cm"), 2.9, "vessel.rim_diameter_cm", "measuring.cm-outside"),
        (("vessel", "rim_diameter_cm"), 201, "vessel.rim_diameter_cm", "measuring.cm-outside"),
        (("vessel", "rim_diameter_cm"), float("nan"), "vessel.rim_diameter_cm", "not-measurable"),
        (("vessel", "rim_diameter_cm"), ..., "vessel.rim_diameter_cm", "missing"),
        (("vessel", "rim_width_cm"), 28, "vessel.rim_width_cm", "measuring.not-round"),
        (("vessel", "height_cm"), ..., "vessel.height_cm", "missing"),
        (("vessel", "colour"), "blue", "vessel.colour", "unknown-key"),
        (("vessel",), [], "vessel", "not-a-table"),
        (("vessel",), ..., "vessel", "missing"),
        (("holder", "x_cm"), "left", "holder.x_cm", "measuring.not-plain-cm"),
        (("views",), [], "views", "measuring.views"),
        (("views",), {}, "views", "not-a-list"),
        (("views",), ..., "views", "missing"),
        (("views", 1), "side.jpg", "views[2]", "not-a-table"),
        (("views", 1, "width"), 4032.5, "views[2].width", "not-whole"),
        (("views", 1, "width"), ..., "views[2].width", "missing"),
        (("views", 1, "focal_35mm"), 35856, "views[2].focal_35mm", "measuring.lens"),
        (("views", 1, "focal_35mm"), "26 mm", "views[2].focal_35mm", "not-a-number"),
        (("views", 1, "image"), "side.jpg", "views[2].image", None),
        (("views", 1, "rim"), ..., "views[2].rim", "measuring.no-rim"),
        (("views", 1, "rim"), RIM[:4], "views[2].rim", "measuring.few-points"),
        (("views", 1, "rim"), RIM[:4] * 2, "views[2].rim", "measuring.few-points"),
        (("views", 1, "rim"), [[9 * n, n] for n in range(8)], "views[2].rim", "measuring.line"),
        (("views", 1, "rim", 2), [1, 2, 3], "views[2].rim[3]", "not-a-point"),
        (("views", 1, "rim", 2), [1, None], "views[2].rim[3][2]", "not-a-number"),
        (("views", 1, "rim", 2), [1, float("inf")], "views[2].rim[3][2]", "number-outside"),
        (("views", 1, "rim", 2), [2000, 9000], "views[2].rim[3]", "measuring.beside"),
        (("views", 1, "corners"), CORNERS, "views[2].corners", "measuring.corners-of-round"),
        (("views", 1, "stems"), [], "views[2].stems", "measuring.no-stems"),
        (("views", 1, "stems", 0, "tip"), ..., "views[2].stems[1].tip", "missing"),
        (("views", 1, "stems", 0, "tip"), [-9000, 1], "views[2].stems[1].tip", "measuring.beside"),
        (("views", 1, "stems", 0, "id"), 1, "views[2].stems[1].id", "not-text"),
        (("views", 1, "stems", 0, "id"), " ", "views[2].stems[1].id", "blank"),
        (("views", 0, "stems", 1, "id"), "first", "views[1].stems[2].id", "measuring.stem-twice"),
        (
            ("views", 1, "stems", 0, "cut_length_cm"),
            49,
            "views[2].stems[1].cut_length_cm",
            "measuring.two-values",
        ),
        (
            ("views", 0, "stems", 0, "cut_length_cm"),
            "50 cm",
            "views[1].stems[1].cut_length_cm",
            "measuring.not-plain-cm",
        ),
        (("views", 0, "stems", 0, "aim_tilt_deg"), 181, "views[1].stems[1].aim_tilt_deg", None),
    ],
)
def test_a_fault_is_told_at_its_place(path, value, field, key) -> None:
    (fault,) = told(changed(ROUND, *path, to=value))
    assert fault[0] == field
    assert key is None or fault[1] == f"reading.{key}"


@pytest.mark.parametrize(
    ("path", "value", "field", "key"),
    [
        (("vessel", "rim_depth_cm"), ..., "vessel.rim_depth_cm", "missing"),
        (("vessel", "rim_diameter_cm"), 30, "vessel.rim_diameter_cm", "measuring.not-rectangle"),
        (("views", 0, "corners"), ..., "views[1].corners", "measuring.no-corners"),
        (("views", 0, "corners"), CORNERS[:3], "views[1].corners", "measuring.four-corners"),
        (("views", 0, "corners"), CORNERS[:3] * 2, "views[1].corners", "measuring.four-corners"),
        (
            ("views", 0, "corners"),
            [CORNERS[at] for at in (0, 2, 1, 3)],
            "views[1].corners",
            "measuring.corners-cross",
        ),
        (("views", 0, "rim"), RIM, "views[1].rim", "measuring.rim-of-rectangle"),
    ],
)
def test_a_fault_of_a_rectangle_is_told_at_its_place(path, value, field, key) -> None:
    assert told(changed(RECTANGLE, *path, to=value)) == [(field, f"reading.{key}")]


def test_every_fault_is_told_at_once() -> None:
    tree = changed(ROUND, "vessel", "height_cm", to="6.5")
    tree = changed(tree, "views", 0, "stems", 1, "tip", to=[1])
    tree = changed(tree, "views", 1, "rim", to=RIM[:3])
    tree = changed(tree, "viewer", to="me")
    assert {field for field, _ in told(tree)} == {
        "vessel.height_cm",
        "views[1].stems[2].tip",
        "views[2].rim",
        "viewer",
    }


def test_a_mistyped_key_is_told_with_the_one_that_is_meant() -> None:
    tree = changed(ROUND, "views", 0, "stems", 0, "cut_lenght_cm", to=50)
    with pytest.raises(InputError) as caught:
        read(tree)
    (fault,) = caught.value.faults
    assert fault.try_instead is not None
    assert "cut_length_cm" in Words().say(fault.try_instead)


@pytest.mark.parametrize("tree", [None, [], 3, "round", {}])
def test_what_is_no_request_is_refused(tree) -> None:
    assert told(tree)


def test_a_text_that_is_no_json_is_refused_with_its_line() -> None:
    with pytest.raises(InputError) as caught:
        read_request_text("mine.json", b'{\n"vessel": \n}')
    assert caught.value.faults[0].line == 3
    assert read_request_text("mine.json", json.dumps(ROUND).encode()) == ROUND


GUIDE = (Path(__file__).parents[2] / "docs" / "guide" / "photo.md").read_text("utf-8")


def test_the_request_that_the_guide_shows_is_read() -> None:
    tree = json.loads(GUIDE.split("```json")[1].split("```")[0])
    asked = read_request(tree, lambda name: Picture(1600, 1200, 26.0))
    assert [len(view.stems) for view in asked.views] == [2, 1]
    assert asked.known_of("first") == Known(50, 20, 45)
    for table in (RimTable, PinsTable, MarksTable, ViewTable):
        for key in set(known_keys(table)) - {"card"}:
            assert f"`{key}`" in GUIDE or f'"{key}"' in GUIDE


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inside: (
        st.lists(inside, max_size=3) | st.dictionaries(st.text(max_size=5), inside, max_size=3)
    ),
    max_leaves=5,
)


def _places(tree: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = tree.items() if isinstance(tree, dict) else enumerate(tree)
    deeper = [
        place
        for key, value in inner
        for place in [
            (*path, key),
            *(_places(value, (*path, key)) if isinstance(value, dict | list) else []),
        ]
    ]
    return [*deeper]


@settings(max_examples=200, deadline=None)
@given(st.sampled_from([ROUND, RECTANGLE]), st.data(), ANYTHING)
def test_whatever_stands_in_a_place_is_read_or_refused(tree, data, value) -> None:
    path = data.draw(st.sampled_from(_places(tree)))
    try:
        read(changed(tree, *path, to=value))
    except InputError as trouble:
        for fault in trouble.faults:
            assert Words().say(fault.says)
            assert fault.try_instead is None or Words().say(fault.try_instead)


def test_a_key_told_twice_is_refused_and_named() -> None:
    with pytest.raises(InputError) as caught:
        read_request_text("r.json", b'{"views": [{"tip": [1, 2], "tip": [3, 4]}]}')
    (fault,) = caught.value.faults
    assert "“tip” stands twice" in Words().say(fault.says)
