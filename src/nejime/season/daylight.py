"""How long the day is, and when it becomes short enough for plants that wait for it.

Model: the Sun's upper edge on a flat horizon with the usual refraction: its centre is 0.833 degrees
under it. The declination is that of a circular year of the right length and tilt.
Limits: within about three minutes of an almanac between 60 degrees south and north (the tests say
so beside skyfield); towards the poles there are days without sunrise or sunset, 0 and 24 hours.
Source: Cooper (1969) for the declination, as handbooks of solar energy have it; -0.833 degrees from
the Astronomical Almanac.
"""

from __future__ import annotations

import datetime as dt
import math

TILT_DEG_COOPER_1969 = 23.45
RISING_DEG = -0.833  # [almanac] half the Sun's disc and the refraction at the horizon
DAY_H = 24.0


def day_length_h(lat_deg: float, day: dt.date) -> float:
    """Hours from sunrise to sunset; 0 in the polar night, 24 under the midnight sun."""
    number = day.timetuple().tm_yday
    turned = math.tau * (284 + number) / 365
    declination = math.radians(TILT_DEG_COOPER_1969) * math.sin(turned)
    latitude = math.radians(lat_deg)
    height = math.sin(math.radians(RISING_DEG)) - math.sin(latitude) * math.sin(declination)
    across = math.cos(latitude) * math.cos(declination)
    if across <= 0 or abs(height) >= across:
        return 0.0 if height >= 0 else DAY_H
    return DAY_H / math.pi * math.acos(height / across)


def short_enough(lat_deg: float, year: int, critical_h: float) -> dt.date | None:
    """The first day after midsummer that is shorter than so many hours.

    None where no day of the year's second half (in the south: from January to June) is so short, or
    where the days are always so short, so that the plant does not wait for them.
    """
    first = dt.date(year, 6, 21) if lat_deg >= 0 else dt.date(year - 1, 12, 21)
    days = [first + dt.timedelta(days=number) for number in range(183)]
    if day_length_h(lat_deg, days[0]) < critical_h:
        return None
    return next((day for day in days if day_length_h(lat_deg, day) < critical_h), None)
