"""The climate of a place from twelve numbers, as a temperature for every day of its usual year.

Model: of all daily curves that have the given means in every month, the one with the smallest sum
of squared second differences around the year; it is linear in the twelve means. The days of a real
year lie about the curve, normally distributed with one standard deviation, and whatever grows with
temperature is averaged over that distribution, never reckoned from the mean alone.
Shapes: twelve monthly means in °C, January first; 365 days, the first of January first; the
twenty-ninth of February has the temperature of the twenty-eighth.
Source: Boot, Feibes & Lisman (1967) for the curve; monthly means of cities in `data/cities.csv`;
distances by the haversine formula on a sphere of the Earth's mean radius.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from nejime.basis import tables
from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying

Floats = NDArray[np.float64]

CITIES = "cities.csv"
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
MEAN_COLUMNS = tuple(f"{month}_c" for month in MONTHS)
CITY_COLUMNS = ("city", "country", "lat_deg", "lon_deg", *MEAN_COLUMNS)
MONTH_DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)  # [hand]
YEAR_DAYS = 365  # [hand] the usual year has no leap day
EARTH_KM = 6371.0088  # [iugg1980] mean radius
DAY_SPREAD_C = 3.5  # [own] measured about the curve: Kyoto 2.8, Beijing 3.0, Washington 4.5
HOTTEST_MONTH_C = 42.0  # [memory] no place on Earth has a warmer monthly mean
COLDEST_MONTH_C = -75.0  # [memory] nor a colder one, the high plateau of Antarctica included
NODES = 9  # [own] of the quadrature: the error is far below a hundredth of a degree day


@dataclass(frozen=True, slots=True)
class Climate:
    """A place and the usual year there.

    `name` is what to call it, `country` an ISO code or empty. `spread_c` is the standard deviation
    of a day's mean temperature about the curve.
    """

    name: str
    lat_deg: float
    means_c: tuple[float, ...]
    lon_deg: float = 0.0
    country: str = ""
    spread_c: float = DAY_SPREAD_C

    def __post_init__(self) -> None:
        faults = [*_place_faults(self.lat_deg, self.lon_deg), *means_faults(self.means_c)]
        if faults:
            raise InputError(faults)

    @property
    def southern(self) -> bool:
        """Whether its spring begins in August."""
        return self.lat_deg < 0

    @property
    def coldest_c(self) -> float:
        """The mean of its coldest month."""
        return min(self.means_c)

    def usual_c(self, days: Sequence[dt.date]) -> Floats:
        """The usual temperature of each date, of the shape of `days`."""
        curve = daily_curve(self.means_c)
        return curve[[day_of_usual_year(day) for day in days]]


def check_place(lat_deg: float, lon_deg: float) -> None:
    """Refuse what is no place on Earth. Raises `InputError`."""
    faults = _place_faults(lat_deg, lon_deg)
    if faults:
        raise InputError(faults)


def _place_faults(lat_deg: float, lon_deg: float) -> list[Fault]:
    limits = (("lat", lat_deg, 90.0), ("lon", lon_deg, 180.0))
    wrong = [(field, value) for field, value, most in limits if not -most <= value <= most]
    return [_no_place(field, value) for field, value in wrong]


def _no_place(field: str, value: float) -> Fault:
    says = Saying(f"season.no-{field}", typed=f"{value:g}")
    return Fault(field, says, Saying(f"season.{field}-try"))


def means_faults(means_c: Sequence[float]) -> list[Fault]:
    """What is wrong with twelve monthly means: not twelve, no numbers, or Fahrenheit."""
    if len(means_c) != len(MONTHS):
        said = Saying("season.not-twelve", count=len(means_c))
        return [Fault("means", said, Saying("season.not-twelve-try"))]
    if not all(math.isfinite(mean) for mean in means_c):
        return [Fault("means", Saying("season.no-mean"), Saying("season.not-twelve-try"))]
    if max(means_c) > HOTTEST_MONTH_C:
        said = Saying("season.too-hot", mean=f"{max(means_c):g}")
        return [Fault("means", said, Saying("season.too-hot-try"))]
    if min(means_c) < COLDEST_MONTH_C:
        said = Saying("season.too-cold", mean=f"{min(means_c):g}")
        return [Fault("means", said, Saying("season.not-twelve-try"))]
    return []


def day_of_usual_year(day: dt.date) -> int:
    """The place of a date in a year of 365 days, from 0."""
    month, number = (2, 28) if (day.month, day.day) == (2, 29) else (day.month, day.day)
    return sum(MONTH_DAYS[: month - 1]) + number - 1


@cache
def _averaging() -> Floats:
    """The matrix (12, 365) that makes monthly means of days."""
    rows = np.zeros((len(MONTHS), YEAR_DAYS))
    ends = np.cumsum(MONTH_DAYS)
    for row, end, days in zip(rows, ends, MONTH_DAYS, strict=True):
        row[end - days : end] = 1 / days
    return rows


@cache
def _basis() -> Floats:
    """The curve (12, 365) of each month's mean being one and the others nought."""
    unit = np.eye(YEAR_DAYS)
    bend = np.roll(unit, -1, axis=1) - 2 * unit + np.roll(unit, 1, axis=1)
    means = _averaging()
    none = np.zeros((len(MONTHS), len(MONTHS)))
    system = np.block([[bend.T @ bend, means.T], [means, none]])
    asked = np.vstack([np.zeros((YEAR_DAYS, len(MONTHS))), np.eye(len(MONTHS))])
    return np.linalg.solve(system, asked)[:YEAR_DAYS].T


