"""How a stem of a scene is held: from its own frame into the house frame, and what it sees.

Model: a stem's good side is turned to the viewer's shoulder as far as its lean lets it; `roll_deg`
turns it on about its chord. In a piece that opens to the left the stem is the mirror of its twin.
Frame: stem-local in (chord +z, good side -y), the house frame out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.basis.angles import line
from nejime.drawings.scene import Standing
from nejime.drawings.skeleton.stem import Stance
from nejime.drawings.skeleton.vectors import Vec, cross, dot, minus, square_to, times, turned, unit

SHOULDER: Vec = unit((0.0, -0.94, 0.34))  # [own] a seated viewer looks down a little
UP: Vec = (0.0, 0.0, 1.0)
PLACES = 3  # [own] decimals of a stance, so that like stems share a skeleton


@dataclass(frozen=True, slots=True)
class Pose:
    """A stem's own directions in the house frame."""

    x: Vec
    y: Vec
    z: Vec

    def own(self, vector: Vec) -> Vec:
        """A direction of the house frame as the stem sees it."""
        found = (dot(vector, self.x), dot(vector, self.y), dot(vector, self.z))
        return tuple(round(each, PLACES) + 0.0 for each in found)  # type: ignore[return-value]


def pose(standing: Standing) -> Pose:
    """How a stem is held."""
    stem = standing.stem
    return held(stem.stands_deg, stem.bearing_deg, standing.look.roll_deg, standing.chirality)


def held(tilt_deg: float, bearing_deg: float, roll_deg: float, chirality: float) -> Pose:
    """How a stem with these angles is held; `chirality` is -1 in a piece that opens to the left."""
    z = line(tilt_deg, bearing_deg)
    front = turned(square_to(z, SHOULDER), z, roll_deg * chirality)
    y = times(front, -1.0)
    return Pose(times(cross(y, z), chirality), y, z)


def stance(standing: Standing, held: Pose) -> Stance:
    """What the stem sees: up, the viewer's shoulder, its bow, how far it is in the vessel."""
    curve = standing.curve[-CURVE:]
    middle = curve[len(curve) // 2]
    first, last = curve[0], curve[-1]
    half_way = times((first[0] + last[0], first[1] + last[1], first[2] + last[2]), 0.5)
    bow = minus((middle[0], middle[1], middle[2]), half_way)
    return Stance(
        held.own(UP),
        held.own(SHOULDER),
        held.own(bow),
        math.ceil(standing.bare * 50) / 50,
        standing.look.off,
    )


CURVE = 13  # points of the curve above the stem's start; see `scene.stem_curve`
