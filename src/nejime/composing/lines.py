"""Stems and leaves as arrays in space: their curves, ends, faces and blades.

Model: lean and direction are those of the straight line from foot to end; a bow makes the curve
a parabola about it in the plane in which the stem leans, out to the lower side where it is
positive, so that the end turns up. A flower faces along the end of its stem, a little upwards.
Frame: the house frame.
Shapes: the last axis of every number is the stem; points have one more axis (x, y, z), curves two.
Leading axes are proposals.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
Flags = npt.NDArray[np.bool_]
Index = npt.NDArray[np.intp]

POINTS = 7  # [own] on a curve; a bow of a tenth is followed within 0.3 % of the length
FACE_UP = 0.35  # [own] how much of upwards is mixed into a flower's face


class Stems(NamedTuple):
    """Stems as lines. `half_cm` is half the thickness, `head_cm` the radius of the head."""

    start_cm: Array
    length_cm: Array
    tilt_deg: Array
    bearing_deg: Array
    bow_cm: Array
    half_cm: Array
    head_cm: Array
    foliage_cm: Array
    line: Array
    curve_cm: Array
    end_cm: Array
    tangent: Array
    face: Array

    def take(self, at: Index) -> Stems:
        """Some of the stems, by their places along the last axis."""
        return Stems(
            *(
                np.take(value, at, axis=-1 - extra)
                for value, extra in zip(self, _EXTRA_AXES, strict=True)
            )
        )


_EXTRA_AXES = (1, 0, 0, 0, 0, 0, 0, 0, 1, 2, 1, 1, 1)  # [own] how many axes follow the stem's


class Blades(NamedTuple):
    """Leaves as ellipses: middle, the unit vectors along and across, and the half measures."""

    middle_cm: Array
    along: Array
    across: Array
    half_long_cm: Array
    half_wide_cm: Array


def directions(tilt_deg: Array, bearing_deg: Array) -> Array:
    """Unit vectors (…, 3) of lines with these leans and directions."""
    tilt, bearing = np.radians(tilt_deg), np.radians(bearing_deg)
    out = np.sin(tilt)
    return np.stack([out * np.sin(bearing), out * np.cos(bearing), np.cos(tilt)], axis=-1)


def unit(vectors: Array) -> Array:
    """Vectors (…, 3) of length 1."""
    return np.asarray(vectors / np.linalg.norm(vectors, axis=-1, keepdims=True))


def stems(
    start_cm: Array,
    length_cm: Array,
    tilt_deg: Array,
    bearing_deg: Array,
    *,
    bow_cm: Array,
    half_cm: Array,
    head_cm: Array,
    foliage_cm: Array,
) -> Stems:
    """Stems from their numbers; `start_cm` (…, n, 3), all else (…, n)."""
    line = directions(tilt_deg, bearing_deg)
    # A hanging stem arches over and falls, so its bow is on the upper side.
    lower = directions(tilt_deg + np.where(tilt_deg < 90.0, 90.0, -90.0), bearing_deg)
    share = np.linspace(0.0, 1.0, POINTS)[:, None]
    along = length_cm[..., None, None] * share * line[..., None, :]
    off = 4 * bow_cm[..., None, None] * share * (1 - share) * lower[..., None, :]
    tangent = unit(line - 4 * (bow_cm / length_cm)[..., None] * lower)
    return Stems(
        start_cm,
        length_cm,
        tilt_deg,
        bearing_deg,
        bow_cm,
        half_cm,
        head_cm,
        foliage_cm,
        line,
        start_cm[..., None, :] + along + off,
        start_cm + length_cm[..., None] * line,
        tangent,
        unit(tangent + np.array([0.0, 0.0, FACE_UP])),
    )


def blades(
    start_cm: Array,
    length_cm: Array,
    tilt_deg: Array,
    bearing_deg: Array,
    *,
    droop_deg: Array,
    blade_cm: Array,
    width_cm: Array,
) -> Blades:
    """Leaves from their numbers: the blade is the outer part of the length, turned down by its
    droop where the stalk ends; a leaf shorter than its blade has no stalk."""
    blade = np.minimum(blade_cm, length_cm)
    along = directions(tilt_deg + droop_deg, bearing_deg)
    bearing = np.radians(bearing_deg)
    across = np.stack([np.cos(bearing), -np.sin(bearing), np.zeros_like(bearing)], axis=-1)
    stalk = (length_cm - blade)[..., None] * directions(tilt_deg, bearing_deg)
    middle = start_cm + stalk + along * (blade / 2)[..., None]
    return Blades(middle, along, across, blade / 2, width_cm / 2 + 0.0 * blade)


def angle_deg(one: Array, other: Array) -> Array:
    """The angle between unit vectors (…, 3)."""
    return np.asarray(np.degrees(np.arccos(np.clip(np.sum(one * other, axis=-1), -1.0, 1.0))))


def front_deg(line: Array) -> Array:
    """The lean that a line (…, 3) shows from the front: 0 upright, positive to the right."""
    return np.asarray(np.degrees(np.arctan2(line[..., 0], line[..., 2])))


def turn_between_deg(one: Array, other: Array) -> Array:
    """The smaller angle between two directions in a plane."""
    return np.asarray(np.abs((one - other + 180.0) % 360.0 - 180.0))
