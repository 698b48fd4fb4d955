"""Where to begin the fit: cameras from the rim alone, the card from its markers, stems from rays.

Model: a round rim gives each camera up to a turn about the upright. The first view's camera stands
in front; another's turn is taken from the card where both show it, else from trying all the way
round and keeping the turns at which the stems' rays meet best. A rectangular rim gives each camera
whole, once it is known which corner was marked first.
Frame: the house frame.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from nejime.basis.errors import refuse
from nejime.photo.asked import Rim
from nejime.photo.beforehand import PINS_HEIGHT_SPREAD_CM
from nejime.photo.camera import Floats
from nejime.photo.circle import circle_poses
from nejime.photo.ellipse import fitted_ellipse
from nejime.photo.plane import PlanePose, plane_poses
from nejime.photo.problem import Seen
from nejime.photo.sight import Ray, on_level
from nejime.photo.turning import about_upright

UP_IN_PICTURE = 0.35  # [own] how far a rim's upright may point down in a picture
STEPS = 90  # [own] turns tried for a second picture
TRIED = 4  # [own] of those that are better than the turns beside them, so many are begun from
FRONT_DEG = 60.0  # [own] the first view of a rectangle is from its front, give or take
LIKELY_DEG = 30.0  # [own] spread of where it is taken from
PLACED_TIMES = 2.0  # [own] cameras placed by the rim alone make marks so much less sure
WORST = 400.0  # [own] a pair of rays that misses by 20 spreads says no more than that


@dataclass(frozen=True, slots=True)
class Placed:
    """A camera: rotation (house frame to camera's) and centre in cm."""

    rotation: Floats
    centre: Floats

    def turned(self, angle_rad: float) -> Placed:
        """The camera walked round the vessel, anticlockwise from above."""
        turn = about_upright(angle_rad)
        return Placed(self.rotation @ turn.T, turn @ self.centre)

    def rays(self, marks: Floats, focal_px: float) -> Ray:
        """The lines of sight of marks (n, 2), pixels from the middle."""
        ahead = np.concatenate([marks / focal_px, np.ones((len(marks), 1))], axis=-1)
        told = ahead @ self.rotation
        return self.centre, told / np.linalg.norm(told, axis=-1, keepdims=True)


def round_camera(view: Seen, rim: Rim) -> tuple[Placed, ...]:
    """The camera in front of a round rim, likeliest first: its upright points up in the picture.

    Raises `InputError` where the marks lie on no ellipse.
    """
    ellipse = fitted_ellipse(view.rim)
    poses = circle_poses(ellipse, view.focal_px, np.zeros(2), rim.width_cm / 2.0)
    ordered = sorted(poses, key=lambda pose: float(pose[1][1]))
    upright = [pose for pose in ordered if pose[1][1] < UP_IN_PICTURE]
    return tuple(_in_front(centre, normal, rim) for centre, normal in upright or ordered[:1])


def _in_front(centre: Floats, normal: Floats, rim: Rim) -> Placed:
    away = centre - normal * (centre @ normal)
    size = float(np.linalg.norm(away))
    if size < 1e-9:  # straight from above: away is up in the picture
        away = np.array([0.0, -1.0, 0.0]) + normal * normal[1]
        size = float(np.linalg.norm(away))
    away = away / size
    rotation = np.stack([np.cross(away, normal), away, normal], axis=-1)
    return Placed(rotation, np.array([0.0, 0.0, rim.height_cm]) - rotation.T @ centre)


def rectangle_corners(rim: Rim) -> Floats:
    """The corners (4, 2): front left, front right, back right, back left."""
    half = np.array([rim.width_cm, rim.depth_cm]) / 2.0
    return np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]]) * half


def same_way_round(marks: Floats) -> Floats:
    """Four marks, anticlockwise as seen from above, beginning at the same one."""
    x, y = marks.T
    area = float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y))
    return marks if area < 0.0 else marks[[0, 3, 2, 1]]


def rectangle_camera(view: Seen, rim: Rim, firsts: tuple[int, ...]) -> tuple[Placed, int]:
    """The camera before a rectangular rim, and which corner was marked first (one of `firsts`).

    Raises `InputError` where the corners are no picture of a rectangle seen from above.
    """
    in_front = len(firsts) > 1  # the picture that tells what the front is
    found = [
        (_cost(pose, view, in_front), first, pose)
        for first in firsts
        for pose in _rim_poses(view, np.roll(rectangle_corners(rim), -first, axis=0))
        if not in_front or _off_front_deg(pose) <= FRONT_DEG
    ]
    if not found:
        raise refuse("corners", "photo.corners-no-rectangle", "photo.corners-no-rectangle-try")
    _, first, pose = min(found, key=lambda each: each[0])
    return Placed(pose.rotation, pose.camera + np.array([0.0, 0.0, rim.height_cm])), first


def _rim_poses(view: Seen, corners: Floats) -> list[PlanePose]:
    """The poses of a rim that is seen from above and stands upright in the picture."""
    poses = plane_poses(corners, view.rim, view.focal_px, np.zeros(2))
    return [
        each for each in poses if each.camera[2] >= 0.0 and each.rotation[1, 2] <= UP_IN_PICTURE
    ]


