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


def focal_px(focal_35mm: float, width_px: int, height_px: int) -> float:
    """Focal length in pixels from its 35 mm equivalent."""
    return focal_35mm * math.hypot(width_px, height_px) / DIAGONAL_35MM


def middle_px(width_px: int, height_px: int) -> Floats:
    """The picture's middle, where the camera's axis is taken to go through."""
    return np.array([(width_px - 1) / 2.0, (height_px - 1) / 2.0])


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

    def project(self, points: Any) -> Floats:
        """Pixels (..., 2) of points in cm (..., 3); NaN where a point lies behind the camera."""
        seen = (np.asarray(points, float) - self.centre_cm) @ np.array(self.rotation).T
        ahead = np.where(seen[..., 2:] > 1e-6, seen[..., 2:], np.nan)
        flat = seen[..., :2] / ahead
        bent = flat * (1.0 + self.k1 * np.sum(flat**2, axis=-1, keepdims=True))
        pixels: Floats = self.focal_px * bent + middle_px(self.width_px, self.height_px)
        return pixels
