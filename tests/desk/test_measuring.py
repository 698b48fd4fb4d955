"""What is measured in pictures is told in a teacher's words, and as values."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.angles import Point
from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.desk.measure import Looked, measure_request, measured_answer, measured_text
from nejime.desk.read_file import read_file
from nejime.photo.answer import Interval, Line, Measured, MeasuredStem
from nejime.photo.asked import Rim
from nejime.photo.camera import Camera
from nejime.photo.measuring import measure as measured
from nejime.reading.measuring import Picture, read_request

SCENES = Path(__file__).parents[2] / "authorities" / "photo"
HERE = Camera(4032, 3024, 3000.0, (0, -100, 40), ((1, 0, 0), (0, 0, -1), (0, 1, 0)))


def near(value: float, half: float) -> Interval:
    return Interval(value, value - half, value + half)


def line(tilt: float, bearing: float, length: float, vague: float = 3.0) -> Line:
    return Line(
        near(tilt, 1.2), near(bearing, vague), near(length, 0.2), Point(0, 0, 2), Point(1, 2, 3)
    )


FOUND = Measured(
    Rim("round", 28, 28, 6.5),
    (HERE, HERE),
    (
        MeasuredStem("first", "measured", (near(-3, 1), None), line(20, 359.8, 50)),
        MeasuredStem(
            "quince", "two answers", (near(9, 1),) * 2, line(50, 45, 40), line(30, 180, 40)
        ),
        MeasuredStem("third", "lean only", (near(9, 1), near(1, 2))),
        MeasuredStem("a", "not measurable", (near(9, 1), near(1, 2))),
        MeasuredStem("b", "measured", (near(9, 1), near(1, 2)), line(4, 90, 40, 60)),
        MeasuredStem("c", "measured", (near(9, 1), near(1, 2)), line(12, 90, 40, 60)),
    ),
)
LOOKED = Looked(FOUND, (Saying("measure.mirrored-card"),))


def test_a_teacher_reads_each_stem_with_how_sure_it_is() -> None:
    rows = measured_text(LOOKED, Words()).splitlines()
    cells = [[cell.strip() for cell in row.split("  ") if cell.strip()] for row in rows[3:10]]
    assert cells == [
        ["first stem", "20° ± 1°", "straight back (0° ± 3°)", "50 cm ± 0.5 cm",
         "3° ± 1° to the left, not marked"],
        ["quince", "50° ± 1°", "back right (45° ± 3°)", "40 cm ± 0.5 cm",
         "9° ± 1° to the right, 9° ± 1° to the right"],
        ["or", "30° ± 1°", "straight to the front (180° ± 3°)", "40 cm ± 0.5 cm"],
        ["third stem", "not known", "9° ± 1° to the right, 1° ± 2° to the right"],
        ["a", "not measurable", "9° ± 1° to the right, 1° ± 2° to the right"],
        ["b", "4° ± 1°", "upright", "40 cm ± 0.5 cm", "9° ± 1° to the right, 1° ± 2° to the right"],
        ["c", "12° ± 1°", "not known", "40 cm ± 0.5 cm",
         "9° ± 1° to the right, 1° ± 2° to the right"],
    ]  # fmt: skip
    text = "\n".join(rows)
    for said in ("two lines", "does not show depth", "could be far", "95 of 100", "mirrored"):
        assert said in text
    assert "¼ in" in measured_text(LOOKED, Words(unit="in"))


def test_values_are_told_with_null_where_there_is_none() -> None:
    answer = measured_answer(LOOKED, Words())
    json.dumps(answer, allow_nan=False)
    first, quince, third, *_ = answer["stems"]
    assert first["tilt_deg"] == {"value": 20.0, "low": 18.8, "high": 21.2}
    assert first["picture_lean_deg"] == [{"value": -3.0, "low": -4.0, "high": -2.0}, None]
    assert "or" not in first
    assert quince["or"]["bearing_deg"]["value"] == 180.0
    assert (third["status"], third["tilt_deg"], third["length_cm"]) == ("lean only", None, None)
    assert [each["centre_cm"] for each in answer["cameras"]] == [[0.0, -100.0, 40.0]] * 2


def test_a_request_is_answered(tmp_path) -> None:
    """By eight points on a circle of 28 cm seen by a camera 100 cm before it and 60 above."""
    view = {
        "width": 4032,
        "height": 3024,
        "focal_35mm": 26,
        "rim": [[2431, 1512], [2324, 1416], [2016, 1377], [1707, 1416], [1600, 1512], [1679, 1619],
                [2016, 1672], [2352, 1619]],
        "stems": [{"id": "first", "tip": [2400, 500]}],
    }  # fmt: skip
    vessel = {"shape": "round", "rim_diameter_cm": 28, "height_cm": 6.5}
    file = tmp_path / "mine.json"
    file.write_text(json.dumps({"vessel": vessel, "views": [view]}), encoding="utf-8")
    (stem,) = measure_request(file).measured.stems
    assert stem.status == "lean only"
    assert stem.line is None
    assert stem.picture_lean_deg[0] is not None
    assert 0 < stem.picture_lean_deg[0].value < 45
    view["rim"] = view["rim"][:5]
    file.write_text(json.dumps({"vessel": vessel, "views": [view]}), encoding="utf-8")
    said = [each.key for each in measure_request(file).remarks]
    assert said[0] == "measure.few-points"


def test_pictures_are_opened_beside_the_request_and_the_card_in_them_is_found(tmp_path) -> None:
    """A rendered scene; the truth is the renderer's, turned so that its first camera is in front:
    that stands 4 cm to the right and 91.2 cm before the middle, which makes 2.51°."""
    told = json.loads((SCENES / "c04_round_card_twoviews.json").read_text(encoding="utf-8"))
    views = []
    for view in told["views"]:
        (tmp_path / view["file"]).write_bytes((SCENES / view["file"]).read_bytes())
        stems = [
            {"id": stem["name"], "tip": tip}
            for stem, tip in zip(told["stems"], view["tip_px"], strict=True)
        ]
        views.append({"image": view["file"], "rim": view["rim_px"][::9], "stems": stems})
    vessel = {"shape": "round", "rim_diameter_cm": 28, "height_cm": 6.5}
    holder = {"x_cm": -5, "y_cm": -1, "height_cm": 2, "radius_cm": 3}
    tree = {"vessel": vessel, "holder": holder, "views": views}
    file = tmp_path / "mine.json"
    file.write_text(json.dumps(tree), encoding="utf-8")
    found = measure_request(file)
    assert found.remarks == ()  # the card tells how wide the camera sees
    answer = measured_answer(found, Words())
    for camera in answer["cameras"]:
        assert (camera["width"], camera["height"]) == (1600, 1200)
        assert camera["focal_px"] == pytest.approx(told["views"][0]["f_px_true"], rel=0.03)
    for stem, true in zip(answer["stems"], told["stems"], strict=True):
        assert stem["status"] == "measured"
        assert stem["tilt_deg"]["low"] <= true["tilt_deg"] <= stem["tilt_deg"]["high"]
        bearing = true["azimuth_deg"] + 2.51
        assert stem["bearing_deg"]["low"] <= bearing <= stem["bearing_deg"]["high"]
        assert stem["length_cm"]["low"] <= true["chord_cm"] <= stem["length_cm"]["high"]

    views[1]["image"] = "not-there.jpg"
    file.write_text(json.dumps(tree), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        measure_request(file)
    assert [fault.field for fault in caught.value.faults] == ["views[2].image"]


PIXEL = st.tuples(st.integers(0, 1200), st.integers(0, 900)).map(list)
STEM = st.fixed_dictionaries(
    {"tip": PIXEL},
    optional={"base": PIXEL, "mid": PIXEL, "cut_length_cm": st.integers(2, 300),
              "aim_tilt_deg": st.integers(0, 180), "aim_bearing_deg": st.integers(0, 360)},
)  # fmt: skip


@st.composite
def ovals(draw: st.DrawFn) -> list[list[float]]:
    """Points round an oval, as steady as can be or not at all."""
    wide, flat = draw(st.integers(30, 500)), draw(st.floats(0.05, 1.0))
    shake = draw(st.sampled_from([0, 2, 30]))
    return [
        [600 + wide * math.cos(angle) + draw(st.integers(-shake, shake)),
         450 + wide * flat * math.sin(angle) + draw(st.integers(-shake, shake))]
        for angle in (0.8 * step for step in range(draw(st.integers(5, 8))))
    ]  # fmt: skip


@st.composite
def requests(draw: st.DrawFn) -> dict[str, Any]:
    """What somebody could mark who does not look at the picture."""
    views = []
    for _ in range(draw(st.integers(1, 2))):
        stems = draw(st.lists(STEM, min_size=1, max_size=3))
        views.append(
            {
                "width": 1200,
                "height": 900,
                "focal_35mm": draw(st.sampled_from([None, 26, 77])),
                "rim": draw(ovals() | st.lists(PIXEL, min_size=6, max_size=8)),
                "stems": [{"id": f"stem {at}", **each} for at, each in enumerate(stems)],
            }
        )
    vessel = {
        "shape": "round",
        "rim_diameter_cm": draw(st.integers(3, 200)),
        "height_cm": draw(st.integers(1, 60)),
    }
    return {"vessel": vessel, "views": views}


@settings(max_examples=6)
@given(requests())
def test_whatever_is_marked_is_measured_or_refused(tree: dict[str, Any]) -> None:
    words = Words()
    try:
        found = measured(read_request(tree, dict[str, Picture]().__getitem__))
    except InputError as trouble:
        for each in trouble.faults:
            words.say(each.says)
        return
    json.dumps(measured_answer(Looked(found, found.remarks), words), allow_nan=False)
    assert measured_text(Looked(found, found.remarks), words)
    for stem in found.stems:
        for line in (stem.line, stem.other):
            for told in (line.tilt_deg, line.bearing_deg, line.length_cm) if line else ():
                assert told.low <= told.value <= told.high


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="only some systems have endless files")
def test_an_endless_file_is_refused_as_too_large() -> None:
    with pytest.raises(InputError, match="too-large"):
        read_file(Path("/dev/zero"))


def test_a_name_that_no_file_can_have_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        read_file(Path("a\0b"))
    assert caught.value.faults
