"""The calendar: which period a day belongs to, in every zone and on both halves of the Earth."""

from __future__ import annotations

import datetime as dt
from zoneinfo import ZoneInfo

import jaconv
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.season.terms import (
    FIRST_YEAR,
    JAPAN,
    LAST_YEAR,
    current,
    extra_days,
    following,
    matching,
    names,
    passage,
    year_of,
)

DAYS = st.dates(dt.date(FIRST_YEAR, 1, 1), dt.date(LAST_YEAR, 12, 31))
ZONES = st.sampled_from(
    ["Asia/Tokyo", "America/Chicago", "Pacific/Auckland", "UTC", "Pacific/Kiritimati"]
).map(ZoneInfo)
KINDS = st.sampled_from(["sekki", "ko"])
MACRONS = str.maketrans("āīūēō", "aiueo")


@pytest.mark.source("naoj-reki", "a period belongs to the civil date on which it begins")
@given(DAYS, KINDS, ZONES)
def test_a_day_lies_between_its_period_and_the_next(day, kind, zone) -> None:
    period = current(day, kind, zone)
    assert period.day <= day
    if (day.year, day.month) < (LAST_YEAR, 12):
        assert following(period).day > day
        assert current(following(period).day, kind, zone) == following(period)


@pytest.mark.source("ko1874", "three micro-seasons to a solar term")
@given(DAYS, ZONES)
def test_three_micro_seasons_make_a_term(day, zone) -> None:
    term, ko = current(day, "sekki", zone), current(day, "ko", zone)
    assert (ko.number - 1) // 3 + 1 == term.number
    assert (ko.name.longitude_deg - term.name.longitude_deg) % 360 in (0, 5, 10)


@pytest.mark.source("ko1874", "24 terms and 72 micro-seasons a year")
def test_a_year_has_its_periods() -> None:
    assert len(names("sekki")) == 24
    assert len(names("ko")) == 72
    assert len(year_of("sekki", 2026)) == 24
    assert [period.number for period in year_of("sekki", 2026)][:3] == [23, 24, 1]


@pytest.mark.source(
    "ko1874", "the list of 1874: some names that arrangers quote, with their places"
)
@pytest.mark.parametrize(
    ("number", "kanji"),
    [
        (8, "桃始笑"),
        (11, "桜始開"),
        (18, "牡丹華"),
        (29, "菖蒲華"),
        (50, "菊花開"),
        (55, "山茶始開"),
    ],
)
def test_micro_seasons_stand_in_their_places(number: int, kanji: str) -> None:
    by_number = {name.number: name for name in names("ko").values()}
    assert by_number[number].kanji == kanji


@pytest.mark.source(
    "jaconv", "kana2alphabet, Hepburn; macrons, particles and small differences out"
)
@pytest.mark.parametrize("kind", ["sekki", "ko"])
def test_kana_and_latin_letters_read_alike(kind) -> None:
    for name in names(kind).values():
        read = jaconv.kana2alphabet(name.kana).replace("wo", "o")
        told = name.romaji.lower().translate(MACRONS).replace(" ", "")
        assert short(read) == short(told), name.kanji


def short(latin: str) -> str:
    """Long vowels written as short ones."""
    for long, vowel in 2 * (("ou", "o"), ("uu", "u"), ("oo", "o")):
        latin = latin.replace(long, vowel)
    return latin


@pytest.mark.source("hand", "half a turn is 12 terms, 36 micro-seasons, and twice half is whole")
@given(DAYS, KINDS)
def test_the_other_half_of_the_earth_is_half_a_year_away(day, kind) -> None:
    name = current(day, kind).name
    half = {"sekki": 12, "ko": 36}[kind]
    assert (matching(name).number - name.number) % (2 * half) == half
    assert matching(matching(name)) == name


@pytest.mark.source("hand", "a zone moves the date by a day at most, never the moment")
@given(st.integers(FIRST_YEAR, LAST_YEAR), ZONES)
def test_a_zone_moves_no_moment(year, zone) -> None:
    there, here = passage(315, year, zone), passage(315, year, JAPAN)
    assert there == here
    assert abs((there.date() - here.date()).days) <= 1


@pytest.mark.source("naoj-reki", "spring begins on 3, 4 or 5 February; higan has its equinox amid")
@given(st.integers(FIRST_YEAR, LAST_YEAR))
def test_extra_days_stand_where_they_belong(year) -> None:
    found = {each.name: each.day for each in extra_days(year)}
    assert found["setsubun"] == passage(315, year).date() - dt.timedelta(days=1)
    assert (passage(0, year).date() - found["higan-spring"]).days == 3
    assert dt.date(year, 9, 7) <= found["moon-viewing"] <= dt.date(year, 10, 8)
    assert len(found) == 13 - 1
    assert list(found.values()) == sorted(found.values())


@pytest.mark.source("own", "the table reaches from 1951 to 2050")
@pytest.mark.parametrize("year", [1, 1900, 1950, 2051, 9999])
def test_a_year_outside_the_table_is_refused_in_words(year: int) -> None:
    with pytest.raises(InputError) as trouble:
        current(dt.date(year, 6, 1), "sekki")
    assert trouble.value.faults[0].field == "on"


@pytest.mark.source("hand", "a leap day is a day like others")
def test_the_leap_day_has_its_period() -> None:
    assert current(dt.date(2028, 2, 29), "sekki").number == 2