def daily_curve(means_c: Sequence[float]) -> Floats:
    """The smoothest year (365) whose months have these means (12), in °C."""
    return np.asarray(means_c, dtype=float) @ _basis()


def monthly_means(days_c: Floats) -> Floats:
    """The means (12) of a year's days (365)."""
    return _averaging() @ days_c


def averaged(rate: Callable[[Floats], Floats], mean_c: Floats, spread_c: Floats | float) -> Floats:
    """What a rate is on average over days that lie about a mean, normally distributed.

    `mean_c` and `spread_c` have one shape, that of the answer; a spread of 0 is a measured day.
    Gauss-Hermite quadrature; for a rate with a bend in it, `expected_excess` is exact.
    """
    nodes, weights = np.polynomial.hermite_e.hermegauss(NODES)
    at = np.asarray(mean_c)[..., None] + np.asarray(spread_c)[..., None] * nodes
    return np.asarray(rate(at) @ weights / math.sqrt(math.tau))


def expected_excess(mean_c: Floats, base_c: float, spread_c: Floats | float) -> Floats:
    """The mean of max(T - base, 0) for T normal about `mean_c`, in °C; exact."""
    over = np.asarray(mean_c, dtype=float) - base_c
    spread = np.broadcast_to(np.asarray(spread_c, dtype=float), over.shape)
    sure = np.maximum(over, 0.0)
    safe = np.where(spread > 0, spread, 1.0)
    z = over / safe
    below = 0.5 * (1 + _erf(z / math.sqrt(2)))
    density = np.exp(-z * z / 2) / math.sqrt(math.tau)
    return np.where(spread > 0, over * below + safe * density, sure)


_erf = np.vectorize(math.erf, otypes=[float])


@cache
def cities() -> tuple[Climate, ...]:
    """Every city whose monthly means are shipped. Raises `TableError`."""
    return tuple(
        Climate(
            row["city"],
            float(row["lat_deg"]),
            tuple(float(row[each]) for each in MEAN_COLUMNS),
            float(row["lon_deg"]),
            row["country"],
        )
        for row in tables.read_csv(CITIES, CITY_COLUMNS)
    )


@dataclass(frozen=True, slots=True)
class Near:
    """A city and how far away it is."""

    climate: Climate
    distance_km: float


def nearest(lat_deg: float, lon_deg: float, count: int = 3) -> tuple[Near, ...]:
    """The nearest of the shipped cities, the nearest first. Raises `InputError` for no place."""
    check_place(lat_deg, lon_deg)
    found = [
        Near(each, distance_km(lat_deg, lon_deg, each.lat_deg, each.lon_deg)) for each in cities()
    ]
    return tuple(sorted(found, key=lambda near: near.distance_km)[:count])


def distance_km(lat_deg: float, lon_deg: float, to_lat_deg: float, to_lon_deg: float) -> float:
    """The great circle between two places."""
    lat, to_lat = math.radians(lat_deg), math.radians(to_lat_deg)
    north, east = to_lat - lat, math.radians(to_lon_deg - lon_deg)
    chord = math.sin(north / 2) ** 2 + math.cos(lat) * math.cos(to_lat) * math.sin(east / 2) ** 2
    return 2 * EARTH_KM * math.asin(min(1.0, math.sqrt(chord)))
