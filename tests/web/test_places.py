"""Garden and shops: what may be cut and when, and bunches with their prices."""

from __future__ import annotations

from starlette.testclient import TestClient
from web.asked import faults, text, value

from nejime.desk.shelf import Shelf

HEDGE = {
    "plant": "forsythia",
    "length": "90",
    "count": "24",
    "thickness": "pencil",
    "name": "the hedge by the car park",
    "month-3": "yes",
    "month-4": "yes",
}
GROCERY = {
    "name": "the grocery",
    "minimum": "20",
    "rows": "3",
    "bunch[1].plant": "tulips",
    "bunch[1].stems": "10",
    "bunch[1].price": "7.99",
    "bunch[1].length": "35",
    "bunch[1].most": "8",
    "bunch[3].plant": "alstroemeria",
    "bunch[3].stems": "8",
    "bunch[3].price": "6.49",
    "bunch[3].length": "24 in",
}


def test_empty_lists_say_what_to_do(client: TestClient) -> None:
    said = text(client.get("/places").text)
    assert "Add what you may cut" in said
    assert "Add one with its bunches" in said


def test_a_garden_place_with_its_months(client: TestClient, shelf: Shelf) -> None:
    client.post("/places/garden/new", data=HEDGE)
    (kept,) = shelf.all("garden")
    assert kept.content == {
        "plant": "forsythia",
        "length": 90,
        "count": 24,
        "thickness": "pencil",
        "name": "the hedge by the car park",
        "months": [3, 4],
    }
    assert "Forsythia: 24, at least 90 cm long March and April" in text(client.get("/places").text)


def test_a_plant_that_is_not_known_is_answered_with_the_nearest(client: TestClient) -> None:
    page = client.post("/places/garden/new", data={**HEDGE, "plant": "forsithya"})
    assert page.status_code == 422
    assert "Forsythia" in faults(page.text)["plant"]
    assert value(page.text, "plant") == "forsithya"


def test_the_browser_offers_plants(client: TestClient) -> None:
    assert '<option value="Forsythia">' in client.get("/places/garden/new").text


def test_a_shop_with_bunches_and_empty_rows(client: TestClient, shelf: Shelf) -> None:
    client.post("/places/shop/new", data=GROCERY)
    (kept,) = shelf.all("shop")
    assert [each["plant"] for each in kept.content["bunch"]] == ["tulip", "alstroemeria"]
    assert kept.content["bunch"][0] == {
        "plant": "tulip",
        "stems": 10,
        "price": "7.99",
        "length": 35,
        "most": 8,
    }
    said = text(client.get("/places").text)
    assert "Tulip: 10 stems, $7.99, 35 cm" in said
    page = client.get(f"/places/shop/{kept.id}").text
    assert value(page, "bunch[2].plant") == "Alstroemeria"


def test_every_fault_of_every_row_is_told(client: TestClient) -> None:
    wrong = {
        **GROCERY,
        "bunch[1].price": "7.999",
        "bunch[2].plant": "tulip",
        "bunch[3].most": "1",
        "bunch[3].least": "2",
    }
    page = client.post("/places/shop/new", data=wrong)
    assert set(faults(page.text)) == {
        "bunch[1].price",
        "bunch[2].stems",
        "bunch[2].price",
        "bunch[2].length",
        "bunch[3].most",
    }


def test_more_rows_keep_what_was_typed(client: TestClient, shelf: Shelf) -> None:
    page = client.post("/places/shop/new", data={**GROCERY, "more": "yes"})
    assert page.status_code == 200
    assert value(page.text, "bunch[3].plant") == "alstroemeria"
    assert 'id="bunch[6].plant"' in page.text
    assert shelf.all("shop") == ()
