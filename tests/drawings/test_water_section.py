"""The water in section: to scale, in every vessel, with its words apart."""

from __future__ import annotations

import itertools
import re
import xml.etree.ElementTree as ET

import pytest

from nejime.basis.sayings import Words
from nejime.drawings import water_section as drawn
from nejime.drawings.measuring import USUAL
from nejime.drawings.water_section import WATER, Levels, water_section
from nejime.forms.vessel import SHAPES, vessel

SVG = "{http://www.w3.org/2000/svg}"


def levels_of(shape: str) -> Levels:
    full = 0.6 * USUAL[shape].inside_cm
    pins = None if shape == "vase" else min(2.2, 0.6 * full)
    return Levels(full, 0.9 * full, 0.75 * full, pins, (0.95 * full, 0.9 * full))


def shapes_of(svg: str, fill: str) -> list[str]:
    return [
        each.get("d", "")
        for each in ET.fromstring(svg).iter(f"{SVG}path")
        if each.get("fill") == fill
    ]


def high_mm(path: str) -> float:
    """How high an outline of relative straight lines is."""
    start, *steps = re.findall(r"[Ml]([-\d. ]+)", path)
    y = [float(re.findall(r"-?[\d.]+", start)[1])]
    for step in steps:
        y.append(y[-1] + float(re.findall(r"-?(?:\d+\.?\d*|\.\d+)", step)[1]))
    return max(y) - min(y)


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("unit", ["cm", "in", "both"])
def test_every_shape_has_a_section_that_stays_on_its_paper(shape: str, unit: str) -> None:
    root = ET.fromstring(water_section(USUAL[shape], levels_of(shape), Words(unit=unit)))
    wide, high = (float(each) for each in root.get("viewBox", "").split()[2:])
    for each in root.iter(f"{SVG}text"):
        assert 0 < float(each.get("x", "")) < wide
        assert 0 < float(each.get("y", "")) < high
    assert root.find(f"{SVG}title") is not None
    assert "time to pour" in "".join(root.find(f"{SVG}desc").itertext())


@pytest.mark.parametrize("shape", SHAPES)
def test_its_words_do_not_meet(shape: str) -> None:
    root = ET.fromstring(water_section(USUAL[shape], levels_of(shape), Words()))
    words = [each for each in root.iter(f"{SVG}text") if not (each.text or "").isdigit()]
    ys = [float(each.get("y", "")) for each in words]
    assert len(ys) == 3
    assert all(after - before > 4.0 for before, after in itertools.pairwise(sorted(ys)))


@pytest.mark.source("hand", "water half as deep is half as high on paper, whatever the scale")
def test_the_water_is_to_scale() -> None:
    dish = vessel("rectangle", 30.0, 6.0)
    high = [
        high_mm(shapes_of(water_section(dish, Levels(4.0, now, 2.7), Words()), WATER)[0])
        for now in (4.0, 2.0)
    ]
    assert high[0] == pytest.approx(2 * high[1], abs=0.05)


@pytest.mark.source("hand", "water 4 cm deep is twice as high as it is from 1 to 3 on the ruler")
def test_the_ruler_and_the_water_agree() -> None:
    svg = water_section(vessel("rectangle", 30.0, 6.0), Levels(4.0, 4.0, 2.7), Words())
    said = {each.text: float(each.get("y", "")) for each in ET.fromstring(svg).iter(f"{SVG}text")}
    assert high_mm(shapes_of(svg, WATER)[0]) == pytest.approx(2 * (said["1"] - said["3"]), abs=0.1)


def test_an_empty_vessel_has_no_water() -> None:
    dish = vessel("round", 30.0, 6.0)
    assert shapes_of(water_section(dish, Levels(4.0, 0.0, 2.7), Words()), WATER) == []


def test_a_dot_for_every_day_and_pins_only_where_there_are_any() -> None:
    dish = vessel("round", 30.0, 6.0)
    with_pins = water_section(dish, Levels(4.0, 3.5, 2.7, 2.2, (3.8, 3.5, 3.2)), Words())
    without = water_section(dish, Levels(4.0, 3.5, 2.7, None, (3.8, 3.5, 3.2)), Words())
    assert with_pins.count("<circle") == without.count("<circle") == 3
    assert with_pins.count("<path") > without.count("<path")


def test_words_that_would_meet_are_spread_about_their_middle() -> None:
    assert drawn._spread([10.0]) == [10.0]
    spread = drawn._spread([10.0, 10.0, 10.0])
    assert sum(spread) == pytest.approx(30.0)
    assert [after - before for before, after in itertools.pairwise(spread)] == pytest.approx(
        [drawn.APART_MM] * 2
    )
