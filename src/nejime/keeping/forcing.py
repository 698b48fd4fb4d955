"""Branches brought into flower before their time: when to cut them, `data/forcing.csv`.

Model: a branch that has had its cold opens indoors after a share of the days that it would still
have needed outdoors: `days = share * (usual bloom outdoors - day of the cut)`. The share of each
plant comes from a table of days to bloom for three days of cutting; its lowest and highest are a
range, and no estimate is told closer than two fifths either way. The table is taken to hold for a
room of 17 °C; in another room days go with the growing-degree-hours of an hour there,
`days(T) = days(17) * gdh(17) / gdh(T)`. A second batch a week apart makes it surer.
Nothing is cut before 1 January (1 July in the south) or before eight weeks of cold.
Shapes: growing-degree-hours of floats or arrays; dates are dates; days whole where they are told.
Source: the table of an arboretum in New Jersey (frelinghuysen). Its three days of cutting could not
be read; 15 January, February and March are inferred from the pattern, so that every row is graded
as derived. The curve of growing-degree-hours, with its three temperatures: anderson1986. Cold, the
first day and the batches: perry-uvm.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby, pairwise
from typing import Literal

import numpy as np
import numpy.typing as npt

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants.plant import Plant
from nejime.plants.table import plants

FILE = "forcing.csv"
COLUMNS = ("plant", "cut", "days", "bloom_from", "bloom_to", "source", "place", "grade")

BASE_C = 4.0  # [anderson1986] no growth below
BEST_C = 25.0  # [anderson1986] fastest growth
TOP_C = 36.0  # [anderson1986] no growth above
FASTEST = 21.0  # [anderson1986] growing-degree-hours of an hour at the best temperature

TABLE_C = 17.0  # [iowastate1998] the middle of 60 to 65 °F
SPREAD = 0.4  # [own] how far an estimate may be out
APART_D = 7  # [perry-uvm] days between two batches
COLD_WEEKS = 8  # [perry-uvm] below 40 °F (4.4 °C), before anything is cut
MILD_DAY = 15  # [perry-uvm] of the first month, after a mild winter
NORTH = 1  # [perry-uvm] the month before which nothing is cut
SOUTH = NORTH + 6  # [own] half a year on

OVER_D = 30  # [own] days after which what flowers outdoors is over

Word = Literal["cut", "too early", "outdoors", "over", "no sooner"]
Reals = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Row:
    """Days to bloom after a cut on a day of the year; days of the year are (month, day)."""

    plant: str
    cut: tuple[int, int]
    days: int
    bloom_from: tuple[int, int]
    bloom_to: tuple[int, int]
    source: str
    place: str
    grade: str


@dataclass(frozen=True, slots=True)
class Days:
    """Days from the cut to bloom: at the least, usually, at the most."""

    low: float
    usual: float
    high: float


@dataclass(frozen=True, slots=True)
class Forcing:
    """When a branch is cut to be in flower on a day.

    `cut_on` is the day by the usual number of days; `other_on` that of the second batch, None where
    there is no room for one. `from_day` and `to_day` are when what was cut on `cut_on` opens. All
    are None where the word is not `cut`, but for `cut_on` and `from_day` where it is too early:
    the first day on which it may be cut, and when it opens then. `assumed`: the usual day of bloom
    outdoors was not told, and that of the table counts.
    """

    plant: str
    word: Word
    says: Saying
    cut_on: dt.date | None = None
    other_on: dt.date | None = None
    from_day: dt.date | None = None
    to_day: dt.date | None = None
    assumed: bool = False
    source: str = ""
    grade: str = ""


def gdh(at_c: float | Reals) -> Reals:
    """Growing-degree-hours of one hour at a temperature (asymmetric curvilinear model)."""
    at = np.asarray(at_c, float)
    rising = FASTEST / 2 * (1 + np.cos(np.pi + np.pi * (at - BASE_C) / (BEST_C - BASE_C)))
    falling = FASTEST * (1 + np.cos(np.pi / 2 + np.pi / 2 * (at - BEST_C) / (TOP_C - BEST_C)))
    found = np.where(at <= BEST_C, rising, falling)
    return np.where((at < BASE_C) | (at > TOP_C), 0.0, found)


def warmth(days: float, at_c: float) -> float:
    """Growing-degree-hours of so many days at one temperature."""
    return float(days * 24 * gdh(at_c))  # [hand] 24 h a day


def days_at(days: float, from_c: float, to_c: float) -> float:
    """The days at another temperature with the same warmth; infinite where nothing grows."""
    there = float(gdh(to_c))
    return days * float(gdh(from_c)) / there if there > 0 else math.inf


@cache
def rows() -> Mapping[str, tuple[Row, ...]]:
    """The rows of each plant in the table, by the day of the cut. Raises `TableError`."""
    return {key: tuple(found) for key, found in groupby(_rows(), key=lambda row: row.plant)}


def table_days(plant: Plant, cut: dt.date, *, southern: bool = False) -> float | None:
    """Days to bloom as the table has them, in between for days between; None outside of it."""
    known = [(_day(row.cut, cut, southern), row.days) for row in rows().get(plant.id, ())]
    for (one, days), (two, fewer) in pairwise(known):
        if one <= cut <= two:
            return days + (fewer - days) * ((cut - one).days / (two - one).days)
    return None


def share(plant: Plant) -> tuple[float, float, float] | None:
    """Days to bloom over the days until the usual bloom outdoors: lowest, mean, highest."""
    known = [_share(row) for row in rows().get(plant.id, ())]
    return (min(known), sum(known) / len(known), max(known)) if known else None


def usual_bloom(plant: Plant, year: int, *, southern: bool = False) -> dt.date | None:
    """The middle of its bloom outdoors where the table was made; half a year on in the south."""
    known = rows().get(plant.id)
    if not known:
        return None
    start = dt.date(year, SOUTH if southern else NORTH, 1)
    first, last = (_day(at, start, southern) for at in (known[0].bloom_from, known[0].bloom_to))
    return first + (last - first) / 2


def forcing_days(
    plant: Plant, cut: dt.date, bloom: dt.date, room_c: float = TABLE_C
) -> Days | None:
    """Days from a cut to bloom indoors; `bloom` is the usual day outdoors. None if not known."""
    shares = share(plant)
    if shares is None:
        return None
    low, mean, high = (days_at(each * (bloom - cut).days, TABLE_C, room_c) for each in shares)
    return Days(min(low, (1 - SPREAD) * mean), mean, max(high, (1 + SPREAD) * mean))


def refused(
    cut: dt.date, *, cold_weeks: float | None = None, southern: bool = False, mild: bool = False
) -> Saying | None:
    """Why a branch may not be cut on a day to be forced; None where it may.

    `cold_weeks`: how many weeks below 4.4 °C there have been by then, where somebody knows.
    """
    first = first_day(cut, southern=southern, mild=mild)
    if cut < first:
        return Saying("keeping.forcing.before", first=first)
    if cold_weeks is not None and cold_weeks < COLD_WEEKS:
        return Saying("keeping.forcing.cold", count=COLD_WEEKS)
    return None


def first_day(near: dt.date, *, southern: bool = False, mild: bool = False) -> dt.date:
    """The first day of cutting in the half year in which a day lies, or in the next one."""
    month = SOUTH if southern else NORTH
    year = near.year + (near.month >= SOUTH and not southern)
    return dt.date(year, month, MILD_DAY if mild else 1)


def forcing(
    plant: Plant,
    show: dt.date,
    *,
    bloom: dt.date | None = None,
    room_c: float = TABLE_C,
    cold_from: dt.date | None = None,
    southern: bool = False,
    mild: bool = False,
) -> Forcing | None:
    """When to cut a branch that is to be in flower on the day `show`; None where nothing is known.

    `bloom` is its usual day outdoors; without it that of the table counts. `cold_from` is the first
    day of the cold (below 4.4 °C), where somebody knows.
    """
    first = first_day(show, southern=southern, mild=mild)
    if cold_from is not None:
        first = max(first, cold_from + dt.timedelta(weeks=COLD_WEEKS))
    outdoors = bloom or usual_bloom(plant, first.year, southern=southern)
    shares = share(plant)
    if outdoors is None or shares is None:
        return None
    row = rows()[plant.id][0]
    made = _Asked(plant, show, outdoors, room_c, bloom is None, row)
    if outdoors <= show:
        over = show > outdoors + dt.timedelta(days=OVER_D)
        return made.answer("over" if over else "outdoors", day=outdoors)
    slowed = days_at(shares[1], TABLE_C, room_c)
    if slowed >= 1:  # no sooner than outdoors
        return made.answer("no sooner", room_c=room_c)
    cut = show - dt.timedelta(days=math.ceil(slowed * (outdoors - show).days / (1 - slowed)))
    if cut < first:
        opens = _opens(plant, first, outdoors, room_c)
        early = made.answer("too early", first=first, from_day=opens[0], to_day=opens[1])
        return replace(early, cut_on=first, from_day=opens[0], to_day=opens[1])
    return made.batches(cut, first)


@dataclass(frozen=True, slots=True)
class _Asked:
    """One question, and how it is answered."""

    plant: Plant
    show: dt.date
    outdoors: dt.date
    room_c: float
    assumed: bool
    row: Row

    def answer(self, word: Word, key: str = "", **more: object) -> Forcing:
        """An answer with its sentence, but without days."""
        says = Saying(
            f"keeping.forcing.{key or word.replace(' ', '-')}",
            plant=self.plant.english,
            show=self.show,
            **more,
        )
        return Forcing(
            self.plant.id,
            word,
            says,
            assumed=self.assumed,
            source=self.row.source,
            grade=self.row.grade,
        )

    def batches(self, cut: dt.date, first: dt.date) -> Forcing:
        """Two batches: the other a week earlier, or where that is too early a week later."""
        week = dt.timedelta(days=APART_D)
        other = cut - week if cut - week >= first else cut + week
        opens = _opens(self.plant, cut, self.outdoors, self.room_c)
        in_time = _opens(self.plant, other, self.outdoors, self.room_c)[0] <= self.show
        said = self.answer(
            "cut",
            "cut-twice" if in_time else "cut",
            cut=cut,
            other=other,
            low=str((opens[0] - cut).days),
            high=str((opens[1] - cut).days),
            room_c=self.room_c,
        )
        return replace(
            said,
            cut_on=cut,
            other_on=other if in_time else None,
            from_day=opens[0],
            to_day=opens[1],
        )


def _opens(plant: Plant, cut: dt.date, outdoors: dt.date, room_c: float) -> tuple[dt.date, dt.date]:
    """The first and the last day on which what is cut on a day may open."""
    days = forcing_days(plant, cut, outdoors, room_c)
    if days is None:
        return cut, outdoors
    return (
        cut + dt.timedelta(days=math.floor(days.low)),
        min(outdoors, cut + dt.timedelta(days=math.ceil(days.high))),
    )


def _share(row: Row) -> float:
    """Of one row, by the middle of its bloom, in a year without a leap day."""
    cut, first, last = (dt.date(2001, *at) for at in (row.cut, row.bloom_from, row.bloom_to))
    return row.days / ((first - cut) + (last - first) / 2).total_seconds() * 86400


def _day(at: tuple[int, int], near: dt.date, southern: bool) -> dt.date:
    """A day of the table in the year of a date; half a year later in the south."""
    month, day = at
    return dt.date(near.year, month + (SOUTH - NORTH if southern else 0), day)


def _rows() -> Iterator[Row]:
    known = {each.id for each in plants()}
    for number, row in enumerate(tables.read_csv(FILE, COLUMNS), start=2):
        for value, choices in (
            (row["plant"], known),
            (row["source"], sources()),
            (row["grade"], GRADES),
        ):
            if value not in choices:
                raise TableError(FILE, number, f"{value!r} is not known")
        cut, first, last = (
            _day_of_year(row[name], number) for name in ("cut", "bloom_from", "bloom_to")
        )
        if not cut < first <= last:
            raise TableError(FILE, number, "the cut comes before the bloom, and that has an order")
        yield Row(
            row["plant"],
            cut,
            int(row["days"]),
            first,
            last,
            row["source"],
            row["place"],
            row["grade"],
        )


def _day_of_year(cell: str, number: int) -> tuple[int, int]:
    try:
        day = dt.date.fromisoformat(f"2001-{cell}")
    except ValueError as trouble:
        raise TableError(FILE, number, f"{cell!r} is no month and day") from trouble
    if day.month >= SOUTH:
        raise TableError(FILE, number, f"{cell!r} is not in the first half of a northern year")
    return day.month, day.day
