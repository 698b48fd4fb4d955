"""Whether what stands on a foot tips over, which way, and by how much not.

Model: rigid bodies on a level table; all loads hang straight down, so only the plan counts. The
*base* (holder, or vessel with water and holder) rests on the foot, the *load* (the stems) leans.
The load factor is the number by which the load could be multiplied before the common centre of
gravity reaches the edge of the foot. While the load grows, that centre moves on the straight line
from the base's centre to the load's, so the factor follows from where this line leaves the foot.
For an ellipse that is one quadratic equation, for a polygon one linear equation a side: exact, and
equal to the least of `rest / overturning moment` over all directions.
Frame: the house frame, seen from above; every point from the middle of the foot.
Shapes: masses have any shape, moments the same with a last axis of 2 (x, y).
Source: statics; balance of moments about the edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from nejime.standing.bending import Array, Flags

DIRECTIONS = 180  # [own] directions searched for an ellipse's nearest edge, then refined
REFINEMENTS = 5  # [own] rounds of refining, each ten times finer


@dataclass(frozen=True, slots=True)
class Ellipse:
    """A round or oval foot by its half measures."""

    half_width_cm: float
    half_depth_cm: float


@dataclass(frozen=True, slots=True)
class Polygon:
    """A foot with corners, or with feet: corners (x, y) in order round it, bulging outwards."""

    corners_cm: tuple[tuple[float, float], ...]


Foot = Ellipse | Polygon


class Bodies(NamedTuple):
    """Several bodies as one: grams, and moments g·cm about the middle of the foot (…, 2)."""

    g: Array
    moment_g_cm: Array


@dataclass(frozen=True, slots=True)
class Tipping:
    """How far from tipping: arrays of the masses' shape.

    `factor`: the load times this tips it; infinite where no direction overturns, 0 where the base
    alone already tips. `bearing_deg`: which way it tips first. `margin_cm`: how far inside the edge
    the centre of gravity is (negative: outside the nearest side). `nudge_g`: the push at the top
    that tips it.
    """

    factor: Array
    bearing_deg: Array
    margin_cm: Array
    nudge_g: Array

    @property
    def stands(self) -> Flags:
        """Whether it stands."""
        return np.asarray(self.factor > 1.0)


def circle(radius_cm: float) -> Ellipse:
    """A round foot."""
    return Ellipse(radius_cm, radius_cm)


def rectangle(width_cm: float, depth_cm: float) -> Polygon:
    """A rectangular foot with its sides along x and y."""
    x, y = width_cm / 2, depth_cm / 2
    return Polygon(((-x, -y), (x, -y), (x, y), (-x, y)))


def bodies(g: npt.ArrayLike, place_cm: npt.ArrayLike) -> Bodies:
    """Bodies gathered into one along the last axis: masses (…, k) at places (…, k, 2)."""
    mass = np.asarray(g, dtype=float)
    moment = np.sum(mass[..., None] * np.asarray(place_cm, dtype=float), axis=-2)
    return Bodies(np.sum(mass, axis=-1), moment)


def together(*parts: Bodies) -> Bodies:
    """Several bodies as one."""
    g = np.asarray(sum(part.g for part in parts), dtype=float)
    return Bodies(g, np.asarray(sum(part.moment_g_cm for part in parts), dtype=float))


def tipping(
    foot: Foot,
    base: Bodies,
    load: Bodies,
    *,
    top_cm: npt.ArrayLike = 1.0,
    size: npt.ArrayLike = 1.0,
) -> Tipping:
    """How far a base with its load is from tipping over the edge of its foot.

    `top_cm`: height of the top above the table, where it is nudged. `size` multiplies the foot's
    measures (for a foot that is only roughly known).
    """
    scale = np.asarray(size, dtype=float)
    base = Bodies(base.g, base.moment_g_cm / scale[..., None])
    load = Bodies(load.g, load.moment_g_cm / scale[..., None])
    whole_g = base.g + load.g
    centre = (base.moment_g_cm + load.moment_g_cm) / whole_g[..., None]
    factor, outward = _leaves(foot, base, load)
    margin, nearest = _margin(foot, centre)
    # Where nothing overturns, the direction is that of the nearest edge.
    outward = np.where(np.isfinite(factor)[..., None], outward, nearest)
    margin = margin * scale
    nudge = whole_g * np.maximum(margin, 0.0) / np.asarray(top_cm, dtype=float)
    bearing = np.degrees(np.arctan2(outward[..., 0], outward[..., 1])) % 360.0
    return Tipping(factor, np.asarray(bearing), margin, np.asarray(nudge))


def _leaves(foot: Foot, base: Bodies, load: Bodies) -> tuple[Array, Array]:
    """The load factor, and the outward normal of the edge where the centre leaves the foot."""
    if isinstance(foot, Polygon):
        return _leaves_polygon(foot, base, load)
    return _leaves_ellipse(foot, base, load)


def _leaves_ellipse(foot: Ellipse, base: Bodies, load: Bodies) -> tuple[Array, Array]:
    """In coordinates over the half measures the foot is the unit circle, and the centre is on its
    edge where |B + λ·S|² = (M + λ·m)²: base moment B and mass M, load moment S and mass m.
    """
    half = np.array([foot.half_width_cm, foot.half_depth_cm])
    b, s = base.moment_g_cm / half, load.moment_g_cm / half
    square = np.sum(s**2, axis=-1) - load.g**2
    cross = np.sum(b * s, axis=-1) - base.g * load.g
    rest = np.sum(b**2, axis=-1) - base.g**2
    factor = _positive_root(square, cross, rest)
    at = np.where(np.isfinite(factor), factor, 0.0)[..., None]
    edge = (b + at * s) / (base.g + at[..., 0] * load.g)[..., None]
    normal = edge / half
    return factor, _unit(normal)


def _positive_root(square: Array, cross: Array, rest: Array) -> Array:
    """The positive root of square·λ² + 2·cross·λ + rest = 0 where square > 0; else infinite.

    0 where the base alone is on or outside the edge (rest ≥ 0). With square ≤ 0 the load's own
    centre is inside the foot: no direction overturns.
    """
    tips = square > 0
    safe = np.where(tips, square, 1.0)
    root = np.sqrt(np.maximum(cross**2 - safe * rest, 0.0))
    # The two forms of the root, each without loss of digits.
    low = -rest / np.where(cross + root > 0, cross + root, 1.0)
    factor = np.where(cross > 0, low, (root - cross) / safe)
    return np.asarray(np.where(rest >= 0, 0.0, np.where(tips, factor, np.inf)))


def _leaves_polygon(foot: Polygon, base: Bodies, load: Bodies) -> tuple[Array, Array]:
    """The least of rest over overturning moment over the sides."""
    normal, reach = _sides(foot)
    rest = base.g[..., None] * reach - base.moment_g_cm @ normal.T
    over = load.moment_g_cm @ normal.T - load.g[..., None] * reach
    rest, over = np.broadcast_arrays(np.maximum(rest, 0.0), over)
    factor = np.where(over > 0, rest / np.where(over > 0, over, 1.0), np.inf)
    factor = np.where(rest == 0, 0.0, factor)
    first = np.argmin(factor, axis=-1)
    return np.take_along_axis(factor, first[..., None], axis=-1)[..., 0], normal[first]


def _sides(foot: Polygon) -> tuple[Array, Array]:
    """Outward normals (k, 2) and distances from the middle (k) of a polygon's sides."""
    corners = np.array(foot.corners_cm, dtype=float)
    side = np.roll(corners, -1, axis=0) - corners
    turn = np.sum(
        corners[:, 0] * np.roll(corners[:, 1], -1) - np.roll(corners[:, 0], -1) * corners[:, 1]
    )
    normal = _unit(np.stack([side[:, 1], -side[:, 0]], axis=-1) * np.sign(turn))
    return normal, np.sum(normal * corners, axis=-1)


