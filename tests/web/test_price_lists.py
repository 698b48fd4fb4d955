"""Price lists on the page of garden and shops: brought in, handed out, and what is wrong."""

from __future__ import annotations

from typing import Any

from starlette.testclient import TestClient
from web.asked import text, value

from nejime.desk.shelf import Shelf

LIST = """shop;plant;length;stems;price;delivery;days;notice_days
the grocery;tulip;35;10;7,99;4,50;Fri-Sat;2
The Grocery;alstroemeria;60;8;6,49;;;
the stall;tulip;40;10;8,50;;;
"""


def bring(client: TestClient, told: str | bytes, name: str = "prices.csv") -> Any:
    return client.post("/places/prices", files={"file": (name, told, "text/csv")})


def test_a_list_is_brought_in_and_remembered(client: TestClient, shelf: Shelf) -> None:
    page = bring(client, LIST)
    assert page.status_code == 200
    assert "Added: the grocery and the stall." in text(page.text)
    kept = {each.name: each.content for each in shelf.all("shop")}
    assert [each["plant"] for each in kept["the grocery"]["bunch"]] == ["tulip", "alstroemeria"]
    said = text(page.text)
    assert "Sells on Friday and Saturday Wants to know 2 days before" in said
    assert "Tulip: 10 stems, $7.99, 35 cm" in said


def test_the_same_name_is_replaced_and_what_a_list_does_not_say_stays(
    client: TestClient, shelf: Shelf
) -> None:
    bring(client, LIST)
    page = bring(client, "shop,plant,length,stems,price\nTHE GROCERY,rose,50,10,9\n")
    assert "With new prices: THE GROCERY." in text(page.text)
    (kept,) = (each for each in shelf.all("shop") if each.name == "the grocery")
    assert [each["plant"] for each in kept.content["bunch"]] == ["rose"]
    assert kept.content["delivery"] == "4,50"
    assert kept.content["days"] == ["friday", "saturday"]
    assert kept.can_undo


def test_the_same_list_again_changes_nothing(client: TestClient, shelf: Shelf) -> None:
    bring(client, LIST)
    before = shelf.all("shop")
    page = bring(client, LIST)
    assert "As it was: the grocery and the stall." in text(page.text)
    assert shelf.all("shop") == before


def test_what_is_wrong_is_told_with_line_and_column_and_nothing_is_kept(
    client: TestClient, shelf: Shelf
) -> None:
    page = bring(client, LIST + "the stall;tulp;40;ten;8,50;;;\n")
    assert page.status_code == 422
    said = text(page.text)
    assert "prices.csv cannot be brought in yet: 2 things are wrong. Nothing was changed." in said
    assert "Line 5, plant" in said
    assert "Line 5, stems" in said
    assert shelf.all("shop") == ()


def test_without_a_file_it_is_said(client: TestClient) -> None:
    page = client.post("/places/prices", data={"file": ""})
    assert page.status_code == 422
    assert "No file was chosen." in text(page.text)


def test_a_spreadsheet_that_is_no_csv_is_answered_in_its_words(client: TestClient) -> None:
    page = bring(client, b"PK\x03\x04rest", "prices.xlsx")
    assert "save it as CSV" in text(page.text)


def test_what_is_handed_out_comes_in_as_it_was(client: TestClient, shelf: Shelf) -> None:
    bring(client, LIST)
    answer = client.get("/places/prices")
    assert answer.headers["content-disposition"].endswith("prices.csv")
    assert answer.content.startswith(b"\xef\xbb\xbfshop,plant,")
    before = {each.name: each.content for each in shelf.all("shop")}
    for kept in shelf.all("shop"):
        shelf.remove(kept.id)
    client.post(
        "/settings", data={"units": "in", "paper": "Letter", "proportions": "width-plus-height"}
    )
    page = bring(client, answer.content)
    assert "Added: the grocery and the stall." in text(page.text)
    after = {each.name: each.content for each in shelf.all("shop")}
    assert after["the grocery"]["bunch"][0]["length"] == "35 cm"
    assert after["the grocery"]["days"] == before["the grocery"]["days"]


def test_one_shop_and_an_empty_list_are_handed_out(client: TestClient, shelf: Shelf) -> None:
    bring(client, LIST)
    (kept,) = (each for each in shelf.all("shop") if each.name == "the stall")
    answer = client.get(f"/places/prices/{kept.id}")
    assert answer.headers["content-disposition"].endswith("the-stall-prices.csv")
    assert "grocery" not in answer.text
    assert client.get("/places/prices/999").status_code == 404
    bring(client, client.get("/places/prices/empty").content)
    (kept,) = (each for each in shelf.all("shop") if each.name == "the grocery")
    assert [each["plant"] for each in kept.content["bunch"]] == ["tulip"]


