"""Days that are left after cold and warm days: worked by hand, and what must always hold."""

import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.keeping.vase_life import (
    WARM_Q10,
    Spell,
    ageing,
    days_left,
    left,
    life_used_d,
    rate,
    vase_life,
)
from nejime.plants.table import plant, plants

WORDS = Words()
DEGREES = st.floats(0, 30)
DAYS = st.floats(0, 20)
SPELLS = st.lists(st.builds(Spell, DAYS, DEGREES), max_size=4)


@pytest.mark.source("hand", "5 d x 3^-2 = 0.556; 5 d x 3^-0.5 = 5 x 0.57735 = 2.887")
@pytest.mark.parametrize(("at_c", "used"), [(0, 0.556), (15, 2.887), (20, 5), (10, 5 / 3)])
def test_five_days_in_the_cool(at_c, used) -> None:
    assert life_used_d([Spell(5, at_c)]) == pytest.approx(used, abs=0.001)


@pytest.mark.source(
    "hand",
    "10 d at 20 °C; 3 d at 2 °C: 3 x 3^-1.8 = 0.415; 8 h at 25 °C: 1/3 x 3^0.5 = 0.577;"
    " 9.007 d are left, at 22 °C / 3^0.2 = 1.2457: 7.231 d",
)
def test_cold_and_then_a_warm_afternoon() -> None:
    spells = [Spell(3, 2), Spell(8 / 24, 25)]
    assert days_left(10, spells, 22) == pytest.approx(7.231, abs=0.001)


@pytest.mark.source(
    "hand",
    "7 d at 23 °C; 2 d at 5 °C: 2 x 3^-1.8 = 0.2769; 3 h at 30 °C: 1/8 x 3^0.7 = 0.2697;"
    " 6.4534 d are left, at 20 °C / 3^-0.3 = 0.71922: 8.973 d",
)
def test_a_life_that_was_measured_at_23_degrees() -> None:
    spells = [Spell(2, 5), Spell(3 / 24, 30)]
    assert days_left(7, spells, 20, reference_c=23) == pytest.approx(8.973, abs=0.001)


@pytest.mark.source("hand", "30 °C against 20 °C: 2 with Q10 2, 3 with Q10 3; below they agree")
def test_above_20_degrees_either_q10_is_reckoned() -> None:
    assert [ageing(30.0, 20.0, q10) for q10 in WARM_Q10] == pytest.approx([2, 3])
    assert [ageing(10.0, 20.0, q10) for q10 in WARM_Q10] == pytest.approx([1 / 3, 1 / 3])
    # From 15 to 25 °C half of the way with 3, half with 2: sqrt(3) x sqrt(2) = 2.449.
    assert ageing(25.0, 15.0, 2.0) == pytest.approx(2.449, abs=0.001)


@given(DEGREES, DEGREES)
def test_with_three_it_is_the_plain_formula(at_c, reference_c) -> None:
    assert ageing(at_c, reference_c) == pytest.approx(rate(at_c, reference_c))


def test_many_temperatures_at_once() -> None:
    at = np.array([0.0, 20.0, 30.0])
    assert ageing(at, 20.0, 2.0) == pytest.approx([1 / 9, 1, 2])


@given(SPELLS, DEGREES, st.floats(0.5, 10), st.sampled_from(WARM_Q10))
def test_warmer_is_shorter(spells, at_c, more, q10) -> None:
    cool = days_left(10, spells, at_c, warm_q10=q10)
    assert days_left(10, spells, at_c + more, warm_q10=q10) <= cool
    if cool > 0:
        assert days_left(10, spells, at_c + more, warm_q10=q10) < cool


@given(SPELLS, DEGREES, st.floats(0.1, 10), DEGREES)
def test_longer_storage_leaves_less(spells, stored_c, more, at_c) -> None:
    before = days_left(10, spells, at_c)
    after = days_left(10, [*spells, Spell(more, stored_c)], at_c)
    assert after < before or before == 0


@given(SPELLS, DEGREES)
def test_the_order_of_spells_does_not_matter(spells, at_c) -> None:
    turned = days_left(10, spells[::-1], at_c)
    assert days_left(10, spells, at_c) == pytest.approx(turned, abs=1e-9)


@given(st.floats(20.5, 35))
def test_in_a_warm_room_the_higher_q10_takes_more(at_c) -> None:
    low, high = WARM_Q10
    assert ageing(at_c, 20.0, low) < ageing(at_c, 20.0, high)


@given(st.sampled_from(plants()), SPELLS, st.floats(0, 30))
def test_what_is_said_is_a_range_in_whole_days(each, spells, at_c) -> None:
    found = left(each, spells, at_c)
    if found.low_d is not None and found.high_d is not None:
        assert 0 <= found.low_d <= found.high_d + 1e-9
    said = WORDS.say(found.says)
    assert "{" not in said
    assert not re.search(r"\d[.,]\d", said)


@pytest.mark.source("own", "on pins in shallow, warm water the low end counts")
def test_on_pins_the_low_end_counts() -> None:
    vase, pins = (left(plant("tulip"), [], on_pins=on) for on in (False, True))
    assert pins.low_d == vase.low_d
    assert pins.high_d == vase.low_d
    assert vase.high_d > pins.high_d


@pytest.mark.source("costa2021", "harmed below 10 to 13 °C: the higher end counts")
@pytest.mark.parametrize("at_c", [4.0, 12.0])
def test_below_its_limit_a_plant_is_not_to_be_stored(at_c) -> None:
    found = left(plant("bird-of-paradise"), [Spell(1, at_c)])
    assert found.word == "do not store"
    assert found.high_d == 0
    assert "13 °C" in WORDS.say(found.says)
    assert left(plant("bird-of-paradise"), [Spell(1, 14.0)]).word == "lasts"


@pytest.mark.source("wills1998", "table 19.2: delphinium is stored for 1 to 2 days at 0 to 5 °C")
def test_nothing_is_stored_for_longer_than_it_can_be() -> None:
    assert left(plant("delphinium"), [Spell(2, 2.0)]).word == "lasts"
    assert left(plant("delphinium"), [Spell(3, 2.0)]).word == "stored too long"
    # Where it stands in the cold now, the smaller of life and storage counts.
    cold = left(plant("delphinium"), [], 2.0)
    assert (cold.low_d, cold.high_d) == (1, 2)


@pytest.mark.source("ichimura2011", "chrysanthemum: 20 days in distilled water at 23 °C")
@pytest.mark.source("hand", "at 20 °C 20 d x 2^0.3 = 24.6 to 20 x 3^0.3 = 27.8")
def test_a_life_at_23_degrees_is_longer_in_a_cooler_room() -> None:
    known = vase_life(plant("chrysanthemum"))
    assert (known.low_d, known.at_c) == (20, 23)
    found = left(plant("chrysanthemum"), [])
    assert (found.low_d, found.high_d) == pytest.approx((24.6, 27.8), abs=0.05)


def test_what_is_not_known_is_said() -> None:
    found = left(plant("equisetum"), [])
    assert (found.low_d, found.high_d) == (None, None)
    assert "not known" in WORDS.say(found.says)
