"""What is written down of blossom elsewhere: which rule a plant follows, dates and sums of others.

Model: three kinds of rule. `warmth`: spring branches that wait for a sum of warmth. `day-length`:
plants that set buds when days grow short. Everything else follows months, as the plant table has
them for two reference places.
Shapes: degree days of the published tables are in °F above a base in °F, as printed.
Source: on each row.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from nejime.basis import tables
from nejime.basis.sources import GRADES, sources
from nejime.plants.table import plants

Rule = Literal["warmth", "day-length"]
Event = Literal["first", "full"]

RULES, SUMS, ANCHORS = "bloom_rules.csv", "bloom_sums.csv", "anchors.csv"
RULE_COLUMNS = (
    "plant",
    "rule",
    "critical_h",
    "weeks_low",
    "weeks_high",
    "source",
    "place",
    "grade",
)
SUM_COLUMNS = ("plant", "event", "base_f", "sum_f", "source", "place", "grade")
ANCHOR_COLUMNS = (
    "plant",
    "event",
    "month",
    "day",
    "place",
    "city",
    "country",
    "lat_deg",
    "lon_deg",
    "height_m",
    "years",
    "source",
    "grade",
)
F_PER_C = 1.8  # [hand] 180 degrees Fahrenheit for 100 Celsius
FREEZING_F = 32.0


@dataclass(frozen=True, slots=True)
class BloomRule:
    """What a plant waits for. The hours and weeks are there for `day-length` alone."""

    plant: str
    rule: Rule
    source: str
    place: str
    grade: str
    critical_h: float = 0.0
    weeks: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class DegreeSum:
    """A published sum of degree days, in °C, at which a plant blooms."""

    plant: str
    event: Event
    base_c: float
    sum_c: float
    source: str
    place: str
    grade: str


@dataclass(frozen=True, slots=True)
class Anchor:
    """The usual date on which a plant blooms at another place.

    `city` and `country` name the shipped climate that stands for it, or are empty.
    """

    plant: str
    event: Event
    month: int
    day: int
    place: str
    city: str
    country: str
    lat_deg: float
    lon_deg: float
    height_m: float
    years: str
    source: str
    grade: str


@cache
def rules() -> Mapping[str, BloomRule]:
    """The plants that do not simply follow months. Raises `TableError`."""
    found = {}
    for number, row in _rows(RULES, RULE_COLUMNS):
        tables.check_one_of(RULES, number, row["rule"], ("warmth", "day-length"))
        rule: Rule = "warmth" if row["rule"] == "warmth" else "day-length"
        common = (row["plant"], rule, row["source"], row["place"], row["grade"])
        if rule == "warmth":
            found[row["plant"]] = BloomRule(*common)
        else:
            weeks = (float(row["weeks_low"]), float(row["weeks_high"]))
            found[row["plant"]] = BloomRule(*common, float(row["critical_h"]), weeks)
    return found


@cache
def degree_sums() -> tuple[DegreeSum, ...]:
    """Every published sum. Raises `TableError`."""
    return tuple(
        DegreeSum(
            row["plant"],
            _event(SUMS, number, row["event"]),
            (float(row["base_f"]) - FREEZING_F) / F_PER_C,
            float(row["sum_f"]) / F_PER_C,
            row["source"],
            row["place"],
            row["grade"],
        )
        for number, row in _rows(SUMS, SUM_COLUMNS)
    )


@cache
def anchors() -> tuple[Anchor, ...]:
    """Every dated anchor. Raises `TableError`."""
    return tuple(
        Anchor(
            row["plant"],
            _event(ANCHORS, number, row["event"]),
            int(row["month"]),
            int(row["day"]),
            row["place"],
            row["city"],
            row["country"],
            float(row["lat_deg"]),
            float(row["lon_deg"]),
            float(row["height_m"]),
            row["years"],
            row["source"],
            row["grade"],
        )
        for number, row in _rows(ANCHORS, ANCHOR_COLUMNS)
    )


def _rows(file: str, columns: tuple[str, ...]) -> list[tuple[int, dict[str, str]]]:
    known = {each.id for each in plants()}
    rows = list(enumerate(tables.read_csv(file, columns), start=2))
    for number, row in rows:
        tables.check_one_of(file, number, row["plant"], known)
        tables.check_one_of(file, number, row["source"], tuple(sources()))
        tables.check_one_of(file, number, row["grade"], GRADES)
    return rows


def _event(file: str, number: int, word: str) -> Event:
    tables.check_one_of(file, number, word, ("first", "full"))
    return "first" if word == "first" else "full"
