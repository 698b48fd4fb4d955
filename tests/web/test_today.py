"""The first page: what is due, what is in season, and where to go on."""

from __future__ import annotations

import datetime as dt
import re

import pytest

from nejime.desk import where
from nejime.desk.demo import lay_out
from nejime.plants.table import plants


def test_with_nothing_kept_it_says_how_to_begin(client):
    page = client.get("/").text
    assert "Nothing is kept here yet" in page
    assert "nothing is due" in page
    for address in ("/table/new", "/door", "/classes"):
        assert f'href="{address}"' in page


def test_what_is_due_before_a_class_stands_by_day(client, shelf):
    kept = lay_out(shelf, dt.date(2027, 2, 20))
    page = client.get("/").text
    assert "Friday, 12 March" in page  # the day before the class, when shops are visited
    assert "in 20 days" in page  # 8 days of February and 12 of March
    assert f'href="/classes/{kept.id}"' in page
    assert "buy Tulip" in page


def test_a_class_that_cannot_be_planned_is_told(client, shelf):
    client.post("/classes")
    assert "things to mend before papers can be made" in client.get("/").text


@pytest.mark.source("upenn-poisonous", "daffodils bloom in March and April; not in February")
def test_the_season_is_that_of_the_month_in_the_plant_table(client):
    page = client.get("/").text
    assert "In season in February" in page
    garden = page[page.index("In gardens") : page.index("In the shops")]
    named = set(re.findall(r"[A-Z][\w() '-]+", garden))
    for plant in plants():
        if plant.english in named:
            assert plant.in_garden(2), plant.english
    assert "Trumpet daffodil" not in garden


def test_the_picture_is_a_drawing_with_nothing_written_on_it(client):
    answer = client.get("/today.svg")
    assert answer.headers["content-type"] == "image/svg+xml"
    assert answer.text.startswith("<svg")
    assert "style=" not in answer.text


@pytest.mark.source("memory", "plant table: shops have tulips from December to May, dahlias 7-10")
def test_shops_are_those_of_the_place_whatever_the_clocks_say(client, shelf):
    where.keep(shelf, {"city": "Chicago, US"})
    north = client.get("/").text.partition("In the shops")[2]
    where.keep(shelf, {"city": "Wellington, NZ"})
    south = client.get("/").text.partition("In the shops")[2]
    assert "Tulip" in north
    assert "Dahlia" not in north
    assert "Dahlia" in south
    assert "Tulip" not in south
