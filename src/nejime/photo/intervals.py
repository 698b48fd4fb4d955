"""From draws to values with their 95 % intervals.

Model: percentiles of weighted draws. A direction's value is the draws' mean line, so an upright
stem's bearing is as unsure as it should be.
"""

from __future__ import annotations

import math

import numpy as np

from nejime.basis.angles import Point
from nejime.basis.angles import line as direction
from nejime.photo.answer import Interval, Line
from nejime.photo.camera import Floats
from nejime.photo.single import Ends

LOW, HIGH = 0.025, 0.975
LEAST = 1e-9  # of a length that is divided by: draws of nonsense have their end in their foot


def percentiles(values: Floats, weight: Floats, shares: tuple[float, ...]) -> tuple[float, ...]:
    """Weighted percentiles of values (n,)."""
    order = np.argsort(values)
    heavy = weight[order]
    share = (np.cumsum(heavy) - 0.5 * heavy) / np.sum(heavy)
    return tuple(float(np.interp(each, share, values[order])) for each in shares)


def interval(values: Floats, weight: Floats, value: float | None = None) -> Interval:
    """The interval of draws (n,), about their median or a value that it then holds too."""
    low, median, high = percentiles(values, weight, (LOW, 0.5, HIGH))
    middle = median if value is None else value
    return Interval(middle, min(low, middle), max(high, middle))


def turned_interval(values_deg: Floats, weight: Floats, value_deg: float) -> Interval:
    """The interval of directions about one of them: the value in [0, 360), its ends beside it."""
    around = (values_deg - value_deg + 180.0) % 360.0 - 180.0
    found = interval(around, weight, 0.0)
    value = value_deg % 360.0
    return Interval(value, value + found.low, value + found.high)


def mean_direction(ends: Ends) -> Floats:
    """The unit vector of the draws' mean line."""
    unit = ends.line / np.maximum(np.linalg.norm(ends.line, axis=-1, keepdims=True), LEAST)
    mean = np.sum(ends.weight[:, None] * unit, axis=0)
    direction: Floats = mean / max(float(np.linalg.norm(mean)), LEAST)
    return direction


def line_of(ends: Ends, about: Ends | None = None) -> Line:
    """The straight line of draws; its values from `about` where that is but a part of them."""
    told = ends if about is None else about
    across, away, _ = mean_direction(told)
    tilt, length = (percentiles(each, told.weight, (0.5,))[0] for each in _measures(told))
    bearing = math.degrees(math.atan2(across, away))
    tilts, lengths = _measures(ends)
    bearings = np.degrees(np.arctan2(ends.line[:, 0], ends.line[:, 1]))
    foot = _mean(told.foot, told.weight)
    end = foot + length * np.array(direction(tilt, bearing))
    return Line(
        tilt_deg=interval(tilts, ends.weight, tilt),
        bearing_deg=turned_interval(bearings, ends.weight, bearing),
        length_cm=interval(lengths, ends.weight, length),
        foot_cm=Point(*(float(each) for each in foot)),
        end_cm=Point(*(float(each) for each in end)),
    )


def _measures(ends: Ends) -> tuple[Floats, Floats]:
    """Tilts in degrees and lengths in cm of draws."""
    x, y, z = ends.line.T
    return np.degrees(np.arctan2(np.hypot(x, y), z)), np.linalg.norm(ends.line, axis=-1)


def spread_deg(ends: Ends) -> float:
    """The angle from their mean line within which 95 in a hundred of the draws lie."""
    length = np.maximum(np.linalg.norm(ends.line, axis=-1), LEAST)
    cosine = ends.line @ mean_direction(ends) / length
    away = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)))
    return percentiles(away, ends.weight, (0.95,))[0]


def both(one: Ends, other: Ends) -> Ends:
    """The draws of two sides as one."""
    return Ends(
        np.concatenate([one.foot, other.foot]),
        np.concatenate([one.end, other.end]),
        np.concatenate([one.weight, other.weight]),
    )


def _mean(points: Floats, weight: Floats) -> Floats:
    mean: Floats = np.sum(weight[:, None] * points, axis=0) / np.sum(weight)
    return mean
