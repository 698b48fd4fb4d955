"""Heat that cut carnations give off from 0 to 50 °C, and the Q10 of ageing."""

import pytest

from nejime.keeping.vase_life import AGEING_Q10, implied_q10


@pytest.mark.source("maxie1973", "heat at 0 °C 89, at 50 °C 14718 BTU a ton and hour")
@pytest.mark.source("hand", "14718/89 = 165.37; 50 K are five steps: 165.37^(1/5) = 2.778")
def test_the_mean_q10_of_carnation() -> None:
    # Twice the rate is half the life: rates stand to each other as the inverse of lives.
    assert implied_q10(89.0, 50.0, 14718.0, 0.0) == pytest.approx(2.778, abs=0.001)


@pytest.mark.source("celikel2005", "threefold from 0 to 10 °C in rose and gypsophila")
def test_the_q10_of_ageing_is_three() -> None:
    assert AGEING_Q10 == 3.0
