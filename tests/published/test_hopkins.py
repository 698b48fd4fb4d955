"""Hopkins' law by its own words, and beside the heights of Swiss stations."""

from __future__ import annotations

import csv
import datetime as dt
from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest

from nejime.plants.table import plant
from nejime.season.answer import Site
from nejime.season.bloom import bloom
from nejime.season.elsewhere import HOPKINS_D_M, hopkins_between, hopkins_d
from nejime.season.evidence import anchors

HERE = Path(__file__).parents[2] / "authorities" / "season"
M_PER_FOOT = 0.3048


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.source("hopkins1938", "4 d a degree north, 4 d 5 degrees east, 4 d 400 ft: 8 + 4 + 8")
def test_two_degrees_north_five_east_and_eight_hundred_feet_up() -> None:
    assert hopkins_d(2.0, 5.0, 800 * M_PER_FOOT) == pytest.approx(20.0)
    assert hopkins_d(-2.0, -5.0, -800 * M_PER_FOOT) == pytest.approx(-20.0)


@pytest.mark.source("meteoswiss", "stations of 20 years or more: slope of the mean date on height")
@pytest.mark.source("hopkins1938", "4 days for 400 feet are 3.28 for 100 m")
def test_swiss_cherries_bloom_later_with_height_as_the_law_has_it() -> None:
    stations = defaultdict(list)
    for row in rows("gmu_meteoswiss.csv"):
        stations[row["location"], float(row["alt"])].append(int(row["bloom_doy"]))
    kept = [(alt, np.mean(days)) for (_, alt), days in stations.items() if len(days) >= 20]
    slope = 100 * np.polyfit(*np.transpose(kept), 1)[0]
    law = 100 * HOPKINS_D_M
    assert len(kept) > 100
    assert law == pytest.approx(3.28, abs=0.005)
    assert slope == pytest.approx(law, rel=0.1)


@pytest.mark.source("hopkins1938", "the longitude of North America alone; away from the equator")
def test_longitude_counts_in_america_alone_and_south_is_like_north() -> None:
    here = Site(42.0, -87.0)
    assert hopkins_between(40.0, -92.0, 0.0, here) == pytest.approx(8 + 4)
    europe = Site(42.0, 13.0)
    assert hopkins_between(40.0, 8.0, 0.0, europe) == pytest.approx(8)
    south = Site(-42.0, 147.0)
    assert hopkins_between(40.0, -92.0, 0.0, south) == pytest.approx(8)


@pytest.mark.source("jma-kyoto", "mean of 1991 to 2020")
@pytest.mark.source("washington-bloom", "mean of 1991 to 2020")
@pytest.mark.parametrize(
    ("place", "file"),
    [("Kyoto", "jma_kyoto_cherry.csv"), ("Washington, D.C.", "gmu_washingtondc.csv")],
)
def test_the_anchors_of_the_cherry_are_the_means_of_their_series(place: str, file: str) -> None:
    days = [
        (dt.date.fromisoformat(row["bloom_date"]) - dt.date(int(row["year"]), 1, 1)).days
        for row in rows(file)
        if 1991 <= int(row["year"]) <= 2020
    ]
    anchor = next(each for each in anchors() if each.place == place and each.plant == "cherry")
    told = (dt.date(2001, anchor.month, anchor.day) - dt.date(2001, 1, 1)).days
    assert len(days) == 30
    assert told == pytest.approx(np.mean(days), abs=1.0)


@pytest.mark.source("washington-bloom", "the anchor itself: moved by nothing it is its own date")
def test_an_anchor_stands_where_it_was_found() -> None:
    found = bloom(plant("cherry"), Site(38.89, -77.04, height_m=0.0), dt.date(2027, 4, 1))
    assert found is not None
    assert (found.evidence, found.begins) == ("hopkins", dt.date(2027, 4, 1))
