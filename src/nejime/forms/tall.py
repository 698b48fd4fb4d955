"""Stems in a tall vase: where they lean over the mouth, and where they come to rest inside.

Model: a stem lies over the edge of the mouth, half its thickness inside, and rests on the inner
wall on the other side, or on the floor if that comes first. The wall is where the vessel's profile
has it: a stem in a body wider than the mouth goes further than in a cylinder.
Source: plane geometry. How far it must dip under the water: Averill (1913).
"""

from __future__ import annotations

import math

from nejime.basis.angles import Point, line
from nejime.forms.vessel import Vessel, to_edge_cm

STEM_CM = 1.0  # [own] thickness of a branch in a tall vase: between pencil and little finger
DIP_CM = 2.5  # [averill1913] an inch under the water at least, ch. 4 p. 47, rounded
STEPS = 60  # [own] halvings: far below the width of a hair


def at_mouth(vessel: Vessel, bearing_deg: float) -> Point:
    """The point of the mouth over which a stem leans, half its thickness inside the rim."""
    way = vessel.to_rim_cm(0.0, 0.0, bearing_deg) - STEM_CM / 2
    x, y, _ = line(90.0, bearing_deg)
    return Point(way * x, way * y, vessel.height_cm)


def vase_span_cm(vessel: Vessel, bearing_deg: float, depth_cm: float = 0.0) -> float:
    """Horizontal way of a stem from the mouth to the opposite inner wall, at a depth below it."""
    half_x, half_y = vessel.half_at(vessel.inside_cm - depth_cm)
    behind = to_edge_cm(half_x, half_y, None, (0.0, 0.0), bearing_deg + 180.0)
    return vessel.to_rim_cm(0.0, 0.0, bearing_deg) + behind - STEM_CM


def vase_tilt_deg(span_cm: float, depth_cm: float) -> float:
    """The tilt of a stem that leans over the mouth and rests `depth_cm` below it on the wall."""
    return math.degrees(math.atan2(span_cm, depth_cm))


def in_vase_cm(vessel: Vessel, tilt_deg: float, bearing_deg: float) -> float:
    """Length inside a tall vase: to the opposite wall, or to the floor if that comes first."""
    tilt = math.radians(tilt_deg)
    low, high = 0.0, vessel.inside_cm
    if high * math.tan(tilt) > vase_span_cm(vessel, bearing_deg, high):
        for _ in range(STEPS):
            depth = (low + high) / 2
            reached = depth * math.tan(tilt) >= vase_span_cm(vessel, bearing_deg, depth)
            low, high = (low, depth) if reached else (depth, high)
    return high / math.cos(tilt)


def lowest_in_vase_deg(vessel: Vessel, water_cm: float, bearing_deg: float) -> float:
    """The lowest lean of a straight stem whose end still dips under the water."""
    depth = min(max(vessel.inside_cm - water_cm, 0.0) + DIP_CM, vessel.inside_cm)
    return vase_tilt_deg(vase_span_cm(vessel, bearing_deg, depth), depth)
