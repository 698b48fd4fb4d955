"""Growing-degree-hours by the asymmetric curvilinear model: base 4, optimum 25, critical 36 °C."""

import numpy as np
import pytest

from nejime.keeping.forcing import days_at, gdh, warmth


@pytest.mark.source("anderson1986", "21/2 (1 + cos(pi + pi (T-4)/21)); 21 (1 + cos(pi/2 + ...))")
@pytest.mark.source(
    "hand",
    "4: cos pi = -1, 0. 14.5: half way, cos 3pi/2 = 0, 10.5. 25: cos 2pi = 1, 21; on the other"
    " branch cos pi/2 = 0, 21. 36: cos pi = -1, 0. 20: 10.5 (1 - cos(16pi/21)) ="
    " 10.5 x 1.73305 = 18.197. 30: 21 (1 - sin(5pi/22)) = 21 x 0.34514 = 7.248",
)
@pytest.mark.parametrize(
    ("at_c", "hours"),
    [(4, 0.0), (14.5, 10.5), (25, 21.0), (36, 0.0), (20, 18.197), (30, 7.248), (-5, 0), (40, 0)],
)
def test_growing_degree_hours_of_an_hour(at_c: float, hours: float) -> None:
    assert float(gdh(at_c)) == pytest.approx(hours, abs=0.001)


@pytest.mark.source("own", "arrays give what single values give")
def test_many_temperatures_at_once() -> None:
    at = np.array([[4.0, 17.0], [25.0, 30.0]])
    assert gdh(at).shape == (2, 2)
    assert gdh(at)[0, 1] == float(gdh(17.0))


@pytest.mark.source(
    "hand",
    "gdh(17) = 10.5 (1 - cos(13pi/21)) = 10.5 x 1.36534 = 14.336; x 24 h x 10 d = 3441."
    " gdh(12) = 10.5 (1 - cos(8pi/21)) = 6.664: 3441/24/6.664 = 21.5 d;"
    " gdh(21) = 10.5 (1 - cos(17pi/21)) = 19.176: 7.5 d",
)
def test_ten_days_at_17_degrees_in_other_rooms() -> None:
    assert warmth(10, 17) == pytest.approx(3441, abs=1)
    assert days_at(10, 17, 12) == pytest.approx(21.5, abs=0.1)
    assert days_at(10, 17, 21) == pytest.approx(7.5, abs=0.1)
    assert days_at(10, 17, 3) == float("inf")
