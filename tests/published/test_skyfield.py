"""The shipped calendar beside skyfield: the Sun and the Moon where it says they are."""

from __future__ import annotations

import csv
import datetime as dt
import warnings
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from skyfield import almanac
from skyfield.api import Loader, wgs84
from skyfield.framelib import ecliptic_frame
from skyfield_data import get_skyfield_data_path

from nejime.season.daylight import day_length_h
from nejime.season.terms import current

DATA = Path(__file__).parents[2] / "src" / "nejime" / "data"
DEG_PER_S = 360 / 365.2422 / 86_400  # how far the Sun goes in a second, on average
MOON_DEG_PER_S = 360 / 29.530589 / 86_400  # and the Moon away from it


@cache
def sky():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", RuntimeWarning)  # a file of the data expires: not used here
        load = Loader(get_skyfield_data_path(), verbose=False)
    return load("de421.bsp"), load.timescale(builtin=True)


def longitudes(body: str, moments: list[dt.datetime]):
    bodies, scale = sky()
    seen = bodies["earth"].at(scale.from_datetimes(moments)).observe(bodies[body]).apparent()
    return seen.frame_latlon(ecliptic_frame)[1].degrees


def rows(name: str) -> list[dict[str, str]]:
    with (DATA / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.source(
    "de421", "apparent longitude of date of the Sun, every 37th moment of the table"
)
def test_the_sun_is_where_the_table_says() -> None:
    sample = rows("sun.csv")[::37]
    moments = [dt.datetime.fromisoformat(row["begins"]) for row in sample]
    wanted = np.array([float(row["longitude_deg"]) for row in sample])
    off = (longitudes("sun", moments) - wanted + 180) % 360 - 180
    assert len(sample) > 200
    assert np.abs(off).max() < 1.5 * DEG_PER_S  # moments are written to the second


@pytest.mark.source("de421", "26 March 2026 0:40 and 2 November 2026 19:08 in Japan: 5°, 220°")
@pytest.mark.parametrize(
    ("number", "degrees", "minute"), [(11, 5, "2026-03-26T00:40"), (54, 220, "2026-11-02T19:08")]
)
def test_micro_seasons_that_begin_near_a_day_of_arranging(number, degrees, minute) -> None:
    told = dt.datetime.fromisoformat(f"{minute}+09:00")
    found = current(told.date(), "ko")
    assert found.number == number
    assert abs(found.starts - told) < dt.timedelta(minutes=2)
    (there,) = longitudes("sun", [told.astimezone(dt.UTC)])
    assert there == pytest.approx(degrees, abs=120 * DEG_PER_S)


@pytest.mark.source("de421", "longitudes of Sun and Moon, every 11th new moon of the table")
def test_new_moons_are_where_the_table_says() -> None:
    moments = [dt.datetime.fromisoformat(row["new_moon"]) for row in rows("new_moons.csv")[::11]]
    off = (longitudes("moon", moments) - longitudes("sun", moments) + 180) % 360 - 180
    assert np.abs(off).max() < 1.5 * MOON_DEG_PER_S


@pytest.mark.source("de421", "a year has 76 passages; months between new moons have 29 or 30 days")
def test_nothing_is_left_out_or_doubled() -> None:
    moments = [dt.datetime.fromisoformat(row["begins"]) for row in rows("sun.csv")]
    degrees = [int(row["longitude_deg"]) for row in rows("sun.csv")]
    ring = sorted({*range(0, 360, 5), 27, 117, 207, 297})
    places = [ring.index(each) for each in degrees]
    assert all((b - a) % len(ring) == 1 for a, b in pairwise(places))
    assert moments == sorted(moments)
    assert moments[0].year < 1951
    assert moments[-1].year > 2050
    moons = [dt.datetime.fromisoformat(row["new_moon"]) for row in rows("new_moons.csv")]
    between = [(b - a).total_seconds() / 86_400 for a, b in pairwise(moons)]
    assert min(between) > 29.2
    assert max(between) < 29.9


@pytest.mark.source("de421", "sunrise and sunset of almanac.sunrise_sunset")
@pytest.mark.parametrize("latitude", [-55.0, -34.0, 0.0, 35.0, 52.0, 60.0])
@pytest.mark.parametrize("day", ["2026-01-15", "2026-03-20", "2026-06-21", "2026-10-05"])
def test_the_day_is_as_long_as_an_almanac_says(latitude: float, day: str) -> None:
    bodies, scale = sky()
    noon = dt.datetime.fromisoformat(f"{day}T12:00:00+00:00")
    half = dt.timedelta(hours=12)
    begins, ends = scale.from_datetime(noon - half), scale.from_datetime(noon + half)
    observer = bodies["earth"] + wgs84.latlon(latitude, 0.0)
    up, _ = almanac.find_risings(observer, bodies["sun"], begins, ends)
    down, _ = almanac.find_settings(observer, bodies["sun"], begins, ends)
    hours = float(down.tt[0] - up.tt[0]) * 24
    assert day_length_h(latitude, noon.date()) == pytest.approx(hours, abs=3 / 60)
