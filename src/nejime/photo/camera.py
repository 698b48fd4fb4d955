"""The camera that took a picture: from centimetres to pixels and back.

Model: a pinhole whose axis goes through the picture's middle, with one term of radial distortion.
Frame: the house frame on the table; pixels in display orientation, y down, the centre of the
top-left pixel at 0, 0. Camera frame: x right, y down, z away from the camera.
Source: focal length from its 35 mm equivalent by the diagonal, CIPA DCG-001 [cipa-dcg001].
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
DIAGONAL_35MM = math.hypot(36.0, 24.0)
"""Of the 36 × 24 mm frame to which "35 mm equivalent" refers."""
AHEAD_CM = 1e-6
"""What is not this far before the camera is not in its picture."""
STRAIGHTENINGS = 4  # [own] rounds of undoing the distortion; it is small and settles at once


def focal_px(focal_35mm: float, width_px: int, height_px: int) -> float:
    """Focal length in pixels from its 35 mm equivalent."""
    return focal_35mm * math.hypot(width_px, height_px) / DIAGONAL_35MM


def middle_px(width_px: int, height_px: int) -> Floats:
    """The picture's middle, where the camera's axis is taken to go through."""
    return np.array([(width_px - 1) / 2.0, (height_px - 1) / 2.0])


def imaged(seen: Floats, focal_px: Floats | float, k1: Floats | float) -> Floats:
    """Pixels from the middle (..., 2) of points (..., 3) in the camera's frame; focal length and
    distortion are one for all, or have as many axes."""
    flat = seen[..., :2] / seen[..., 2:]
    pixels: Floats = focal_px * flat * (1.0 + k1 * np.sum(flat**2, axis=-1, keepdims=True))
    return pixels


def straightened(marks: Floats, focal_px: Floats | float, k1: Floats | float) -> Floats:
    """The other way: what is marked at pixels (..., 2) lies so many (..., 2) of its depth off the
    axis."""
    bent: Floats = marks / focal_px
    flat = bent
    for _ in range(STRAIGHTENINGS):
        flat = bent / (1.0 + k1 * np.sum(flat**2, axis=-1, keepdims=True))
    return flat


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera: `rotation` (three rows) takes the house frame's directions to the camera's.

    `k1` is the radial distortion: what is r focal lengths off the axis is drawn at r(1 + k1 r²).
    """

    width_px: int
    height_px: int
    focal_px: float
    centre_cm: tuple[float, float, float]
    rotation: tuple[tuple[float, float, float], ...]
    k1: float = 0.0

    @property
    def focal_35mm(self) -> float:
        """The 35 mm equivalent of its focal length."""
        return self.focal_px * DIAGONAL_35MM / math.hypot(self.width_px, self.height_px)

    def project(self, points: Any) -> Floats:
        """Pixels (..., 2) of points in cm (..., 3); NaN where a point lies behind the camera."""
        seen = (np.asarray(points, float) - self.centre_cm) @ np.array(self.rotation).T
        ahead = np.where(seen[..., 2:] > AHEAD_CM, seen, np.nan)
        return imaged(ahead, self.focal_px, self.k1) + middle_px(self.width_px, self.height_px)
