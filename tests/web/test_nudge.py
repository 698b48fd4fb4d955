"""A correction without a photograph: from a piece to the numbers to make it again."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text, value

from nejime.desk.demo import lay_out
from nejime.desk.shelf import Shelf

BOWL = {"from": "bowl", "shape": "round", "width": "30", "height": "6", "name": "Ada"}


def test_without_class_and_pieces_there_is_still_a_bowl(client: TestClient) -> None:
    page = client.get("/nudge")
    assert "There are no pieces yet" in text(page.text)
    assert "A piece in this bowl" in text(page.text)


@pytest.mark.source(
    "hand",
    "dish 30 × 6: second 40.5 cm at 45°, third 20.25 cm; 5° lower is 50°, 3 cm shorter"
    " 17.25 cm, said as 17",
)
def test_it_is_said_in_a_teachers_words(client: TestClient) -> None:
    asked = {
        "second.lean": "lower",
        "second.lean_by": "5",
        "third.cut": "shorter",
        "third.cut_by": "3",
        "first.turn": "left",
        "first.turn_by": "20",
    }
    page = text(client.get("/nudge", params={**BOWL, **asked}).text)
    assert "Lower the second stem by 5°: it leans 50°." in page
    assert "Cut the third stem 3 cm shorter: 17 cm." in page
    assert "Turn the first stem by 20° to the left." in page


def test_nothing_corrected_says_nothing(client: TestClient) -> None:
    page = client.get("/nudge", params=BOWL)
    assert "Print the correction" not in text(page.text)


def test_what_is_wrong_stands_beside_its_field(client: TestClient) -> None:
    asked = {"second.lean": "lower", "second.lean_by": "much", "third.cut": "shorter"}
    page = client.get("/nudge", params={**BOWL, **asked})
    assert page.status_code == 422
    assert set(faults(page.text)) == {"second.lean_by"}
    assert value(page.text, "second.lean_by") == "much"
    short = client.get("/nudge", params={**BOWL, "third.cut": "shorter", "third.cut_by": "19"})
    assert set(faults(short.text)) == {"third.cut_by"}


def test_the_sheet_is_a_pdf(client: TestClient) -> None:
    asked = {**BOWL, "second.lean": "higher", "holder": "middle"}
    paper = client.get("/nudge/correction.pdf", params=asked)
    assert paper.content.startswith(b"%PDF-")


def test_people_of_the_class_and_pieces_can_be_corrected(client: TestClient, shelf: Shelf) -> None:
    lesson = lay_out(shelf, TODAY)
    page = client.get("/nudge").text
    (piece, *_) = shelf.all("piece")
    for address in (f"person-{lesson.id}-1", f"piece-{piece.id}"):
        assert f"/nudge?from={address}" in page
        found = client.get("/nudge", params={"from": address, "second.lean": "higher"})
        assert found.status_code == 200, address
        assert "Raise the second stem by 10°" in text(found.text)


def test_a_leaf_is_taken_out(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf, TODAY)
    (piece, *_) = shelf.all("piece")
    asked = {"from": f"piece-{piece.id}", "leaf-1.off": "yes"}
    page = text(client.get("/nudge", params=asked).text)
    assert "Leave the leaf at the foot 1 out." in page


@pytest.mark.parametrize("address", ["piece-999", "person-999-1"])
def test_what_is_not_there_is_nothing(client: TestClient, address: str) -> None:
    assert client.get("/nudge", params={"from": address}).status_code == 404
