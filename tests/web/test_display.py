"""On display: a piece kept, looked after, changed, taken away; what is due; its papers."""

from __future__ import annotations

import datetime as dt
import io

import icalendar
import pikepdf
import pytest
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text, value

from nejime.desk.shelf import Shelf
from nejime.web.app import application

PIECE = {
    "name": "By the entrance",
    "vessel": "own",
    "shape": "round",
    "width": "30",
    "height": "6",
    "water": "3.5",
    "pins": "2.2",
    "room": "usual",
    "since": "2027-02-20",
    "until": "2027-03-12",
    "contact": "the desk, 555-0100",
    "plant[1].plant": "boke",
    "plant[1].stems": "3",
    "plant[2].plant": "tulips",
    "plant[2].stems": "3",
    "rows": "4",
}


class Clock:
    """The day and the time that the pages see."""

    def __init__(self) -> None:
        self.now = dt.datetime.combine(TODAY, dt.time(9, 30))


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def client(shelf: Shelf, clock: Clock) -> TestClient:
    return TestClient(application(shelf, lambda: clock.now.date(), lambda: clock.now.time()))


@pytest.fixture
def shown(client: TestClient, shelf: Shelf) -> int:
    client.post("/display/new", data=PIECE)
    (kept,) = shelf.all("display")
    return kept.id


def said(client: TestClient, number: int) -> str:
    return text(client.get(f"/display/{number}").text)


def do(client: TestClient, number: int, **told: str) -> int:
    return client.post(f"/display/{number}/done", data=told).status_code


# Kept


def test_nothing_yet_says_what_to_do(client: TestClient) -> None:
    assert "Nothing is on display. Add a piece" in text(client.get("/display").text)


def test_plants_are_found_by_any_name(shelf: Shelf, shown: int) -> None:
    kept = shelf.get(shown).content
    assert [each["plant"] for each in kept["plant"]] == ["flowering-quince", "tulip"]
    assert kept["vessel"] == {"shape": "round", "width": 30, "height": 6}
    assert (kept["water"], kept["pins"]) == (3.5, 2.2)


def test_a_vessel_of_the_cupboard_is_taken_as_it_is(client: TestClient, shelf: Shelf) -> None:
    dish = {"shape": "oval", "width": 30, "depth": 20, "height": 6, "name": "b", "count": 2}
    ours = shelf.add("vessel", "b", {**dish, "glaze": "indigo", "note": "n"})
    client.post("/display/new", data={**PIECE, "vessel": str(ours.id), "width": "", "height": ""})
    (kept,) = shelf.all("display")
    assert kept.content["vessel"] == {
        "shape": "oval",
        "width": 30,
        "depth": 20,
        "height": 6,
        "name": "b",
    }
    assert kept.content["glaze"] == "indigo"


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"water": "0"}, "water"),
        ({"water": "-3"}, "water"),
        ({"water": "7"}, "water"),  # over the rim
        ({"water": "2"}, "water"),  # the pins stand dry
        ({"water": ""}, "water"),
        ({"pins": "x"}, "pins"),
        ({"width": "0"}, "width"),  # no area
        ({"width": ""}, "width"),
        ({"height": "0"}, "height"),
        ({"until": "2027-02-20"}, "until"),
        ({"until": "2027-02-01"}, "until"),
        ({"until": "2029-02-01"}, "until"),
        ({"since": "yesterday"}, "since"),
        ({"room": "hall"}, "room"),
        ({"plant[2].plant": "xyzzy"}, "plant[2].plant"),
        ({"plant[2].stems": "0"}, "plant[2].stems"),
        ({"plant[2].stems": "many"}, "plant[2].stems"),
        ({"plant[3].stems": "2"}, "plant[3].plant"),
        (
            {
                "plant[1].plant": "",
                "plant[1].stems": "",
                "plant[2].plant": "",
                "plant[2].stems": "",
            },
            "plant[1].plant",
        ),
        ({"name": " "}, "name"),
        ({"vessel": "99"}, "vessel"),
    ],
)
def test_what_cannot_be_is_told_at_its_field_and_nothing_typed_is_lost(
    client: TestClient, shelf: Shelf, wrong: dict[str, str], field: str
) -> None:
    typed = {**PIECE, **wrong}
    page = client.post("/display/new", data=typed)
    assert page.status_code == 422
    assert field in faults(page.text)
    for name in ("name", "water", "pins", "width", "plant[2].plant", "contact"):
        assert value(page.text, name) == typed[name]
    assert shelf.all("display") == ()


