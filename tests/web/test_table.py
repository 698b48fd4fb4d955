"""The arranging table without a browser: pieces begun, changed, kept, taken back and compared."""

from __future__ import annotations

import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from nejime.desk.shelf import Shelf

CHOSEN = {
    "vessel": "dish",
    "form": "upright",
    "line": "forsythia",
    "heart": "tulip",
    "leaf": "aspidistra",
}


@pytest.fixture
def piece(client: TestClient) -> str:
    """The address of a new piece."""
    answer = client.post("/table/new", data=CHOSEN, follow_redirects=False)
    assert answer.status_code == 303
    return answer.headers["location"]


def state(client: TestClient, piece: str) -> dict[str, Any]:
    return client.get(f"{piece}/state").json()


def keep(client: TestClient, piece: str, change: dict[str, Any]) -> Any:
    now = state(client, piece)
    told = {"tree": now["tree"], "change": change, "base": now["version"]}
    return client.post(f"{piece}/keep", json=told)


def stem(now: dict[str, Any], stem_id: str) -> dict[str, Any]:
    return next(each for each in now["stems"] if each["id"] == stem_id)


@pytest.mark.source("practice", "1.5 × (30 + 6) = 54; 3/4 of it 40.5; 1/2 of that 20.25 cm")
def test_a_new_piece_has_the_lengths_of_the_form(client: TestClient, piece: str) -> None:
    now = state(client, piece)
    lengths = [stem(now, each)["length_cm"] for each in ("first", "second", "third")]
    assert lengths == pytest.approx([54.0, 40.5, 20.25], abs=0.01)
    assert {each["role"] for each in now["stems"]} == {"main", "heart", "leaf"}


@pytest.mark.source("own", "flowers and leaves are placed so that nothing is left to say")
def test_a_new_piece_raises_no_finding(client: TestClient, piece: str) -> None:
    assert state(client, piece)["findings"] == []


def test_a_change_is_kept_and_taken_back_and_made_again(client: TestClient, piece: str) -> None:
    answer = keep(client, piece, {"act": "stem", "id": "second", "length": "42 cm", "lean": "50°"})
    assert answer.status_code == 200
    assert stem(answer.json(), "second")["length_cm"] == pytest.approx(42, abs=0.01)
    assert stem(answer.json(), "second")["asked_deg"] == pytest.approx(50)
    before = client.post(f"{piece}/back").json()
    assert stem(before, "second")["length_cm"] == pytest.approx(40.5, abs=0.01)
    again = client.post(f"{piece}/forth").json()
    assert stem(again, "second")["length_cm"] == pytest.approx(42, abs=0.01)


@pytest.mark.source("hand", "12 in = 30.48 cm")
def test_inches_are_understood_where_they_are_typed(client: TestClient, piece: str) -> None:
    answer = keep(client, piece, {"act": "stem", "id": "third", "length": "12 in"})
    assert stem(answer.json(), "third")["length_cm"] == pytest.approx(30.48, abs=0.01)


@pytest.mark.parametrize("typed", ["", "long", "-3", "1e99", "4000 cm"])
def test_what_cannot_be_a_length_is_said_and_changes_nothing(
    client: TestClient, piece: str, typed: str
) -> None:
    before = state(client, piece)
    answer = keep(client, piece, {"act": "stem", "id": "first", "length": typed})
    assert answer.status_code == 422
    assert answer.json()["wrong"]["length"]
    assert state(client, piece)["tree"] == before["tree"]


@pytest.mark.parametrize(
    "sent",
    [b"", b"[]", b"nothing", b'{"tree": []}', b'{"tree": {"vessel": 3}}', b'{"tree": null}'],
)
def test_what_is_no_piece_is_refused_politely(client: TestClient, sent: bytes) -> None:
    answer = client.post("/table/try", content=sent, headers={"content-type": "application/json"})
    assert answer.status_code == 422
    assert answer.json()["wrong"]


def test_two_who_change_one_piece_see_both(client: TestClient, piece: str) -> None:
    old = state(client, piece)
    keep(client, piece, {"act": "stem", "id": "first", "lean": 20})
    late = {
        "tree": old["tree"],
        "base": old["version"],
        "change": {"act": "stem", "id": "second", "lean": 30},
    }
    answer = client.post(f"{piece}/keep", json=late)
    assert answer.status_code == 409
    assert stem(answer.json()["conflict"], "first")["asked_deg"] == pytest.approx(20)
    assert stem(answer.json()["mine"], "second")["asked_deg"] == pytest.approx(30)


