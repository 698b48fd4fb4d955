"""A bowl at the door: shape and two numbers in, three lengths out, on screen and paper."""

from __future__ import annotations

import re
from typing import Any

import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text, value

from nejime.desk.demo import lay_out
from nejime.desk.shelf import Shelf

DISH = {"shape": "round", "width": "12 in", "height": "6", "name": "Ada"}


def lengths(page: str) -> list[str]:
    return re.findall(r'<span class="length"><b>([^<]+)</b>', page)


def test_the_page_says_what_to_do_next(client: TestClient) -> None:
    page = client.get("/door")
    assert page.status_code == 200
    assert "Choose the shape, measure two things" in text(page.text)


@pytest.mark.source(
    "hand",
    "12 in = 30.48 cm; with 6 cm of height 36.48: 1.5 × = 54.7, ¾ of it 41.0, half of"
    " that 20.5, said as whole centimetres",
)
def test_three_lengths_of_a_dish_measured_in_inches(client: TestClient) -> None:
    page = client.get("/door", params=DISH)
    assert lengths(page.text) == ["55", "41", "21"]
    said = text(page.text)
    assert "Ada" in said
    assert "A little, 15° Front left" in said
    assert "Water 3 cm deep" in said
    assert "Stands" in said


@pytest.mark.parametrize("shape", ["round", "oval", "rectangle", "bowl", "footed", "vase"])
def test_every_shape_has_both_drawings(client: TestClient, shape: str) -> None:
    page = client.get("/door", params={"shape": shape, "width": "24", "height": "13"})
    assert page.status_code == 200
    assert page.text.count("<figure>") == 2


def test_what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(
    client: TestClient,
) -> None:
    page = client.get("/door", params={**DISH, "width": "a foot", "height": ""})
    assert page.status_code == 422
    assert set(faults(page.text)) == {"width", "height"}
    assert value(page.text, "width") == "a foot"
    assert value(page.text, "name") == "Ada"


def test_a_floor_on_which_nothing_lies_flat_is_told_above_the_form(client: TestClient) -> None:
    page = client.get("/door", params={"shape": "bowl", "width": "4", "height": "3"})
    assert page.status_code == 422
    assert "No pin holder lies flat" in text(page.text)


def test_depth_counts_only_where_it_is_asked(client: TestClient) -> None:
    page = client.get("/door", params={**DISH, "depth": "20"})
    assert lengths(page.text) == ["55", "41", "21"]
    oval = client.get("/door", params={**DISH, "shape": "oval", "depth": "20"})
    assert "20 cm front to back" in text(oval.text)


def test_the_half_page_is_a_pdf(client: TestClient) -> None:
    paper = client.get("/door/half-page.pdf", params=DISH)
    assert paper.headers["content-type"] == "application/pdf"
    assert paper.content.startswith(b"%PDF-")
    assert client.get("/door/half-page.pdf", params={"shape": "round"}).status_code == 422


def test_the_bowl_goes_into_the_cupboard_under_a_free_name(
    client: TestClient, shelf: Shelf
) -> None:
    for _ in range(2):
        client.post("/door/keep", data=DISH)
    assert sorted(kept.name for kept in shelf.all("vessel")) == ["Ada", "Ada 2"]
    assert shelf.all("vessel")[0].content["width"] == "12 in"


def people(shelf: Shelf) -> list[dict[str, Any]]:
    (lesson,) = shelf.all("class")
    return lesson.content["person"]


def test_the_bowl_becomes_a_persons_own(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf, TODAY)
    before = people(shelf)
    client.post("/door/class", data={**DISH, "name": "Somebody new"})
    assert len(people(shelf)) == len(before) + 1
    assert people(shelf)[-1]["vessel"] == {"shape": "round", "width": "12 in", "height": 6}
    client.post("/door/class", data={**DISH, "name": before[0]["name"]})
    assert len(people(shelf)) == len(before) + 1
    assert people(shelf)[0]["vessel"]["width"] == "12 in"


def test_it_is_made_as_in_the_nearest_class(client: TestClient, shelf: Shelf) -> None:
    lesson = lay_out(shelf, TODAY)
    assert lesson.content["class"]["title"] in text(client.get("/door").text)
    changed = {**lesson.content, "class": {**lesson.content["class"], "size": "small"}}
    shelf.save(lesson.id, changed, lesson.version)
    page = client.get("/door", params={"shape": "round", "width": "30", "height": "6"})
    assert lengths(page.text)[0] == "36"  # small: once width plus height
