"""Where flowers wait so that they are open on the day."""

import datetime as dt
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.keeping.opening import days_to_open, dose_d, fresh_d, openings, state
from nejime.keeping.vase_life import Spell, chill_c
from nejime.keeping.waiting import (
    COOL_ROOM,
    FRIDGE,
    PLACES,
    WARM_ROOM,
    Place,
    Stay,
    allowed,
    another_day,
    buckets_for,
    needed,
    open_at,
    resting_place,
    waiting,
)
from nejime.plants.table import plant, plants

OPENED = st.sampled_from(sorted(name for name, known in openings().items() if known.stages)).map(
    plant
)
UTC = dt.UTC
MOVING = (dt.time(7), dt.time(18))
CLASS = dt.datetime(2026, 3, 14, 10, tzinfo=UTC)
BY = open_at(CLASS)
HOURS = st.integers(1, 24 * 12)
COUNTS = st.integers(1, 200)


def before(hours: float) -> dt.datetime:
    return BY - dt.timedelta(hours=hours)


def wait_of(name: str, hours: float, count: int = 10, **asked):
    return waiting(plant(name), count, before(hours), BY, moving=MOVING, **asked)


@given(OPENED, COUNTS, HOURS, st.booleans())
def test_a_wait_is_without_gaps_and_in_fit_places(each, count, hours, in_bud) -> None:
    found = waiting(each, count, before(hours), BY, moving=MOVING, in_bud=in_bud)
    assert found.stays[0].begins == before(hours)
    assert found.stays[-1].ends == BY
    for one, two in pairwise(found.stays):
        assert one.ends == two.begins
        assert one.place.at_c < two.place.at_c
        assert two.begins.time() in MOVING
    assert found.buckets == buckets_for(each, count)
    for stay in found.stays:
        limit = chill_c(each)
        assert limit is None or stay.place.low_c >= limit
        if stay.place == FRIDGE:
            assert found.buckets <= FRIDGE.buckets
            store = each.fact("store_d")
            assert store is None or store.low is None or stay.days <= store.low
    if not in_bud:
        assert found.stays[-1].place != FRIDGE  # out of the cold before the class


@given(OPENED, HOURS)
def test_what_is_called_open_has_had_its_dose(each, hours) -> None:
    found = waiting(each, 10, before(hours), BY, moving=MOVING)
    low, middle, high = found.dose
    assert low <= middle <= high
    if not found.stage.by_mornings:
        spells = [Spell(stay.days, stay.place.at_c) for stay in found.stays]
        assert middle == pytest.approx(dose_d(openings()[each.id], spells))
    takes = found.stage.takes
    if found.word == "open":
        assert takes.low <= middle <= takes.high + fresh_d(each)
    if found.word == "not yet":
        assert middle < takes.low
    if found.word == "past":
        assert middle > takes.high + fresh_d(each)
    if found.sure:
        assert state(each, found.stage, low) == state(each, found.stage, high)


@given(OPENED, HOURS, st.integers(1, 30))
def test_a_class_moved_by_days_moves_the_wait(each, hours, days) -> None:
    moved = dt.timedelta(days=days)
    one = waiting(each, 10, before(hours), BY, moving=MOVING)
    two = waiting(each, 10, before(hours) + moved, BY + moved, moving=MOVING)
    assert [(s.place, s.begins + moved, s.ends + moved) for s in one.stays] == [
        (s.place, s.begins, s.ends) for s in two.stays
    ]
    assert (one.word, one.stage) == (two.word, two.stage)


@given(OPENED, st.floats(0.1, 5), st.floats(5, 25), st.floats(0.5, 8))
def test_a_warmer_place_opens_it_sooner(each, days, at_c, more) -> None:
    known = openings()[each.id]
    cool, warm = (dose_d(known, [Spell(days, at)]) for at in (at_c, at_c + more))
    assert cool < warm or (known.stops_c is not None and at_c + more <= known.stops_c)
    for stage in known.stages:
        slow, quick = (days_to_open(known, stage, at)[1] for at in (at_c, at_c + more))
        assert quick <= slow


@pytest.mark.source(
    "hand",
    "iris needs 1 to 2 d at 20 °C; from Wednesday 16:00 to Friday 16:00 in the warm room 2.0 d;"
    " in the cool room 2 x 2^-0.8 = 1.15 d, at its cool end 2 x 2^-1 = 1.0 d",
)
def test_iris_bought_two_days_before_opens_without_the_fridge() -> None:
    found = wait_of("dutch-iris", 48)
    assert found.word == "open"
    assert found.sure
    assert all(stay.place != FRIDGE for stay in found.stays)
    cool = wait_of("dutch-iris", 48, places=[COOL_ROOM])
    assert cool.dose == pytest.approx((1.0, 1.149, 1.320), abs=0.001)  # 2 x 2^-0.6 = 1.320


