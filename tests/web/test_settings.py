"""Settings, and everything out and in as one file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text, value

from nejime.desk import carry
from nejime.desk.demo import lay_out
from nejime.desk.shelf import Shelf, open_shelf

ASKED = {
    "units": "both",
    "paper": "Letter",
    "library": "Millbrook Town Library",
    "zone": "America/Chicago",
    "currency": "$",
    "decimals": "2",
    "proportions": "width-plus-height",
}


def test_they_hold_at_once(client: TestClient, shelf: Shelf) -> None:
    page = client.post("/settings", data=ASKED)
    assert "Kept" in text(page.text)
    (kept,) = shelf.all("settings")
    assert kept.content["units"] == "both"
    dish = client.get("/door", params={"shape": "round", "width": "30", "height": "6"})
    assert "30 cm (11¾ in) wide" in text(dish.text)


def test_what_is_emptied_stays_empty(client: TestClient) -> None:
    page = client.post("/settings", data={**ASKED, "currency": ""})
    assert value(page.text, "currency") == ""


def test_faults_stand_beside_their_fields(client: TestClient) -> None:
    page = client.post("/settings", data={**ASKED, "zone": "Chicago", "decimals": "9"})
    assert page.status_code == 422
    assert set(faults(page.text)) == {"zone", "decimals"}
    assert "America/Chicago" in faults(page.text)["zone"]
    assert value(page.text, "zone") == "Chicago"


def test_other_traditions_are_shown_where_they_are_wanted(client: TestClient) -> None:
    assert client.get("/settings").text.count('name="proportions"') == 1
    page = client.post("/settings", data={**ASKED, "traditions": "yes"})
    assert page.text.count('name="proportions"') > 1


def test_two_who_change_them_see_both(client: TestClient, shelf: Shelf) -> None:
    client.post("/settings", data=ASKED)
    client.post("/settings", data={**ASKED, "paper": "A4", "base": "1"})
    page = client.post("/settings", data={**ASKED, "units": "in", "base": "1"})
    assert page.status_code == 409
    said = text(page.text)
    assert "Lengths both in" in said
    assert "Paper A4 Letter" in said
    assert shelf.all("settings")[0].content["paper"] == "A4"


def test_it_says_where_everything_is(client: TestClient, shelf: Shelf, tmp_path: Path) -> None:
    assert str(tmp_path) in client.get("/settings").text


@pytest.fixture
def saved(client: TestClient, shelf: Shelf) -> bytes:
    lay_out(shelf, TODAY)
    return client.get("/settings/everything.json").content


def test_everything_goes_out_and_in(saved: bytes, tmp_path: Path) -> None:
    with open_shelf(tmp_path / "other") as other:
        found = carry.bring_in(other, saved)
        assert found.added == len(json.loads(saved)["things"])
        assert json.loads(carry.everything(other)) == json.loads(saved)


def test_what_is_here_already_is_not_added_again(client: TestClient, saved: bytes) -> None:
    page = client.post("/settings/bring-in", files={"file": ("nejime.json", saved)})
    assert "Brought in: 0 new" in text(page.text)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"no JSON",
        b"[1]",
        b'{"format": 1, "things": [5]}',
        b'{"format": 99, "things": []}',
        b'{"format": 1, "things": [{"kind": "spoon", "name": "a", "content": {}}]}',
        b'{"format": 1, "things": [{"kind": "vessel", "name": "a", "content": {"shape": "x"}}]}',
        b'{"format": 1, "things": [{"kind": "shop", "name": "a", "content": {}}]}',
        b'{"format": 1, "things": [{"kind": "piece", "name": "a", "content": {}}]}',
    ],
)
def test_another_file_changes_nothing(client: TestClient, shelf: Shelf, data: bytes) -> None:
    good = b'{"kind": "garden", "name": "a", "content": {"plant": "forsythia", "length": 90}}, '
    mixed = data.replace(b'"things": [{', b'"things": [' + good + b"{")
    page = client.post("/settings/bring-in", files={"file": ("nejime.json", mixed)})
    assert page.status_code == 422
    assert set(faults(page.text)) == {"file"}
    assert not any(shelf.all(kind) for kind in carry.KINDS)
