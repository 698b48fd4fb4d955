"""Forced branches: when they are cut, when they may not be, and what must always hold."""

import datetime as dt
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.keeping.forcing import (
    SPREAD,
    first_day,
    forcing,
    forcing_days,
    refused,
    rows,
)
from nejime.plants.table import plant

WORDS = Words()
FORCED = st.sampled_from(sorted(rows())).map(plant)
SHOWS = st.dates(dt.date(2026, 1, 1), dt.date(2028, 12, 31)) | st.dates(
    dt.date(2027, 1, 1), dt.date(2027, 2, 10)
)
ROOMS = st.floats(10, 25)
BLOOM = dt.date(2027, 4, 20)


@pytest.mark.source("perry-uvm", "eight weeks below 40 °F; not before 1 January, mild 15 January")
@pytest.mark.parametrize(
    ("cut", "asked", "word"),
    [
        (dt.date(2026, 12, 20), {}, "Not before"),
        (dt.date(2027, 1, 5), {"mild": True}, "Not before"),
        (dt.date(2027, 1, 5), {"cold_weeks": 7}, "8 weeks"),
        (dt.date(2027, 1, 5), {"cold_weeks": 8}, None),
        (dt.date(2027, 1, 5), {}, None),
        (dt.date(2027, 1, 16), {"mild": True}, None),
        (dt.date(2027, 6, 20), {"southern": True}, "Not before"),
        (dt.date(2027, 7, 5), {"southern": True}, None),
    ],
)
def test_nothing_is_cut_before_it_had_its_cold(cut, asked, word) -> None:
    says = refused(cut, **asked)
    assert (says is None) if word is None else (word in WORDS.say(says))


@pytest.mark.source("own", "half a year on in the south")
def test_the_first_day_of_either_half() -> None:
    assert first_day(dt.date(2026, 11, 3)) == dt.date(2027, 1, 1)
    assert first_day(dt.date(2027, 2, 3)) == dt.date(2027, 1, 1)
    assert first_day(dt.date(2027, 2, 3), southern=True) == dt.date(2027, 7, 1)
    assert first_day(dt.date(2027, 9, 3), southern=True) == dt.date(2027, 7, 1)


@pytest.mark.source(
    "hand",
    "cherry takes (0.2632 + 0.28125 + 0.2778)/3 = 0.2741 of the days until 20 April. Cut n days"
    " before 20 March, 31 days before bloom: n = 0.2741 (31 + n), n = 11.7: cut 12 days before, on"
    " 8 March. Then 43 d x 0.2741 = 11.8 d, two fifths less 7.07, more 16.5: 15 to 25 March",
)
def test_a_cherry_for_the_first_day_of_spring() -> None:
    found = forcing(plant("cherry"), dt.date(2027, 3, 20), bloom=BLOOM)
    assert found.word == "cut"
    assert found.cut_on == dt.date(2027, 3, 8)
    assert found.other_on == dt.date(2027, 3, 1)
    assert (found.from_day, found.to_day) == (dt.date(2027, 3, 15), dt.date(2027, 3, 25))
    assert found.grade == "derived"


def test_too_early_says_the_first_day_and_when_it_opens_then() -> None:
    found = forcing(plant("cherry"), dt.date(2027, 1, 10), bloom=BLOOM)
    assert found.word == "too early"
    assert found.cut_on == dt.date(2027, 1, 1)
    assert dt.date(2027, 1, 10) < found.from_day < found.to_day < BLOOM
    assert "at the earliest" in WORDS.say(found.says)


@pytest.mark.source("hand", "eight weeks after 1 December 2026 is 26 January 2027")
def test_a_late_winter_puts_it_off() -> None:
    found = forcing(
        plant("cherry"), dt.date(2027, 2, 10), bloom=BLOOM, cold_from=dt.date(2026, 12, 1)
    )
    assert found.word == "too early"
    assert found.cut_on == dt.date(2027, 1, 26)


def test_what_flowers_outdoors_is_not_forced() -> None:
    assert forcing(plant("cherry"), BLOOM, bloom=BLOOM).word == "outdoors"
    assert forcing(plant("cherry"), dt.date(2027, 6, 1), bloom=BLOOM).word == "over"
    assert forcing(plant("tulip"), BLOOM, bloom=BLOOM) is None


def test_in_the_cold_it_opens_no_sooner() -> None:
    assert forcing(plant("cherry"), dt.date(2027, 3, 20), bloom=BLOOM, room_c=5).word == "no sooner"


def test_without_a_day_of_bloom_that_of_the_table_counts_and_is_said() -> None:
    told, not_told = (
        forcing(plant("cherry"), dt.date(2027, 3, 20), bloom=day) for day in (BLOOM, None)
    )
    assert not_told.assumed
    assert not told.assumed
    assert not_told.cut_on == told.cut_on  # 20 April is the table's own day


@given(FORCED, SHOWS, ROOMS, st.booleans(), st.booleans())
def test_it_is_open_on_the_day_and_cut_when_it_may_be(each, show, room_c, southern, mild) -> None:
    found = forcing(each, show, room_c=room_c, southern=southern, mild=mild)
    assert "{" not in WORDS.say(found.says)
    if found.word != "cut":
        return
    for day in (found.cut_on, found.other_on or found.cut_on):
        assert refused(day, southern=southern, mild=mild) is None
        assert day < show or day == found.other_on
    assert found.from_day <= show <= found.to_day
    if found.other_on is not None:
        assert abs((found.other_on - found.cut_on).days) == 7


@given(FORCED, st.integers(10, 90), ROOMS, st.floats(0.5, 5))
def test_a_warmer_room_is_quicker_up_to_25_degrees(each, ahead, room_c, more) -> None:
    cut = BLOOM - dt.timedelta(days=ahead)
    cool, warm = (forcing_days(each, cut, BLOOM, at) for at in (room_c, min(25, room_c + more)))
    assert warm.usual < cool.usual or math.isclose(room_c, 25)


@given(FORCED, st.integers(10, 80), st.integers(1, 10))
def test_the_nearer_to_its_bloom_the_quicker(each, ahead, more) -> None:
    late, early = (
        forcing_days(each, BLOOM - dt.timedelta(days=days), BLOOM) for days in (ahead, ahead + more)
    )
    assert late.usual < early.usual
    assert late.low <= (1 - SPREAD) * late.usual + 1e-9
    assert late.high >= (1 + SPREAD) * late.usual - 1e-9


@given(FORCED, st.dates(dt.date(2027, 2, 1), dt.date(2027, 2, 28)), st.integers(0, 14))
def test_a_class_and_its_spring_move_together(each, show, later) -> None:
    days = dt.timedelta(days=later)
    bloom = dt.date(2027, 5, 20)
    found = forcing(each, show, bloom=bloom)
    moved = forcing(each, show + days, bloom=bloom + days)
    if found.word == "cut":
        assert moved.cut_on == found.cut_on + days
