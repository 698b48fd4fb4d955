"""Classes in the browser, without JavaScript: begun, filled in, mended, brought in, taken along."""

from __future__ import annotations

import datetime as dt
import re
from html import unescape
from pathlib import Path

import pytest

from nejime.basis import tables
from nejime.desk.classes import PARTS, opened
from nejime.desk.demo import DATE, FILE, lay_out, second_saturday
from nejime.reading.class_file import read_class, read_class_tree
from nejime.reading.class_tree import tree_of_file

EXAMPLE = Path(__file__).parents[2] / "examples" / "1-saturday-mixed-bowls.toml"


@pytest.fixture
def demo(shelf):
    return lay_out(shelf, dt.date(2027, 2, 20))


def fields_on(html):
    """What a browser would send of the last form on a page, before anybody types."""
    form = html[html.rindex('<form method="post"') :]
    if 'class="part"' in html:
        form = html[html.index('class="part"') :]
    found = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name, value = (re.search(rf'{key}="([^"]*)"', tag) for key in ("name", "value"))
        if not name or ('type="checkbox"' in tag and " checked" not in tag):
            continue
        found[name[1]] = unescape(value[1]) if value else ""
    for name, inner in re.findall(
        r'<select id="[^"]*" name="([^"]*)".*?>(.*?)</select>', form, re.DOTALL
    ):
        options = re.findall(r'<option value="([^"]*)"( selected)?', inner)
        chosen = [value for value, selected in options if selected] or [options[0][0]]
        found[name] = unescape(chosen[0])
    return found


def kept_in(shelf, class_id):
    return shelf.get(class_id).content


def test_an_empty_list_says_what_to_do_next(client):
    page = client.get("/classes").text
    assert "Plan a new class" in page
    assert "No class is planned yet" in page


def test_a_new_class_is_filled_in_but_for_who_comes(client, shelf):
    lay_out(shelf, dt.date(2027, 2, 20))
    answer = client.post("/classes")
    number = int(answer.url.path.split("/")[2])
    faults = opened(shelf, number).faults
    assert [fault.field for fault in faults] == ["person"]
    day = dt.date.fromisoformat(kept_in(shelf, number)["class"]["date"])
    assert day.weekday() == 5  # a Saturday
    assert day > dt.date(2027, 3, 13)


def test_every_part_sends_back_what_it_was_given(client, shelf, demo):
    """A form that nobody typed into changes nothing of what the class says."""
    before = read_class_tree("", demo.content)
    for part in PARTS:
        page = client.get(f"/classes/{demo.id}/{part}").text
        answer = client.post(f"/classes/{demo.id}/{part}", data=fields_on(page))
        assert answer.status_code == 200, part
        assert read_class_tree("", kept_in(shelf, demo.id)) == before, part


def test_what_is_wrong_is_kept_and_stands_beside_its_field_and_on_top(client, shelf, demo):
    page = client.get(f"/classes/{demo.id}/people").text
    wrong = {**fields_on(page), "person[1].vessel.width": "wide", "person[2].name": "Ada"}
    answer = client.post(f"/classes/{demo.id}/people", data=wrong)
    text = unescape(answer.text)
    assert 'id="person[1].vessel.width-fault"' in text
    assert 'value="wide"' in text
    assert "“wide” is not a length." in text
    assert f'href="/classes/{demo.id}/people#person%5B1%5D.vessel.width"' in text
    assert "“Ada” stands here for the second time." in text
    assert kept_in(shelf, demo.id)["person"][0]["vessel"]["width"] == "wide"
    assert "2 things to mend" in client.get("/classes").text


def test_people_are_added_moved_and_taken_out_in_one_tap(client, shelf, demo):
    address = f"/classes/{demo.id}/people"

    def names():
        return [each["name"] for each in kept_in(shelf, demo.id)["person"]]

    before = names()
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "names": "Olga\nPedro\n\n", "do": "add"})
    assert names() == [*before, "Olga", "Pedro"]
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "do": "up person[2]"})
    assert names()[:2] == [before[1], before[0]]
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "do": "remove person[1]"})
    assert names() == [before[0], *before[2:], "Olga", "Pedro"]


def test_a_vessel_is_from_the_cupboard_or_typed_in_or_not_known(client, shelf, demo):
    shelf.add(
        "vessel",
        "green bowl",
        {
            "name": "green bowl",
            "shape": "bowl",
            "width": 22.5,
            "height": 8,
            "count": 2,
            "glaze": "celadon",
        },
    )
    address = f"/classes/{demo.id}/people"
    fields = fields_on(client.get(address).text)
    fields |= {
        "person[1].vessel": "ours: green bowl",
        "person[2].vessel": "",
        "person[7].vessel": "own",
        "person[7].vessel.shape": "round",
        "person[7].vessel.width": "12 in",
        "person[7].vessel.height": "2 1/2 in",
    }
    client.post(address, data=fields)
    tree = kept_in(shelf, demo.id)
    lesson = read_class_tree("", tree)
    assert lesson.people[0].vessel.width_cm == 22.5
    assert lesson.people[1].vessel is None
    assert lesson.people[6].vessel.width_cm == pytest.approx(30.48)  # 12 inches of 2.54 cm
    assert [each["name"] for each in tree["vessel"]] == ["blue dish", "green bowl"]


