"""Blossom by warmth: how fast buds go forward at a temperature, and when they have had enough.

Model: every day adds to a sum, from the middle of February in the north and of August in the south;
the plant blooms on the first day on which the sum has reached its threshold. What a day adds grows
with temperature as a chemical reaction does (Arrhenius), and is one at 15 °C. The threshold is what
the sum was on the day when somebody saw it in bloom; so the constant in front never matters.
Growing degrees above a base are kept for the published values of other books.
Shapes: temperatures in °C, any shape; a season is days in a row, of one shape with its spreads.
Limits: how cold the winter was plays no part: where it hardly is, the answer is not to be trusted.
Source: Ea and the reference temperature of the kinetic method for Prunus x yedoensis (Omoto & Aono
1989); start on 15 February measured on Kyoto (tests/published/test_kyoto.py).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np

from nejime.season.climate import Climate, Floats, averaged, expected_excess

Rate = Literal["arrhenius", "degrees"]

ACTIVATION_J_MOL_OMOTO_1989 = 71_100.0  # [omoto1989] 17 kcal/mol
REFERENCE_C = 15.0
GAS_J_MOL_K = 8.314462618  # [codata2018]
ZERO_C_K = 273.15
STARTS_NORTH = (2, 15)  # [jma-kyoto] month and day; before it warmth counts for nothing
STARTS_SOUTH = (8, 15)
DEGREES_NORTH = (1, 1)  # [umd-degree-days] sums of the published tables begin with the year
DEGREES_SOUTH = (7, 1)
LONGEST_D = 270  # [own] who has not bloomed nine months after the start does not by warmth


@dataclass(frozen=True, slots=True)
class Season:
    """The days from which a sum is made: dates in a row, mean and spread of each (°C).

    A spread of 0 is a day that was measured.
    """

    first: dt.date
    mean_c: Floats
    spread_c: Floats

    @property
    def measured(self) -> int:
        """How many of its days were measured."""
        return int(np.count_nonzero(self.spread_c == 0))

    def day(self, place: int) -> dt.date:
        """The date at a place."""
        return self.first + dt.timedelta(days=place)


def arrhenius(mean_c: Floats) -> Floats:
    """What a day of a temperature adds: 1 at 15 °C."""
    kelvin, reference = np.asarray(mean_c) + ZERO_C_K, REFERENCE_C + ZERO_C_K
    exponent = ACTIVATION_J_MOL_OMOTO_1989 * (kelvin - reference)
    return np.asarray(np.exp(exponent / (GAS_J_MOL_K * kelvin * reference)))


def starts(year: int, southern: bool, rate: Rate = "arrhenius") -> dt.date:
    """From when warmth counts, in a civil year."""
    by_rate = {
        "arrhenius": (STARTS_NORTH, STARTS_SOUTH),
        "degrees": (DEGREES_NORTH, DEGREES_SOUTH),
    }
    month, day = by_rate[rate][southern]
    return dt.date(year, month, day)


def season(
    climate: Climate,
    first: dt.date,
    measured: Mapping[dt.date, float] | None = None,
    days: int = LONGEST_D,
) -> Season:
    """The usual days from a date on, with what was measured in the place of the usual."""
    dates = [first + dt.timedelta(days=number) for number in range(days)]
    mean = climate.usual_c(dates).copy()
    spread = np.full(days, climate.spread_c)
    for place, day in enumerate(dates):
        if measured and day in measured:
            mean[place], spread[place] = measured[day], 0.0
    return Season(first, mean, spread)


def sums(of: Season, rate: Rate = "arrhenius", base_c: float = 0.0) -> Floats:
    """The sum at the end of every day of a season, of its shape."""
    if rate == "arrhenius":
        return np.cumsum(averaged(arrhenius, of.mean_c, of.spread_c))
    return np.cumsum(expected_excess(of.mean_c, base_c, of.spread_c))


def reached(of: Season, total: Floats, threshold: float) -> dt.date | None:
    """The first day whose sum has reached a threshold; None where it never does."""
    there = np.flatnonzero(total >= threshold)
    return of.day(int(there[0])) if there.size else None


def threshold_on(of: Season, total: Floats, day: dt.date) -> float | None:
    """What the sum was on a day; None where the day lies outside the season."""
    place = (day - of.first).days
    return float(total[place]) if 0 <= place < len(total) else None
