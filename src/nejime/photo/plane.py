"""Where a flat figure is, from four or more of its points in a picture.

Model: the points' plane is moved to its own middle, so its height above the table plays no part;
the homography from plane to picture gives the pose, and mirroring the plane's normal in the line of
sight gives the other pose that looks almost alike. Each is polished by Gauss-Newton.
Frame: the plane's x and y in cm as they lie in the house frame; the camera's x right, y down, z
away from it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nejime.photo.camera import Floats
from nejime.photo.turning import turned

ROUNDS = 12  # [own] of Gauss-Newton; it has settled after five or six
STEP = 1e-6  # [own] of the differences, in radians and in plane sizes


@dataclass(frozen=True, slots=True)
class PlanePose:
    """The rotation (house frame to camera), the plane's origin seen from the camera, the misfit."""

    rotation: Floats
    origin: Floats
    misfit_px: float

    @property
    def camera(self) -> Floats:
        """Where the camera is, seen from the plane's origin."""
        return -self.rotation.T @ self.origin


def plane_poses(
    plane: Sequence[tuple[float, float]] | Floats,
    pixels: Sequence[tuple[float, float]] | Floats,
    focal_px: float,
    middle_px: Floats,
) -> tuple[PlanePose, ...]:
    """The one or two poses of a plane whose points (n, 2) are seen at `pixels` (n, 2), best first.

    The misfit is the root mean square distance in pixels.
    """
    points = np.asarray(plane, float)
    shift = points.mean(axis=0)
    size = float(np.sqrt(np.mean((points - shift) ** 2)))
    own = (points - shift) / size
    seen = (np.asarray(pixels, float) - middle_px) / focal_px
    try:
        start = _from_homography(own, seen)
        starts = (start, _mirrored_in_sight(*start))
        polished = [_polished(own, seen, *each) for each in starts]
    except np.linalg.LinAlgError:
        return ()
    poses = [
        PlanePose(rotation, size * middle - rotation[:, :2] @ shift, focal_px * misfit)
        for rotation, middle, misfit in polished
        if np.isfinite(misfit) and middle[2] > 0.0
    ]
    return tuple(sorted(poses, key=lambda pose: pose.misfit_px))


def _from_homography(own: Floats, seen: Floats) -> tuple[Floats, Floats]:
    x, y = own.T
    u, v = seen.T
    one, none = np.ones_like(x), np.zeros_like(x)
    rows = np.concatenate(
        [
            np.stack([x, y, one, none, none, none, -u * x, -u * y, -u], axis=-1),
            np.stack([none, none, none, x, y, one, -v * x, -v * y, -v], axis=-1),
        ]
    )
    plane = np.linalg.svd(rows)[2][-1].reshape(3, 3)
    plane = plane * (1.0 if plane[2, 2] >= 0.0 else -1.0)
    plane = plane / np.sqrt(np.linalg.norm(plane[:, 0]) * np.linalg.norm(plane[:, 1]))
    third = np.cross(plane[:, 0], plane[:, 1])
    left, _, right = np.linalg.svd(np.stack([plane[:, 0], plane[:, 1], third], axis=-1))
    return left @ np.diag([1.0, 1.0, np.linalg.det(left @ right)]) @ right, plane[:, 2]


def _mirrored_in_sight(rotation: Floats, middle: Floats) -> tuple[Floats, Floats]:
    """The pose whose normal is the mirror of this one's in the line of sight."""
    sight = middle / np.linalg.norm(middle)
    normal = rotation[:, 2]
    other = 2.0 * (normal @ sight) * sight - normal
    axis, cosine = np.cross(normal, other), float(normal @ other)
    sine = float(np.linalg.norm(axis))
    turn = axis * (np.arctan2(sine, cosine) / sine) if sine > 0.0 else np.zeros(3)
    return turned(turn) @ rotation, middle


def _polished(
    own: Floats, seen: Floats, rotation: Floats, middle: Floats
) -> tuple[Floats, Floats, float]:
    flat = np.concatenate([own, np.zeros((len(own), 1))], axis=-1)
    at = np.concatenate([np.zeros(3), middle])

    def misfits(moves: Floats) -> Floats:
        where = flat @ np.swapaxes(turned(moves[..., :3]) @ rotation, -1, -2)
        where = where + moves[..., None, 3:]
        gaps: Floats = where[..., :2] / where[..., 2:] - seen
        return gaps.reshape(*gaps.shape[:-2], -1)

    for _ in range(ROUNDS):
        now = misfits(at)
        slope = (misfits(at + STEP * np.eye(6)) - now).T / STEP
        at = at - np.linalg.lstsq(slope, now, rcond=None)[0]
    left = misfits(at)
    return turned(at[:3]) @ rotation, at[3:], float(np.sqrt(2.0 * np.mean(left**2)))
