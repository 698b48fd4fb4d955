"""Bloom by what is known of other places: dated anchors, Hopkins' law, published degree days.

Model: an anchor's date there is turned into the sum of warmth that usually came together by it, and
the sum is looked up here. Where one of the two climates is not known, the date itself is moved by
Hopkins' law: four days for a degree of latitude, for five degrees of longitude (in North America
alone) and for 400 feet. On the other half of the Earth it is first moved by half a year.
Limits: sums of degree days above 10 °C that were published for neighbouring states differ by up to
2.3 times, so their answer is a range, and hardly better than the order in which plants bloom.
Source: on each row of `data/anchors.csv` and `data/bloom_sums.csv`; Hopkins (1938).
"""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from nejime.season import evidence
from nejime.season.answer import EIGHT_OF_TEN, Bloom, Measured, Site
from nejime.season.climate import Climate, cities, distance_km
from nejime.season.evidence import Anchor, DegreeSum
from nejime.season.thermal import threshold_on
from nejime.season.warmth import OPEN_D, reach, usual_sums

ANCHOR_ERROR_D = 4.0  # [own] Kyoto, Washington and Beijing from their normals were 0 to 3 days off
HOPKINS_ERROR_D = 5.1  # [own] measured on 57 stations in Japan; 4.3 on 151 of lilac in America
HOPKINS_D_DEG_NORTH = 4.0  # [hopkins1938]
HOPKINS_D_DEG_EAST = 4.0 / 5.0  # [hopkins1938]
HOPKINS_D_M = 4.0 / 121.92  # [hopkins1938] 400 feet
SUM_FACTOR = 1.5  # [umd-degree-days] the square root of 2.3: so far a sum may be off either way
AMERICA_LON_DEG = (-170.0, -50.0)  # [own]
AMERICA_FROM_DEG = 15.0  # [own]
MOST_HOPKINS_D = 60.0  # [own] a law of slopes says nothing so far away
SAME_LAND_KM = 3000.0  # [own] the law was found within a continent
YEAR_OF_SUMS = 2001  # any year without a leap day: the usual year has none


def by_anchors(plant: str, site: Site, day: dt.date, known: Measured) -> list[Bloom]:
    """By dates of other places: by warmth where that can be, and by Hopkins' law."""
    found = [each for each in evidence.anchors() if each.plant == plant]
    near = sorted(
        found, key=lambda of: distance_km(site.lat_deg, site.lon_deg, of.lat_deg, of.lon_deg)
    )
    made = [_by_warmth(anchor, site, day, known) for anchor in near]
    told = [each for each in made if each is not None][:1]
    return told + [each for anchor in near[:1] for each in _by_hopkins(anchor, site, day)]


def _by_warmth(anchor: Anchor, site: Site, day: dt.date, known: Measured) -> Bloom | None:
    climate = climate_of(anchor.city, anchor.country)
    if climate is None:
        return None
    usual, total = usual_sums(climate, YEAR_OF_SUMS)
    threshold = threshold_on(usual, total, dt.date(YEAR_OF_SUMS, anchor.month, anchor.day))
    made = None if threshold is None else reach(anchor.plant, site, day, threshold, known)
    if made is None:
        return None
    error = math.hypot(ANCHOR_ERROR_D, made.error_d)
    return replace(
        made, error_d=error, source=anchor.source, grade=anchor.grade, place=anchor.place
    )


def _by_hopkins(anchor: Anchor, site: Site, day: dt.date) -> list[Bloom]:
    """The date itself, moved; nothing where that would be by months."""
    late = hopkins_between(anchor.lat_deg, anchor.lon_deg, anchor.height_m, site)
    if abs(late) > MOST_HOPKINS_D:
        return []
    turns = [_moved(anchor, site, year, late) for year in (day.year - 1, day.year, day.year + 1)]
    far = distance_km(site.lat_deg, site.lon_deg, anchor.lat_deg, anchor.lon_deg) > SAME_LAND_KM
    made = [
        Bloom(
            anchor.plant,
            begins,
            begins + dt.timedelta(days=OPEN_D),
            HOPKINS_ERROR_D,
            "hopkins",
            anchor.source,
            anchor.grade,
            anchor.place,
            confidence="low" if far else "fair",
        )
        for begins in turns
    ]
    return [min(made, key=lambda each: each.outside_d(day))]


def _moved(anchor: Anchor, site: Site, year: int, late_d: float) -> dt.date:
    month = (anchor.month + 5) % 12 + 1 if site.southern else anchor.month
    return dt.date(year, month, anchor.day) + dt.timedelta(days=round(late_d))


def hopkins_between(lat_deg: float, lon_deg: float, height_m: float, site: Site) -> float:
    """How many days later spring comes at a site than at a place; heights only where both are."""
    poleward = abs(site.lat_deg) - abs(lat_deg)
    american = in_america(lat_deg, lon_deg) and in_america(site.lat_deg, site.lon_deg)
    east = site.lon_deg - lon_deg if american else 0.0
    up = 0.0 if site.height_m is None else site.height_m - height_m
    return hopkins_d(poleward, east, up)


def hopkins_d(poleward_deg: float, east_deg: float, up_m: float) -> float:
    """Days by which spring is later so much further from the equator, east and up."""
    by_place = HOPKINS_D_DEG_NORTH * poleward_deg + HOPKINS_D_DEG_EAST * east_deg
    return by_place + HOPKINS_D_M * up_m


def in_america(lat_deg: float, lon_deg: float) -> bool:
    """Whether a place is where the law's term for longitude was found."""
    west, east = AMERICA_LON_DEG
    return lat_deg > AMERICA_FROM_DEG and west < lon_deg < east


@cache
def climate_of(city: str, country: str) -> Climate | None:
    """One of the shipped climates by its name; None where there is none."""
    return next((each for each in cities() if (each.name, each.country) == (city, country)), None)


# Published sums


def by_sums(plant: str, site: Site, day: dt.date, known: Measured) -> list[Bloom]:
    """By published degree days at first bloom, or at full bloom where those are all there is."""
    rows = [each for each in evidence.degree_sums() if each.plant == plant]
    first = [each for each in rows if each.event == "first"]
    return _between(plant, first or rows, site, day, known)


def _between(
    plant: str, rows: Sequence[DegreeSum], site: Site, day: dt.date, known: Measured
) -> list[Bloom]:
    if not rows:
        return []
    low, high = min(row.sum_c for row in rows), max(row.sum_c for row in rows)
    base = rows[0].base_c
    middle = reach(plant, site, day, math.sqrt(low * high), known, rate="degrees", base_c=base)
    if middle is None:
        return []
    early, late = (  # of the same season: the nearest to the middle, not to the day
        reach(plant, site, middle.begins, total, known, rate="degrees", base_c=base)
        for total in (low / SUM_FACTOR, high * SUM_FACTOR)
    )
    if early is None or late is None:
        return []
    half = abs((late.begins - early.begins).days) / 2
    error = math.hypot(half / EIGHT_OF_TEN, middle.error_d)
    places = ", ".join(dict.fromkeys(row.place.partition(";")[0] for row in rows))
    told = replace(middle, error_d=error, evidence="published", place=places)
    return [replace(told, source=rows[0].source, grade=rows[0].grade)]
