"""The usual year out of twelve numbers, and what grows with temperature on average."""

from __future__ import annotations

import datetime as dt
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import norm

from nejime.basis.errors import InputError
from nejime.season.climate import (
    MONTH_DAYS,
    Climate,
    averaged,
    cities,
    daily_curve,
    day_of_usual_year,
    distance_km,
    expected_excess,
    means_faults,
    monthly_means,
    nearest,
)
from nejime.season.thermal import arrhenius, season, sums

MEANS = st.lists(st.floats(-30, 35), min_size=12, max_size=12)
KYOTO_LIKE = [4.8, 5.4, 8.9, 14.4, 19.6, 23.3, 27.3, 28.5, 24.4, 18.4, 12.4, 7.2]


@pytest.mark.source("boot1967", "the sums of the parts are given: the month means come back")
@given(MEANS)
def test_month_means_come_back(means) -> None:
    assert monthly_means(daily_curve(means)) == pytest.approx(means, abs=1e-9)


@pytest.mark.source("boot1967", "least squares of second differences, solved as a plain problem")
def test_the_curve_is_the_smoothest_with_its_means() -> None:
    from scipy.optimize import LinearConstraint, minimize

    curve = daily_curve(KYOTO_LIKE)
    rows = np.zeros((12, 365))
    for row, end, days in zip(rows, np.cumsum(MONTH_DAYS), MONTH_DAYS, strict=True):
        row[end - days : end] = 1 / days

    def bend(year):
        return np.roll(year, -1) - 2 * year + np.roll(year, 1)

    def rough(year):
        return float(np.sum(bend(year) ** 2))

    def slope(year):
        return 2 * bend(bend(year))

    def bends(year):
        return 2 * second @ second

    unit = np.eye(365)
    second = np.roll(unit, -1, axis=1) - 2 * unit + np.roll(unit, 1, axis=1)
    start = np.repeat(KYOTO_LIKE, MONTH_DAYS)
    found = minimize(
        rough,
        start,
        jac=slope,
        hess=bends,
        method="trust-constr",
        constraints=LinearConstraint(rows, KYOTO_LIKE, KYOTO_LIKE),
        options={"maxiter": 60, "gtol": 1e-8},
    )
    assert rough(curve) <= found.fun * (1 + 1e-6)
    assert np.abs(curve - found.x).max() < 0.02


@pytest.mark.source("boot1967", "linear in the means; the year has no beginning")
@given(MEANS, st.floats(-5, 5))
def test_a_warmer_year_is_the_same_curve_higher_up(means, warmer) -> None:
    lifted = daily_curve([mean + warmer for mean in means])
    assert lifted == pytest.approx(daily_curve(means) + warmer, abs=1e-8)


@pytest.mark.source("normal-excess", "mu = b: sigma / sqrt(2 pi) = 1.19683; mu 5, b 10: 0.05948")
def test_the_mean_excess_over_a_base() -> None:
    found = expected_excess(np.array([10.0, 5.0]), 10.0, 3.0)
    assert found[0] == pytest.approx(3 / math.sqrt(2 * math.pi), abs=1e-5)
    assert found[0] == pytest.approx(1.19683, abs=1e-5)
    assert found[1] == pytest.approx(0.05948, abs=1e-5)


@pytest.mark.source("normal-excess", "scipy.integrate.quad of max(t - b, 0) times the density")
@given(st.floats(-15, 30), st.floats(0, 12), st.floats(0.3, 6))
def test_the_mean_excess_beside_an_integral(mean, base, spread) -> None:
    law = norm(mean, spread)
    low = max(base, mean - 9 * spread)
    wanted, _ = quad(lambda t: (t - base) * law.pdf(t), low, max(low, mean + 9 * spread))
    found = expected_excess(np.array([mean]), base, spread)[0]
    assert found == pytest.approx(wanted, abs=1e-6)


@pytest.mark.source("normal-excess", "scipy.integrate.quad of the rate times the density")
@pytest.mark.parametrize("mean", [-5.0, 3.0, 12.0, 25.0])
@pytest.mark.parametrize("spread", [0.5, 3.0, 4.5])
def test_a_rate_averaged_over_the_days_beside_an_integral(mean: float, spread: float) -> None:
    law = norm(mean, spread)
    limits = (mean - 9 * spread, mean + 9 * spread)
    wanted, _ = quad(lambda t: float(arrhenius(np.array(t))) * law.pdf(t), *limits)
    found = averaged(arrhenius, np.array([mean]), np.array([spread]))[0]
    assert found == pytest.approx(wanted, rel=1e-5)


