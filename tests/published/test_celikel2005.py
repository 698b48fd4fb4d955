"""Storage of cut roses at 0 °C against the model of doses."""

import pytest

from nejime.keeping.vase_life import Spell, life_used_d


@pytest.mark.source("celikel2005", "after five days dry at 0 °C not to be told from fresh flowers")
@pytest.mark.source("hand", "5 d x 3^-2 = 5/9 = 0.556 d")
def test_five_days_at_zero_cost_about_half_a_day() -> None:
    used = life_used_d([Spell(5, 0.0)])
    assert used == pytest.approx(0.556, abs=0.001)
    assert used < 1  # less than a count of days in a vase can tell
