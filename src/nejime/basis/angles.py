"""Directions in the house frame.

Frame: origin on the table under the vessel's centre; x to the viewer's right, y away from the
viewer, z up. Tilt 0° is upright, 90° lies level, more hangs down. Bearing is read from above,
clockwise: 0° away, 90° right, 180° towards the viewer, 270° left.
"""

from __future__ import annotations

import math
from typing import NamedTuple

COMPASS = (
    "away",
    "back-right",
    "right",
    "front-right",
    "front",
    "front-left",
    "left",
    "back-left",
)


class Point(NamedTuple):
    """A place in the house frame."""

    x_cm: float
    y_cm: float
    z_cm: float = 0.0


def heading(bearing_deg: float) -> tuple[float, float]:
    """The unit vector (x, y) of a bearing."""
    angle = math.radians(bearing_deg)
    return math.sin(angle), math.cos(angle)


def bearing(x: float, y: float) -> float:
    """The bearing in [0, 360) of a step (x, y) seen from above; 0 where there is no step."""
    return math.degrees(math.atan2(x, y)) % 360.0


def line(tilt_deg: float, bearing_deg: float) -> tuple[float, float, float]:
    """The unit vector (x, y, z) of a stem with this tilt and bearing."""
    tilt = math.radians(tilt_deg)
    across, away = heading(bearing_deg)
    return math.sin(tilt) * across, math.sin(tilt) * away, math.cos(tilt)


def tilt_and_bearing(x: float, y: float, z: float) -> tuple[float, float]:
    """Tilt and bearing of the line from the origin to (x, y, z); the inverse of `line`."""
    return math.degrees(math.atan2(math.hypot(x, y), z)), bearing(x, y)


def mirrored(bearing_deg: float) -> float:
    """The bearing in the form that opens to the other side: left and right exchanged."""
    return (360.0 - bearing_deg) % 360.0


def from_the_other_side(bearing_deg: float) -> float:
    """The same direction as somebody opposite sees it: a half turn, not a mirror."""
    return (bearing_deg + 180.0) % 360.0


def shorter_way(angle_deg: float) -> float:
    """A turn as the shorter way round, -180 up to 180, clockwise positive."""
    return (angle_deg + 180.0) % 360.0 - 180.0


def apart(one_deg: float, other_deg: float) -> float:
    """The smaller angle between two bearings, 0 to 180."""
    return abs(shorter_way(one_deg - other_deg))


def compass_word(bearing_deg: float) -> str:
    """The nearest of the eight words for a bearing (`COMPASS`)."""
    return COMPASS[round(bearing_deg / 45.0) % 8]
