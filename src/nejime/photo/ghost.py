"""A plan laid over a photograph: every stem and the rim as the camera of the picture sees them.

Model: the lines of the plan in space, with their bow, projected through a camera that was
measured. What is behind the camera is left out.
Frame: house frame in; pixels in display orientation out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from nejime.basis.angles import heading
from nejime.forms.curve import CURVE_POINTS, stem_curve
from nejime.forms.stems import Piece
from nejime.photo.asked import Pixel, Rim
from nejime.photo.camera import Camera, Floats

RIM_POINTS = 72  # [own] a step of five degrees looks round


@dataclass(frozen=True, slots=True)
class Trace:
    """A stem in a picture: its id, and its line from foot to end in pixels."""

    id: str
    points_px: tuple[Pixel, ...]


def traces(plan: Piece, camera: Camera) -> tuple[Trace, ...]:
    """Every stem of a plan in the picture of a camera, from where its length begins; a stem of
    which less than two points are in front of the camera is left out."""
    seen = [(stem.id, seen_px(stem_curve(stem)[-CURVE_POINTS:], camera)) for stem in plan.stems]
    return tuple(Trace(stem_id, points) for stem_id, points in seen if len(points) > 1)


def rim_outline(rim: Rim, camera: Camera, points: int = RIM_POINTS) -> tuple[Pixel, ...]:
    """The vessel's upper edge in the picture, once around; the last point is not the first."""
    return seen_px(rim_line(rim, points), camera)


def rim_line(rim: Rim, points: int = RIM_POINTS) -> Floats:
    """Points (points, 3) of a rim in cm, clockwise from above; a rectangle's corners among them
    where `points` can be divided by four."""
    if rim.shape == "round":
        flat = np.array([heading(360.0 * step / points) for step in range(points)])
        flat = flat * (rim.width_cm / 2.0, rim.depth_cm / 2.0)
    else:
        flat = _rectangle(rim.width_cm / 2.0, rim.depth_cm / 2.0, points)
    return np.column_stack([flat, np.full(len(flat), rim.height_cm)])


def _rectangle(half_x_cm: float, half_y_cm: float, points: int) -> Floats:
    corners = np.array([(-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0), (-1.0, 1.0)])
    way = 4.0 * np.arange(points) / points
    side = way.astype(int)
    share = (way - side)[:, None]
    line: Floats = corners[side] * (1.0 - share) + corners[side + 1] * share
    return line * (half_x_cm, half_y_cm)


def seen_px(points_cm: Any, camera: Camera) -> tuple[Pixel, ...]:
    """The points that are in front of the camera, in pixels."""
    pixels = camera.project(points_cm)
    return tuple((float(x), float(y)) for x, y in pixels[np.isfinite(pixels).all(axis=-1)])
