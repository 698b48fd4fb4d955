"""The marker card can be printed before anything else is known."""

from __future__ import annotations

from starlette.testclient import TestClient


def test_the_card_is_a_paper(client: TestClient) -> None:
    answer = client.get("/made/card.pdf")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    assert 'filename="marker-card.pdf"' in answer.headers["content-disposition"]
    assert answer.content.startswith(b"%PDF")
    assert answer.content == client.get("/made/card.pdf").content
