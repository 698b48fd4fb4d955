"""The cupboard: vessels and pin holders kept, changed, copied, put away; two who change one."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient
from web.asked import faults, text, value

from nejime.desk.shelf import Shelf

DISH = {
    "shape": "round",
    "width": "12 in",
    "height": "6",
    "name": "Blue dish",
    "count": "3",
    "glaze": "indigo",
    "note": "a chip at the rim",
}


@pytest.fixture
def dish(client: TestClient, shelf: Shelf) -> int:
    client.post("/cupboard/vessel/new", data=DISH)
    (kept,) = shelf.all("vessel")
    return kept.id


def test_an_empty_cupboard_says_what_to_do(client: TestClient) -> None:
    said = text(client.get("/cupboard").text)
    assert "Add the first" in said
    assert "Add a pin holder" in said


def test_a_vessel_is_kept_as_a_class_file_has_it(shelf: Shelf, dish: int) -> None:
    assert shelf.get(dish).content == {
        "shape": "round",
        "width": "12 in",
        "height": 6,
        "name": "Blue dish",
        "count": 3,
        "glaze": "indigo",
        "note": "a chip at the rim",
    }


def test_it_is_listed_with_its_picture(client: TestClient, dish: int) -> None:
    page = client.get("/cupboard").text
    assert "round dish, 30 cm wide, 6 cm high 3 of them a chip at the rim" in text(page)
    assert page.count('class="thing-picture"') == 1


def test_every_fault_is_told_and_nothing_typed_is_lost(client: TestClient) -> None:
    wrong = {**DISH, "width": "x", "count": "many", "name": "", "wall": "9", "mass": "light"}
    page = client.post("/cupboard/vessel/new", data=wrong)
    assert page.status_code == 422
    assert set(faults(page.text)) == {"width", "count", "name", "mass"}
    assert value(page.text, "width") == "x"
    assert value(page.text, "wall") == "9"
    assert "<details open>" in page.text


def test_measures_that_cannot_be_together_are_told(client: TestClient) -> None:
    page = client.post("/cupboard/vessel/new", data={**DISH, "floor_width": "40"})
    assert set(faults(page.text)) == {"floor_width"}


def test_no_two_have_the_same_name(client: TestClient, dish: int) -> None:
    page = client.post("/cupboard/vessel/new", data={**DISH, "name": "blue  DISH"})
    assert set(faults(page.text)) == {"name"}


def test_two_who_change_one_see_both(client: TestClient, shelf: Shelf, dish: int) -> None:
    at = f"/cupboard/vessel/{dish}"
    client.post(at, data={**DISH, "height": "7", "base": "1"})
    page = client.post(at, data={**DISH, "height": "8", "base": "1"})
    assert page.status_code == 409
    assert "height 7 8" in text(page.text)
    assert shelf.get(dish).content["height"] == 7
    client.post(at, data={**DISH, "height": "8", "base": "2"})
    assert shelf.get(dish).content["height"] == 8


def test_copied_put_away_and_brought_back(client: TestClient, shelf: Shelf, dish: int) -> None:
    client.post(f"/cupboard/vessel/{dish}/copy")
    assert {each.name for each in shelf.all("vessel")} == {"Blue dish", "Blue dish 2"}
    client.post(f"/cupboard/vessel/{dish}/away")
    assert "One was put away" in text(client.get("/cupboard").text)
    client.post("/cupboard/vessel/new", data=DISH)  # its name is taken meanwhile
    client.post(f"/cupboard/vessel/{dish}/back")
    names = sorted(each.name for each in shelf.all("vessel"))
    assert names == ["Blue dish", "Blue dish 2", "Blue dish 3"]
    assert shelf.get(dish).content["name"] == "Blue dish 3"


def test_a_class_that_calls_it_by_its_name_is_told(
    client: TestClient, shelf: Shelf, dish: int
) -> None:
    shelf.add("class", "Early spring", {"person": [{"name": "Emil", "vessel": "blue dish"}]})
    shelf.add("class", "Autumn", {"person": [{"name": "Fay", "vessel": {"shape": "round"}}]})
    assert "Used in Early spring." in text(client.get("/cupboard").text)
    assert "called by this name in Early spring" in text(
        client.get(f"/cupboard/vessel/{dish}").text
    )


def test_inches_are_inches_for_whoever_reads_them(client: TestClient, shelf: Shelf) -> None:
    shelf.add("settings", "settings", {"units": "in"})
    client.post("/cupboard/vessel/new", data={**DISH, "width": "12", "height": "15 cm"})
    (kept,) = shelf.all("vessel")
    assert (kept.content["width"], kept.content["height"]) == ("12 in", "15 cm")


@pytest.mark.source("hand", "13 g/cm² × 10 × 8 cm = 1040 g")
def test_pin_holders_round_and_with_four_sides(client: TestClient, shelf: Shelf) -> None:
    client.post(
        "/cupboard/holder/new",
        data={"name": "usual", "diameter": "7", "mass": "480", "count": "12"},
    )
    client.post("/cupboard/holder/new", data={"name": "large", "width": "10", "depth": "8"})
    said = text(client.get("/cupboard").text)
    assert "round, 7 cm 480 g 12 of them" in said
    assert "four sides, 10 cm by 8 cm about 1040 g, not weighed one of them" in said
    page = client.post("/cupboard/holder/new", data={"name": "odd", "width": "10"})
    assert set(faults(page.text)) == {"diameter"}


@pytest.mark.parametrize("address", ["/cupboard/vessel/99", "/cupboard/shop/new", "/cupboard/x/1"])
def test_what_is_not_there_is_nothing(client: TestClient, address: str) -> None:
    assert client.get(address).status_code == 404


def test_a_thing_of_another_kind_is_not_changed_here(client: TestClient, dish: int) -> None:
    assert client.get(f"/cupboard/holder/{dish}").status_code == 404
    assert client.post(f"/cupboard/holder/{dish}/away").status_code == 404