@pytest.mark.source("hand", "24 h in the warm room before 8:00 are 1.0 d, 22 h only 0.92 d")
def test_iris_cannot_be_reached_and_says_when() -> None:
    assert wait_of("dutch-iris", 24).word == "open"
    late = wait_of("dutch-iris", 22)
    assert late.word == "not yet"
    assert another_day(late, BY, moving=MOVING) == (before(22) - dt.timedelta(days=1)).date()


@pytest.mark.source(
    "hand",
    "tulips with half coloured buds are open after 1 to 2 d and at their best for a quarter of at"
    " least 4 d: up to 3 d. In a warm room from the 7th on they are past it; three days before the"
    " 14th, on the 11th, they are not",
)
def test_tulips_bought_too_early_say_when() -> None:
    early = wait_of("tulip", 7 * 24, places=[WARM_ROOM])
    assert early.word == "past"
    assert another_day(early, BY, moving=MOVING, places=[WARM_ROOM]) == dt.date(2026, 3, 11)


@pytest.mark.source("doorn2014", "0.5 °C spoils iris; between that and 3 °C nothing is known")
def test_iris_is_kept_out_of_a_cold_fridge() -> None:
    cold = Place("fridge", 0.5, 0.5)
    assert not allowed(plant("dutch-iris"), FRIDGE, 1)
    assert allowed(plant("dutch-iris"), Place("fridge", 3.0, 5.0), 1)
    only = waiting(plant("dutch-iris"), 5, before(72), BY, moving=MOVING, places=[cold])
    assert only.word == "will not open"


@pytest.mark.source("wills1998", "table 19.2: tulip is stored at 0 to 2 °C for at least 3 days")
def test_a_long_wait_begins_in_the_cold_and_ends_in_a_room() -> None:
    found = wait_of("tulip", 5 * 24)
    assert found.word == "open"
    assert found.stays[-1].place in (COOL_ROOM, WARM_ROOM)
    assert sum(stay.days for stay in found.stays if stay.place == FRIDGE) <= 3


def test_a_full_fridge_takes_no_more() -> None:
    assert allowed(plant("tulip"), FRIDGE, 1)
    assert not allowed(plant("tulip"), FRIDGE, 2)
    assert all(stay.place != FRIDGE for stay in wait_of("tulip", 96, count=200).stays)


@pytest.mark.source("bieleski2000", "they open in the morning, about two hours after lights-on")
@pytest.mark.source(
    "hand",
    "from 16:00 the day before to 8:00: one morning; to 7:00 none; from the 12th on two. In a cool"
    " room a morning is worth 2^-0.8 = 0.57: two make one",
)
@pytest.mark.parametrize(
    ("begins", "by", "places", "mornings"),
    [
        ((13, 16), (14, 8), [WARM_ROOM], 1),
        ((13, 16), (14, 7), [WARM_ROOM], 0),
        ((12, 16), (14, 8), [WARM_ROOM], 2),
        ((13, 16), (14, 8), [COOL_ROOM], 0),
        ((12, 16), (14, 8), [COOL_ROOM], 1),
    ],
)
def test_lilies_open_by_whole_mornings(begins, by, places, mornings) -> None:
    ready, target = (dt.datetime(2026, 3, day, hour, tzinfo=UTC) for day, hour in (begins, by))
    found = waiting(plant("lily"), 5, ready, target, moving=MOVING, places=places)
    assert found.dose[1] == mornings
    assert (found.word == "open") is (mornings >= 1)


def test_what_is_wanted_in_bud_stays_in_the_cool() -> None:
    found = wait_of("tulip", 15, in_bud=True)
    assert found.word == "bud"
    assert found.sure
    assert [stay.place for stay in found.stays] == [COOL_ROOM]
    assert wait_of("tulip", 15).word == "open"


@pytest.mark.source("costa2021", "tropical plants: not below 13 °C")
def test_tropical_plants_rest_in_the_warm() -> None:
    assert resting_place(plant("anthurium")) == WARM_ROOM
    assert resting_place(plant("aspidistra")) == COOL_ROOM


@given(st.sampled_from(plants()), st.integers(0, 300))
def test_buckets_hold_all_and_none_is_empty(each, count) -> None:
    buckets = buckets_for(each, count)
    one = buckets_for(each, 1)
    assert one == 1
    assert buckets <= count
    assert (buckets == 0) is (count == 0)
    assert buckets_for(each, 2 * count) <= 2 * buckets


@pytest.mark.source("hand", "two buckets to 12:00 and three from 10:00 are five; from 12:00 three")
def test_buckets_at_one_time() -> None:
    def stay(begins: int, ends: int):
        return Stay(COOL_ROOM, *(CLASS.replace(hour=hour) for hour in (begins, ends)))

    assert list(needed([(stay(8, 12), 2), (stay(10, 14), 3)]).values()) == [5]
    assert list(needed([(stay(8, 12), 2), (stay(12, 14), 3)]).values()) == [3]
    assert needed([]) == {}


def test_what_is_not_known_has_no_wait() -> None:
    assert waiting(plant("equisetum"), 5, before(15), BY, moving=MOVING) is None
    assert len(PLACES) == 3
