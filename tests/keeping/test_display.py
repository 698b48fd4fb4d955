"""The display card."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.keeping.display import display
from nejime.plants.table import plant, plants

WORDS = Words()
DAY = dt.date(2026, 3, 14)


@pytest.mark.source("memory", "days on pins: camellia 3-5, Dutch iris 3-4, quince 7-10, maple 2-3")
@pytest.mark.parametrize(
    ("name", "day"),
    [("camellia", 17), ("dutch-iris", 17), ("flowering-quince", 21), ("maple", 16)],
)
def test_the_low_end_counts_and_is_told_as_from_memory(name, day) -> None:
    card = display([plant(name)], DAY, 14)
    assert card.lasting[0].out_on == dt.date(2026, 3, day)
    assert card.lasting[0].grade == "memory"
    assert card.grade is not None


@pytest.mark.source("hand", "14 March and 5 days: 19 March, before any plant that lasts longer")
def test_nothing_stays_longer_than_the_piece() -> None:
    card = display([plant("pine")], DAY, 5)
    assert card.remove_on == dt.date(2026, 3, 19)
    assert card.lasting[0].out_on == dt.date(2026, 3, 19)


@given(st.sampled_from(plants()), st.integers(1, 40))
def test_what_is_not_known_has_no_day(each, days) -> None:
    lasts = display([each], DAY, days).lasting[0]
    known = each.facts_of("display_on_pins_d") or [
        fact for fact in each.facts_of("vase_life_d") if fact.low is not None
    ]
    assert (lasts.out_on is None) == (not known)
    if lasts.out_on is None:
        assert "not known" in WORDS.say(lasts.says)
    else:
        assert DAY <= lasts.out_on <= DAY + dt.timedelta(days=days)


def test_the_card_says_line_pins_day_and_whom_to_ring() -> None:
    card = display([plant("tulip")], DAY, 3, below_rim_cm=1.5, contact="desk, 555-0100")
    assert "1.5 cm below the rim" in WORDS.say(card.fill)
    assert "555-0100" in WORDS.say(card.ring)
    assert "2026-03-17" in WORDS.say(card.remove)
    assert WORDS.say(card.pins)
    blank = display([plant("tulip")], DAY, 3, on_pins=False)
    assert blank.pins is None
    assert blank.ring.key.endswith("blank")
    assert blank.fill.key.endswith("blank")
