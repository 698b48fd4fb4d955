"""The line of a stem in space: straight as its numbers say, with its bow.

Model: a bow is a parabola over the straight line from start to end, in the plane in which the stem
leans, so that its end turns up.
Frame: the house frame; see `basis.angles`.
"""

from __future__ import annotations

from nejime.basis.angles import Point, line
from nejime.forms.stems import Stem

CURVE_POINTS = 13  # [own] enough for a bow that is smooth at arm's length


def stem_curve(stem: Stem) -> tuple[Point, ...]:
    """The stem from its lower end to its free end; the part above the start is a parabola."""
    x, y, z = line(stem.stands_deg, stem.bearing_deg)
    # Square to the stem, in the plane of its lean: out to the side to which it leans, so that the
    # end turns up; a hanging stem arches over and falls.
    square = 90.0 if stem.stands_deg < 90.0 else -90.0
    out = line(stem.stands_deg + square, stem.bearing_deg)
    points = [] if stem.foot == stem.start else [stem.foot]
    for step in range(CURVE_POINTS):
        share = step / (CURVE_POINTS - 1)
        along = share * stem.length_cm
        off = 4 * share * (1 - share) * stem.bow_cm
        points.append(
            Point(
                stem.start.x_cm + along * x + off * out[0],
                stem.start.y_cm + along * y + off * out[1],
                stem.start.z_cm + along * z + off * out[2],
            )
        )
    return tuple(points)
