"""Where a pixel lies on a level plane: a mark in a picture becomes a place in centimetres.

Model: the line of sight through the pixel, met with the plane.
Frame: house frame; pixels as in `nejime.photo.camera`.
"""

from __future__ import annotations

import numpy as np

from nejime.photo.asked import Pixel
from nejime.photo.camera import Camera, middle_px, straightened

LEAST_DOWN = 1e-6
"""A ray that goes down by less meets no plane."""


def on_level(camera: Camera, pixel: Pixel, height_cm: float) -> tuple[float, float] | None:
    """The place (x, y) in cm at a height; None where the ray does not come down to it."""
    step = np.asarray(pixel, float) - middle_px(camera.width_px, camera.height_px)
    flat = straightened(step, camera.focal_px, camera.k1)
    ray = np.array(camera.rotation).T @ np.append(flat, 1.0)
    if abs(ray[2]) < LEAST_DOWN:
        return None
    reach = (height_cm - camera.centre_cm[2]) / ray[2]
    if reach <= 0.0:
        return None
    at = np.array(camera.centre_cm) + reach * ray
    return float(at[0]), float(at[1])