@pytest.mark.source("own", "trying keeps nothing")
def test_a_try_is_not_kept(client: TestClient, piece: str) -> None:
    now = state(client, piece)
    told = {"tree": now["tree"], "change": {"act": "stem", "id": "first", "lean": 40}}
    seen = client.post("/table/try", json=told).json()
    assert stem(seen, "first")["asked_deg"] == pytest.approx(40)
    assert state(client, piece)["version"] == now["version"]


def test_every_look_of_the_picture_can_be_had(client: TestClient, piece: str) -> None:
    for each in state(client, piece)["wire"]["stems"]:
        answer = client.get(f"/table/look/{each['look']}")
        assert answer.status_code == 200
        assert answer.json()["axes"]
        assert "immutable" in answer.headers["cache-control"]
    assert client.get("/table/look/none").status_code == 404


def test_stems_are_added_and_taken_away(client: TestClient, piece: str) -> None:
    added = keep(client, piece, {"act": "add", "role": "helper", "plant": "forsythia"}).json()
    assert stem(added, "sub-1")["role"] == "helper"
    taken = keep(client, piece, {"act": "take", "id": "sub-1"}).json()
    assert "sub-1" not in {each["id"] for each in taken["stems"]}
    main = keep(client, piece, {"act": "take", "id": "first"}).json()
    assert stem(main, "first")


@pytest.mark.source("hand", "the mirror: 360° less the direction")
def test_the_other_side_is_the_mirror(client: TestClient, piece: str) -> None:
    right = stem(state(client, piece), "second")["bearing_deg"]
    left = keep(client, piece, {"act": "whole", "opens": "left"}).json()
    assert stem(left, "second")["bearing_deg"] == pytest.approx((360 - right) % 360)


def test_a_remedy_can_be_done_at_once(client: TestClient, piece: str) -> None:
    bare = state(client, piece)
    for each in [one["id"] for one in bare["stems"] if one["role"] == "leaf"]:
        bare = keep(client, piece, {"act": "take", "id": each}).json()
    assert any(each["fault"] or each["says"] for each in bare["findings"])


def test_three_places_are_suggested_and_one_is_taken(
    client: TestClient, piece: str, at_work: Any
) -> None:
    now = state(client, piece)
    job = client.post(f"{piece}/suggest", json={"tree": now["tree"]}).json()["job"]
    at_work()
    answer = client.get(f"/table/suggested/{job}").json()
    assert answer["done"]
    assert 1 <= len(answer["found"]) <= 3
    chosen = answer["found"][0]
    assert chosen["why"]
    told = {"tree": chosen["tree"], "base": now["version"]}
    kept = client.post(f"{piece}/keep", json=told)
    assert kept.status_code == 200
    assert any(each["role"] == "helper" for each in kept.json()["stems"])
    assert (
        client.post("/table/liked", json={"plan": chosen["plan"], "liked": True}).status_code == 200
    )


def test_a_copy_set_aside_can_be_gone_back_to(client: TestClient, shelf: Shelf, piece: str) -> None:
    was = state(client, piece)["tree"]
    client.post(f"{piece}/snapshot")
    keep(client, piece, {"act": "stem", "id": "first", "lean": 40})
    (snapshot,) = shelf.all("snapshot")
    client.post(f"{piece}/snapshot/{snapshot.id}", data={"act": "take"})
    assert state(client, piece)["tree"] == was


def test_the_piece_goes_to_paper_and_into_every_bowl(
    client: TestClient, shelf: Shelf, piece: str
) -> None:
    shelf.add("vessel", "blue dish", {"shape": "round", "width": 28, "height": 6})
    shelf.add("vessel", "egg cup", {"shape": "bowl", "width": 5, "height": 4})
    assert client.get(f"{piece}/handout.pdf").content.startswith(b"%PDF")
    assert "<svg" in client.get(f"{piece}/drawings").text
    page = client.get(f"{piece}/bowls?of=").text
    assert "blue dish" in page
    assert "egg cup" in page
    assert client.get(f"{piece}/bowls.pdf?of=").content.startswith(b"%PDF")


def test_a_vessel_that_cannot_be_is_said_beside_its_field(client: TestClient) -> None:
    told = {**CHOSEN, "vessel": "own", "shape": "round", "width": "thirty", "height": "6"}
    answer = client.post("/table/new", data=told)
    assert answer.status_code == 422
    assert "thirty" in answer.text
    assert 'aria-invalid="true"' in answer.text


