"""The usual year beside four measured ones: degree days of Seattle, 2012 to 2015."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest
from vega_datasets import local_data

from nejime.season.climate import Climate, daily_curve, expected_excess, monthly_means
from nejime.season.thermal import season, sums

BASE_C = 5.0
TO = dt.date(2001, 6, 30)


def years() -> dict[int, np.ndarray]:
    """The 365 daily means of each year, the middle of highest and lowest; leap days left out."""
    table = local_data.seattle_weather()
    found: dict[int, list[float]] = {}
    for day, high, low in zip(table["date"], table["temp_max"], table["temp_min"], strict=True):
        if (day.month, day.day) != (2, 29):
            found.setdefault(day.year, []).append((high + low) / 2)
    return {year: np.array(days) for year, days in found.items()}


@pytest.mark.source("seattle-weather", "base 5 °C from 1 January to 30 June: the mean of the years")
@pytest.mark.source("normal-excess", "spread of the days about the curve, measured on these years")
def test_degree_days_from_twelve_means_are_those_of_the_years() -> None:
    measured = years()
    assert sorted(measured) == [2012, 2013, 2014, 2015]
    assert all(len(days) == 365 for days in measured.values())
    half = (TO - dt.date(2001, 1, 1)).days + 1
    true = np.mean([np.maximum(days[:half] - BASE_C, 0).sum() for days in measured.values()])
    assert true == pytest.approx(1062, rel=0.01)
    means = monthly_means(np.mean(list(measured.values()), axis=0))
    curve = daily_curve(means)
    spread = float(np.std([days[:half] - curve[:half] for days in measured.values()]))
    climate = Climate("Seattle", 47.6, tuple(means), -122.3, spread_c=spread)
    told = sums(season(climate, dt.date(2001, 1, 1), days=half), "degrees", BASE_C)[-1]
    assert told == pytest.approx(true, rel=0.01)
    bare = expected_excess(curve[:half], BASE_C, 0.0).sum()
    assert abs(told - true) < abs(bare - true)  # the mean alone is not enough
