"""The rule for spring blossom, tried on the cherry at Kyoto: half the years predict the others."""

from __future__ import annotations

import csv
import datetime as dt
from collections.abc import Iterable, Sequence
from functools import cache
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest

from nejime.season.notes import BARE_ERROR_D, ERROR_D
from nejime.season.thermal import Season, reached, starts, sums, threshold_on

HERE = Path(__file__).parents[2] / "authorities" / "season"
DAYS = 120
PUBLISHED_D = 0.1  # how near to the figures that were worked out by another program


def rows(name: str) -> list[dict[str, str]]:
    with (HERE / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@cache
def daily() -> dict[dt.date, float]:
    """The mean of each day, else the middle of highest and lowest."""
    found = {}
    for row in rows("ghcnd_JA000047759_kyoto_daily.csv"):
        day = dt.date.fromisoformat(row["date"])
        if row["tavg_c"]:
            found[day] = float(row["tavg_c"])
        elif row["tmax_c"] and row["tmin_c"]:
            found[day] = (float(row["tmax_c"]) + float(row["tmin_c"])) / 2
    return found


@cache
def years() -> tuple[tuple[int, Season, dt.date], ...]:
    """Every year whose days are whole up to its bloom: the year, its days, and the bloom."""
    found = []
    for row in rows("jma_kyoto_cherry.csv"):
        bloom = dt.date.fromisoformat(row["bloom_date"])
        first = starts(bloom.year, southern=False)
        dates = [first + dt.timedelta(days=number) for number in range(DAYS)]
        if all(day in daily() for day in dates if day <= bloom):
            mean = np.array([daily().get(day, -50.0) for day in dates])
            found.append((bloom.year, Season(first, mean, np.zeros(DAYS)), bloom))
    return tuple(found)


@cache
def totals(place: int) -> np.ndarray:
    return sums(years()[place][1])


def on_bloom(place: int) -> float:
    _, season, bloom = years()[place]
    found = threshold_on(season, totals(place), bloom)
    assert found is not None
    return found


def threshold(trained: list[int]) -> float:
    return float(np.mean([on_bloom(place) for place in trained]))


def errors(total: float, tried: list[int]) -> list[int]:
    found = []
    for place in tried:
        _, season, bloom = years()[place]
        told = reached(season, totals(place), total)
        assert told is not None
        found.append((told - bloom).days)
    return found


def number(bloom: dt.date) -> int:
    """The day of the year."""
    return bloom.timetuple().tm_yday


def rmse(errors: list[float] | list[int]) -> float:
    return float(np.sqrt(np.mean(np.square(errors))))


def same_date(trained: list[int], tried: list[int]) -> list[float]:
    usual = np.mean([number(years()[place][2]) for place in trained])
    return [float(number(years()[place][2]) - usual) for place in tried]


@pytest.mark.source("jma-kyoto", "63 years have both a bloom and its temperatures")
@pytest.mark.source("ghcnd", "1953 to 2021")
def test_as_many_years_are_used_as_there_are() -> None:
    assert len(years()) == 63


@pytest.mark.source("jma-kyoto", "even years predict odd ones: 2.33 d against 3.72 d for a date")
@pytest.mark.source("ghcnd", "daily means of those years")
def test_even_years_predict_odd_ones() -> None:
    trained = [place for place, (year, _, _) in enumerate(years()) if year % 2 == 0]
    tried = [place for place, (year, _, _) in enumerate(years()) if year % 2]
    assert rmse(errors(threshold(trained), tried)) == pytest.approx(2.33, abs=PUBLISHED_D)
    assert rmse(same_date(trained, tried)) == pytest.approx(3.72, abs=PUBLISHED_D)


@pytest.mark.source("jma-kyoto", "the first half, to 1987, predicts the second: 2.75 d, 5.85 d")
@pytest.mark.source("ghcnd", "daily means of those years")
def test_the_first_half_predicts_the_second() -> None:
    trained = [place for place, (year, _, _) in enumerate(years()) if year <= 1987]
    tried = [place for place, (year, _, _) in enumerate(years()) if year > 1987]
    assert rmse(errors(threshold(trained), tried)) == pytest.approx(2.75, abs=PUBLISHED_D)
    assert rmse(same_date(trained, tried)) == pytest.approx(5.85, abs=PUBLISHED_D)


LATE = [place for place, (year, _, _) in enumerate(years()) if year >= 1991]


def off_with(noted: Iterable[Sequence[int]]) -> tuple[float, float]:
    """How far off all other years are by the sum of warmth, and by the date, of noted years."""
    off, off_date = [], []
    for trained in noted:
        tried = [place for place in LATE if place not in trained]
        off += errors(threshold(list(trained)), tried)
        off_date += same_date(list(trained), tried)
    return rmse(off), rmse(off_date)


@pytest.mark.source(
    "jma-kyoto",
    "1991 on, notes of years in a row: one 2.88 d against 4.90, three 2.42 against 3.88",
)
@pytest.mark.source("ghcnd", "daily means of those years")
def test_one_note_and_three_notes_predict_all_other_years() -> None:
    by_sum, by_date = {}, {}
    for count in (1, 3):
        rows = [LATE[start : start + count] for start in range(len(LATE) - count + 1)]
        by_sum[count], by_date[count] = off_with(rows)
    assert by_sum[1] == pytest.approx(2.88, abs=PUBLISHED_D)
    assert by_sum[3] == pytest.approx(2.42, abs=PUBLISHED_D)
    assert by_date[1] == pytest.approx(4.90, abs=PUBLISHED_D)
    assert by_date[3] == pytest.approx(3.88, abs=PUBLISHED_D)


@pytest.mark.source(
    "jma-kyoto", "1991 on: every year, and every choice of three, tried on all others"
)
@pytest.mark.source("ghcnd", "daily means of those years")
def test_the_errors_that_are_told_are_those_of_every_choice_of_notes() -> None:
    by_sum, by_date = {}, {}
    for count in (1, 3):
        by_sum[count], by_date[count] = off_with(combinations(LATE, count))
    assert ERROR_D[1] == pytest.approx(by_sum[1], abs=PUBLISHED_D)
    assert ERROR_D[3] == pytest.approx(by_sum[3], abs=PUBLISHED_D)
    assert BARE_ERROR_D[1] == pytest.approx(by_date[1], abs=PUBLISHED_D)
    assert BARE_ERROR_D[3] == pytest.approx(by_date[3], abs=PUBLISHED_D)
