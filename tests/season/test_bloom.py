"""When a plant blooms here: by which evidence, how sure, and how it moves with place and year."""

from __future__ import annotations

import datetime as dt
import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.plants.table import plant, plants
from nejime.season.answer import Bloom, Site
from nejime.season.bloom import bloom
from nejime.season.climate import Climate, cities
from nejime.season.daylight import day_length_h, short_enough
from nejime.season.elsewhere import climate_of
from nejime.season.evidence import anchors, degree_sums, rules

KYOTO = climate_of("Kyoto", "JP")
assert KYOTO is not None
COLD = tuple(mean - 3.0 for mean in KYOTO.means_c)
DAY = dt.date(2027, 3, 20)


def at(climate: Climate) -> Site:
    return Site(climate.lat_deg, climate.lon_deg, climate)


def turned(climate: Climate) -> Climate:
    """The same climate on the other half of the Earth, half a year later."""
    means = climate.means_c[6:] + climate.means_c[:6]
    return Climate("other half", -climate.lat_deg, means, climate.lon_deg)


def found(name: str, site: Site, day: dt.date = DAY, **known) -> Bloom:
    made = bloom(plant(name), site, day, **known)
    assert made is not None
    return made


@pytest.mark.source("umd-degree-days", "order of first bloom, 22 to 142 degree days")
def test_published_sums_keep_the_order_of_bloom() -> None:
    sums = {each.plant: each.sum_c for each in degree_sums() if each.source == "umd-degree-days"}
    ours = ["cornelian-cherry", "forsythia", "magnolia", "flowering-quince", "redbud"]
    first = {
        name: min(
            each.sum_c
            for each in degree_sums()
            if (each.plant, each.source) == (name, "umd-degree-days")
        )
        for name in ours
    }
    assert set(ours) <= set(sums)
    assert sorted(first, key=lambda name: first[name]) == ours


@pytest.mark.source("jma-kyoto", "an anchor with its own climate gives its own date")
def test_kyoto_by_its_own_anchor_is_its_own_date() -> None:
    made = found("cherry", at(KYOTO))
    anchor = next(each for each in anchors() if each.place == "Kyoto")
    assert made.evidence == "anchor"
    assert (made.begins.month, made.begins.day) == (anchor.month, anchor.day)


@pytest.mark.source("omoto1989", "what goes forward with warmth comes later where it is cold")
@pytest.mark.parametrize("name", [name for name, rule in rules().items() if rule.rule == "warmth"])
def test_colder_is_later(name: str) -> None:
    colder = Climate("colder", KYOTO.lat_deg, COLD, KYOTO.lon_deg)
    assert found(name, at(colder)).begins > found(name, at(KYOTO)).begins


@pytest.mark.source("hand", "the south has the north's year half a year later")
@pytest.mark.parametrize("name", ["cherry", "forsythia", "tulip", "peony", "lilac"])
@pytest.mark.parametrize("city", ["Boston", "Chicago", "London"])
def test_the_other_half_of_the_earth_blooms_half_a_year_later(name: str, city: str) -> None:
    climate = next(each for each in cities() if each.name == city)
    north = found(name, at(climate), dt.date(2027, 4, 1))
    south = found(
        name, Site(-climate.lat_deg, climate.lon_deg, turned(climate)), dt.date(2027, 10, 1)
    )
    for one, other in ((north.begins, south.begins), (north.ends, south.ends)):
        half = dt.date(one.year, 1, 1) + dt.timedelta(days=182)
        later = (other - half).days - (one - dt.date(one.year, 1, 1)).days
        assert abs(later) <= 5  # months and half years are not of one length


@pytest.mark.source("hand", "a leap day before the day, and one among the days of the sum: two")
@settings(max_examples=30)
@given(st.sampled_from([each.id for each in plants()]), st.integers(1952, 2048))
def test_every_year_is_alike_where_nothing_was_measured(name, year) -> None:
    days = (dt.date(2027, 5, 5), dt.date(year, 5, 5))
    one, other = (bloom(plant(name), at(KYOTO), day) for day in days)
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        waits = [(made.begins - day).days for made, day in zip((one, other), days, strict=True)]
        assert abs(waits[0] - waits[1]) <= 2
        assert one.evidence == other.evidence
        assert one.shift_d is None


