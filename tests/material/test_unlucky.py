"""Advice on what is unlucky or unsuitable: told with its place, those of the region first."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from nejime.basis.sayings import Words, texts
from nejime.keeping.hazards import names_of
from nejime.material.occasions import occasions
from nejime.material.unlucky import ANY, COLUMNS, PURPOSES, advice_on, places_of

ROWS = list(
    csv.DictReader((files("nejime") / "data" / "unlucky.csv").read_text("utf-8").splitlines())
)


def test_every_row_is_for_a_purpose_or_an_occasion_that_can_be_asked_for():
    known = {ANY, *PURPOSES, *(each.id for each in occasions())}
    assert {row["purpose"] for row in ROWS} <= known
    assert tuple(ROWS[0]) == COLUMNS


def test_every_row_can_be_said_and_every_sentence_is_used():
    for row in ROWS:
        (told, *_) = [
            each
            for each in advice_on(row["plant"], purpose=row["purpose"], occasion=row["purpose"])
            if each.says.key.endswith(row["says"])
        ]
        assert Words().say(told.says).endswith(".")
        assert told.place == row["place"]
        assert told.grade in ("practice", "memory")
    written = {key for key in texts() if key.startswith("material.unlucky.")}
    assert written == {f"material.unlucky.{row['says']}" for row in ROWS}


def test_no_sentence_forbids():
    """Advice never says that something must not be; only the law does, elsewhere."""
    for key, text in texts().items():
        if key.startswith("material.unlucky."):
            assert "must not" not in text
            assert "forbidden" not in text


@pytest.mark.source("practice", "the white chrysanthemum of All Souls, the altar flower of Japan")
def test_the_advice_of_the_region_stands_first():
    (altar, souls) = advice_on("chrysanthemum", purpose="sick-visit", places=places_of("JP"))
    assert (altar.place, altar.here) == ("Japan", True)
    assert "France" in souls.place
    assert not souls.here
    (first, _) = advice_on("chrysanthemum", purpose="sick-visit", places=places_of("Spain"))
    assert "Spain" in first.place
    assert first.here


def test_nothing_is_told_of_a_plant_of_which_nothing_is_said():
    assert advice_on("forsythia", purpose="memorial") == ()
    assert advice_on("forsythia", purpose="tea", places=("Japan",)) == ()


@pytest.mark.parametrize(
    "region", ["JP", "jp-13", "Japan", "US", "canada", "FR", "Utopia", "", " "]
)
def test_a_region_has_the_same_names_as_for_hazards(region):
    assert places_of(region) == names_of(region)
