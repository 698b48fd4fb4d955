"""Buying and the morning on the pages: found by the worker, bought, counted, handed out anew."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
from web.asked import TODAY, faults, text, value

from nejime.basis.errors import refuse
from nejime.desk import buy, on_the_day
from nejime.desk.classes import bring_in
from nejime.lesson.supplying import supplying

EXAMPLE = Path(__file__).parents[2] / "examples" / "1-saturday-mixed-bowls.toml"
SMALL = b"""
[class]
title = "Two bowls"
date = 2027-03-13
start = "10:00"
minutes = 60
zone = "Europe/London"
sure_percent = 0

[[person]]
name = "Ada"
vessel = { shape = "round", width = 30, height = 6 }

[[person]]
name = "Ben"
vessel = { shape = "round", width = 30, height = 6 }

[[material]]
for = "first"
plant = "forsythia"

[[shop]]
name = "the grocery"
bunch = [{ plant = "forsythia", stems = 5, price = 6.00, length = 90, most = 1 }]
"""


@pytest.fixture
def small(shelf):
    return bring_in(shelf, "small.toml", SMALL)


def test_the_plan_is_sought_by_the_worker_and_then_its_reasons(client, shelf, small, at_work):
    page = text(client.get(f"/classes/{small.id}/buying").text)
    assert "is being reckoned" in page
    assert at_work() == 1
    page = text(client.get(f"/classes/{small.id}/buying/found").text)
    assert "6.00 for 2 people: 3.00 each." in page
    assert "No other way of buying costs less." in page
    assert "More reasons are being reckoned." in page
    assert at_work() > 3
    page = text(client.get(f"/classes/{small.id}/buying").text)
    assert "More reasons" not in page
    assert "One person more (in a usual vessel): no difference, 6.00 in all." in page
    assert "Without the shop “the grocery”: not everybody would be complete" in page
    asked = buy.buys(shelf, shelf.get(small.id), client.app.state.day())
    assert not asked.thinking
    assert at_work() == 0  # what was asked is not asked again


def test_what_is_stopped_stays_stopped_until_she_asks_once_more(client, small, at_work):
    client.get(f"/classes/{small.id}/buying")
    page = text(client.post(f"/classes/{small.id}/buying/stop").text)
    assert "Stopped before anything was found." in page
    assert at_work() == 0
    client.post(f"/classes/{small.id}/buying/anew")
    at_work()
    assert "6.00 for 2 people" in text(client.get(f"/classes/{small.id}/buying").text)


def test_a_search_that_is_stopped_under_way_keeps_the_best_so_far(shelf, small, monkeypatch):
    def solving(lesson, rules, today, *, limits, progress):
        assert progress is not None
        assert progress(700.0, 600.0)  # whoever looks up is told to stop
        return supplying(lesson, rules, today)

    monkeypatch.setattr(buy, "supplying", solving)
    kept = shelf.get(small.id)
    asked = buy.buys(shelf, kept, TODAY)
    assert asked.at_work
    job = shelf.take()
    buy.stop(shelf, kept, TODAY)
    told = []

    def tell(share, says):
        told.append(says.key)
        return shelf.tell(job.id, share, says)

    shelf.finish(job.id, buy.act(shelf, job.question, tell))
    assert told == ["buying.best-so-far"]
    found = buy.buys(shelf, kept, TODAY)
    assert found.state == "stopped"
    assert found.plan["people"] == 2


def test_where_somebody_is_short_one_purchase_that_mends_it_is_named(client, shelf, at_work):
    more = SMALL.replace(b"stems = 5", b"stems = 1")
    kept = bring_in(shelf, "short.toml", more)
    client.get(f"/classes/{kept.id}/buying")
    at_work()
    page = text(client.get(f"/classes/{kept.id}/buying").text)
    assert "Not everything can be had" in page
    assert "One purchase would mend it: 2 stems of Forsythia" in page


@pytest.mark.parametrize("sheet", ["shopping", "piles-and-sets", "branch-by-branch"])
def test_each_sheet_is_printed_alone(client, shelf, sheet):
    kept = bring_in(shelf, EXAMPLE.name, EXAMPLE.read_bytes())
    answer = client.get(f"/classes/{kept.id}/buying/{sheet}")
    assert answer.headers["content-type"] == "application/pdf"
    assert len(pikepdf.open(io.BytesIO(answer.content)).pages) >= 1


def test_there_is_no_other_sheet(client, small):
    assert client.get(f"/classes/{small.id}/buying/nothing").status_code == 404


def test_a_class_with_faults_says_what_to_mend(client):
    number = int(client.post("/classes").url.path.split("/")[2])
    for page in ("buying", "morning"):
        answer = client.get(f"/classes/{number}/{page}")
        assert answer.status_code == 200


def test_on_the_morning_a_count_changes_who_gets_what(client, shelf, small):
    client.post(f"/classes/{small.id}/buying/bought")
    page = client.get(f"/classes/{small.id}/morning").text
    assert all(f'name="also[1].{each}"' in page for each in ("plant", "length", "count"))
    assert "{{" not in page
    assert "}}" not in page
    page = text(page)
    assert "Counted against the piles of the day" in page
    answer = client.post(
        f"/classes/{small.id}/morning", data={"pile[1].count": "1", "pile[2].count": "0"}
    )
    page = text(answer.text)
    assert "Ben has nothing for the first stem" in page or "Ada has nothing" in page
    assert "One purchase would mend it" in page
    assert value(answer.text, "pile[1].count") == "1"
    answer = client.post(
        f"/classes/{small.id}/morning",
        data={
            "pile[1].count": "1",
            "pile[2].count": "0",
            "also[1].plant": "forsythia",
            "also[1].length": "80",
            "also[1].count": "2",
        },
    )
    page = text(answer.text)
    assert "has nothing" not in page
    pdf = client.get(f"/classes/{small.id}/morning/reprint")
    assert pikepdf.open(io.BytesIO(pdf.content)).pages


def test_who_is_ill_is_told_and_not_everybody_can_be(client, small):
    page = text(client.post(f"/classes/{small.id}/morning", data={"ill.Ada": "yes"}).text)
    assert "Ada does not come." in page
    both = client.post(f"/classes/{small.id}/morning", data={"ill.Ada": "yes", "ill.Ben": "yes"})
    assert both.status_code == 422
    assert "Everybody is marked as ill." in text(both.text)


@pytest.mark.parametrize("typed", ["lots", "-3", "1e9", "½", "<b>"])
def test_what_cannot_be_read_is_told_beside_its_field_and_kept(client, small, typed):
    answer = client.post(f"/classes/{small.id}/morning", data={"pile[1].count": typed})
    assert answer.status_code == 422
    assert "pile[1].count" in faults(answer.text)
    assert value(answer.text, "pile[1].count") == typed


def test_the_next_class_takes_what_the_one_before_leaves_over(client, shelf, small):
    later = SMALL.replace(b"2027-03-13", b"2027-03-16").replace(b"Two bowls", b"Again")
    kept = bring_in(shelf, "later.toml", later)
    page = client.get(f"/classes/{kept.id}/supplies").text
    assert "What “Two bowls” leaves over" in text(page)
    fields = {"base": str(kept.version), "do": f"left {small.id}"}
    named = {
        "shop[1].name": "the grocery",
        "shop[1].bunch[1].plant": "forsythia",
        "shop[1].bunch[1].stems": "5",
        "shop[1].bunch[1].price": "6.00",
        "shop[1].bunch[1].length": "90",
        "shop[1].bunch[1].most": "1",
    }
    client.post(f"/classes/{kept.id}/supplies", data={**fields, **named})
    (row,) = shelf.get(kept.id).content["garden"]
    assert row["from"] == "left over"
    assert row["plant"] == "forsythia"
    assert 1 <= row["count"] <= 4


def test_a_class_that_can_be_read_but_not_planned_says_why(client, small, monkeypatch):
    def refusing(*_, **__):
        raise refuse("people", "morning.nobody", "morning.nobody-try")

    monkeypatch.setattr(buy, "supplying", refusing)
    monkeypatch.setattr(on_the_day, "supplying", refusing)
    morning = client.get(f"/classes/{small.id}/morning")
    assert morning.status_code == 422
    assert "Everybody is marked as ill." in text(morning.text)
    assert client.get(f"/classes/{small.id}/morning/reprint").status_code == 422
    assert "Buy and cut" in client.get(f"/classes/{small.id}/buying/shopping").text