def test_where_there_are_vessels_one_must_be_chosen(client: TestClient, shelf: Shelf) -> None:
    shelf.add("vessel", "dish", {"shape": "round", "width": 30, "height": 6, "name": "dish"})
    unchosen = {key: each for key, each in PIECE.items() if key != "vessel"}
    page = client.post("/display/new", data={**unchosen, "water": "0"})
    assert set(faults(page.text)) == {"vessel", "water"}


def test_every_fault_is_told_at_once(client: TestClient) -> None:
    wrong = {**PIECE, "water": "0", "until": "2027-02-01", "plant[1].plant": "?", "width": "0"}
    told = faults(client.post("/display/new", data=wrong).text)
    assert {"water", "plant[1].plant", "width"} <= set(told)


def test_more_rows_lose_nothing(client: TestClient, shelf: Shelf) -> None:
    page = client.post("/display/new", data={**PIECE, "more": "yes"}).text
    assert value(page, "plant[2].plant") == "tulips"
    assert value(page, "plant[7].plant") == ""
    assert shelf.all("display") == ()


def test_it_is_changed_and_what_was_done_stays(
    client: TestClient, shelf: Shelf, shown: int
) -> None:
    do(client, shown, do="topped")
    version = str(shelf.get(shown).version)
    page = client.get(f"/display/{shown}/change").text
    assert value(page, "width") == "30"
    assert value(page, "plant[2].plant") == "Tulip"
    client.post(f"/display/{shown}/change", data={**PIECE, "water": "4", "base": version})
    kept = shelf.get(shown).content
    assert kept["water"] == 4
    assert [each["what"] for each in kept["done"]] == ["topped"]


def test_two_who_change_one_see_both(client: TestClient, shelf: Shelf, shown: int) -> None:
    at = f"/display/{shown}/change"
    client.post(at, data={**PIECE, "water": "4", "base": "1"})
    page = client.post(at, data={**PIECE, "water": "4.5", "base": "1"})
    assert page.status_code == 409
    assert "water 4.0 4.5" in text(page.text)
    client.post(at, data={**PIECE, "water": "4.5", "base": "2"})
    assert shelf.get(shown).content["water"] == 4.5


def test_of_a_tall_vase_pins_do_not_count(client: TestClient, shelf: Shelf) -> None:
    vase = {"shape": "vase", "width": "10", "height": "25", "water": "18"}
    client.post("/display/new", data={**PIECE, **vase})  # the usual pins left as they are
    (kept,) = shelf.all("display")
    words = said(client, kept.id)
    assert "a third is gone" in words
    assert "pins" not in words


def test_inches_are_inches_for_whoever_reads_them(client: TestClient, shelf: Shelf) -> None:
    shelf.add("settings", "settings", {"units": "in"})
    inches = {"width": "12", "height": "2.5", "water": "1.5", "pins": "0.9"}
    client.post("/display/new", data={**PIECE, **inches})
    (kept,) = shelf.all("display")
    assert (kept.content["vessel"]["width"], kept.content["water"]) == ("12 in", "1.5 in")
    page = client.get(f"/display/{kept.id}").text
    assert "½ in in " in text(page)
    assert value(client.get(f"/display/{kept.id}/change").text, "water") == "1.5 in"


# Looked after


@pytest.mark.source("memory", "tulip 4 days in a vase at the least, quince 7 on pins")
def test_its_page_answers_when_how_much_what_first_and_where_not(
    client: TestClient, shown: int
) -> None:
    page = client.get(f"/display/{shown}").text
    words = text(page)
    assert "The water falls about 1 cm in" in words
    assert "look daily" in words
    assert (
        "in 4 days Wednesday, 24 February Take out: Tulip. In its place, to last longer:" in words
    )
    assert "in 7 days Saturday, 27 February Take out: Flowering quince." in words
    assert "2 to 5 cm after it is cut" in words
    assert "Not over a heater" in words
    assert "Not on or above books" in words
    assert "from memory, not yet checked" in words
    assert "Shah, M. M. (2014)" in words
    assert page.count("<svg") == 1


