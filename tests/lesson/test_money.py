"""Money for each person."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.lesson.money import Cost, per_head

MINOR = st.integers(0, 10_000_000)


@pytest.mark.source("hand", "100.01 over 14: 7.1435…, so 7.15 each; 14 × 7.15 = 100.10, 0.09 over")
def test_a_share_is_rounded_up() -> None:
    share = per_head(10_001, 14)
    assert (share.each_minor, share.over_minor) == (715, 9)


@pytest.mark.source("hand", "84.00 material and 6 holders at 12.00: 156.00 over 6 is 26.00")
def test_what_else_is_bought_is_shared_too() -> None:
    share = per_head(8_400, 6, [Cost("pin holders", 7_200)])
    assert (share.total_minor, share.each_minor, share.over_minor) == (15_600, 2_600, 0)


@given(MINOR, st.integers(1, 100), st.lists(MINOR, max_size=3))
def test_the_shares_cover_the_cost_and_no_more_than_they_must(material, people, extras) -> None:
    share = per_head(material, people, [Cost("x", each) for each in extras])
    assert share.total_minor == material + sum(extras)
    assert 0 <= share.over_minor < people
    assert share.each_minor * people == share.total_minor + share.over_minor


@pytest.mark.parametrize(("material", "people"), [(100, 0), (-1, 3)])
def test_nobody_and_less_than_nothing_are_refused(material, people) -> None:
    with pytest.raises(InputError):
        per_head(material, people)
