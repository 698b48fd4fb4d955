"""Days with a material of their own: the five seasonal festivals, moon viewing, New Year, more.

Model: an occasion is held from a first to a last day of each year. Such a day is a civil date, the
date on which the Sun passes a longitude (and so many days before or after it), or moon viewing. The
traditional material is what a teacher in Japan would look for; elsewhere, and in the southern
hemisphere above all, the date stays and what grows there takes its place.
Source: on each row of `data/occasions.csv`; the Sun and the Moon as in `season.terms`.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from nejime.basis import tables
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants.table import plants
from nejime.season.terms import moon_viewing, passage

FILE = "occasions.csv"
COLUMNS = (
    "id",
    "kanji",
    "kana",
    "romaji",
    "english",
    "first",
    "last",
    "plants",
    "words",
    "source",
    "grade",
)

STEP_DEG = 5  # [naoj-reki] from one longitude of the calendar to the next
_CIVIL = re.compile(r"(\d\d)-(\d\d)")
_SUN = re.compile(r"sun (\d{1,3})(?: ([+-]?\d{1,2}))?")
MOON = "moon"


@dataclass(frozen=True, slots=True)
class When:
    """A day of every year: a month and a day, a longitude of the Sun with days after it, or, with
    neither, moon viewing."""

    civil: tuple[int, int] | None = None
    sun_deg: int | None = None
    after_d: int = 0

    def day(self, year: int, zone: dt.tzinfo) -> dt.date:
        """The date in a year; the Sun's in the time of a zone.

        Raises `InputError` outside the years of the shipped calendar.
        """
        if self.civil is not None:
            return dt.date(year, *self.civil)
        if self.sun_deg is not None:
            passes = passage(self.sun_deg, year, zone).date()
            return passes + dt.timedelta(days=self.after_d)
        return moon_viewing(year)


@dataclass(frozen=True, slots=True)
class Occasion:
    """A day or days with their traditional material.

    `plants` are ids of the plant table, `words` what is not in it.
    """

    id: str
    kanji: str
    kana: str
    romaji: str
    english: str
    first: When
    last: When
    plants: tuple[str, ...]
    words: tuple[str, ...]
    source: str
    grade: str


@dataclass(frozen=True, slots=True)
class Held:
    """An occasion in one year, from its first to its last day."""

    occasion: Occasion
    first: dt.date
    last: dt.date

    @property
    def days(self) -> int:
        """How many days it lasts."""
        return (self.last - self.first).days + 1


@cache
def occasions() -> tuple[Occasion, ...]:
    """Every occasion of the table. Raises `TableError`."""
    known = frozenset(each.id for each in plants())
    rows = tables.read_csv(FILE, COLUMNS)
    return tuple(_occasion(row, number, known) for number, row in enumerate(rows, start=2))


def occasion(name: str) -> Occasion | None:
    """The occasion with this id."""
    return next((each for each in occasions() if each.id == name), None)


def held_in(year: int, zone: dt.tzinfo) -> tuple[Held, ...]:
    """The occasions of a year, in the order in which they begin."""
    found = [
        Held(each, each.first.day(year, zone), each.last.day(year, zone)) for each in occasions()
    ]
    return tuple(sorted(found, key=lambda held: (held.first, held.last)))


def held_on(day: dt.date, zone: dt.tzinfo) -> tuple[Held, ...]:
    """The occasions of a day, the shortest first: it is the most particular."""
    found = [held for held in held_in(day.year, zone) if held.first <= day <= held.last]
    return tuple(sorted(found, key=lambda held: held.days))


def soon(day: dt.date, zone: dt.tzinfo, within_d: int) -> tuple[Held, ...]:
    """The occasions that begin after a day and within so many days of it, the nearest first."""
    last = day + dt.timedelta(days=within_d)
    years = range(day.year, last.year + 1)
    held = (each for year in years for each in held_in(year, zone))
    return tuple(each for each in held if day < each.first <= last)


def _occasion(row: dict[str, str], number: int, known: Collection[str]) -> Occasion:
    named = _listed(row["plants"])
    for plant in named:
        if plant not in known:
            raise TableError(FILE, number, f"{plant!r} is not in the plant table")
    if row["source"] not in sources() or row["grade"] not in GRADES:
        raise TableError(FILE, number, f"source {row['source']!r} or grade {row['grade']!r}")
    return Occasion(
        id=row["id"],
        kanji=row["kanji"],
        kana=row["kana"],
        romaji=row["romaji"],
        english=row["english"],
        first=_when(row["first"], number),
        last=_when(row["last"], number),
        plants=named,
        words=_listed(row["words"]),
        source=row["source"],
        grade=row["grade"],
    )


def _when(cell: str, row: int) -> When:
    if cell == MOON:
        return When()
    if found := _CIVIL.fullmatch(cell):
        return When(civil=(int(found[1]), int(found[2])))
    if found := _SUN.fullmatch(cell):
        longitude = int(found[1])
        if longitude % STEP_DEG == 0 and longitude < 360:
            return When(sun_deg=longitude, after_d=int(found[2] or 0))
    raise TableError(FILE, row, f"{cell!r} is not a day of every year")


def _listed(cell: str) -> tuple[str, ...]:
    return tuple(part for each in cell.split(";") if (part := each.strip()))
