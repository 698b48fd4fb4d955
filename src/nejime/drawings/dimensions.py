"""Dimension lines, arcs of lean and arrows.

Model: a dimension line is a hairline with short slanting strokes at its ends. An arc of lean goes
from the upright to the straight line of a stem as one sees it; its number is the true lean.
Frame: paper millimetres, y down; angles on paper from the upright, positive to the right.
"""

from __future__ import annotations

import math

from nejime.drawings import lettering
from nejime.drawings.labels import Label
from nejime.drawings.svg import HAIR_MM, INK, Mark, Path, Spot

TICK_MM = 0.7  # [own] half of a slanting stroke at the end of a dimension line
ARROW_MM = 1.9  # [own]

DASHES: dict[str, tuple[float, ...]] = {  # [own] so that stems differ without colour
    "first": (),
    "second": (2.2, 0.9),
    "third": (2.6, 0.8, 0.25, 0.8),
    "helper": (0.9, 0.8),
    "heart": (0.25, 0.8),
    "leaf": (0.25, 1.3),
}
WEIGHTS_MM: dict[str, float] = {  # [own] in plan
    "first": 0.5,
    "second": 0.42,
    "third": 0.42,
    "helper": 0.25,
    "heart": 0.3,
    "leaf": 0.22,
}


def line_kind(stem_id: str, role: str) -> str:
    """Which dash pattern and weight a stem has: main stems their own, others by role."""
    return stem_id if role == "main" else role


def dimension(
    start: Spot, stop: Spot, text: str, wish: Spot, size_pt: float = lettering.LEAST_PT
) -> tuple[tuple[Mark, ...], Label]:
    """A dimension line between two points and its label."""
    marks: list[Mark] = [Path((start, stop), width_mm=HAIR_MM)]
    for x, y in (start, stop):
        marks.append(
            Path(((x - TICK_MM, y + TICK_MM), (x + TICK_MM, y - TICK_MM)), width_mm=HAIR_MM * 1.8)
        )
    middle = ((start[0] + stop[0]) / 2, (start[1] + stop[1]) / 2)
    return tuple(marks), Label((text,), middle, size_pt, wish=wish, leads=False)


def arc_points(centre: Spot, radius_mm: float, from_deg: float, to_deg: float) -> list[Spot]:
    """Points of an arc between two angles from the upright."""
    steps = max(4, int(abs(to_deg - from_deg) / 4))
    points = []
    for step in range(steps + 1):
        angle = math.radians(from_deg + (to_deg - from_deg) * step / steps)
        points.append(
            (centre[0] + radius_mm * math.sin(angle), centre[1] - radius_mm * math.cos(angle))
        )
    return points


def meets(centre: Spot, radius_mm: float, start: Spot, stop: Spot) -> float | None:
    """The angle from the upright at which a line from `start` to `stop` leaves a circle."""
    dx, dy = stop[0] - start[0], stop[1] - start[1]
    px, py = start[0] - centre[0], start[1] - centre[1]
    a, b = dx * dx + dy * dy, px * dx + py * dy
    c = px * px + py * py - radius_mm**2
    under = b * b - a * c
    if a < 1e-9 or under < 0:
        return None
    share = (-b + math.sqrt(under)) / a
    if not 0.0 <= share <= 1.0:
        return None
    return math.degrees(math.atan2(px + share * dx, -(py + share * dy)))


def lean_arc(
    centre: Spot,
    radius_mm: float,
    to_deg: float,
    text: str,
    size_pt: float = lettering.LEAST_PT,
    dash: tuple[float, ...] = (),
) -> tuple[tuple[Mark, ...], Label]:
    """An arc from the upright, with an arrow's head at the stem, and its label."""
    points = arc_points(centre, radius_mm, 0.0, to_deg)
    marks: list[Mark] = [Path(tuple(points), curved=True, width_mm=HAIR_MM, dash=dash)]
    if abs(to_deg) * math.pi / 180 * radius_mm > 2.0:
        marks.append(arrow_head(points[-2], points[-1], 1.3))
    middle = math.radians(to_deg / 2)
    spots = [points[round(share * (len(points) - 1))] for share in (0.5, 0.3, 0.7, 0.85)]
    out = (math.sin(middle), -math.cos(middle))
    return tuple(marks), Label((text,), spots[0], size_pt, wish=out, also=tuple(spots[1:]))


def arrow_head(before: Spot, tip: Spot, long_mm: float = ARROW_MM, colour: str = INK) -> Path:
    """A slim solid arrow's head that ends at `tip`."""
    angle = math.atan2(tip[1] - before[1], tip[0] - before[0])
    sides = []
    for off in (-0.3, 0.3):
        sides.append(
            (
                tip[0] - long_mm * math.cos(angle + off),
                tip[1] - long_mm * math.sin(angle + off),
            )
        )
    return Path((tip, *sides), closed=True, fill=colour, stroke=None)