@pytest.mark.source("omoto1989", "warmer days are a bloom no later; and the shift says so")
@settings(max_examples=25)
@given(st.floats(-6, 6), st.integers(1, 60))
def test_a_warm_spring_is_early_and_says_how_much(warmer, days) -> None:
    first = dt.date(2027, 2, 15)
    dates = [first + dt.timedelta(days=number) for number in range(days)]
    usual = KYOTO.usual_c(dates)
    measured = {day: float(mean) + warmer for day, mean in zip(dates, usual, strict=True)}
    even = {day: float(mean) for day, mean in zip(dates, usual, strict=True)}
    plain, made = (
        found("cherry", at(KYOTO), measured=even),
        found("cherry", at(KYOTO), measured=measured),
    )
    assert made.shift_d is not None
    assert plain.shift_d is not None
    assert (made.begins - plain.begins).days == made.shift_d - plain.shift_d
    if warmer >= 0:
        assert made.begins <= plain.begins
    else:
        assert made.begins >= plain.begins
    assert made.error_d <= found("cherry", at(KYOTO)).error_d


@pytest.mark.source("hand", "a note of another year, in a year like it, gives its own date")
def test_her_own_note_comes_first_and_comes_back() -> None:
    note = dt.date(2026, 3, 28)
    made = found("cherry", at(KYOTO), seen=[note])
    assert made.evidence == "own-record"
    assert (made.begins.month, made.begins.day) == (3, 28)
    assert made.count == 1
    assert made.others[0].evidence == "anchor"
    more = [dt.date(year, 3, 28) for year in (2023, 2025, 2026)]
    assert found("cherry", at(KYOTO), seen=more).error_d < made.error_d


@pytest.mark.source("hand", "what was seen open this week is open this week")
def test_a_note_of_this_season_says_it_all() -> None:
    made = found("cherry", at(KYOTO), seen=[DAY - dt.timedelta(days=2)])
    assert made.evidence == "seen"
    assert made.stage_on(DAY) == "open"
    assert made.confidence == "good"


@pytest.mark.source("hand", "a plant that follows no sum: the mean date of the notes")
def test_notes_of_other_plants_are_dates() -> None:
    seen = [dt.date(2025, 1, 2), dt.date(2025, 12, 28)]
    made = found("camellia", at(KYOTO), dt.date(2027, 1, 10), seen=seen)
    assert made.evidence == "own-record"
    assert made.begins in (dt.date(2026, 12, 30), dt.date(2026, 12, 31))


STAGES = ["not yet", "bud", "colour showing", "open", "past"]


@pytest.mark.source("hand", "a season goes forward; the next is a year later, give or take a month")
@pytest.mark.parametrize("name", ["magnolia", "redbud", "crab-apple", "cherry", "lilac", "tulip"])
@pytest.mark.parametrize("city", ["London", "Tokyo", "Moscow", "Wellington"])
def test_from_day_to_day_the_answer_stays_until_the_next_season(name: str, city: str) -> None:
    climate = next(each for each in cities() if each.name == city)
    days = [dt.date(2027, 1, 1) + dt.timedelta(days=4 * number) for number in range(100)]
    told = [(found(name, at(climate), day), day) for day in days]
    for (one, before), (two, after) in pairwise(told):
        assert one.evidence == two.evidence
        assert one.error_d == pytest.approx(two.error_d, abs=1.0)
        if one.begins == two.begins:
            assert STAGES.index(one.stage_on(before)) <= STAGES.index(two.stage_on(after))
        else:
            assert 335 <= (two.begins - one.begins).days <= 396
            assert one.stage_on(before) == "past"
            assert two.stage_on(after) in ("not yet", "bud")


@pytest.mark.source("own", "without a winter, and near the equator, nothing is sure")
@pytest.mark.parametrize("city", ["Los Angeles", "Honolulu", "Lisbon", "Sydney"])
def test_a_warm_winter_is_said(city: str) -> None:
    climate = next(each for each in cities() if each.name == city)
    assert at(climate).mild
    assert found("cherry", at(climate), dt.date(2027, 9, 20)).confidence == "low"


@pytest.mark.source("own", "between the tropics months of temperate places say nothing")
def test_near_the_equator_only_what_is_there_all_year_is_known() -> None:
    climate = next(each for each in cities() if each.name == "Quito")
    assert bloom(plant("tulip"), at(climate), DAY) is None
    assert found("pine", at(climate)).evidence == "all-year"


@pytest.mark.source("memory", "Köppen: no tree grows where no month is warmer than 10 °C")
@pytest.mark.parametrize("lat", [80.0, -85.0, 90.0])
def test_at_the_poles_nothing_blooms_and_nothing_breaks(lat: float) -> None:
    ice = Climate("ice", lat, (-30.0,) * 12)
    for each in plants():
        assert bloom(each, Site(lat, 0.0, ice), DAY) is None
        assert bloom(each, Site(lat, 0.0), DAY) is None