def test_what_is_kept_elsewhere_comes_in_with_one_tap(client, shelf, demo):
    number = int(client.post("/classes").url.path.split("/")[2])
    holder = shelf.add("holder", "tiny", {"name": "tiny", "diameter": 3, "count": 2})
    shop = shelf.add(
        "shop",
        "market",
        {
            "name": "market",
            "bunch": [{"plant": "tulip", "stems": 10, "price": "4.99", "length": 40}],
        },
    )
    for part, act in (("vessels", f"lend {holder.id}"), ("supplies", f"take {shop.id}")):
        page = client.get(f"/classes/{number}/{part}").text
        assert act in page
        client.post(f"/classes/{number}/{part}", data={**fields_on(page), "do": act})
    tree = kept_in(shelf, number)
    assert tree["holder"][-1] == {"name": "tiny", "diameter": "3", "count": 2}
    assert tree["shop"][-1]["bunch"][0]["price"] == "4.99"
    assert act not in client.get(f"/classes/{number}/supplies").text


def test_undo_takes_back_and_redo_brings_again(client, shelf, demo):
    address = f"/classes/{demo.id}/when"
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "class.title": "Branches"})
    assert shelf.get(demo.id).name == "Branches"
    client.post(f"/classes/{demo.id}/undo")
    assert shelf.get(demo.id).name == demo.name
    client.post(f"/classes/{demo.id}/redo")
    assert shelf.get(demo.id).name == "Branches"
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "class.title": "Typed, not kept", "do": "undo"})
    assert shelf.get(demo.id).name == "Branches"
    client.post(f"/classes/{demo.id}/redo")
    assert shelf.get(demo.id).name == "Typed, not kept"


def test_two_who_change_the_same_are_shown_both(client, shelf, demo):
    address = f"/classes/{demo.id}/when"
    fields = fields_on(client.get(address).text)
    client.post(address, data={**fields, "class.title": "Theirs"})
    answer = client.post(address, data={**fields, "class.title": "Mine"})
    assert answer.status_code == 409
    assert "Theirs" in answer.text
    assert "Mine" in answer.text
    assert shelf.get(demo.id).name == "Theirs"
    kept = client.post(address, data=fields_on(answer.text))
    assert kept.status_code == 200
    assert shelf.get(demo.id).name == "Mine"


def test_two_who_change_different_parts_are_not_in_each_others_way(client, shelf, demo):
    room = fields_on(client.get(f"/classes/{demo.id}/room").text)
    when = fields_on(client.get(f"/classes/{demo.id}/when").text)
    client.post(f"/classes/{demo.id}/when", data={**when, "class.title": "Theirs"})
    answer = client.post(f"/classes/{demo.id}/room", data={**room, "room.width": "12 m"})
    assert answer.status_code == 200
    tree = kept_in(shelf, demo.id)
    assert (tree["class"]["title"], tree["room"]["width"]) == ("Theirs", "12 m")


def test_a_class_file_comes_in_and_goes_out_the_same(client):
    answer = client.post("/classes/bring-in", files={"file": (EXAMPLE.name, EXAMPLE.read_bytes())})
    out = client.get(f"{answer.url.path}/file")
    assert "early-spring-in-a-bowl.toml" in out.headers["content-disposition"]
    assert read_class("out", out.content) == read_class("in", EXAMPLE.read_bytes())


def test_a_file_that_is_wrong_is_told_by_lines_and_can_be_mended(client, shelf):
    text = EXAMPLE.read_text(encoding="utf-8").replace("minutes = 120", "minutes = two")
    wrong = client.post("/classes/bring-in", files={"file": ("mine.toml", text.encode())})
    line = text.splitlines().index("minutes = two") + 1
    assert wrong.status_code == 422
    assert f"Line {line}." in wrong.text
    assert text in unescape(wrong.text)
    assert not shelf.all("class")
    sent = {"file_name": "mine.toml", "file_text": text.replace("= two", "= 120")}
    assert client.post("/classes/bring-in", data=sent).status_code == 200
    assert len(shelf.all("class")) == 1


def test_a_class_is_copied_put_away_and_put_back(client, shelf, demo):
    copy = int(client.post(f"/classes/{demo.id}/copy").url.path.split("/")[2])
    assert kept_in(shelf, copy) == demo.content
    client.post(f"/classes/{copy}/put-away")
    assert len(shelf.all("class")) == 1
    assert "One class was put away" in client.get("/classes").text
    client.post(f"/classes/{copy}/put-back")
    assert len(shelf.all("class")) == 2


def test_what_is_not_there_is_said(client, demo):
    assert client.get("/classes/4711").status_code == 404
    assert client.get(f"/classes/{demo.id}/nothing").status_code == 404


def test_the_invented_class_is_the_first_example_on_another_day():
    made = tables.read_text(FILE).replace(DATE, "2027-03-13").encode()
    assert tree_of_file("demo", made) == tree_of_file("example", EXAMPLE.read_bytes())


@pytest.mark.source("hand", "1 March 2027 is a Monday, so its second Saturday is the 13th")
def test_the_invented_class_is_always_to_come():
    assert second_saturday(dt.date(2026, 11, 25)) == dt.date(2027, 3, 13)
    assert second_saturday(dt.date(2027, 3, 13)) == dt.date(2028, 3, 11)
