"""The papers of a class: asked for, stopped, made, opened, packed, and out of date."""

from __future__ import annotations

import datetime as dt
import io
import re
import zipfile

import icalendar
import pikepdf
import pytest

from nejime.basis.sayings import Words
from nejime.desk import class_papers
from nejime.desk.classes import bring_in
from nejime.desk.demo import lay_out

SMALL = b"""
[class]
title = "Two bowls"
date = 2027-03-13
start = "10:00"
minutes = 60
zone = "Europe/London"
display_days = 3

[[person]]
name = "Ada"
vessel = { shape = "round", width = 30, height = 6 }

[[person]]
name = "Ben"
please_note = ["low-vision"]
vessel = { shape = "vase", width = 9, height = 24 }

[[material]]
for = "first"
plant = "forsythia"

[[garden]]
plant = "forsythia"
length = 90
count = 20
"""


@pytest.fixture
def small(shelf):
    return bring_in(shelf, "small.toml", SMALL)


def test_before_anything_is_made_it_says_what_to_do(client, small):
    page = client.get(f"/classes/{small.id}/papers").text
    assert "Make all papers" in page
    assert "No papers yet" in page


def test_a_class_that_is_not_complete_leads_to_its_faults(client):
    number = int(client.post("/classes").url.path.split("/")[2])
    page = client.get(f"/classes/{number}/papers").text
    assert "Make all papers" not in page
    assert f'href="/classes/{number}/people#person"' in page


def test_papers_are_made_listed_opened_and_packed(client, shelf, small, at_work):
    address = f"/classes/{small.id}/papers"
    waiting = client.post(address).text
    assert 'hx-get="/classes/1/papers/progress"' in waiting
    assert '<noscript><meta http-equiv="refresh"' in waiting
    assert at_work() == 1
    assert client.get(f"{address}/progress").headers["HX-Refresh"] == "true"
    page = client.get(address).text
    packed = zipfile.ZipFile(io.BytesIO(client.get(f"{address}/all").content))
    for name in packed.namelist():
        if name == class_papers.PLAN:
            continue
        assert f'href="{address}/{name}"' in page, f"{name} is not listed"
        one = client.get(f"{address}/{name}")
        assert one.content == packed.read(name)
        if name.endswith(".pdf"):
            assert len(pikepdf.open(io.BytesIO(one.content)).pages) >= 1
    calendar = icalendar.Calendar.from_ical(client.get(f"{address}/class.ics").content)
    assert "Two bowls" in {str(each["summary"]) for each in calendar.walk("VEVENT")}
    assert ">Ada</a>" in page
    assert "Handouts for everybody" in page
    assert client.get(f"{address}/../../etc/passwd").status_code == 404
    assert client.get(f"{address}/nothing.pdf").status_code == 404

    fields = {"base": "1", "room.floor": "carpet"}
    client.post(f"/classes/{small.id}/room", data=fields)
    assert "before the last change" in client.get(address).text
    client.post(f"/classes/{small.id}/undo")
    assert "before the last change" not in client.get(address).text


def test_what_is_waiting_can_be_stopped(client, small, at_work):
    address = f"/classes/{small.id}/papers"
    client.post(address)
    page = client.post(f"{address}/stop").text
    assert "Stopped. Nothing was made." in page
    assert at_work() == 0


def test_what_is_being_made_stops_at_the_next_step(shelf):
    kept = lay_out(shelf, dt.date(2027, 2, 20))
    told = []

    def tell(share, says=None):
        told.append(share)
        return len(told) == 3

    question = {"tree": kept.content, "today": "2027-02-20"}
    assert class_papers.act(shelf, question, tell) is None
    assert len(told) == 3
    assert told == sorted(told)


def test_equal_papers_are_equal_bytes():
    files = {"b.pdf": b"b", "a.svg": b"<svg/>"}
    assert class_papers.packed(files) == class_papers.packed(dict(reversed(files.items())))


def test_papers_are_out_of_date_where_she_says_something_of_their_plants(client, shelf, small):
    asked = known_of(client, shelf, small)
    assert "known" not in asked
    of = {"forsythia": "", "rose": ""}
    for name in of:
        page = client.get("/review", params={"word": name, "shown": "all"}).text
        of[name] = re.search(r'name="mark" value="(\w+)"', page)[1]
    client.post("/review", data={"mark": of["rose"], "act": "right"})
    kept = shelf.get(small.id)
    assert class_papers.papers(shelf, kept, Words()).fresh
    client.post("/review", data={"mark": of["forsythia"], "act": "right"})
    assert not class_papers.papers(shelf, kept, Words()).fresh
    (said,) = known_of(client, shelf, small)["known"]["rows"]
    assert said["about"] == "forsythia"
    assert class_papers.papers(shelf, kept, Words()).fresh


def known_of(client, shelf, small):
    """What is asked of the worker now."""
    client.post(f"/classes/{small.id}/papers")
    job, _ = class_papers._job(shelf, small.id)
    return job.question