def test_a_new_class_begins_with_what_was_brought_in(client: TestClient, shelf: Shelf) -> None:
    bring(client, LIST)
    page = client.post("/classes")
    address = str(page.url).removesuffix("/when")
    supplies = client.get(f"{address}/supplies").text
    assert "Friday, Saturday" in supplies
    (lesson,) = shelf.all("class")
    names = [each["name"] for each in lesson.content["shop"]]
    assert sorted(names) == ["the grocery", "the stall"]


def test_side_shoots_days_and_where_from_are_kept_from_the_forms(
    client: TestClient, shelf: Shelf
) -> None:
    told = {"plant": "forsythia", "length": "90", "shoots": "25 at 30", "from": "gift"}
    client.post("/places/garden/new", data=told)
    (kept,) = shelf.all("garden")
    assert (kept.content["shoots"], kept.content["from"]) == ("25 at 30", "gift")
    said = text(client.get("/places").text)
    assert "A gift" in said
    assert "Side shoots: 25 cm at 30 cm" in said
    page = client.get(f"/places/garden/{kept.id}").text
    assert value(page, "shoots") == "25 at 30"
    assert '<option value="gift" selected>' in page


def test_plain_shoots_are_inches_for_whoever_measures_in_inches(
    client: TestClient, shelf: Shelf
) -> None:
    told = {"units": "in", "paper": "Letter", "proportions": "width-plus-height"}
    client.post("/settings", data=told)
    client.post(
        "/places/garden/new", data={"plant": "forsythia", "length": "36", "shoots": "9 at 12"}
    )
    (kept,) = shelf.all("garden")
    assert kept.content["shoots"] == "9 in at 12 in"
    assert 'data-unit="in"' in client.get("/places/garden/new").text


def test_what_a_class_says_of_shops_and_stems_is_kept_from_its_pages(client: TestClient) -> None:
    page = client.post("/classes")
    address = str(page.url).removesuffix("/when")
    base = value_of_base(page.text)
    told = {"base": base, "do": "", "class.sure_percent": "80", "class.split_shops": "yes"}
    page = client.post(f"{address}/when", data=told)
    assert value(page.text, "class.sure_percent") == "80"
    told = {
        "base": value_of_base(page.text),
        "do": "",
        "material[1].for": "first",
        "material[1].plant": "forsythia",
        "material[1].with_shoots": "yes",
        "material[1].thinnest": "pencil",
        "material[1].thickest": "matchstick",
    }
    page = client.post(f"{address}/material", data=told)
    assert "is less than at least" in text(page.text)
    assert value(page.text, "material[1].thickest") == "matchstick"


def test_a_shop_of_a_class_is_kept_for_later_ones(client: TestClient, shelf: Shelf) -> None:
    bring(client, LIST)
    page = client.post("/classes")
    address = str(page.url).removesuffix("/when")
    told = {
        "base": value_of_base(page.text),
        "do": "remember shop[1]",
        "shop[1].name": "The grocery",
        "shop[1].days": "Mon",
        "shop[1].bunch[1].plant": "rose",
        "shop[1].bunch[1].stems": "10",
        "shop[1].bunch[1].price": "9.50",
        "shop[1].bunch[1].length": "50",
    }
    page = client.post(f"{address}/supplies", data=told)
    assert "Kept, for later classes, too." in text(page.text)
    kept = {each.name: each.content for each in shelf.all("shop")}
    assert sorted(kept) == ["The grocery", "the stall"]
    assert [each["plant"] for each in kept["The grocery"]["bunch"]] == ["rose"]
    assert kept["The grocery"]["days"] == ["monday"]
    told |= {"base": value_of_base(page.text), "shop[1].bunch[1].price": "nine"}
    page = client.post(f"{address}/supplies", data=told)
    assert "when nothing is wrong with it any more" in text(page.text)
    assert {each.name: each.content for each in shelf.all("shop")} == kept


def test_a_place_of_a_class_keeps_its_months_when_it_is_kept_again(
    client: TestClient, shelf: Shelf
) -> None:
    place = {"plant": "forsythia", "length": "90", "name": "the hedge", "month-3": "yes"}
    client.post("/places/garden/new", data=place)
    page = client.post("/classes")
    address = str(page.url).removesuffix("/when")
    told = {
        "base": value_of_base(page.text),
        "do": "remember garden[1]",
        "garden[1].plant": "Forsythia",
        "garden[1].name": "the hedge",
        "garden[1].length": "100",
        "garden[1].shoots": "25 at 30",
        "garden[2].plant": "flowering quince",
        "garden[2].length": "80",
    }
    page = client.post(f"{address}/supplies", data=told)
    (kept,) = shelf.all("garden")
    assert (kept.content["length"], kept.content["months"]) == (100, [3])
    told |= {"base": value_of_base(page.text), "do": "remember garden[2]"}
    client.post(f"{address}/supplies", data=told)
    assert sorted(each.name for each in shelf.all("garden")) == ["Flowering quince", "the hedge"]


def value_of_base(page: str) -> str:
    return page.partition('name="base" value="')[2].partition('"')[0]
