"""Plants: the list, and what is known of one, from where and how surely."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, text

from nejime.basis.sources import sources
from nejime.desk import today
from nejime.desk.demo import lay_out
from nejime.desk.known_plants import known_plant, known_plants
from nejime.plants.table import plants


def test_all_plants_are_listed_by_name(client: TestClient) -> None:
    page = client.get("/plants").text
    names = re.findall(r'<a href="/plants/([a-z-]+)">', page)
    assert sorted(names) == sorted(each.id for each in plants())


@pytest.mark.parametrize("word", ["tulips", "Tulipa", "チューリップ", "churippu"])
def test_any_name_finds_a_plant(client: TestClient, word: str) -> None:
    page = client.get("/plants", params={"word": word}).text
    assert 'href="/plants/tulip"' in page


def test_a_name_that_is_not_known_is_answered_with_the_nearest(client: TestClient) -> None:
    said = text(client.get("/plants", params={"word": "forsithya"}).text)
    assert "Forsythia" in said
    assert "forsithya" in said


def test_an_unknown_address_says_so(client: TestClient) -> None:
    assert client.get("/plants/no-such-plant").status_code == 404
    assert client.get("/plants/no-such-plant.svg").status_code == 404


def test_every_plant_has_its_page(client: TestClient) -> None:
    for each in plants():
        page = client.get(f"/plants/{each.id}")
        assert page.status_code == 200, each.id
        said = text(page.text)
        for name in (each.english, each.scientific, each.kanji or each.kana):
            assert name in said, each.id
        assert "from memory, not checked" in said, each.id
        for source in {fact.source for fact in each.facts} - {"memory", "practice"}:
            assert sources()[source].cite in said, each.id
        if not each.hazards:
            assert said.count("Not known to us.") == 6, each.id
        assert "harmless: do not eat it" in said, each.id
        assert not re.search(r"\b(safe|non-toxic|nontoxic)\b", said), each.id


@pytest.mark.parametrize("name", ["tulip", "pine", "gypsophila"])
def test_a_plant_is_drawn(client: TestClient, name: str) -> None:
    answer = client.get(f"/plants/{name}.svg")
    assert answer.headers["content-type"] == "image/svg+xml"
    assert answer.text.startswith("<svg")
    assert "style=" not in answer.text


@pytest.mark.source("wills1998", "table 19.2: tulip 0 to 2 °C, 3 to 42 days")
def test_a_number_stands_with_its_source(client: TestClient) -> None:
    page = client.get("/plants/tulip").text
    stored = text(page[page.index("Store at") : page.index("Grows after")])
    assert "0 to 2 °C" in stored
    assert "3 to 42 days" in stored
    assert sources()["wills1998"].cite in stored


def test_conditioning_is_told_with_what_not_to_do_and_how_well_it_is_known(
    client: TestClient,
) -> None:
    said = text(client.get("/plants/trumpet-daffodil").text)
    assert "Do not cut it again" in said
    assert "Shown in a trial" in said
    assert sources()["doorn1998"].cite in said


@pytest.mark.source("fda2014", "lilies are deadly to cats")
def test_dangers_stand_by_whom_they_concern(client: TestClient) -> None:
    page = client.get("/plants/lily").text
    cats = text(page[page.index("Cats and dogs") : page.index("Skin and allergy")])
    assert "Deadly to cats" in cats
    assert "U.S. Food and Drug Administration" in cats


SETTINGS = {"units": "cm", "paper": "A4", "decimals": "2", "proportions": "width-plus-height"}


@pytest.mark.source("narita2022", "Coreopsis lanceolata may not be kept, carried or given away")
def test_the_law_of_her_country_is_a_block_and_of_another_is_none(client: TestClient) -> None:
    def notice() -> bool:
        return 'class="notice wrong"' in client.get("/plants/lance-coreopsis").text

    assert not notice()
    assert "yours is not set" in text(client.get("/plants/lance-coreopsis").text)
    client.post("/settings", data={**SETTINGS, "region": "Japan"})
    assert notice()
    assert "Of the law in Japan we know a few" in text(client.get("/plants/tulip").text)
    client.post("/settings", data={**SETTINGS, "region": "Norway", "base": "1"})
    assert not notice()
    said = text(client.get("/plants/lance-coreopsis").text)
    assert "where you are (Norway) is not known to us" in said
    assert "Said of another place than yours" in said


def test_the_poison_line_stands_where_it_is_set(client: TestClient) -> None:
    assert "number of your poison centre is not set" in text(client.get("/plants/tulip").text)
    client.post("/settings", data={**SETTINGS, "poison_line": "555-0100"})
    assert "ring poison advice: 555-0100" in text(client.get("/plants/tulip").text)


def mark(page: str, what: str, place: str) -> str:
    """The mark of a row by what it says and where."""
    for row in re.findall(r'<li id="row-\w+">.*?</li>', page, re.DOTALL):
        said = text(row)
        if what in said and place in said:
            return re.search(r'id="row-(\w+)"', row)[1]
    raise AssertionError(what)


def test_what_she_found_herself_holds_wherever_plants_are_used(client: TestClient, shelf) -> None:
    lay_out(shelf, TODAY)
    page = client.get("/review", params={"word": "tulip", "shown": "all"}).text
    told = {
        "mark": mark(page, "In the garden", "USDA zones 6-7"),
        "act": "own",
        "low": "February",
        "high": "March",
    }
    garden = client.get("/").text
    assert "Tulip" not in garden[garden.index("In gardens") : garden.index("In the shops")]
    client.post("/review", data=told)
    assert known_plant(shelf, "tulip").in_garden(2) is True
    assert [each.id for each in known_plants(shelf)] == [each.id for each in plants()]
    garden = client.get("/").text
    assert "Tulip" in garden[garden.index("In gardens") : garden.index("In the shops")]
    said = text(client.get("/plants/tulip").text)
    assert "February to March" in said
    assert "The teacher's own observation, confirmed on Saturday, 20 February 2027" in said
    client.post("/review", data={**told, "act": "undo"})
    assert "February to March" not in text(client.get("/plants/tulip").text)
    assert known_plant(shelf, "tulip").in_garden(2) is False


def test_the_navigation_leads_there(client: TestClient) -> None:
    assert '<a href="/plants"' in client.get("/").text
    assert '<a href="/plants" aria-current="page"' in client.get("/plants/tulip").text


def test_the_first_page_knows_the_same_months(shelf) -> None:
    assert today.known_plants is known_plants
