"""To say at the beginning: proposed, changed, kept, printed, and never lost."""

from __future__ import annotations

import datetime as dt
import json
import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from web.asked import faults, text

from nejime.desk import carry
from nejime.desk.demo import lay_out
from nejime.desk.seen import note
from nejime.desk.shelf import Shelf, open_shelf

PLACE = "/season/talk"
MARCH = {"on": "2027-03-14", "form": "upright", "plants": "forsythia, tulip"}
PARTS = ("word", "material", "why", "look", "home")


def parts(page: str) -> dict[str, str]:
    """What stands in each of the five fields."""
    found = re.findall(r'<textarea id="(\w+)"[^>]*>(.*?)</textarea>', page, re.DOTALL)
    return {name: text(says) for name, says in found}


def told(page: str, **mine: str) -> dict[str, str]:
    """The whole form as a browser sends it, with some parts changed."""
    hidden = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', page))
    return {**hidden, **parts(page), "then": "keep", **mine}


@pytest.mark.source(
    "naoj-reki", "Keichitsu, 345 degrees, begins on 6 March 2027 in Japan, Shunbun on the 21st"
)
def test_five_thoughts_are_proposed_for_the_day(client: TestClient) -> None:
    page = client.get(PLACE, params=MARCH)
    assert page.status_code == 200
    found = parts(page.text)
    assert tuple(found) == PARTS
    assert "Keichitsu" in found["word"]
    assert "Forsythia" in found["material"]
    assert "upright form" in found["why"]
    assert "Sunday, 14 March 2027" in text(page.text)


def test_without_a_day_it_is_today_with_what_beginners_may_use(client: TestClient) -> None:
    page = client.get(PLACE)
    assert "20 February 2027" in text(page.text)
    assert all(parts(page.text).values())
    (plants,) = re.findall(r'<input id="plants"[^>]*value="([^"]*)"', page.text)
    assert plants.count(",") in (1, 2)


def test_what_she_saw_open_is_told_and_the_rest_is_asked_for(
    client: TestClient, shelf: Shelf
) -> None:
    asked = {**MARCH, "on": "2027-02-18"}
    before = parts(client.get(PLACE, params=asked).text)["material"]
    assert "Forsythia is" not in before
    note(shelf, {"plant": "forsythia", "on": "2027-02-16"}, dt.date(2027, 2, 20))
    after = parts(client.get(PLACE, params=asked).text)["material"]
    assert "in gardens here Forsythia is open" in after
    assert "Of Tulip I cannot tell" in after


def test_what_is_there_all_year_is_not_said_to_open(client: TestClient, shelf: Shelf) -> None:
    note(shelf, {"plant": "forsythia", "on": "2027-02-16"}, dt.date(2027, 2, 20))
    asked = {"on": "2027-02-18", "plants": "forsythia, pine"}
    material = parts(client.get(PLACE, params=asked).text)["material"]
    assert "Forsythia is open and Pine is there all year" in material


def test_another_form_has_other_words(client: TestClient) -> None:
    upright = parts(client.get(PLACE, params=MARCH).text)
    round_ = parts(client.get(PLACE, params={**MARCH, "form": "all-round"}).text)
    own = parts(client.get(PLACE, params={**MARCH, "form": ""}).text)
    assert len({upright["why"], round_["why"], own["why"]}) == 3
    assert upright["look"] != round_["look"]
    assert upright["word"] == round_["word"]


def test_her_words_are_kept_and_the_proposal_stands_beside_them(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    kept = client.post(PLACE, data=told(first, look="Sit down first."))
    assert kept.status_code == 200
    again = client.get(PLACE, params={"on": "2027-03-14"})
    assert parts(again.text)["look"] == "Sit down first."
    assert parts(again.text)["word"] == parts(first)["word"]
    assert parts(first)["look"] in text(again.text)
    assert again.text.count("Your own words") == 1
    other = client.get(PLACE, params={**MARCH, "on": "2027-03-15"}).text
    assert parts(other)["look"] == parts(first)["look"]


def test_what_she_left_as_it_was_follows_the_form(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(first, look="Sit down first."))
    slanting = parts(client.get(PLACE, params={**MARCH, "form": "slanting"}).text)
    assert "slanting" in slanting["why"]
    assert slanting["look"] == "Sit down first."


def test_the_proposal_can_be_had_back(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(first, look="Sit down first."))
    kept = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(kept, then="again"))
    assert parts(client.get(PLACE, params=MARCH).text) == parts(first)


