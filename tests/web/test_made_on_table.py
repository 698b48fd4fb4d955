"""A measured piece on the arranging table says as what it was measured, and what was moved."""

from __future__ import annotations

from photo.made_up import measured, plan
from starlette.testclient import TestClient

from nejime.desk.made.piece import Chosen
from nejime.desk.made.to_table import to_table
from nejime.desk.shelf import Shelf

CONTENT = {"bowl": {"shape": "round", "width": 30, "height": 6}, "views": [], "stems": {}}
PLANTS = {"first": "forsythia", "second": "forsythia", "third": "tulip"}


def laid(shelf: Shelf) -> str:
    kept = shelf.add("made", "My sample", CONTENT)
    return f"/table/{to_table(shelf, kept, measured(plan()), Chosen(PLANTS)).id}"


def test_the_table_says_as_what_a_piece_was_measured(client: TestClient, shelf: Shelf) -> None:
    page = client.get(laid(shelf))
    assert page.status_code == 200
    for part in ("As measured from photographs", "54 cm ±\u00a00.5 cm", "45° ±\u00a01°"):
        assert part in page.text
    assert "Moved since then" not in page.text


def test_a_stem_that_was_moved_since_is_named(client: TestClient, shelf: Shelf) -> None:
    piece = laid(shelf)
    now = client.get(f"{piece}/state").json()
    change = {"act": "stem", "id": "second", "lean": 30.0}
    told = {"tree": now["tree"], "change": change, "base": now["version"]}
    assert client.post(f"{piece}/keep", json=told).status_code == 200
    page = client.get(piece).text
    assert "Moved since then: second stem." in " ".join(page.split())


def test_another_piece_says_nothing_of_measuring(client: TestClient, shelf: Shelf) -> None:
    kept = shelf.add("made", "My sample", CONTENT)
    piece = to_table(shelf, kept, measured(plan()), Chosen(PLANTS))
    other = shelf.copy(piece.id, "A copy")
    assert "As measured" not in client.get(f"/table/{other.id}").text