def test_a_tap_is_kept_with_its_time_and_moves_what_is_next(
    client: TestClient, shelf: Shelf, shown: int, clock: Clock
) -> None:
    clock.now += dt.timedelta(days=2)
    assert "since yesterday" in said(client, shown)
    do(client, shown, do="topped")
    assert shelf.get(shown).content["done"] == [{"at": "2027-02-22T09:30", "what": "topped"}]
    assert "since yesterday" not in said(client, shown)
    assert "Monday, 22 February, 9:30 am: filled up" in said(client, shown)
    client.post(f"/display/{shown}/undo")
    assert "since yesterday" in said(client, shown)
    client.post(f"/display/{shown}/redo")
    assert "since yesterday" not in said(client, shown)


@pytest.mark.source("memory", "tulip 4 days: replaced on the 24th, out on the 28th")
def test_a_plant_that_was_replaced_begins_anew(
    client: TestClient, shelf: Shelf, shown: int, clock: Clock
) -> None:
    clock.now += dt.timedelta(days=4)
    do(client, shown, do="replaced", row="2")
    assert shelf.get(shown).content["plant"][1]["since"] == "2027-02-24"
    assert "Sunday, 28 February Take out: Tulip." in said(client, shown)
    do(client, shown, do="replaced", row="2", by="kiku")
    assert shelf.get(shown).content["plant"][1]["plant"] == "chrysanthemum"
    assert "Tulip replaced by Chrysanthemum" in said(client, shown)
    client.post(f"/display/{shown}/undo")
    assert shelf.get(shown).content["plant"][1]["plant"] == "tulip"


def test_an_unknown_plant_in_its_place_is_told_and_not_lost(
    client: TestClient, shelf: Shelf, shown: int
) -> None:
    page = client.post(f"/display/{shown}/done", data={"do": "replaced", "row": "2", "by": "xyzzy"})
    assert page.status_code == 422
    assert "by" in faults(page.text)
    assert value(page.text, "by") == "xyzzy"
    for told in ({"row": "9"}, {"row": ""}, {"row": "0"}):
        assert do(client, shown, do="replaced", **told) == 422
    assert do(client, shown, do="danced") == 422
    assert shelf.get(shown).version == 1


def test_a_plant_comes_out_but_not_the_last(client: TestClient, shelf: Shelf, shown: int) -> None:
    do(client, shown, do="out", row="2")
    assert [each["plant"] for each in shelf.get(shown).content["plant"]] == ["flowering-quince"]
    assert do(client, shown, do="out", row="1") == 422


def test_what_was_taken_away_asks_for_nothing(client: TestClient, shown: int) -> None:
    do(client, shown, do="down")
    assert "One was taken away" in text(client.get("/display").text)
    assert "It was taken away Saturday, 20 February, 9:30 am." in said(client, shown)
    assert "Filled up" not in said(client, shown)
    client.post(f"/display/{shown}/undo")
    assert "Filled up" in said(client, shown)


@pytest.mark.source("hand", "2 mm in 24 hours is 1 cm in 5 days")
def test_one_reading_of_the_ruler_takes_the_place_of_the_model(
    client: TestClient, shown: int
) -> None:
    assert "By a model" in said(client, shown)
    client.post(f"/display/{shown}/ruler", data={"fell": "2 mm", "hours": "24"})
    words = said(client, shown)
    assert "The water falls about 1 cm in 5 days: look" in words
    assert "By what you read with a ruler, once" in words
    assert "By a model" not in words
    assert "Shah" not in words


def test_a_reading_does_not_hold_in_another_room(
    client: TestClient, shelf: Shelf, shown: int
) -> None:
    client.post(f"/display/{shown}/ruler", data={"fell": "2 mm", "hours": "24"})
    at = f"/display/{shown}/change"
    client.post(at, data={**PIECE, "contact": "somebody else", "base": "2"})
    assert len(shelf.get(shown).content["readings"]) == 1
    client.post(at, data={**PIECE, "room": "hot", "base": "3"})
    assert "readings" not in shelf.get(shown).content


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"fell": "0", "hours": "24"}, "fell"),
        ({"fell": "-1", "hours": "24"}, "fell"),
        ({"fell": "9", "hours": "24"}, "fell"),
        ({"fell": "", "hours": "24"}, "fell"),
        ({"fell": "2 mm", "hours": "0"}, "hours"),
        ({"fell": "2 mm", "hours": "-5"}, "hours"),
        ({"fell": "2 mm", "hours": "all night"}, "hours"),
    ],
)
def test_a_reading_that_cannot_be_is_told(
    client: TestClient, shelf: Shelf, shown: int, told: dict[str, str], field: str
) -> None:
    page = client.post(f"/display/{shown}/ruler", data=told)
    assert page.status_code == 422
    assert set(faults(page.text)) == {field}
    assert value(page.text, "fell") == told["fell"]
    assert shelf.get(shown).version == 1


