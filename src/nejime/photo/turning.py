"""Rotations from their axis and angle, and the angle between directions.

Source: the formula of Rodrigues, any textbook of mechanics.
"""

from __future__ import annotations

import math

import numpy as np

from nejime.photo.camera import Floats

NONE = 1e-12
"""Squares of angles below this are treated by the series' first terms."""


def turned(axis: Floats) -> Floats:
    """Rotation matrices (..., 3, 3) about axes (..., 3) by their lengths in radians."""
    square = np.sum(axis**2, axis=-1)[..., None, None]
    safe = np.where(square > NONE, square, 1.0)
    angle = np.sqrt(safe)
    along = np.where(square > NONE, np.sin(angle) / angle, 1.0)
    across = np.where(square > NONE, (1.0 - np.cos(angle)) / safe, 0.5)
    x, y, z = axis[..., 0], axis[..., 1], axis[..., 2]
    none = np.zeros_like(x)
    skew = np.stack(
        [
            np.stack([none, -z, y], axis=-1),
            np.stack([z, none, -x], axis=-1),
            np.stack([-y, x, none], axis=-1),
        ],
        axis=-2,
    )
    rotation: Floats = np.eye(3) + along * skew + across * (skew @ skew)
    return rotation


def between_deg(one: Floats, other: Floats) -> float:
    """The angle between two unit vectors (3,)."""
    return math.degrees(math.acos(max(-1.0, min(float(one @ other), 1.0))))


def about_upright(angle_rad: Floats | float) -> Floats:
    """Rotation matrices (..., 3, 3) about the house frame's z, anticlockwise from above."""
    told = np.asarray(angle_rad, float)
    none = np.zeros_like(told)
    return turned(np.stack([none, none, told], axis=-1))
