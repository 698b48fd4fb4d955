"""How far a stem bends away from its straight line, from a mark at its middle.

Model: from two views the middle is the point nearest to both lines of sight. From one it lies
somewhere on its line of sight, and what is told is the least that this allows.
"""

from __future__ import annotations

import numpy as np

from nejime.photo.camera import Floats

Ray = tuple[Floats, Floats]


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
    step = _met(rays) - foot
    beside = step - np.sum(step * along, axis=-1)[:, None] * along
    bow: Floats = np.linalg.norm(beside, axis=-1) / length
    return bow


def _met(rays: list[Ray]) -> Floats:
    """The points (n, 3) nearest to several rays each."""
    squares = [np.eye(3) - ray[:, :, None] * ray[:, None, :] for _, ray in rays]
    told = [
        np.einsum("nij,nj->ni", square, centre)
        for square, (centre, _) in zip(squares, rays, strict=True)
    ]
    whole = np.sum(squares, axis=0)
    met: Floats = np.linalg.solve(whole, np.sum(told, axis=0)[..., None])[..., 0]
    return met
