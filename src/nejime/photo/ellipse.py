"""An ellipse through marked points.

Model: the direct least-squares fit of a conic that is held to be an ellipse, in coordinates moved
to the points' middle and scaled to their spread.
Frame: pixels, x right, y down; the angle of the long axis turns from x towards y.
Source: Fitzgibbon, Pilu and Fisher 1999 [fitzgibbon1999].
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nejime.basis.errors import refuse
from nejime.photo.camera import Floats

FEWEST = 5
"""Points that decide an ellipse."""


@dataclass(frozen=True, slots=True)
class Ellipse:
    """An ellipse in a picture: its middle, its half axes and the angle of the longer one."""

    x: float
    y: float
    semi_major: float
    semi_minor: float
    angle_rad: float

    def conic(self) -> Floats:
        """The symmetric 3 × 3 matrix C with pᵀCp = 0 on the ellipse and < 0 inside."""
        turn = _turn(self.angle_rad)
        shape = turn @ np.diag([self.semi_major**-2.0, self.semi_minor**-2.0]) @ turn.T
        middle = np.array([self.x, self.y])
        step = -shape @ middle
        return np.block([[shape, step[:, None]], [step[None, :], middle @ shape @ middle - 1.0]])

    def points(self, count: int = 72) -> Floats:
        """Points (count, 2) right round it."""
        return self.at(right_round(count))

    def at(self, angle_rad: Floats) -> Floats:
        """Its points (n, 2) at angles (n,) of the circle that it is the picture of."""
        across, along = self.semi_major * np.cos(angle_rad), self.semi_minor * np.sin(angle_rad)
        own = np.stack([across, along], axis=-1)
        around: Floats = own @ _turn(self.angle_rad).T + np.array([self.x, self.y])
        return around

    def normals(self, angle_rad: Floats) -> Floats:
        """Unit vectors (n, 2) outwards at the same angles."""
        across, along = np.cos(angle_rad) / self.semi_major, np.sin(angle_rad) / self.semi_minor
        own = np.stack([across, along], axis=-1)
        turned: Floats = own / np.linalg.norm(own, axis=-1, keepdims=True) @ _turn(self.angle_rad).T
        return turned

    def angles(self, points: Floats) -> Floats:
        """The angles (n,) at which points (n, 2) lie round it."""
        own = (points - [self.x, self.y]) @ _turn(self.angle_rad)
        found: Floats = np.arctan2(own[:, 1] / self.semi_minor, own[:, 0] / self.semi_major)
        return found


def right_round(count: int) -> Floats:
    """Angles (count,) in even steps, in radians."""
    return np.linspace(0.0, 2.0 * math.pi, count, endpoint=False)


def fitted_ellipse(points: Sequence[tuple[float, float]] | Floats) -> Ellipse:
    """The ellipse nearest to at least five points (n, 2).

    Raises `InputError` at `rim` where the points lie on no ellipse (on a line, or on one another).
    """
    told = np.asarray(points, float).reshape(-1, 2)
    middle = told.mean(axis=0)
    spread = float(np.sqrt(np.mean((told - middle) ** 2)))
    if len(told) < FEWEST or not spread > 0.0:
        raise refuse("rim", "photo.rim-no-ellipse", "photo.rim-no-ellipse-try")
    x, y = ((told - middle) / spread).T
    squares = np.stack([x * x, x * y, y * y], axis=-1)
    straight = np.stack([x, y, np.ones_like(x)], axis=-1)
    try:
        carried = -np.linalg.solve(straight.T @ straight, straight.T @ squares)
        scatter = squares.T @ squares + squares.T @ straight @ carried
        vectors = np.linalg.eig(_HELD_TO_ELLIPSE @ scatter)[1]
    except np.linalg.LinAlgError:
        raise refuse("rim", "photo.rim-no-ellipse", "photo.rim-no-ellipse-try") from None
    vectors = np.real(vectors)
    held = 4.0 * vectors[0] * vectors[2] - vectors[1] ** 2
    if not np.any(held > 0.0):
        raise refuse("rim", "photo.rim-no-ellipse", "photo.rim-no-ellipse-try")
    chosen = vectors[:, int(np.argmax(np.where(held > 0.0, held, -np.inf)))]
    return _of_conic(np.concatenate([chosen, carried @ chosen]), middle, spread)


_HELD_TO_ELLIPSE = np.array([[0.0, 0.0, 0.5], [0.0, -1.0, 0.0], [0.5, 0.0, 0.0]])
"""The inverse of the matrix of the condition 4ac - b² = 1 on the squares' three coefficients."""


def _turn(angle: float) -> Floats:
    return np.array(
        [[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]], dtype=float
    )


def _of_conic(coefficients: Floats, middle: Floats, spread: float) -> Ellipse:
    """Half axes and angle of ax² + bxy + cy² + dx + ey + f = 0 in moved and scaled coordinates."""
    a, b, c, d, e, f = coefficients
    shape = np.array([[a, b / 2.0], [b / 2.0, c]])
    centre = np.linalg.solve(-2.0 * shape, [d, e])
    level = -(f + centre @ [d, e] / 2.0)
    values, axes = np.linalg.eigh(shape / level)
    if not np.all(values > 0.0) or not np.all(np.isfinite(values)):
        raise refuse("rim", "photo.rim-no-ellipse", "photo.rim-no-ellipse-try")
    long, short = spread / np.sqrt(values)
    at = middle + spread * centre
    angle = math.atan2(axes[1, 0], axes[0, 0])
    return Ellipse(float(at[0]), float(at[1]), float(long), float(short), angle)
