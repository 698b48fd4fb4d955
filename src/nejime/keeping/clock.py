"""Moments as they pass, also over a change of the clock, and how long it is light.

Model: the sun's declination is 23.45 degrees times a sine of the year (from memory), the latitude a
middle one, and noon at twelve by the zone's own clock; the half hour of dusk makes up for what that
leaves out.
"""

from __future__ import annotations

import datetime as dt
import math

LATITUDE_DEG = 45.0  # [own] between the places where such classes are held


def later(moment: dt.datetime, minutes: float) -> dt.datetime:
    """So many minutes later (earlier where negative), in the same zone, as time passes."""
    passed = moment.astimezone(dt.UTC) + dt.timedelta(minutes=minutes)
    return passed.astimezone(moment.tzinfo)


def elapsed_min(start: dt.datetime, end: dt.datetime) -> float:
    """Minutes that pass between two moments, also over a change of the clock."""
    return (end.astimezone(dt.UTC) - start.astimezone(dt.UTC)).total_seconds() / 60


def elapsed_d(start: dt.datetime, end: dt.datetime) -> float:
    """The same in days of 24 hours."""
    return elapsed_min(start, end) / (24 * 60)


def light(day: dt.datetime, *, southern: bool = False) -> tuple[dt.datetime, dt.datetime]:
    """Sunrise and sunset on the day of a moment (with its zone), by the model above."""
    number = day.timetuple().tm_yday
    declination = math.radians(23.45 * math.sin(math.tau * (284 + number) / 365))
    latitude = math.radians(-LATITUDE_DEG if southern else LATITUDE_DEG)
    half_min = math.degrees(math.acos(-math.tan(latitude) * math.tan(declination))) * 4
    noon = dt.datetime.combine(day.date(), dt.time(12), day.tzinfo)
    noon = later(noon, (noon.dst() or dt.timedelta()).total_seconds() / 60)
    return later(noon, -half_min), later(noon, half_min)
