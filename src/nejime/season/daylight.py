"""How long the day is, and when it becomes short enough for plants that wait for it.

Model: the Sun's upper edge on a flat horizon with the usual refraction: its centre is 0.833 degrees
under it. The declination follows from the Sun's longitude at noon in Greenwich, as the
shipped calendar has it.
Limits: 1951 to 2050; within three minutes of an almanac between 60 degrees south and north (the
tests say so beside skyfield). Towards the poles there are days without sunrise or sunset.
Source: -0.833 degrees and the tilt of the axis from the Astronomical Almanac.
"""

from __future__ import annotations

import datetime as dt
import math

from nejime.season.terms import FIRST_YEAR, LAST_YEAR, longitude_deg

TILT_DEG = 23.44  # [almanac] of the Earth's axis, 2000
RISING_DEG = -0.833  # [almanac] half the Sun's disc and the refraction at the horizon
DAY_H = 24.0


def day_length_h(lat_deg: float, day: dt.date) -> float:
    """Hours from sunrise to sunset; 0 in the polar night, 24 under the midnight sun."""
    declination = declination_rad(day)
    latitude = math.radians(lat_deg)
    height = math.sin(math.radians(RISING_DEG)) - math.sin(latitude) * math.sin(declination)
    across = math.cos(latitude) * math.cos(declination)
    if across <= 0 or abs(height) >= across:
        return 0.0 if height >= 0 else DAY_H
    return DAY_H / math.pi * math.acos(height / across)


def declination_rad(day: dt.date) -> float:
    """How far north of the equator the Sun stands on a day. Raises `InputError` out of range."""
    noon = dt.datetime.combine(day, dt.time(12), dt.UTC)
    longitude = math.radians(longitude_deg(noon))
    return math.asin(math.sin(math.radians(TILT_DEG)) * math.sin(longitude))


def short_enough(lat_deg: float, year: int, critical_h: float) -> dt.date | None:
    """The first day after midsummer that is shorter than so many hours.

    None where no day of the year's second half (in the south: from January to June) is so short, or
    where the days are always so short, so that the plant does not wait for them; nor outside 1951
    to 2050.
    """
    first = dt.date(year, 6, 21) if lat_deg >= 0 else dt.date(year - 1, 12, 21)
    if not FIRST_YEAR <= first.year <= year <= LAST_YEAR:
        return None
    days = [first + dt.timedelta(days=number) for number in range(183)]
    if day_length_h(lat_deg, days[0]) < critical_h:
        return None
    return next((day for day in days if day_length_h(lat_deg, day) < critical_h), None)
