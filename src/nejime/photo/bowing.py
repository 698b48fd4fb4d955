"""How far a stem bends away from its straight line, from a mark at its middle.

Model: from two views the middle is the point nearest to both lines of sight. From one it lies
somewhere on its line of sight, and what is told is the least that this allows.
"""

from __future__ import annotations

import numpy as np

from nejime.photo.camera import Floats
from nejime.photo.sight import Ray, nearest_equations


def off_line(foot: Floats, end: Floats, rays: list[Ray]) -> Floats:
    """Bow over chord (n,) of stems (n, 3) whose middles lie on rays (centres, unit directions)."""
    chord = end - foot
    length = np.linalg.norm(chord, axis=-1)
    along = chord / length[:, None]
    if len(rays) == 1:
        centre, ray = rays[0]
        across = np.cross(along, ray)
        size = np.maximum(np.linalg.norm(across, axis=-1), 1e-9)
        gap = np.abs(np.sum((centre - foot) * across, axis=-1)) / size
        least: Floats = gap / length
        return least
    whole, told = nearest_equations(rays)
    step = np.linalg.solve(whole, told[..., None])[..., 0] - foot
    beside = step - np.sum(step * along, axis=-1)[:, None] * along
    bow: Floats = np.linalg.norm(beside, axis=-1) / length
    return bow