def test_cautions_come_with_the_number_of_the_poison_centre(
    client: TestClient, shelf: Shelf
) -> None:
    shelf.add("settings", "settings", {"poison_line": "555-0111"})
    client.post("/display/new", data={**PIECE, "plant[3].plant": "daffodil"})
    (kept,) = shelf.all("display")
    words = said(client, kept.id)
    assert "Not where a small child reaches it" in words
    assert "555-0111" in words


def test_what_is_not_known_any_more_is_told_and_breaks_no_page(
    client: TestClient, shelf: Shelf, shown: int
) -> None:
    kept = shelf.get(shown)
    shelf.save(shown, {**kept.content, "plant": [{"plant": "gone-plant", "stems": 1}]}, 1)
    for address in ("/", "/display"):
        assert "not known any more" in text(client.get(address).text)
    page = client.get(f"/display/{shown}")
    assert str(page.url).endswith(f"/display/{shown}/change")
    assert value(page.text, "plant[1].plant") == "gone-plant"


# On the first page, on paper, in the calendar


def test_today_has_the_next_of_each(client: TestClient, shown: int, clock: Clock) -> None:
    clock.now += dt.timedelta(days=1)
    words = text(client.get("/").text)
    assert "On display today By the entrance : Fill it up to the line: about" in words
    do(client, shown, do="down")
    assert "By the entrance" not in text(client.get("/").text)


def test_card_and_label_are_printed(client: TestClient, shown: int) -> None:
    made = client.get(f"/display/{shown}/card.pdf")
    assert made.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(made.content)) as pdf:
        assert len(pdf.pages) == 2


@pytest.mark.source("memory", "tulip 4 days in a vase at the least, quince 7 on pins")
def test_the_calendar_has_every_day_and_no_alarm(client: TestClient, shown: int) -> None:
    made = client.get(f"/display/{shown}/calendar")
    assert made.headers["content-type"].startswith("text/calendar")
    assert "by-the-entrance.ics" in made.headers["content-disposition"]
    found = icalendar.Calendar.from_ical(made.content)
    events = {str(each["summary"]): each for each in found.walk("VEVENT")}
    tulip = next(each for name, each in events.items() if "Take out: Tulip" in name)
    assert tulip["dtstart"].dt == dt.date(2027, 2, 24)
    assert tulip["dtend"].dt == dt.date(2027, 2, 25)
    last = next(each for name, each in events.items() if "Take the whole" in name)
    assert last["dtstart"].dt == dt.date(2027, 3, 12)
    assert found.walk("VALARM") == []
    assert len({str(each["uid"]) for each in found.walk("VEVENT")}) == len(found.walk("VEVENT"))
    assert client.get(f"/display/{shown}/calendar").content == made.content


# Everything else that is kept


def test_put_away_and_brought_back(client: TestClient, shown: int) -> None:
    client.post(f"/display/{shown}/away")
    assert "One was put away" in text(client.get("/display").text)
    client.post(f"/display/{shown}/back")
    assert "By the entrance" in text(client.get("/display").text)


def test_it_is_carried_to_another_machine(client: TestClient, shelf: Shelf, shown: int) -> None:
    do(client, shown, do="topped")
    client.post(f"/display/{shown}/ruler", data={"fell": "2 mm", "hours": "24"})
    saved = client.get("/settings/everything.json").content
    before = shelf.get(shown).content
    shelf.remove(shown)
    client.post("/settings/bring-in", files={"file": ("nejime.json", saved)})
    (kept,) = shelf.all("display")
    assert kept.content == before


@pytest.mark.parametrize("address", ["", "/change", "/card.pdf", "/calendar"])
def test_what_is_not_there_is_nothing(client: TestClient, shelf: Shelf, address: str) -> None:
    other = shelf.add("vessel", "dish", {"shape": "round", "width": 30, "height": 6})
    assert client.get(f"/display/{other.id}{address}").status_code == 404
    assert client.get(f"/display/99{address}").status_code == 404


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("/display/new", "rows"),
        ("/display/new", "plant[1].stems"),
        ("/display/{shown}/change", "base"),
        ("/display/{shown}/done", "row"),
    ],
)
def test_a_number_of_many_digits_breaks_nothing(client, shown, path, field) -> None:
    told = {**PIECE, "do": "replaced", field: "9" * 5000}
    assert client.post(path.format(shown=shown), data=told).status_code in (200, 409, 422)