def _margin(foot: Foot, centre: Array) -> tuple[Array, Array]:
    """How far inside the edge a point is (negative: outside), and the nearest edge's normal."""
    if isinstance(foot, Polygon):
        normal, reach = _sides(foot)
        inside = reach - centre @ normal.T
        first = np.argmin(inside, axis=-1)
        return np.take_along_axis(inside, first[..., None], axis=-1)[..., 0], normal[first]
    if foot.half_width_cm == foot.half_depth_cm:
        return foot.half_width_cm - np.hypot(centre[..., 0], centre[..., 1]), _unit(centre)
    return _margin_ellipse(foot, centre)


def _margin_ellipse(foot: Ellipse, centre: Array) -> tuple[Array, Array]:
    """The least of `reach of the ellipse − reach of the point` over all directions."""
    width = 2 * np.pi / DIRECTIONS
    turned = np.zeros(centre.shape[:-1])
    fan = np.arange(DIRECTIONS) * width
    for _ in range(REFINEMENTS):
        angles = turned[..., None] + fan
        inside = _inside(foot, centre, angles)
        best = np.argmin(inside, axis=-1)
        turned = np.take_along_axis(angles, best[..., None], axis=-1)[..., 0]
        fan, width = np.linspace(-width, width, 21), width / 10
    normal = np.stack([np.cos(turned), np.sin(turned)], axis=-1)
    return _inside(foot, centre, turned[..., None])[..., 0], normal


def _inside(foot: Ellipse, centre: Array, angles: Array) -> Array:
    across, away = np.cos(angles), np.sin(angles)
    reach = np.hypot(foot.half_width_cm * across, foot.half_depth_cm * away)
    return np.asarray(reach - centre[..., :1] * across - centre[..., 1:] * away)


def _unit(step: Array) -> Array:
    """Steps as unit vectors; straight away from the viewer where there is no step."""
    length = np.hypot(step[..., 0], step[..., 1])
    none = length < 1e-12
    unit = step / np.where(none, 1.0, length)[..., None]
    return np.asarray(np.where(none[..., None], np.array([0.0, 1.0]), unit))