def _cost(pose: PlanePose, view: Seen, in_front: bool) -> float:
    """How unlikely a pose is: squares of spreads."""
    misfit = (pose.misfit_px / view.click_px) ** 2
    return misfit + (_off_front_deg(pose) / LIKELY_DEG) ** 2 if in_front else misfit


def _off_front_deg(pose: PlanePose) -> float:
    """How far from the front of the rim a camera stands."""
    x, y, _ = pose.camera
    return abs(math.degrees(math.atan2(x, -y)))


def card_place(view: Seen, placed: Placed) -> Floats:
    """The card's middle (x, y in cm) and its turn, from where its markers' rays meet the table."""
    on_table = on_level(placed.rays(view.card, view.focal_px), 0.0)[:, :2]
    middle, own = on_table.mean(axis=0), view.card_cm.mean(axis=0)
    step, flat = on_table - middle, view.card_cm - own
    turn = math.atan2(
        float(np.sum(flat[:, 0] * step[:, 1] - flat[:, 1] * step[:, 0])),
        float(np.sum(flat * step)),
    )
    return np.array([*(middle - about_upright(turn)[:2, :2] @ own), turn])


def turns_of_second(
    first: tuple[Seen, Placed], second: tuple[Seen, Placed], feet: Floats, feet_spread: Floats
) -> tuple[tuple[float, float], ...]:
    """The turns of the second camera at which the stems' rays meet best, as (cost, radians)."""
    angles = np.linspace(-math.pi, math.pi, STEPS, endpoint=False)
    cost = _ends_apart(first, second, angles) + _feet_apart(
        first, second, angles, feet, feet_spread
    )
    lowest = np.flatnonzero((cost <= np.roll(cost, 1)) & (cost <= np.roll(cost, -1)))
    chosen = lowest[np.argsort(cost[lowest], kind="stable")][:TRIED]
    return tuple((float(cost[each]), float(angles[each])) for each in chosen)


def _both(one: Floats, other: Floats) -> npt.NDArray[np.intp]:
    return np.flatnonzero(np.isfinite(one[:, 0]) & np.isfinite(other[:, 0]))


def _ends_apart(first: tuple[Seen, Placed], second: tuple[Seen, Placed], angles: Floats) -> Floats:
    """How far the ends' rays pass one another, in spreads squared, for each turn."""
    (one, at), (two, start) = first, second
    both = _both(one.tip, two.tip)
    _, ray = at.rays(one.tip[both], one.focal_px)
    turn = about_upright(angles)
    other = np.einsum("aij,nj->ani", turn, start.rays(two.tip[both], two.focal_px)[1])
    step = np.einsum("aij,j->ai", turn, start.centre) - at.centre
    across = np.cross(ray[None], other)
    square = np.maximum(np.sum(across**2, axis=-1), 1e-6)
    miss = np.abs(np.einsum("ai,ani->an", step, across)) / np.sqrt(square)
    along = np.einsum("ani,ani->an", np.cross(step[:, None, :], other), across) / square
    behind = along <= 0.0
    depth = float(np.linalg.norm(at.centre))
    spreads = miss * one.focal_px / (depth * one.click_px * PLACED_TIMES)
    cost: Floats = np.sum(np.where(behind, WORST, np.minimum(spreads**2, WORST)), axis=-1)
    return cost


def _feet_apart(
    first: tuple[Seen, Placed],
    second: tuple[Seen, Placed],
    angles: Floats,
    feet: Floats,
    feet_spread: Floats,
) -> Floats:
    """How far the feet's rays meet the pins' plane from one another, for each turn."""
    (one, at), (two, start) = first, second
    both = _both(one.base, two.base)
    here = on_level(at.rays(one.base[both], one.focal_px), feet[both, 2])
    there = on_level(start.rays(two.base[both], two.focal_px), feet[both, 2])
    turned = np.einsum("aij,nj->ani", about_upright(angles)[:, :2, :2], there[:, :2])
    depth = float(np.linalg.norm(at.centre))
    unsure = depth * PLACED_TIMES * one.feet_px / one.focal_px + PINS_HEIGHT_SPREAD_CM
    spreads = np.sum((turned - here[:, :2]) ** 2, axis=-1) / unsure**2
    told = np.flatnonzero(np.isfinite(two.base[:, 0]) & ~np.isfinite(one.base[:, 0]))
    alone = on_level(start.rays(two.base[told], two.focal_px), feet[told, 2])
    placed = np.einsum("aij,nj->ani", about_upright(angles)[:, :2, :2], alone[:, :2])
    off = np.sum(((placed - feet[told, :2]) / (feet_spread[told, :2] + unsure)) ** 2, axis=-1)
    cost: Floats = np.sum(np.minimum(spreads, WORST), axis=-1)
    cost += np.sum(np.minimum(off, WORST), axis=-1)
    return cost
