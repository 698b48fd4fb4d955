"""Vase life of 'Sonia' roses in water of three temperatures, the air the same."""

import pytest

from nejime.keeping.vase_life import AGEING_Q10, implied_q10


@pytest.mark.source("rose-water", "5.2, 6.7 and 7.5 days at 23, 15 and 10 °C")
@pytest.mark.source("hand", "(6.7/5.2)^(10/8) = 1.373; (7.5/5.2)^(10/13) = 1.325")
def test_cool_water_alone_is_a_weak_lever() -> None:
    found = [implied_q10(5.2, 23.0, days, at_c) for days, at_c in ((6.7, 15.0), (7.5, 10.0))]
    assert found == pytest.approx([1.373, 1.325], abs=0.001)
    assert max(found) < AGEING_Q10 / 2