@pytest.mark.source("hand", "days count from 1: open at 0, colour up to 7 days before, buds to 21")
@pytest.mark.parametrize(
    ("before", "stage"),
    [
        (22, "not yet"),
        (21, "bud"),
        (8, "bud"),
        (7, "colour showing"),
        (1, "colour showing"),
        (0, "open"),
        (-10, "open"),
        (-11, "past"),
    ],
)
def test_what_it_shows_on_a_day(before: int, stage: str) -> None:
    begins = dt.date(2027, 4, 1)
    told = Bloom("cherry", begins, begins + dt.timedelta(days=10), 2.0, "anchor", "own", "own")
    assert told.stage_on(begins - dt.timedelta(days=before)) == stage


@pytest.mark.source(
    "hand", "1.28 standard deviations hold eight of ten; days are told whole, upward"
)
@given(st.floats(0, 40))
def test_the_spread_holds_eight_of_ten(error) -> None:
    told = Bloom("cherry", DAY, DAY, error, "anchor", "own", "own")
    assert told.spread_d == math.ceil(1.28 * error)


@pytest.mark.source("de421", "at the equinox day and night are nearly of a length everywhere")
@given(st.floats(-65, 65))
def test_days_are_longest_in_summer(lat) -> None:
    march, june, december = (dt.date(2027, month, 21) for month in (3, 6, 12))
    assert day_length_h(lat, march) == pytest.approx(12.2, abs=0.4)
    longer, shorter = (june, december) if lat > 0 else (december, june)
    assert day_length_h(lat, longer) >= day_length_h(lat, shorter) - 1e-3
    assert 0 <= day_length_h(lat, shorter) <= 24


@pytest.mark.source("hand", "it becomes short enough later where the summer days are longer")
def test_short_days_come_later_away_from_the_equator() -> None:
    near, far = short_enough(30.0, 2027, 13.0), short_enough(50.0, 2027, 13.0)
    assert near is not None
    assert far is not None
    assert near < far
    assert short_enough(0.0, 2027, 11.0) is None  # never so short
    assert short_enough(5.0, 2027, 13.5) is None  # always shorter: it does not wait


@pytest.mark.source("memory", "senryo, oleander, freesia, fatsia: where winters are mild")
@pytest.mark.parametrize("name", ["senryo", "oleander", "freesia", "fatsia"])
def test_what_only_mild_gardens_grow_is_not_told_for_hard_winters(name: str) -> None:
    wellington, chicago = climate_of("Wellington", "NZ"), climate_of("Chicago", "US")
    assert wellington is not None
    assert chicago is not None
    assert bloom(plant(name), at(chicago), DAY) is None
    assert bloom(plant(name), at(wellington), DAY) is not None
    assert bloom(plant(name), at(KYOTO), DAY) is not None


@pytest.mark.source("hand", "peony May to June is 61 days, allium too, columbine too")
@pytest.mark.parametrize("name", ["peony", "allium", "columbine"])
@pytest.mark.parametrize("city", [("Wellington", "NZ"), ("London", "GB"), ("Tokyo", "JP")])
def test_a_cool_summer_makes_no_season_longer(name: str, city: tuple[str, str]) -> None:
    there = climate_of(*city)
    assert there is not None
    made = found(name, at(there), dt.date(2027, 6, 10))
    assert (made.ends - made.begins).days < 61


@pytest.mark.source("memory", "winterberry holds its berries for months; one sees them at any time")
def test_a_note_late_in_a_long_season_does_not_move_its_beginning() -> None:
    boston = climate_of("Boston", "US")
    assert boston is not None
    seen = (dt.date(2026, 11, 29),)
    for day in (dt.date(2026, 12, 10), dt.date(2027, 10, 25)):
        usual = found("winterberry", at(boston), day)
        noted = found("winterberry", at(boston), day, seen=seen)
        assert (noted.begins, noted.ends) == (usual.begins, usual.ends)
        assert noted.evidence in ("seen", "own-record")
        assert noted.stage_on(day) == "open"


@pytest.mark.source("practice", "a tulip's note is when tulips open")
def test_a_note_in_a_short_season_is_its_beginning() -> None:
    seen = (dt.date(2026, 4, 20),)
    noted = found("tulip", at(KYOTO), dt.date(2027, 4, 10), seen=seen)
    assert noted.begins == dt.date(2027, 4, 20)
