"""When a sum of warmth is reached at a place, this year and usually.

Model: what was measured this year stands in place of the usual days; how much that moves the date
is how early or late the year is. Of the years around a day the one is told whose bloom is nearest.
Source: the errors that the days to come leave, by how far ahead they are: forecasts for Kyoto,
Washington and Beijing with normals for what was not measured, less the error of the rule itself.
"""

from __future__ import annotations

import datetime as dt
from functools import lru_cache

from nejime.season.answer import Bloom, Measured, Site
from nejime.season.climate import Climate, Floats
from nejime.season.thermal import Rate, Season, reached, season, starts, sums

WEATHER_D = ((4, 1.0), (20, 2.5), (35, 3.8), (10_000, 4.4))  # [own] days ahead, standard deviation
OPEN_D = 10  # [memory] a branch of blossom is open for so long


def reach(
    plant: str,
    site: Site,
    day: dt.date,
    threshold: float,
    known: Measured,
    *,
    rate: Rate = "arrhenius",
    base_c: float = 0.0,
    open_d: int = OPEN_D,
) -> Bloom | None:
    """The bloom nearest to a day at which a sum is reached here; None where it never is.

    Its error is that of the weather to come alone; whoever asks says what the evidence is.
    """
    if site.climate is None:
        return None
    found = []
    for year in (day.year - 1, day.year, day.year + 1):
        first = starts(year, site.southern, rate)
        usual = reached(*_usual(site.climate, first, rate, base_c), threshold)
        if usual is None:
            continue
        now = _season_with(site.climate, first, known)
        begins = usual if now is None else reached(now, sums(now, rate, base_c), threshold)
        if begins is None:
            continue
        shift = None if now is None else float((begins - usual).days)
        error = weather_error_d(first, begins, known)
        ends = begins + dt.timedelta(days=open_d)
        found.append(Bloom(plant, begins, ends, error, "anchor", "own", "own", shift_d=shift))
    return min(found, key=lambda each: each.outside_d(day), default=None)


def weather_error_d(first: dt.date, begins: dt.date, known: Measured) -> float:
    """What days that are not measured yet may still do to a date: a standard deviation, in days."""
    if not known:
        return WEATHER_D[-1][1]
    back = range((begins - first).days + 1)
    ahead = next((days for days in back if begins - dt.timedelta(days=days) in known), None)
    if ahead is None:
        return WEATHER_D[-1][1]
    return 0.0 if ahead == 0 else next(error for most, error in WEATHER_D if ahead <= most)


def _season_with(climate: Climate, first: dt.date, known: Measured) -> Season | None:
    """A year's days with what was measured of them; None where nothing was."""
    now = season(climate, first, known) if known else None
    return now if now is not None and now.measured else None


@lru_cache(maxsize=512)
def _usual(climate: Climate, first: dt.date, rate: Rate, base_c: float) -> tuple[Season, Floats]:
    usual = season(climate, first)
    return usual, sums(usual, rate, base_c)


def usual_sums(climate: Climate, year: int) -> tuple[Season, Floats]:
    """The usual days of a place from the start in a year, and their sums."""
    return _usual(climate, starts(year, climate.southern), "arrhenius", 0.0)
