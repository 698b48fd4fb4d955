"""From where one looks, and where a point then lies on paper.

Model: parallel projection, at right angles to the paper; nothing gets smaller with distance.
Frame: the house frame (see `basis.angles`) in; paper millimetres out, x right, y down.
Source: a stem with tilt t and bearing b has the front view (sin t · sin b, cos t): its apparent
tilt is atan(tan t · |sin b|), its apparent length √(sin² t · sin² b + cos² t).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import Point, line

Side = Literal["front", "right", "teacher"]
Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class View:
    """A way of looking: what is to the right and up on paper, and what points to the eye."""

    right: Vector
    up: Vector
    eye: Vector


FRONT = View((1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, -1.0, 0.0))
FROM_THE_RIGHT = View((0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0))
# The teacher faces the class across the table: half a turn, so both sides change places.
TEACHER = View((-1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
PLAN = View((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
PLAN_TEACHER = View((-1.0, 0.0, 0.0), (0.0, -1.0, 0.0), (0.0, 0.0, 1.0))
SIDES: dict[Side, View] = {"front": FRONT, "right": FROM_THE_RIGHT, "teacher": TEACHER}


def _along(vector: Vector, point: tuple[float, float, float]) -> float:
    return vector[0] * point[0] + vector[1] * point[1] + vector[2] * point[2]


@dataclass(frozen=True, slots=True)
class Projection:
    """A view at a scale, with the place on paper of the frame's origin."""

    view: View
    mm_per_cm: float = 1.0
    x_mm: float = 0.0
    y_mm: float = 0.0

    def at(self, point: Point) -> tuple[float, float]:
        """Where a point lies on paper."""
        return (
            self.x_mm + self.mm_per_cm * _along(self.view.right, point),
            self.y_mm - self.mm_per_cm * _along(self.view.up, point),
        )

    def nearness_cm(self, point: Point) -> float:
        """How near a point is to the eye; larger is nearer."""
        return _along(self.view.eye, point)

    def half_cm(self, half_x_cm: float, half_y_cm: float) -> float:
        """Half the width, as seen, of something with these half measures left-right and deep."""
        return abs(self.view.right[0]) * half_x_cm + abs(self.view.right[1]) * half_y_cm


def apparent(view: View, tilt_deg: float, bearing_deg: float) -> tuple[float, float]:
    """Tilt on paper (signed, positive to the right) and length on paper over the true length."""
    stem = line(tilt_deg, bearing_deg)
    across, up = _along(view.right, stem), _along(view.up, stem)
    return math.degrees(math.atan2(across, up)), math.hypot(across, up)
