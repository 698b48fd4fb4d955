"""Occasions: which day of which year, and with what material."""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sources import sources
from nejime.material.occasions import When, held_in, held_on, occasion, occasions, soon
from nejime.plants.table import plant

JAPAN = ZoneInfo("Asia/Tokyo")
CHICAGO = ZoneInfo("America/Chicago")
years = st.integers(1951, 2049)


def days(name: str, year: int, zone: dt.tzinfo = JAPAN) -> tuple[dt.date, dt.date]:
    (held,) = (each for each in held_in(year, zone) if each.occasion.id == name)
    return held.first, held.last


@pytest.mark.source(
    "practice",
    "the five seasonal festivals and their material: 7 January seven herbs, 3 March peach, 5 May "
    "iris, 7 July bamboo grass, 9 September chrysanthemum",
)
@pytest.mark.parametrize(
    ("name", "month", "day", "material"),
    [
        ("seven-herbs", 1, 7, "water dropwort (seri)"),
        ("peach-festival", 3, 3, "Prunus persica"),
        ("iris-festival", 5, 5, "sweet flag leaves (shōbu)"),
        ("star-festival", 7, 7, "bamboo grass (sasa)"),
        ("chrysanthemum-festival", 9, 9, "Chrysanthemum × morifolium"),
    ],
)
@given(year=years)
def test_the_five_festivals_keep_their_dates_everywhere(name, month, day, material, year):
    for zone in (JAPAN, CHICAGO):
        assert days(name, year, zone) == (dt.date(year, month, day),) * 2
    found = occasion(name)
    assert found is not None
    assert material in {*found.words, *(plant(each).scientific for each in found.plants)}


@pytest.mark.source(
    "naoj-reki", "nights of the autumn moon of 2015, 2018, 2019, 2021 and 2024, quoted by pages"
)
@pytest.mark.parametrize(
    "night", ["2015-09-27", "2018-09-24", "2019-09-13", "2021-09-21", "2024-09-17"]
)
def test_the_moon_is_viewed_on_its_night_with_susuki(night):
    on = dt.date.fromisoformat(night)
    assert days("moon-viewing", on.year) == (on, on)
    (first, *_) = held_on(on, JAPAN)
    assert "susuki" in first.occasion.plants


@pytest.mark.source("naoj-reki", "spring begins on 3 February 2021 and on 4 February 2026")
@pytest.mark.parametrize("begins", ["2021-02-03", "2026-02-04"])
def test_the_eve_of_spring_is_the_day_before_it(begins):
    spring = dt.date.fromisoformat(begins)
    assert days("spring-begins", spring.year) == (spring, spring)
    assert days("setsubun", spring.year) == (spring - dt.timedelta(days=1),) * 2


@pytest.mark.source(
    "naoj-reki", "equinoxes of 2026 on 20 March and 23 September, three days around"
)
def test_the_weeks_of_the_equinoxes_have_them_in_their_middle():
    assert days("spring-higan", 2026) == (dt.date(2026, 3, 17), dt.date(2026, 3, 23))
    assert days("autumn-higan", 2026) == (dt.date(2026, 9, 20), dt.date(2026, 9, 26))


@pytest.mark.source(
    "naoj-reki",
    "winter solstice 2026: 22 December 05:50 in Japan; hand: 21 December 14:50 in Chicago",
)
def test_a_day_of_the_sun_is_that_of_the_zone():
    assert days("winter-solstice", 2026) == (dt.date(2026, 12, 22),) * 2
    assert days("winter-solstice", 2026, CHICAGO) == (dt.date(2026, 12, 21),) * 2


@pytest.mark.source("practice", "the seven flowers of autumn, seven in all")
def test_there_are_seven_flowers_of_autumn_and_seven_herbs_of_spring():
    for name in ("autumn-seven", "seven-herbs"):
        found = occasion(name)
        assert found is not None
        assert len(found.plants) + len(found.words) == 7


@given(years)
def test_a_year_is_in_order_and_the_days_of_an_occasion_find_it(year):
    held = held_in(year, JAPAN)
    assert [each.first for each in held] == sorted(each.first for each in held)
    assert len(held) == len(occasions())
    for each in held:
        assert each.first <= each.last
        assert each.first.year == each.last.year == year
        assert each in held_on(each.first, JAPAN)
        assert each in held_on(each.last, JAPAN)
        assert each not in held_on(each.last + dt.timedelta(days=1), JAPAN)


@given(st.dates(dt.date(1951, 1, 1), dt.date(2048, 12, 31)))
def test_the_shortest_occasion_of_a_day_stands_first(day):
    lengths = [each.days for each in held_on(day, JAPAN)]
    assert lengths == sorted(lengths)


def test_what_comes_soon_crosses_the_turn_of_the_year():
    found = soon(dt.date(2026, 12, 20), JAPAN, 21)
    assert [each.occasion.id for each in found] == ["winter-solstice", "new-year", "seven-herbs"]
    assert found[-1].first == dt.date(2027, 1, 7)


def test_every_row_has_its_source_and_its_material():
    for each in occasions():
        assert each.source in sources()
        assert each.plants or each.words
        assert all((each.kanji, each.kana, each.romaji, each.english))


def test_a_year_without_a_calendar_is_refused():
    with pytest.raises(InputError):
        held_in(2051, JAPAN)
    assert When(civil=(3, 3)).day(2051, JAPAN) == dt.date(2051, 3, 3)