@pytest.mark.source(
    "omoto1989", "exp(71100 (t - 15) / (8.314 (t + 273.15) 288.15)): 1, 0.344, 2.706"
)
@pytest.mark.parametrize(("celsius", "rate"), [(15.0, 1.0), (5.0, 0.344), (25.0, 2.706)])
def test_how_fast_buds_go_forward(celsius: float, rate: float) -> None:
    assert float(arrhenius(np.array(celsius))) == pytest.approx(rate, abs=0.002)


@pytest.mark.source(
    "omoto1989",
    "against 25 °C, 17 kcal/mol: exp(71128 (15 - 25) / (8.314 288.15 298.15)) = 0.3694;"
    " exp(71128 (5 - 25) / (8.314 278.15 298.15)) = 0.1271",
)
@pytest.mark.parametrize(("celsius", "share"), [(25.0, 1.0), (15.0, 0.3694), (5.0, 0.1271)])
def test_how_fast_beside_a_warm_day(celsius: float, share: float) -> None:
    found = float(arrhenius(np.array(celsius)) / arrhenius(np.array(25.0)))
    assert found == pytest.approx(share, abs=0.001)


@pytest.mark.source("hand", "10 - 5 = 5 °C on each of 31 days: 155")
def test_degree_days_of_an_even_month() -> None:
    even = Climate("even", 40.0, (10.0,) * 12, spread_c=0.0)
    january = season(even, dt.date(2026, 1, 1), days=31)
    assert sums(january, "degrees", 5.0)[-1] == pytest.approx(155.0, abs=1e-9)


@pytest.mark.source("osu-degree-days", "highest 66.7, lowest 43.2 °F: mean 54.95, 4.95 over 50")
def test_degree_days_of_a_day_in_fahrenheit() -> None:
    mean_c = ((66.7 + 43.2) / 2 - 32) / 1.8
    over_c = expected_excess(np.array([mean_c]), (50 - 32) / 1.8, 0.0)[0]
    assert over_c * 1.8 == pytest.approx(4.95, abs=0.01)


@pytest.mark.source("iugg1980", "a quarter of the way around, and nothing")
def test_distances() -> None:
    assert distance_km(0, 0, 0, 90) == pytest.approx(math.pi / 2 * 6371.0088)
    assert distance_km(90, 10, -90, 50) == pytest.approx(math.pi * 6371.0088)
    assert distance_km(12, 34, 12, 34) == 0


@pytest.mark.source("chelsa-cities", "270 cities in the table")
def test_the_nearest_city_is_the_one_that_is_there() -> None:
    assert len(cities()) == 270
    for city in cities()[::9]:
        found = nearest(city.lat_deg, city.lon_deg)
        assert found[0].distance_km < 1
        assert [each.distance_km for each in found] == sorted(each.distance_km for each in found)


@pytest.mark.source("own", "no monthly mean on Earth is above 42 °C: such numbers are Fahrenheit")
def test_fahrenheit_typed_as_celsius_is_refused_in_words() -> None:
    fahrenheit = [1.8 * mean + 32 for mean in KYOTO_LIKE]
    (fault,) = means_faults(fahrenheit)
    assert fault.says.key == "season.too-hot"
    assert fault.try_instead is not None
    assert not means_faults(KYOTO_LIKE)


@pytest.mark.source("own", "latitudes to 90, longitudes to 180, twelve numbers")
@pytest.mark.parametrize(
    ("lat", "lon", "means", "field"),
    [
        (91.0, 0.0, KYOTO_LIKE, "lat"),
        (0.0, 181.0, KYOTO_LIKE, "lon"),
        (math.nan, 0.0, KYOTO_LIKE, "lat"),
        (0.0, 0.0, KYOTO_LIKE[:11], "means"),
        (0.0, 0.0, [math.nan, *KYOTO_LIKE[1:]], "means"),
    ],
)
def test_what_is_no_place_or_no_climate_is_refused(lat, lon, means, field) -> None:
    with pytest.raises(InputError) as trouble:
        Climate("nowhere", lat, tuple(means), lon)
    assert {fault.field for fault in trouble.value.faults} == {field}


@pytest.mark.source("hand", "31 + 28 days before March; the leap day is the day before it")
def test_the_leap_day_is_like_the_day_before() -> None:
    assert day_of_usual_year(dt.date(2026, 3, 1)) == 59
    assert day_of_usual_year(dt.date(2028, 3, 1)) == 59
    assert day_of_usual_year(dt.date(2028, 2, 29)) == day_of_usual_year(dt.date(2028, 2, 28)) == 58
    assert day_of_usual_year(dt.date(2028, 12, 31)) == 364
