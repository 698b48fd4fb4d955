"""How far a line leans in a picture from the upright through its foot.

Model: the upright is a short piece of the plumb line through the foot, as the camera sees it: not
the picture's own upright, which a tilted camera turns.
Frame: pixels, y down; a lean is positive to the right.
"""

from __future__ import annotations

import math

import numpy as np

from nejime.basis.angles import Point
from nejime.photo.camera import Camera, Floats

UPRIGHT = np.array([0.0, 0.0, 10.0])  # [own] in cm; long enough to have a direction


def lean_deg(upright: Floats, line: Floats) -> Floats:
    """The angles from uprights (..., 2) to lines (..., 2) of a picture."""
    across = upright[..., 0] * line[..., 1] - upright[..., 1] * line[..., 0]
    lean: Floats = np.degrees(np.arctan2(across, np.sum(upright * line, axis=-1)))
    return lean


def in_picture_deg(start: Point, end: Point, camera: Camera) -> float | None:
    """How far a line leans in a picture; None where it is not in front of the camera."""
    foot, up, tip = camera.project([start, np.array(start) + UPRIGHT, end])
    angle = float(lean_deg(up - foot, tip - foot))
    return angle if math.isfinite(angle) else None
