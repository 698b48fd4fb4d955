"""From memory, unchecked: confirmed with one press, corrected in two fields, undone."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text

from nejime.desk import carry, from_memory, review
from nejime.desk.demo import lay_out
from nejime.desk.known_plants import corrections, known_plant, known_plants
from nejime.desk.shelf import Shelf, open_shelf
from nejime.plants.table import plant, plants

TULIP = {"word": "tulip", "shown": "all"}


def marks(page: str) -> list[str]:
    return re.findall(r'<li id="row-(\w+)">', page)


def row(page: str, mark: str) -> str:
    return re.search(rf'<li id="row-{mark}">(.*?)</li>', page, re.DOTALL)[1]


def of(client: TestClient, word: str, what: str) -> str:
    """The mark of the first row of a plant that says this."""
    page = client.get("/review", params={"word": word, "shown": "all"}).text
    return next(mark for mark in marks(page) if what in text(row(page, mark)))


def left(client: TestClient) -> int:
    return int(re.search(r"(\d+) lines? (?:are|is) left", text(client.get("/review").text))[1])


def every_row(client: TestClient, **asked: str) -> list[str]:
    """The marks of all pages."""
    found: list[str] = []
    for number in range(1, 99):
        page = client.get("/review", params={**asked, "page": str(number)}).text
        found += marks(page)
        if f'page={number + 1}"' not in page and f"page={number + 1}&" not in page:
            return found
    raise AssertionError


def test_all_that_is_from_memory_is_there_once(client: TestClient) -> None:
    found = every_row(client, shown="all")
    facts = sum(fact.grade == "memory" for each in plants() for fact in each.facts)
    hazards = sum(one.grade == "memory" for each in plants() for one in each.hazards)
    assert len(found) == len(set(found)) == left(client)
    assert len(found) >= facts + hazards  # with steps of treatment and cautions


def test_the_plants_that_she_uses_come_first(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf, TODAY)
    page = client.get("/review").text
    first = re.search(r'<h2 id="group-1"><a href="/plants/([a-z-]+)"', page)
    assert first[1] in review.plants_used(shelf)
    assert "tulip" in review.plants_used(shelf)
    mine = set(every_row(client, shown="mine"))
    assert mine
    assert mine < set(every_row(client, shown="all"))


def test_one_press_confirms_and_one_press_undoes(client: TestClient, shelf: Shelf) -> None:
    before, mark = left(client), of(client, "tulip", "Weight of the flower")
    page = client.post("/review", data={**TULIP, "mark": mark, "act": "right"})
    assert "Kept as right. Tulip: weight of the flower." in text(page.text)
    assert left(client) == before - 1
    fact = known_plant(shelf, "tulip").fact("head_g")
    assert (fact.low, fact.high, fact.grade) == (8, 15, "teacher")
    page = client.post("/review", data={**TULIP, "mark": mark, "act": "undo"})
    assert "Undone" in text(page.text)
    assert left(client) == before
    assert known_plants(shelf) == plants()


def test_her_own_numbers_are_read_with_comma_and_unit(client: TestClient, shelf: Shelf) -> None:
    mark = of(client, "tulip", "Usual length")
    page = client.post(
        "/review", data={**TULIP, "mark": mark, "act": "own", "low": "32,5", "high": "16 in"}
    ).text
    assert "instead of 30 to 45 cm" in text(row(page, mark))
    fact = known_plant(shelf, "tulip").fact("stem_length_cm")
    assert (fact.low, fact.high) == (32.5, pytest.approx(40.64))


def test_nothing_typed_is_lost_on_an_error(client: TestClient, shelf: Shelf) -> None:
    mark = of(client, "tulip", "Lasts in water")
    told = {**TULIP, "mark": mark, "act": "own", "low": "six", "high": "4"}
    page = client.post("/review", data=told)
    assert page.status_code == 422
    assert set(faults(page.text)) == {f"low-{mark}"}
    assert f'id="low-{mark}" name="low" value="six"' in page.text
    assert f'id="high-{mark}" name="high" value="4"' in page.text
    assert '<details class="mine" open>' in row(page.text, mark)
    assert 'name="word" value="tulip"' in page.text
    assert corrections(shelf) == ()


def test_the_same_numbers_again_are_a_confirmation(client: TestClient, shelf: Shelf) -> None:
    mark = of(client, "tulip", "Weight of the flower")
    client.post("/review", data={"mark": mark, "act": "own", "low": "8", "high": "15 g"})
    (said,) = corrections(shelf)
    assert said.confirms


def test_a_caution_can_be_confirmed_and_not_taken_away(client: TestClient, shelf: Shelf) -> None:
    mark = of(client, "tulip", "cats and dogs ill")
    told = {"mark": mark, "act": "own", "low": "1", "high": "2"}
    assert client.post("/review", data=told).status_code == 404
    page = client.get("/review", params=TULIP).text
    assert 'name="low"' not in row(page, mark)
    client.post("/review", data={"mark": mark, "act": "right"})
    before, after = plant("tulip").hazards, known_plant(shelf, "tulip").hazards
    assert [each.saying for each in before] == [each.saying for each in after]
    assert [each.grade for each in after if each.to == "pets"] == ["teacher"]


@pytest.mark.parametrize(
    "told",
    [
        {},
        {"mark": "nothing", "act": "right"},
        {"mark": "../..", "act": "undo"},
        {"act": "right"},
    ],
)
def test_what_is_no_row_is_nowhere(client: TestClient, shelf: Shelf, told: dict[str, str]) -> None:
    assert client.post("/review", data=told).status_code == 404
    mark = of(client, "tulip", "Usual length")
    assert client.post("/review", data={"mark": mark, "act": "burn"}).status_code == 404
    assert corrections(shelf) == ()


def test_two_windows_do_not_undo_each_other(client: TestClient, shelf: Shelf) -> None:
    first, second = of(client, "tulip", "Usual length"), of(client, "rose", "Usual length")
    client.post("/review", data={"mark": first, "act": "right"})
    client.post("/review", data={"mark": second, "act": "right"})
    assert {each.row.about for each in corrections(shelf)} == {"tulip", "rose"}
    assert len(shelf.all("review")) == 1


@pytest.mark.parametrize("page", ["0", "-3", "99999", "x", "9" * 50, ""])
def test_any_page_number_shows_a_page(client: TestClient, page: str) -> None:
    asked = {"page": page, "shown": "strange", "word": ""}
    assert marks(client.get("/review", params=asked).text)


@given(low=st.text(max_size=20), high=st.text(max_size=20), act=st.sampled_from(["own", "right"]))
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_nothing_that_is_typed_breaks_it(
    client: TestClient, shelf: Shelf, low: str, high: str, act: str
) -> None:
    mark = next(iter(from_memory.memory_rows()))
    page = client.post(
        "/review", data={**TULIP, "mark": mark, "act": act, "low": low, "high": high}
    )
    assert page.status_code in (200, 422)
    assert len(known_plants(shelf)) == len(plants())
    assert len(corrections(shelf)) <= 1


@given(st.lists(st.tuples(st.integers(0, 30), st.sampled_from(["right", "undo"])), max_size=12))
@settings(
    max_examples=5, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_to_undo_everything_restores_the_table(shelf: Shelf, acts) -> None:
    keys = list(from_memory.memory_rows())[:31]
    for number, act in acts:
        review.say(shelf, {"mark": keys[number], "act": act}, TODAY)
    for mark in keys:
        review.say(shelf, {"mark": mark, "act": "undo"}, TODAY)
    assert corrections(shelf) == ()
    assert known_plants(shelf) == plants()


def test_it_goes_out_and_in_with_everything(
    client: TestClient, shelf: Shelf, tmp_path: Path
) -> None:
    for what in ("Usual length", "Weight of the flower"):
        mark = of(client, "tulip", what)
        client.post("/review", data={"mark": mark, "act": "right"})
    saved = client.get("/settings/everything.json").content
    with open_shelf(tmp_path / "other") as other:
        mark = of(client, "rose", "Usual length")
        review.say(other, {"mark": mark, "act": "right"}, TODAY)
        assert carry.bring_in(other, saved).added == 1
        assert carry.bring_in(other, saved).known == 1
        said = {(each.row.about, each.row.what) for each in corrections(other)}
    assert said == {
        ("tulip", "stem_length_cm"),
        ("tulip", "head_g"),
        ("rose", "stem_length_cm"),
    }


def test_what_is_here_is_not_changed_by_what_is_brought_in(
    client: TestClient, shelf: Shelf
) -> None:
    mark = of(client, "tulip", "Weight of the flower")
    client.post("/review", data={"mark": mark, "act": "right"})
    saved = client.get("/settings/everything.json").content
    client.post("/review", data={"mark": mark, "act": "own", "low": "9", "high": "10"})
    carry.bring_in(shelf, saved)
    (said,) = corrections(shelf)
    assert (said.low, said.high) == (9, 10)


def test_a_spoilt_document_is_not_brought_in(client: TestClient, shelf: Shelf) -> None:
    content = {"rows": [{"table": "plant_facts", "about": "tulip"}]}
    things = [{"kind": "review", "name": "review", "content": content}]
    data = json.dumps({"format": 1, "things": things}).encode()
    page = client.post("/settings/bring-in", files={"file": ("nejime.json", data)})
    assert page.status_code == 422
    assert corrections(shelf) == ()


def test_the_settings_and_the_plants_page_lead_there(client: TestClient) -> None:
    assert 'href="/review"' in client.get("/settings").text
    assert 'href="/review?word=' in client.get("/plants/tulip").text


def test_what_was_typed_for_a_row_of_another_page_is_shown_again(client: TestClient) -> None:
    """The page that was open may be old: rows before it were said since."""
    last = client.get("/review", params={"shown": "all", "page": "99"}).text
    mark = next(each for each in marks(last) if 'name="low"' in row(last, each))
    told = {"mark": mark, "act": "own", "low": "a few", "high": "", "shown": "all", "page": "1"}
    answer = client.post("/review", data=told)
    assert answer.status_code == 422
    assert mark in marks(answer.text)
    assert "a few" in answer.text
