"""A stem from one picture and its straight length: two ends on the same line of sight.

Model: the end lies on the ray of its mark, at the known distance from the foot. Beside the point of
the ray that is nearest to the foot (p away from it) there are two such places, ±√(L² - p²) along
the ray. Cameras, marks and feet are drawn from what the fit leaves open; along the ray every place
is as likely as any other (as directions all round are), weighed by how well its distance agrees
with the length. Near p = L the two run together and the answer is one, and wide.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from nejime.photo.beforehand import LENGTH_SPREAD_CM
from nejime.photo.camera import Floats, straightened
from nejime.photo.problem import Seen, State
from nejime.photo.sight import Ray, on_level

PLACES = 64  # [own] tried along the ray
REACH = 4.0  # [own] spreads beyond the told length
TABLE_CM = -0.5  # [own] no stem's end lies deeper in the table than a slip of the hand
RUN_TOGETHER = 0.35  # [own] the nearest 2.5 % of a side lie within this share of its middle
LEAST_LIKELY = 0.02  # [own] a side that so few draws allow is none
DISAGREES = 3.0  # [own] spreads by which the picture shows more than the length


@dataclass(frozen=True, slots=True)
class Ends:
    """Draws of a stem's foot (n, 3) and its end (n, 3), with their weights (n,)."""

    foot: Floats
    end: Floats
    weight: Floats

    @property
    def line(self) -> Floats:
        """From foot to end (n, 3)."""
        return self.end - self.foot


@dataclass(frozen=True, slots=True)
class Sides:
    """What one picture leaves: the end nearer to the camera, the end farther from it.

    `together`: nothing lies between the two. `too_short`: the picture shows a longer stem than was
    told. A side that is impossible is None.
    """

    nearer: Ends | None
    farther: Ends | None
    together: bool
    too_short: bool


def ray_draws(number: int, state: State, marks: Floats) -> Ray:
    """Camera centres (n, 3) and unit rays (n, 3) of marks (n, 2), a mark a draw."""
    flat = straightened(marks, state.focal[:, number, None], state.k1[:, None])
    ahead = np.concatenate([flat, np.ones((len(flat), 1))], axis=-1)
    told = np.einsum("ni,nij->nj", ahead, state.rotation[:, number])
    return state.centre[:, number], told / np.linalg.norm(told, axis=-1, keepdims=True)


def mark_draws(mark: Floats, spread_px: float, count: int, chance: np.random.Generator) -> Floats:
    """Where a mark (2,) may have been meant to be (count, 2)."""
    return mark + spread_px * chance.standard_normal((count, 2))


def foot_draws(
    view: Seen,
    number: int,
    state: State,
    stem: int,
    feet: tuple[Floats, Floats],
    chance: np.random.Generator,
    noise: float,
) -> tuple[Floats, Floats]:
    """Draws of a foot (n, 3), and how well each agrees (n,) with where the pins are."""
    middle, spread = feet
    count = len(state.k1)
    told = middle + spread * chance.standard_normal((count, 3))
    if not np.isfinite(view.base[stem, 0]):
        return told, np.ones(count)
    marks = mark_draws(view.base[stem], noise * view.feet_px, count, chance)
    foot = on_level(ray_draws(number, state, marks), told[:, 2])
    off = np.sum(((foot - middle)[:, :2] / spread[:2]) ** 2, axis=-1)
    return foot, np.exp(-0.5 * off)


def sphere_depth(square_cm2: Floats, length_cm: Floats | float) -> Floats:
    """How far (±) from the ray's nearest point its places at a distance are; NaN: none.

    `square_cm2`: the square of the nearest point's distance from the foot.
    """
    left = np.square(length_cm) - square_cm2
    depth: Floats = np.sqrt(np.where(left >= 0.0, left, np.nan))
    return depth


def sides(
    foot: tuple[Floats, Floats],
    ray: Ray,
    length_cm: float,
    chance: np.random.Generator,
) -> Sides:
    """The ends that a picture and a length allow.

    `foot`: draws and their weights; `ray`: camera centres and unit directions.
    """
    start, weight = foot
    centre, along = ray
    step = centre - start
    back = np.sum(step * along, axis=-1)
    nearest = centre - back[:, None] * along
    square = np.sum((nearest - start) ** 2, axis=-1)
    missing = float(np.median(np.sqrt(square))) - length_cm
    too_short = missing > DISAGREES * LENGTH_SPREAD_CM
    spread = max(LENGTH_SPREAD_CM, missing / 2.0)
    depth, likely = _depths(square, length_cm, spread, chance)
    if not np.any(likely * weight > 0.0):
        depth, likely = np.zeros(len(square)), np.ones(len(square))
        too_short = True
    nearer, farther = (
        _allowed(start, nearest + side * depth[:, None] * along, weight * likely)
        for side in (-1.0, 1.0)
    )
    return Sides(nearer, farther, _together(depth, weight * likely), too_short)


def _depths(
    square: Floats, length_cm: float, spread: float, chance: np.random.Generator
) -> tuple[Floats, Floats]:
    """A depth for every draw, and how likely the draw is (the length's evidence)."""
    furthest = np.nan_to_num(sphere_depth(square, length_cm + REACH * spread))
    share = (np.arange(PLACES) + 0.5) / PLACES
    tried = furthest[:, None] * share
    gap = np.sqrt(square[:, None] + tried**2) - length_cm
    likely = np.exp(-0.5 * (gap / spread) ** 2)
    whole = np.sum(likely, axis=-1)
    mark = chance.random(len(square)) * whole
    chosen = np.argmax(np.cumsum(likely, axis=-1) >= mark[:, None], axis=-1)
    within = (chance.random(len(square)) - 0.5) / PLACES
    depth = np.abs(furthest * (share[chosen] + within))
    return depth, whole * furthest / PLACES


def _allowed(foot: Floats, end: Floats, weight: Floats) -> Ends | None:
    kept = weight * (end[:, 2] > TABLE_CM)
    if not np.sum(kept) > LEAST_LIKELY * np.sum(weight):
        return None
    return Ends(foot, end, kept)


def _together(depth: Floats, weight: Floats) -> bool:
    order = np.argsort(depth)
    share = np.cumsum(weight[order])
    if not share[-1] > 0.0:
        return True
    share = share / share[-1]
    near, middle = (float(depth[order][np.searchsorted(share, each)]) for each in (0.025, 0.5))
    return near < RUN_TOGETHER * middle
