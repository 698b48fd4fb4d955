"""Lines of sight: where they meet a level, and where they pass one another.

Model: a line of sight begins at its camera's centre and goes along a unit vector.
Frame: the house frame.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nejime.photo.camera import Floats

Ray = tuple[Floats, Floats]
"""Centres (n, 3), or one for all (3,), and unit vectors (n, 3)."""


def on_level(rays: Ray, height_cm: Floats | float) -> Floats:
    """Where rays meet levels (n,) above the table: points (n, 3)."""
    centre, along = rays
    reach = (height_cm - centre[..., 2]) / along[:, 2]
    met: Floats = centre + reach[:, None] * along
    return met


def nearest_equations(rays: Sequence[Ray]) -> tuple[Floats, Floats]:
    """The normal equations of the points that are nearest to several rays each: (n, 3, 3), (n, 3).

    A point's squared distance from a ray is (p − c)ᵀ(I − rrᵀ)(p − c).
    """
    squares = [np.eye(3) - along[:, :, None] * along[:, None, :] for _, along in rays]
    told = [
        (square @ np.broadcast_to(centre, square.shape[:-1])[..., None])[..., 0]
        for square, (centre, _) in zip(squares, rays, strict=True)
    ]
    return np.sum(squares, axis=0), np.sum(told, axis=0)
