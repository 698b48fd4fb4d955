"""The answer to "when does it bloom here", and the place that is asked about.

Shapes: dates are civil dates of the place; errors are standard deviations in days, and the spread
that is told is half the width of the range that holds eight times of ten.
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from nejime.basis.sayings import Saying
from nejime.plants.plant import CENTRAL_JAPAN, TEMPERATE_NORTH
from nejime.season.climate import Climate, check_place

Stage = Literal["not yet", "bud", "colour showing", "open", "past"]
Timing = Literal["early", "normal", "late"]
Evidence = Literal[
    "seen", "own-record", "anchor", "hopkins", "published", "day-length", "window", "all-year"
]
Confidence = Literal["good", "fair", "low"]
Measured = Mapping[dt.date, float]

EIGHT_OF_TEN = 1.28  # [hand] of the normal distribution, in standard deviations
BUD_D = 21  # [memory] before it opens the buds swell: cut for forcing
COLOUR_D = 7  # [memory] before it opens colour shows: the best time to cut
LATE_D = 3.0  # [own] a shift that is worth a word
WARM_WINTER_C = 8.0  # [memory] the coldest month: above it buds hardly rest
HARD_WINTER_C = -2.0  # [own] the coldest month: USDA zones 6 and 7 are milder
TREES_C = 10.0  # [memory] Köppen: no tree grows where no month is warmer
POLAR_DEG = 66.56  # [memory] the polar circles, where the climate is not known
SUBTROPICS_DEG = 31.0  # [own] nearer to the equator Hopkins' slope broke in Japan
JAPAN_LAT_DEG, JAPAN_LON_DEG = (20.0, 50.0), (122.0, 155.0)  # [own] Japan and what is near it


@dataclass(frozen=True, slots=True)
class Site:
    """Where the plants stand. `climate` is None where no monthly means are known or wanted.

    Raises `InputError` for what is no place on Earth.
    """

    lat_deg: float
    lon_deg: float
    climate: Climate | None = None
    height_m: float | None = None

    def __post_init__(self) -> None:
        check_place(self.lat_deg, self.lon_deg)

    @property
    def southern(self) -> bool:
        """Whether its spring begins in August."""
        return self.lat_deg < 0

    @property
    def mild(self) -> bool:
        """Whether it lacks the winter that all rules of warmth take for granted."""
        warm = self.climate is not None and self.climate.coldest_c > WARM_WINTER_C
        return warm or abs(self.lat_deg) < SUBTROPICS_DEG

    @property
    def cold(self) -> bool:
        """Whether its winters are harder than those for which the months are told."""
        return self.climate is not None and self.climate.coldest_c < HARD_WINTER_C

    @property
    def barren(self) -> bool:
        """Whether no gardens of ours grow there."""
        if self.climate is not None:
            return max(self.climate.means_c) < TREES_C
        return abs(self.lat_deg) > POLAR_DEG

    @property
    def months_of(self) -> str:
        """The place of the plant table whose months are used here."""
        low, high = JAPAN_LAT_DEG
        west, east = JAPAN_LON_DEG
        near_japan = low <= self.lat_deg <= high and west <= self.lon_deg <= east
        return CENTRAL_JAPAN if near_japan else TEMPERATE_NORTH


@dataclass(frozen=True, slots=True)
class Bloom:
    """When one plant is open at a place, by one kind of evidence.

    `place` is where the evidence comes from; `count` is how many notes it rests on; `shift_d` is
    how many days later (earlier where negative) this year is than usual, None where nothing was
    measured. `others` are the answers of weaker evidence.
    """

    plant: str
    begins: dt.date
    ends: dt.date
    error_d: float
    evidence: Evidence
    source: str
    grade: str
    place: str = ""
    count: int = 0
    shift_d: float | None = None
    confidence: Confidence = "fair"
    others: tuple[Bloom, ...] = ()

    @property
    def spread_d(self) -> int:
        """Days to either side."""
        return math.ceil(EIGHT_OF_TEN * self.error_d)

    @property
    def timing(self) -> Timing | None:
        """Early, about normal or late this year; None where nothing was measured."""
        if self.shift_d is None:
            return None
        return "late" if self.shift_d > LATE_D else "early" if self.shift_d < -LATE_D else "normal"

    def stage_on(self, day: dt.date) -> Stage:
        """What it shows on a day."""
        if day > self.ends:
            return "past"
        wait = (self.begins - day).days
        if wait > BUD_D:
            return "not yet"
        return "bud" if wait > COLOUR_D else "colour showing" if wait > 0 else "open"

    @property
    def why(self) -> Saying:
        """From what it is known, in a sentence."""
        return Saying(f"season.evidence.{self.evidence}", place=self.place, count=self.count)

    def outside_d(self, day: dt.date) -> int:
        """How many days a day lies outside of it."""
        return max((self.begins - day).days, (day - self.ends).days, 0)
