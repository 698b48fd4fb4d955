"""The shipped calendar beside what Japan's National Astronomical Observatory published."""

from __future__ import annotations

import csv
import datetime as dt
from pathlib import Path

import pytest

from nejime.season.terms import (
    EXTRA_DEG,
    JAPAN,
    current,
    extra_days,
    moon_viewing,
    names,
    passage,
)

FILE = Path(__file__).parents[2] / "authorities" / "season" / "sekki24_naoj_vs_computed.csv"
TERMS = [
    (int(row["year"]), int(row["solar_longitude"]), row["term"], row["naoj_jst_minute"])
    for row in csv.DictReader(FILE.read_text(encoding="utf-8").splitlines())
]
MINUTE = dt.timedelta(seconds=60)


def japan(text: str) -> dt.datetime:
    return dt.datetime.fromisoformat(text).replace(tzinfo=JAPAN)


@pytest.mark.source("naoj-reki", "2008, 2026, 2027: all 72 solar terms to the minute")
@pytest.mark.parametrize(("year", "degrees", "term", "minute"), TERMS)
def test_a_term_begins_at_its_published_minute(
    year: int, degrees: int, term: str, minute: str
) -> None:
    published = japan(minute)
    ours = passage(degrees, year)
    assert abs(ours - published) <= MINUTE
    assert ours.date() == published.date()
    assert names("sekki")[degrees].kanji == term
    assert current(published.date(), "sekki").name.longitude_deg == degrees
    before = published.date() - dt.timedelta(days=1)
    assert current(before, "sekki").name.longitude_deg == (degrees - 15) % 360


@pytest.mark.source("naoj-reki", "2008, 2026, 2027: there are 72 minutes")
def test_no_published_term_is_left_out() -> None:
    assert len({(year, degrees) for year, degrees, _, _ in TERMS}) == 72


@pytest.mark.source("naoj-reki", "the five terms that every almanac prints, 2026; two of 2027")
@pytest.mark.parametrize(
    ("degrees", "minute"),
    [
        (315, "2026-02-04T05:02"),
        (0, "2026-03-20T23:46"),
        (90, "2026-06-21T17:25"),
        (180, "2026-09-23T09:05"),
        (270, "2026-12-22T05:50"),
        (315, "2027-02-04T10:46"),
        (210, "2027-10-24T00:33"),
    ],
)
def test_the_great_terms_of_2026_and_2027(degrees: int, minute: str) -> None:
    assert abs(passage(degrees, japan(minute).year) - japan(minute)) <= MINUTE


@pytest.mark.source("naoj-reki", "several pages: spring began on 3 February 2021, 23:59")
def test_spring_began_a_minute_before_midnight_in_2021() -> None:
    assert passage(315, 2021).date() == dt.date(2021, 2, 3)
    assert current(dt.date(2021, 2, 2), "sekki").number == 24
    assert current(dt.date(2021, 2, 3), "sekki").number == 1


@pytest.mark.source("naoj-reki", "newspaper of 11 April 2007: terms and doyo of 2008")
@pytest.mark.parametrize(
    ("degrees", "minute"),
    [
        (315, "2008-02-04T20:00"),
        (0, "2008-03-20T14:48"),
        (27, "2008-04-17T00:09"),
        (297, "2008-01-18T03:00"),
    ],
)
def test_terms_and_doyo_of_2008(degrees: int, minute: str) -> None:
    assert abs(passage(degrees, 2008) - japan(minute)) <= MINUTE
    assert passage(degrees, 2008).date() == japan(minute).date()
    assert degrees in {315, 0} | set(EXTRA_DEG.values())


@pytest.mark.source("naoj-reki", "2026: nyubai 11 June, hangesho 2 July, the 88th night 2 May")
def test_extra_days_of_2026() -> None:
    found = {each.name: each.day for each in extra_days(2026)}
    assert found["nyubai"] == dt.date(2026, 6, 11)
    assert found["hangesho"] == dt.date(2026, 7, 2)
    assert found["night-88"] == dt.date(2026, 5, 2)
    assert found["setsubun"] == dt.date(2026, 2, 3)


@pytest.mark.source("memory", "the observatory's list of nights of the autumn moon to come")
@pytest.mark.source("de421", "the same days, reckoned from the Moon's and the Sun's longitudes")
@pytest.mark.parametrize("day", ["2025-10-06", "2026-09-25", "2027-09-15", "2028-10-03"])
def test_the_nights_of_the_autumn_moon_to_come(day: str) -> None:
    expected = dt.date.fromisoformat(day)
    assert moon_viewing(expected.year) == expected


@pytest.mark.source("naoj-reki", "nights of the autumn moon as quoted by several pages")
@pytest.mark.parametrize(
    "day", ["2015-09-27", "2018-09-24", "2019-09-13", "2021-09-21", "2024-09-17"]
)
def test_the_night_of_the_autumn_moon(day: str) -> None:
    expected = dt.date.fromisoformat(day)
    assert moon_viewing(expected.year) == expected
