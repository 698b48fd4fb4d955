"""What hides what from an eye: leaves, heads and stems before points of pin holder and water.

Model: a ray from a point to the eye is stopped by an ellipse that it goes through (exact), by a
ball (exact), by a stem's band (in the picture plane), or by the vessel's own wall where it passes
the height of the rim outside the rim. Leaves and heads let nothing through.
Frame: the house frame; an eye looks at the middle of the rim.
Shapes: points (q, 3); what hides has leading axes and a last axis of things; results (…, q).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from nejime.composing.lines import Array, Blades, Flags

RINGS, SPOKES = 8, 12  # [own] samples of equal weight, symmetric under mirror and half turn


@dataclass(frozen=True, slots=True)
class Seat:
    """Where the viewer's eye is: the usual place, and the four that a person moves between."""

    distance_cm: float = 70.0
    above_deg: float = 35.0
    distances_cm: tuple[float, float] = (60.0, 80.0)
    aboves_deg: tuple[float, float] = (30.0, 40.0)
    aside_deg: float = 20.0

    def eye(self, rim_cm: float) -> Array:
        """The usual eye."""
        return _eye(rim_cm, self.distance_cm, self.above_deg)

    def eyes(self, rim_cm: float) -> list[Array]:
        """The four between which a person moves."""
        return [_eye(rim_cm, far, high) for far in self.distances_cm for high in self.aboves_deg]

    def sides(self, rim_cm: float) -> list[Array]:
        """The neighbours' eyes, left and right."""
        return [
            _eye(rim_cm, self.distance_cm, self.above_deg, turn)
            for turn in (-self.aside_deg, self.aside_deg)
        ]


def _eye(rim_cm: float, distance_cm: float, above_deg: float, aside_deg: float = 0.0) -> Array:
    above, aside = math.radians(above_deg), math.radians(aside_deg)
    level = distance_cm * math.cos(above)
    return np.array(
        [
            level * math.sin(aside),
            -level * math.cos(aside),
            rim_cm + distance_cm * math.sin(above),
        ]
    )


@lru_cache
def disc(rings: int = RINGS) -> Array:
    """Points (q, 2) of equal weight in the unit disc: rings of equal area, staggered."""
    ring = np.arange(rings)[:, None]
    radius = np.sqrt((ring + 0.5) / rings)
    turn = (np.arange(SPOKES) + 0.5 * (ring % 2)) * 2 * np.pi / SPOKES
    return np.stack([radius * np.cos(turn), radius * np.sin(turn)], axis=-1).reshape(-1, 2)


@lru_cache
def square() -> Array:
    """Points (q, 2) of equal weight in the square from -1 to 1."""
    side = (np.arange(10) + 0.5) / 5 - 1.0
    return np.stack(np.meshgrid(side, side), axis=-1).reshape(-1, 2)


def behind_blades(points: Array, eye: Array, leaf: Blades) -> Flags:
    """For each leaf (…, m) which points it hides: (…, m, q)."""
    normal = np.cross(leaf.along, leaf.across)
    centre = leaf.middle_cm - eye
    ray = (points - eye).T
    with np.errstate(divide="ignore", invalid="ignore"):
        t = np.sum(centre * normal, axis=-1)[..., None] / (normal @ ray)
        x = t * (leaf.along @ ray) - np.sum(centre * leaf.along, axis=-1)[..., None]
        y = t * (leaf.across @ ray) - np.sum(centre * leaf.across, axis=-1)[..., None]
        inside = (x / leaf.half_long_cm[..., None]) ** 2 + (y / leaf.half_wide_cm[..., None]) ** 2
        return np.asarray((t > 0) & (t < 1) & (inside <= 1.0))


def behind_balls(points: Array, eye: Array, middle_cm: Array, radius_cm: Array) -> Flags:
    """For each ball (…, m) which points it hides: (…, m, q). A ball of no size hides nothing."""
    ray = points - eye
    far = np.linalg.norm(ray, axis=-1)
    centre = middle_cm - eye
    along = centre @ (ray / far[:, None]).T
    off = np.sum(centre**2, axis=-1)[..., None] - along**2
    return np.asarray((off < radius_cm[..., None] ** 2) & (along < far) & (along > 0))


def picture(points: Array, eye: Array, rim_cm: float) -> Array:
    """Points (…, 3) in the picture plane through the middle of the rim: (…, 2) in cm."""
    look = np.array([0.0, 0.0, rim_cm]) - eye
    far = float(np.linalg.norm(look))
    look = look / far
    right = np.cross(look, [0.0, 0.0, 1.0])
    right = right / np.linalg.norm(right)
    up = np.cross(right, look)
    step = points - eye
    scale = far / (step @ look)
    return np.asarray(np.stack([step @ right, step @ up], axis=-1) * scale[..., None])


def behind_stems(flat_points: Array, flat_curve: Array, half_cm: Array) -> Flags:
    """For each stem (…, n) which points (q, 2) its band hides, in the picture plane: (…, n, q).

    `flat_curve` is (…, n, k, 2), `half_cm` half the band's breadth (…, n).
    """
    foot = flat_curve[..., :-1, None, :]
    step = np.diff(flat_curve, axis=-2)[..., None, :]
    away = flat_points - foot
    length2 = np.maximum(np.sum(step**2, axis=-1), 1e-9)
    share = np.clip(np.sum(away * step, axis=-1) / length2, 0.0, 1.0)
    gap = away - share[..., None] * step
    near = np.min(np.sum(gap**2, axis=-1), axis=-2)
    return np.asarray(near <= half_cm[..., None] ** 2)


def over_the_wall(
    points: Array, eye: Array, rim_cm: float, half_cm: Sequence[float], round_plan: bool
) -> Flags:
    """Which points inside a vessel the eye sees over the wall: (q,)."""
    up = (rim_cm - points[:, 2]) / (eye[2] - points[:, 2])
    at = (points + up[:, None] * (eye - points))[:, :2] / np.asarray(half_cm)
    far = np.hypot(at[:, 0], at[:, 1]) if round_plan else np.max(np.abs(at), axis=-1)
    return np.asarray(far < 1.0)
