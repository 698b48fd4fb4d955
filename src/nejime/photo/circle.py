"""Where a circle is, from the ellipse that a camera makes of it.

Model: the circle and the camera's centre span a cone; two planes cut it in a circle of the given
radius. Which of the two is the vessel's rim is decided by the caller: the rim's upright points up
in the picture.
Frame: the camera's, x right, y down, z away from the camera.
Source: Forsyth et al. 1991 [forsyth1991]; restated in Gaudillière et al. 2023 [gaudilliere2023].
"""

from __future__ import annotations

import numpy as np

from nejime.photo.camera import Floats
from nejime.photo.ellipse import Ellipse


def circle_poses(
    ellipse: Ellipse, focal_px: float, middle_px: Floats, radius_cm: float
) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
    """The two circles that look like the ellipse, (centre, normal) each; normals face us."""
    to_pixels = np.array(
        [[focal_px, 0.0, middle_px[0]], [0.0, focal_px, middle_px[1]], [0.0, 0.0, 1.0]]
    )
    cone = to_pixels.T @ ellipse.conic() @ to_pixels
    if np.linalg.det(cone) > 0.0:
        cone = -cone
    values, axes = np.linalg.eigh(cone)
    least, between, most = values
    share = (most - between) / (most - least)
    distance = radius_cm * between / np.sqrt(-most * least)
    normals = (
        turn * np.sqrt(share) * axes[:, 2] + np.sqrt(1.0 - share) * axes[:, 0]
        for turn in (1.0, -1.0)
    )
    first, second = (_facing(cone, normal, distance) for normal in normals)
    return first, second


def _facing(cone: Floats, normal: Floats, distance: float) -> tuple[Floats, Floats]:
    """The circle's centre, which is the pole of its plane's horizon, and its normal."""
    pole = np.linalg.solve(cone, normal)
    pole = pole * np.sign(pole[2])
    centre = pole * distance / abs(normal @ pole)
    return centre, -normal * np.sign(normal @ centre)