def test_a_part_left_empty_stays_empty(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(first, home=""))
    assert parts(client.get(PLACE, params=MARCH).text)["home"] == ""


def test_what_is_wrong_stands_beside_its_field_and_nothing_typed_is_lost(
    client: TestClient,
) -> None:
    first = client.get(PLACE, params=MARCH).text
    sent = told(first, plants="plum, no such thing", look="Sit down first.", home="x" * 2001)
    page = client.post(PLACE, data=sent)
    assert page.status_code == 422
    assert "no such thing" in faults(page.text)["plants"]
    assert "no such thing" in page.text.split('id="plants"')[1][:200]
    assert parts(page.text)["look"] == "Sit down first."
    alone = client.post(PLACE, data={**sent, "plants": "plum"})
    assert set(faults(alone.text)) == {"home"}
    assert parts(alone.text)["home"] == "x" * 2001


@pytest.mark.parametrize("day", ["soon", "2027-13-01", "1800-01-01"])
def test_a_day_that_is_none_is_told_and_the_page_still_stands(client: TestClient, day: str) -> None:
    page = client.get(PLACE, params={**MARCH, "on": day})
    assert page.status_code == 422
    assert set(faults(page.text)) == {"on"}
    assert all(parts(page.text).values())


def test_two_who_write_at_once_lose_nothing(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(first, look="One."))
    both = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(both, look="Theirs."))
    clash = client.post(PLACE, data=told(both, look="Mine."))
    assert clash.status_code == 409
    assert parts(clash.text)["look"] == "Mine."
    assert "Theirs." in text(clash.text)
    client.post(PLACE, data=told(clash.text))
    assert parts(client.get(PLACE, params=MARCH).text)["look"] == "Mine."


def test_it_prints_what_is_kept(client: TestClient) -> None:
    first = client.get(PLACE, params=MARCH).text
    plain = client.get(f"{PLACE}.pdf", params=MARCH)
    assert plain.headers["content-type"] == "application/pdf"
    assert plain.content == client.get(f"{PLACE}.pdf", params=MARCH).content
    hers = client.post(PLACE, data=told(first, look="Sit down first.", then="print"))
    assert hers.headers["content-type"] == "application/pdf"
    assert hers.content != plain.content


def test_a_class_has_a_card_of_its_own_with_its_day_form_and_plants(
    client: TestClient, shelf: Shelf
) -> None:
    lay_out(shelf)
    (kept,) = shelf.all("class")
    assert f"{PLACE}?of={kept.id}" in client.get(f"/classes/{kept.id}/papers").text
    page = client.get(PLACE, params={"of": str(kept.id)})
    assert kept.name in text(page.text)
    assert "Forsythia" in parts(page.text)["material"]
    client.post(PLACE, data=told(page.text, look="Sit down first."))
    shelf.rename(kept.id, "Another title")
    assert parts(client.get(PLACE, params={"of": str(kept.id)}).text)["look"] == "Sit down first."
    day = kept.content["class"]["date"]
    assert parts(client.get(PLACE, params={"on": str(day)}).text)["look"] != "Sit down first."


def test_what_is_not_there_is_not_found(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf)
    (piece, *_) = shelf.all("piece")
    assert client.get(PLACE, params={"of": "99999"}).status_code == 404
    assert client.get(PLACE, params={"of": str(piece.id)}).status_code == 404


def test_her_words_travel_to_another_machine(
    client: TestClient, shelf: Shelf, tmp_path: Path
) -> None:
    first = client.get(PLACE, params=MARCH).text
    client.post(PLACE, data=told(first, look="Sit down first."))
    saved = carry.everything(shelf)
    with open_shelf(tmp_path / "other") as other:
        assert carry.bring_in(other, saved).added == 1
        (kept,) = other.all("talking")
        assert kept.content["parts"] == {"look": "Sit down first."}
    broken = json.loads(saved)
    broken["things"][0]["content"]["plants"] = ["nothing"]
    with open_shelf(tmp_path / "third") as third, pytest.raises(Exception, match="file"):
        carry.bring_in(third, json.dumps(broken).encode())