def test_what_is_gone_is_said(client: TestClient) -> None:
    for address in ("/table/999", "/table/999/bowls", "/nowhere"):
        answer = client.get(address)
        assert answer.status_code == 404
        assert "<h1>" in answer.text


@pytest.mark.source("own", "a page of another site cannot make the browser change anything")
def test_strangers_cannot_write(client: TestClient, piece: str) -> None:
    told = {"sec-fetch-site": "cross-site"}
    assert client.post(f"{piece}/back", headers=told).status_code == 403
    assert client.get("/table", headers={"host": "elsewhere.example"}).status_code == 400


def test_the_page_carries_its_state_without_a_script_of_its_own(
    client: TestClient, piece: str
) -> None:
    answer = client.get(piece)
    policy = answer.headers["content-security-policy"]
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    start = answer.text.index('id="state">') + len('id="state">')
    assert json.loads(answer.text[start : answer.text.index("</script>", start)])["stems"]
    assert "style=" not in answer.text
    assert " onclick=" not in answer.text


@pytest.mark.source("practice", "for a first of 54 (1.5 × 36): the small piece asks for 1 × 36")
def test_a_branch_that_is_too_short_has_ways_out(client: TestClient, piece: str) -> None:
    tree = state(client, piece)["tree"]
    told = client.post("/table/short", json={"tree": tree, "id": "first", "have": "38 cm"}).json()
    assert told["ways"]
    smaller = told["ways"][0]["tree"]
    seen = client.post("/table/try", json={"tree": smaller}).json()
    assert stem(seen, "first")["length_cm"] == pytest.approx(36.0, abs=0.01)
    shorter = told["ways"][1]["tree"]
    seen = client.post("/table/try", json={"tree": shorter}).json()
    lengths = [stem(seen, each)["length_cm"] for each in ("first", "second", "third")]
    assert lengths[0] <= 38.01
    assert lengths[1] / lengths[0] == pytest.approx(0.75, abs=0.001)
    enough = client.post("/table/short", json={"tree": tree, "id": "first", "have": "60"}).json()
    assert enough["ways"] == []
    wrong = client.post("/table/short", json={"tree": tree, "id": "first", "have": "tall"})
    assert wrong.status_code == 422


@pytest.mark.source("hand", "20 in = 50.8 cm, where the settings say inches")
def test_a_plain_number_is_in_the_readers_unit(
    client: TestClient, shelf: Shelf, piece: str
) -> None:
    shelf.only("settings", "settings", {"units": "in"})
    answer = keep(client, piece, {"act": "stem", "id": "first", "length": "20"})
    assert stem(answer.json(), "first")["length_cm"] == pytest.approx(50.8, abs=0.01)
    dragged = keep(client, piece, {"act": "stem", "id": "first", "length": 50.0})
    assert stem(dragged.json(), "first")["length_cm"] == pytest.approx(50.0, abs=0.01)
    told = {**CHOSEN, "vessel": "own", "shape": "round", "width": "12", "height": "3"}
    made = client.post("/table/new", data=told, follow_redirects=False).headers["location"]
    length_cm = stem(state(client, made), "first")["length_cm"]
    assert length_cm == pytest.approx(1.5 * 15 * 2.54, abs=0.01)


@pytest.mark.source("hand", "a bow to the right: every step off the straight line is to its right")
def test_a_branch_of_her_own_has_the_line_that_was_drawn(client: TestClient, piece: str) -> None:
    off = [0.05, 0.1, 0.14, 0.16, 0.17, 0.17, 0.16, 0.14, 0.1, 0.06, 0.03]
    answer = keep(client, piece, {"act": "stem", "id": "first", "off": off})
    assert answer.status_code == 200
    told = next(each for each in answer.json()["wire"]["stems"] if each["id"] == "first")
    look = client.get(f"/table/look/{told['look']}").json()
    flat = look["axes"][0][5]
    points = [tuple(flat[at : at + 3]) for at in range(0, len(flat), 3)]
    assert points[0] == pytest.approx((0, 0, 0))
    assert points[-1] == pytest.approx((0, 0, 54.0), abs=0.05)
    assert max(x for x, _, _ in points) == pytest.approx(0.17 * 54, abs=0.5)
    assert all(x >= 0 for x, _, _ in points)
    back = keep(client, piece, {"act": "stem", "id": "first", "off": []}).json()
    assert "off" not in back["tree"]["stems"][0]
    wrong = keep(client, piece, {"act": "stem", "id": "first", "off": [9.0]})
    assert wrong.status_code == 422
