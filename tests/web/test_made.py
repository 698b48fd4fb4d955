"""Look at the work: begun, pictures chosen and cut, marked, measured, talked about, put away."""

from __future__ import annotations

import base64
import io
import json
import math
import re
from pathlib import Path
from typing import Any

import numpy as np
import pikepdf
import pytest
from PIL import Image
from starlette.testclient import TestClient
from web.asked import TODAY, faults, text

from nejime.desk.demo import lay_out
from nejime.desk.shelf import Shelf

SCENES = Path(__file__).parent.parent.parent / "authorities" / "photo"
CASE = json.loads((SCENES / "c04_round_card_twoviews.json").read_text())
STEMS = ("first", "second", "third")
DISH = {"vessel": "own", "shape": "round", "width": "28", "height": "6.5"}
SPREAD_PX = 1.2  # of a mark: 3 px of a picture of 12 megapixels, at the scene's size


def photograph(view: int) -> bytes:
    return (SCENES / CASE["views"][view]["file"]).read_bytes()


def marks(view: int, chance: np.random.Generator | None = None) -> dict[str, Any]:
    """Marks of a rendered scene where its own renderer says that things are, and a hand's error."""
    told = CASE["views"][view]

    def near(point: Any, times: float = 1.0) -> list[float]:
        off = chance.normal(0.0, SPREAD_PX * times, 2) if chance else (0.0, 0.0)
        return [round(float(each + step), 2) for each, step in zip(point, off, strict=True)]

    count = len(told["rim_px"])
    rim = [near(told["rim_px"][number * count // 8]) for number in range(8)]
    ends = zip(STEMS, told["tip_px"], told["base_px"], strict=True)
    stems = [{"id": name, "tip": near(tip), "base": near(foot, 2.0)} for name, tip, foot in ends]
    return {"rim": rim, "stems": stems}


def begun(client: TestClient, **told: str) -> int:
    answer = client.post("/made/new", data={**DISH, **told}, follow_redirects=False)
    assert answer.status_code == 303, faults(answer.text)
    return int(answer.headers["location"].rpartition("/")[2])


def choose(client: TestClient, number: int, view: int) -> dict[str, Any]:
    answer = client.post(f"/made/{number}/picture/{view}", content=photograph(view))
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def keep(client: TestClient, number: int, views: list[Any], **more: Any) -> Any:
    base = client.get(f"/made/{number}/state").json()["version"]
    return client.post(f"/made/{number}/keep", json={"base": base, "views": views, **more})


@pytest.fixture
def looked_at(client: TestClient) -> int:
    """A piece with two pictures, both marked."""
    chance = np.random.default_rng(4)
    number = begun(client)
    for view in (0, 1):
        choose(client, number, view)
    assert keep(client, number, [marks(0, chance), marks(1, chance)]).status_code == 200
    return number


# Begun


def test_nothing_yet_says_what_to_do(client: TestClient) -> None:
    assert "Nothing was looked at yet." in text(client.get("/made").text)


def test_a_vessel_without_measures_is_asked_for_again(client: TestClient) -> None:
    answer = client.post("/made/new", data={"vessel": "own", "shape": "round"})
    assert answer.status_code == 422
    assert set(faults(answer.text)) == {"width", "height"}


@pytest.mark.source("hand", "typed across the outside: the rim is what was typed")
def test_the_rim_is_measured_outside(client: TestClient, shelf: Shelf) -> None:
    kept = shelf.get(begun(client)).content
    assert kept["vessel"] == {"shape": "round", "rim_diameter_cm": 28.0, "height_cm": 6.5}
    assert kept["bowl"]["width"] < 28


def test_a_persons_piece_brings_its_vessel_and_its_plan(client: TestClient, shelf: Shelf) -> None:
    lesson = lay_out(shelf, TODAY)
    answer = client.get(f"/made/new?plan=person-{lesson.id}-1")
    assert f'value="person-{lesson.id}-1" selected' in answer.text
    number = begun(client, plan=f"person-{lesson.id}-1", vessel="plan")
    name = lesson.content["person"][0]["name"]
    told = client.get(f"/made/{number}/state").json()
    assert (told["name"], told["plan"]) == (name, name)
    assert all(stem["planned"] for stem in told["stems"])


def test_an_oval_rim_is_refused_with_what_to_do(client: TestClient, shelf: Shelf) -> None:
    kept = shelf.add(
        "vessel", "oval", {"name": "oval", "shape": "oval", "width": 30, "depth": 20, "height": 6}
    )
    answer = client.post("/made/new", data={"vessel": f"cupboard-{kept.id}"})
    assert answer.status_code == 422
    assert "oval vessel cannot be measured yet" in text(answer.text)


@pytest.mark.parametrize(
    ("told", "field"),
    [
        ({"plan": "person-1-0"}, "plan"),
        ({"plan": "person-9-9"}, "plan"),
        ({"plan": "piece-999999"}, "plan"),
        ({"plan": "bowl"}, "plan"),
        ({"plan": "person-" + "9" * 40 + "-1"}, "plan"),
        ({"vessel": "cupboard-none"}, "vessel"),
        ({"vessel": "cupboard-99"}, "vessel"),
        ({"vessel": "plan"}, "vessel"),
    ],
)
def test_what_is_not_there_is_asked_for_again(
    client: TestClient, told: dict[str, str], field: str
) -> None:
    answer = client.post("/made/new", data={**DISH, **told})
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text


# Pictures


@pytest.mark.source("hand", "the scene's own size; the card's four markers are in it")
def test_a_picture_is_made_ready_and_its_card_is_found(client: TestClient) -> None:
    number = begun(client)
    (view,) = choose(client, number, 0)["views"]
    assert (view["width"], view["height"], view["card"]) == (1600, 1200, 4)
    shown = client.get(view["picture"])
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    with Image.open(io.BytesIO(shown.content)) as image:
        assert (image.format, image.size) == ("JPEG", (1600, 1200))


def test_what_is_no_picture_is_told_and_changes_nothing(client: TestClient) -> None:
    number = begun(client)
    before = client.get(f"/made/{number}/state").json()
    for data in (b"", b"GIF89a" + bytes(99), b"<html>", photograph(0)[:5000]):
        answer = client.post(f"/made/{number}/picture/0", content=data)
        assert answer.status_code == 422
        assert answer.json()["wrong"]["picture"]
    assert client.get(f"/made/{number}/state").json() == before


def test_a_picture_too_large_is_refused_while_it_comes(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    from nejime.desk.made import views

    monkeypatch.setattr(views, "MOST_BYTES", 100_000)
    number = begun(client)
    answer = client.post(f"/made/{number}/picture/0", content=photograph(0))
    assert answer.status_code == 413
    assert answer.json()["wrong"]["picture"]


def test_there_are_two_pictures_and_the_first_comes_first(client: TestClient) -> None:
    number = begun(client)
    for view in (1, 2, 7):
        answer = client.post(f"/made/{number}/picture/{view}", content=photograph(0))
        assert answer.status_code == 422


@pytest.mark.source("hand", "an eighth off each side of 1600 × 1200; what is outside is gone")
def test_cutting_forgets_what_is_outside_and_leaves_the_marks(client: TestClient) -> None:
    number = begun(client)
    whole = choose(client, number, 0)["views"][0]["picture"]
    keep(client, number, [marks(0)])
    box = {"left": 200, "top": 150, "right": 1400, "bottom": 1050}
    (view,) = client.post(f"/made/{number}/picture/0/crop", json=box).json()["views"]
    assert view["box"] == [200, 150, 1200, 900]
    assert view["rim"] == marks(0)["rim"]
    assert client.get(whole).status_code == 404
    with Image.open(io.BytesIO(client.get(view["picture"]).content)) as image:
        assert image.size == (1200, 900)


@pytest.mark.source("hand", "four quarter turns are none; one takes (x, y) to (height - 1 - y, x)")
def test_turning_takes_the_marks_along(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    keep(client, number, [marks(0)])
    views = [client.post(f"/made/{number}/picture/0/turn").json()["views"][0] for _ in range(4)]
    x, y = marks(0)["rim"][0]
    assert (views[0]["width"], views[0]["height"]) == (1200, 1600)
    assert views[0]["rim"][0] == pytest.approx([1199 - y, x])
    assert views[3]["rim"] == marks(0)["rim"]
    assert views[3]["stems"] == marks(0)["stems"]


def test_pictures_are_in_the_records_only_where_she_asks(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    from nejime.desk.carry import everything

    state = client.get(f"/made/{looked_at}/state").json()
    names = [view["picture"].partition("=")[2] for view in state["views"]]

    def kept() -> list[bool]:
        return [bool(shelf.all(f"made-picture-{name}")) for name in names]

    assert kept() == [False, False]
    told = client.post(f"/made/{looked_at}/pictures", json={"kept": True}).json()
    assert [view["kept"] for view in told["views"]] == kept() == [True, True]
    assert b"jpeg" not in everything(shelf)
    client.post(f"/made/{looked_at}/pictures", json={"kept": False})
    assert kept() == [False, False]
    assert not any(shelf.removed(f"made-picture-{name}") for name in names)


def test_a_kept_picture_outlives_the_program(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    from nejime.web.app import application

    client.post(f"/made/{looked_at}/pictures", json={"kept": True})
    again = TestClient(application(shelf, lambda: TODAY))
    told = again.get(f"/made/{looked_at}/state").json()
    assert again.get(told["views"][1]["picture"]).status_code == 200


def test_without_it_the_marks_are_kept_and_fit_the_same_picture_again(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    from nejime.web.app import application

    again = TestClient(application(shelf, lambda: TODAY))
    told = again.get(f"/made/{looked_at}/state").json()
    assert [view["picture"] for view in told["views"]] == ["", ""]
    before = told["views"][0]
    chosen = again.post(f"/made/{looked_at}/picture/0", content=photograph(0)).json()["views"][0]
    assert chosen["picture"]
    assert (chosen["rim"], chosen["stems"]) == (before["rim"], before["stems"])


def test_putting_away_wipes_the_kept_pictures(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    told = client.post(f"/made/{looked_at}/pictures", json={"kept": True}).json()
    name = told["views"][0]["picture"].partition("=")[2]
    client.post(f"/made/{looked_at}/away")
    assert not shelf.all(f"made-picture-{name}")
    assert not shelf.removed(f"made-picture-{name}")
    client.post(f"/made/{looked_at}/back-on-list")
    assert len(client.get(f"/made/{looked_at}/state").json()["views"]) == 2


# Marks


def test_marks_are_kept_one_by_one_and_taken_back(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    for count in (1, 2, 3):
        keep(client, number, [{"rim": marks(0)["rim"][:count], "stems": []}])
    told = client.post(f"/made/{number}/back").json()
    assert len(told["views"][0]["rim"]) == 2
    assert len(client.post(f"/made/{number}/forth").json()["views"][0]["rim"]) == 3


def test_two_windows_see_each_other(client: TestClient) -> None:
    number = begun(client)
    base = choose(client, number, 0)["version"]
    told = {"base": base, "views": [{"rim": [[10, 10]], "stems": []}]}
    assert client.post(f"/made/{number}/keep", json=told).status_code == 200
    told["views"] = [{"rim": [[20, 20]], "stems": []}]
    answer = client.post(f"/made/{number}/keep", json=told)
    assert answer.status_code == 409
    assert answer.json()["conflict"]["views"][0]["rim"] == [[10, 10]]


@pytest.mark.source("hand", "points of the renderer's own ellipse lie on the outline through them")
def test_the_rim_is_drawn_back_from_six_points_on(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    rim = marks(0)["rim"]
    few = keep(client, number, [{"rim": rim[:5], "stems": []}]).json()["views"][0]
    assert few["outline"] == []
    view = keep(client, number, [{"rim": rim, "stems": []}]).json()["views"][0]
    assert view["rim_says"] == []
    for point in CASE["views"][0]["rim_px"]:
        assert min(math.dist(point, each) for each in view["outline"]) < 12


def test_a_gap_and_a_point_that_does_not_fit_are_named(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    around = CASE["views"][0]["rim_px"]
    front = [around[at] for at in range(0, 36, 5)]
    (gap,) = keep(client, number, [{"rim": front, "stems": []}]).json()["views"][0]["rim_says"]
    assert gap.startswith("More than a quarter of the rim")
    off = [list(each) for each in marks(0)["rim"]]
    off[3][1] += 60
    view = keep(client, number, [{"rim": off, "stems": []}]).json()["views"][0]
    assert "Point 4 on the rim, ringed in the picture, does not fit" in view["rim_says"][0]
    assert view["rim_off"] == 3


@pytest.mark.source("hand", "one of eight true points of the rim is moved 39 px inward")
@pytest.mark.parametrize("wrong", range(8))
def test_of_eight_points_the_one_that_was_moved_is_named(client: TestClient, wrong: int) -> None:
    number = begun(client)
    choose(client, number, 0)
    rim = [list(each) for each in marks(0)["rim"]]
    middle = [sum(each[axis] for each in rim) / len(rim) for axis in (0, 1)]
    away = math.dist(rim[wrong], middle)
    rim[wrong] = [at + 39.0 * (to - at) / away for at, to in zip(rim[wrong], middle, strict=True)]
    view = keep(client, number, [{"rim": rim, "stems": []}]).json()["views"][0]
    assert view["rim_off"] == wrong


@pytest.mark.parametrize(
    "told",
    [
        {},
        {"base": "x"},
        {"base": True, "views": []},
        {"base": 1, "views": "no"},
        {"base": 1, "views": [None]},
        {"base": 1, "views": [{"rim": [[1]], "stems": []}]},
        {"base": 1, "views": [{"rim": [["a", 2]], "stems": []}]},
        {"base": 1, "views": [{"rim": [[True, 2]], "stems": []}]},
        {"base": 1, "views": [{"rim": [[1e9, 2]], "stems": []}]},
        {"base": 1, "views": [{"rim": [[1, 2]] * 99, "stems": []}]},
        {"base": 1, "views": [{"rim": [], "stems": [{"id": "<b>", "tip": [1, 2]}]}]},
        {"base": 1, "views": [{"rim": [], "stems": [{"id": "first"}, {"id": "first"}]}]},
        {"base": 1, "views": [{"rim": [], "stems": [7]}]},
        {"base": 1, "views": [{"rim": [], "stems": []}], "stems": []},
        {"base": 1, "views": [{"rim": [], "stems": []}], "stems": {"first": 3}},
        {"base": 1, "views": [{"rim": [], "stems": []}], "stems": {"first": {"aim": {}}}},
        {"base": 1, "views": [{"rim": [], "stems": []}], "stems": {"a b": {}}},
        {"base": 1, "views": [{"rim": {}, "stems": []}]},
        {"base": 1, "views": [{}, {}]},
    ],
)
def test_what_are_no_marks_is_refused(client: TestClient, told: Any) -> None:
    number = begun(client)
    choose(client, number, 0)
    answer = client.post(f"/made/{number}/keep", json=told)
    assert answer.status_code == 422
    assert answer.json()["wrong"]


@pytest.mark.parametrize(
    "sent", [b"", b"[", b"[1]", b"\xff", b"NaN", b"[" * 9999, b'{"base":1e999}']
)
def test_what_is_no_json_is_refused(client: TestClient, sent: bytes) -> None:
    number = begun(client)
    choose(client, number, 0)
    assert client.post(f"/made/{number}/keep", content=sent).status_code == 422
    assert client.post(f"/made/{number}/picture/0/crop", content=sent).status_code == 422
    assert client.post(f"/made/{number}/pictures", content=sent).status_code == 200


def test_a_length_that_is_none_is_told_beside_its_stem(client: TestClient) -> None:
    number = begun(client)
    answer = keep(client, number, [], stems={"first": {"cut_length_cm": "a lot"}, "second": {}})
    assert answer.status_code == 422
    assert set(answer.json()["wrong"]) == {"length.first"}


@pytest.mark.source("bipm2019", "1 in is 2.54 cm exactly: 18 in are 45.72 cm")
def test_lengths_are_read_with_their_units(client: TestClient, shelf: Shelf) -> None:
    number = begun(client)
    keep(client, number, [], stems={"first": {"cut_length_cm": "18 in"}})
    assert shelf.get(number).content["stems"]["first"]["cut_length_cm"] == pytest.approx(45.72)


@pytest.mark.parametrize("way", ["", "/state", "/answer", "/piece", "/remake.pdf", "/picture/0"])
def test_there_is_nothing_where_nothing_is(client: TestClient, shelf: Shelf, way: str) -> None:
    other = shelf.add("piece", "no such kind", {})
    assert client.get(f"/made/{other.id}{way}").status_code == 404
    assert client.get(f"/made/999{way}").status_code == 404


def test_other_sites_cannot_send_pictures(client: TestClient) -> None:
    number = begun(client)
    headers = {"Sec-Fetch-Site": "cross-site"}
    answer = client.post(f"/made/{number}/picture/0", content=photograph(0), headers=headers)
    assert answer.status_code == 403


# What comes of it


def test_nothing_is_answered_before_enough_is_marked(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    answer = client.get(f"/made/{number}/answer")
    assert answer.status_code == 422
    assert answer.json()["wrong"]["marks"].startswith("Not enough is marked yet.")


@pytest.mark.source("hand", "a rendered scene's own lengths and leans, with a hand's error")
def test_two_pictures_give_every_stem_with_its_interval(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    from nejime.desk.made.answer import measured_of

    found, _ = measured_of(shelf, shelf.get(looked_at), TODAY)
    for name, told in zip(STEMS, CASE["stems"], strict=True):
        line = found.stem(name).line
        assert line is not None
        assert line.tilt_deg.low - 1 <= told["tilt_deg"] <= line.tilt_deg.high + 1
        assert line.length_cm.value == pytest.approx(told["chord_cm"], rel=0.05)
    answer = client.get(f"/made/{looked_at}/answer").json()
    assert all("±" in row["lean"] for row in answer["rows"])
    assert set(answer["views"]) == {"0", "1"}
    assert [each["id"] for each in answer["views"]["0"]["lines"]] == list(STEMS)
    assert answer["wire"]["stems"]


@pytest.mark.source("hand", "the scene's own holder: its middle at x -5, y -1 and about 2 cm high")
def test_where_feet_are_hidden_the_pins_are_touched(client: TestClient, shelf: Shelf) -> None:
    from nejime.desk.made.answer import measured_of

    number = begun(client)
    views = [marks(0), marks(1)]
    for view in (0, 1):
        choose(client, number, view)
        for stem in views[view]["stems"]:
            del stem["base"]
    feet = np.array(CASE["views"][0]["base_px"]).mean(axis=0).round(1).tolist()
    halves = []
    for pins in (None, feet):
        views[0]["pins"] = pins
        keep(client, number, views)
        found, _ = measured_of(shelf, shelf.get(number), TODAY)
        line = found.stem("first").line
        assert line is not None
        halves.append(line.tilt_deg.half)
        assert line.tilt_deg.low <= CASE["stems"][0]["tilt_deg"] <= line.tilt_deg.high
    assert halves[1] < halves[0] / 2


@pytest.mark.source("hand", "a measured line ends where its end was marked, within a few pixels")
def test_measured_lines_lie_over_the_marks(client: TestClient, looked_at: int) -> None:
    answer = client.get(f"/made/{looked_at}/answer").json()
    for at, view in answer["views"].items():
        for line, tip in zip(view["lines"], CASE["views"][int(at)]["tip_px"], strict=True):
            assert math.dist(line["points"][-1], tip) < 8


def test_one_picture_says_what_it_cannot_say(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    keep(client, number, [marks(0)])
    answer = client.get(f"/made/{number}/answer").json()
    assert answer["unsure"]
    assert answer["wire"] is None
    assert not any(row["length"] for row in answer["rows"])


@pytest.mark.source("hand", "of the scene's second stem: 300 degrees is to the back, not the front")
def test_she_says_which_of_two_mirror_answers_is_right(client: TestClient, shelf: Shelf) -> None:
    number = begun(client)
    choose(client, number, 0)
    lengths = {
        name: {"cut_length_cm": told["chord_cm"]}
        for name, told in zip(STEMS, CASE["stems"], strict=True)
    }
    keep(client, number, [marks(0)], stems=lengths)
    asked = client.get(f"/made/{number}/answer").json()["questions"]
    (second,) = (each for each in asked if each["id"] == "second")
    assert {each["says"].partition(":")[0] for each in second["options"]} == {
        "Towards you",
        "Away from you",
    }
    (aim,) = (each["aim"] for each in second["options"] if each["says"].startswith("Away"))
    keep(client, number, [marks(0)], stems={**lengths, "second": {**lengths["second"], "aim": aim}})
    answer = client.get(f"/made/{number}/answer").json()
    (row,) = (each for each in answer["rows"] if each["id"] == "second")
    assert row["direction"].startswith("back left")
    (said,) = (each for each in answer["questions"] if each["id"] == "second")
    assert "goes away from you" in said["says"]
    (other,) = said["options"]
    assert other["says"].startswith("Towards you")
    facts = {**lengths, "second": {**lengths["second"], "aim": other["aim"]}}
    keep(client, number, [marks(0)], stems=facts)
    answer = client.get(f"/made/{number}/answer").json()
    (row,) = (each for each in answer["rows"] if each["id"] == "second")
    assert row["direction"].startswith("front left")


@pytest.mark.source("hand", "45° and atan(4/91.2) = 2.5°, as the camera stands 4 cm to the right")
def test_what_was_not_told_is_said_and_not_made_up(client: TestClient, looked_at: int) -> None:
    answer = client.get(f"/made/{looked_at}/answer").json()
    assert answer["drawn_as"].startswith("Which plants these are was not told")
    (degrees,) = re.findall(r"back right \((\d+)° ±", answer["rows"][0]["direction"])
    assert abs(int(degrees) - 47.5) <= 3


def test_a_plan_for_another_vessel_is_told(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf, TODAY)
    (piece,) = shelf.all("piece")
    number = begun(client, plan=f"piece-{piece.id}", vessel="own")
    choose(client, number, 0)
    keep(client, number, [marks(0)])
    answer = client.get(f"/made/{number}/answer").json()
    assert any("another vessel" in each for each in answer["remarks"])
    assert answer["drawn_as"] == ""


def test_a_plan_is_laid_over_the_picture_and_talked_about(client: TestClient, shelf: Shelf) -> None:
    lay_out(shelf, TODAY)
    (piece,) = shelf.all("piece")
    number = begun(client, plan=f"piece-{piece.id}", vessel="own")
    for view in (0, 1):
        choose(client, number, view)
    keep(client, number, [marks(0), marks(1)])
    answer = client.get(f"/made/{number}/answer").json()
    assert answer["good"]
    assert 1 <= len(answer["change"]) <= 3
    assert {"first", "second", "third"} <= {each["id"] for each in answer["views"]["1"]["ghost"]}
    assert len(answer["dashed"]) >= 3


def test_her_sample_goes_to_the_table_and_into_every_bowl(
    client: TestClient, shelf: Shelf, looked_at: int
) -> None:
    lesson = lay_out(shelf, TODAY)
    page = client.get(f"/made/{looked_at}/piece")
    assert text(page.text).count("±") >= 9
    told = {f"plant-{name}": "forsythia" for name in STEMS}
    answer = client.post(f"/made/{looked_at}/piece", data=told, follow_redirects=False)
    assert answer.status_code == 303
    address = answer.headers["location"]
    assert f'href="/made/{looked_at}"' in client.get(address).text
    bowls = client.get(f"{address}/bowls?of={lesson.id}").text
    people = [person for person in lesson.content["person"] if person.get("vessel")]
    assert bowls.count('<div class="drawing">') >= len(people) - 1


def test_the_remake_sheet_names_the_piece(client: TestClient, looked_at: int) -> None:
    client.post(f"/made/{looked_at}/name", data={"name": "By the window"})
    answer = client.get(f"/made/{looked_at}/remake.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    with pikepdf.open(io.BytesIO(answer.content)) as pdf:
        assert "By the window" in str(pdf.docinfo["/Title"])


@pytest.mark.source("hand", "points on the renderer's own rim, each two pixels outwards")
def test_the_edge_near_the_marks_is_a_suggestion(client: TestClient) -> None:
    number = begun(client)
    choose(client, number, 0)
    told = np.array(marks(0)["rim"])
    middle = told.mean(axis=0)
    out = told + 2 * (told - middle) / np.linalg.norm(told - middle, axis=1)[:, None]
    keep(client, number, [{"rim": out.round(1).tolist(), "stems": []}])
    before = client.get(f"/made/{number}/state").json()
    answer = client.post(f"/made/{number}/picture/0/snap").json()
    assert answer["says"]
    assert client.get(f"/made/{number}/state").json() == before
    if answer["rim"] is not None:
        assert np.abs(np.array(answer["rim"]) - told).max() < 4


def test_a_plant_that_is_none_is_asked_for_again(client: TestClient, looked_at: int) -> None:
    told = {"plant-first": "plastic"}
    answer = client.post(f"/made/{looked_at}/piece", data=told)
    assert answer.status_code == 422
    assert "plant-first" in faults(answer.text)


def test_it_goes_to_another_machine_with_its_marks(shelf: Shelf, looked_at: int) -> None:
    from nejime.desk.carry import bring_in, everything

    data = everything(shelf)
    kept = shelf.get(looked_at)
    shelf.erase(looked_at)
    bring_in(shelf, data)
    (found,) = shelf.all("made")
    assert found.content == kept.content
    assert found.id != kept.id


@pytest.mark.parametrize(
    "wrong",
    [
        {"views": [{}]},
        {"views": 7},
        {"vessel": {"shape": "oval"}},
        {"bowl": {}},
        {"name": 7},
        {"plan": {"from": 1, "name": "x"}},
        {"stems": []},
        {"picture": 7},
        {"remarks": ["no.such.words"]},
        {"cropped": [1, 2]},
        {"width": "x"},
        {"card": [{"id": 1}]},
        {"rim": [[float("1e300"), 0]]},
    ],
)
def test_what_another_machine_sends_is_looked_at_first(
    shelf: Shelf, looked_at: int, wrong: dict[str, Any]
) -> None:
    from nejime.basis.errors import InputError
    from nejime.desk.carry import bring_in, everything

    told = json.loads(everything(shelf))
    (thing,) = (each for each in told["things"] if each["kind"] == "made")
    (key,) = wrong
    (
        thing["content"]
        if key in thing["content"] or key == "plan"
        else thing["content"]["views"][0]
    )[key] = wrong[key]
    with pytest.raises(InputError):
        bring_in(shelf, json.dumps(told).encode())
    assert len(shelf.all("made")) == 1


SECRET = "A. Person, 51.5 N 30.25 W"


def telling(view: int) -> bytes:
    """The photograph with place, time, names and a comment written into it."""
    image = Image.open(io.BytesIO(photograph(view))).convert("RGB")
    exif = Image.Exif()
    for tag in (0x010E, 0x013B, 0x9C9D):  # what it shows, whose it is
        exif[tag] = SECRET
    exif.get_ifd(0x8769)[0x9003] = SECRET  # when it was taken
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[29] = "N", (51.0, 30.0, 7.0), SECRET
    into = io.BytesIO()
    image.save(into, "JPEG", exif=exif, comment=SECRET.encode(), quality=95)
    return into.getvalue()


def test_nothing_that_a_picture_tells_of_people_is_in_what_is_stored(
    client: TestClient, shelf: Shelf, tmp_path: Path
) -> None:
    number = begun(client)
    sent = telling(0)
    assert SECRET.encode() in sent
    told = client.post(
        f"/made/{number}/picture/0",
        content=sent,
        headers={"content-disposition": f'attachment; filename="{SECRET}.jpg"'},
    ).json()
    client.post(f"/made/{number}/pictures", json={"kept": True})
    keep(client, number, [marks(0)])
    name = told["views"][0]["picture"].partition("=")[2]
    (stored,) = shelf.all(f"made-picture-{name}")
    jpeg = base64.b64decode(stored.content["jpeg"])
    assert Image.open(io.BytesIO(jpeg)).size == (1600, 1200)
    files = [each for each in tmp_path.rglob("*") if each.is_file()]
    whole = [jpeg, *(each.read_bytes() for each in files)]
    assert stored.content["jpeg"].encode()[:200] in b"".join(whole)
    for data in whole:
        for secret in (SECRET.encode(), SECRET.encode("utf-16-le"), b"Exif\0\0"):
            assert secret not in data
            assert base64.b64encode(secret)[:-4] not in data
