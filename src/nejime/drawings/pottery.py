"""The vessel, its water and its pin holder, seen from the side and from above.

Model: from the side everything stands at its true height; only the rim is opened into a slim
ellipse (a slim trapezium for a rectangle), as if one looked down a very little, so that one sees
that stems come out of it. What stands behind the wall is drawn light and dashed.
Frame: paper millimetres; see `views`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.basis.angles import Point
from nejime.drawings import brush
from nejime.drawings.scene import HolderShape, Ring, Scene, VesselShape
from nejime.drawings.svg import (
    FINE_MM,
    HAIR_MM,
    INK,
    LINE_MM,
    PAPER,
    SOFT,
    WASH,
    Disc,
    Mark,
    Path,
    Spot,
)
from nejime.drawings.views import Projection

OPENED = 0.085  # [own] how far the rim is opened, over its half width
BACK_EDGE = 0.965  # [own] the back edge of a rectangle over its front edge
ARC_POINTS = 15
HIDDEN_DASH = (0.9, 0.7)
TABLE_REACH = 0.22  # [own] how far the table's line goes beyond the vessel, over its width
HATCHES = 9  # [own] strokes of shadow


@dataclass(frozen=True, slots=True)
class Pot:
    """A vessel in two layers: what stems cover, and what covers stems."""

    behind: tuple[Mark, ...]
    front: tuple[Mark, ...]


def _half(ring: Ring, projection: Projection) -> float:
    return projection.half_cm(ring.half_x_cm, ring.half_y_cm)


def _spot(projection: Projection, across_cm: float, z_cm: float) -> Spot:
    """A point of the silhouette: so far to the right of the middle, at a height."""
    k = projection.mm_per_cm
    return projection.x_mm + k * across_cm, projection.y_mm - k * z_cm


def _arc(middle: Spot, half_mm: float, rise_mm: float, lower: bool) -> list[Spot]:
    """Half an ellipse from its left end to its right."""
    sign = 1.0 if lower else -1.0
    return [
        (
            middle[0] - half_mm * math.cos(math.pi * step / (ARC_POINTS - 1)),
            middle[1] + sign * rise_mm * math.sin(math.pi * step / (ARC_POINTS - 1)),
        )
        for step in range(ARC_POINTS)
    ]


def opened_mm(vessel: VesselShape, projection: Projection) -> float:
    """How far the rim's front and back lie below and above its true height on paper."""
    half = _half(vessel.rim, projection) * projection.mm_per_cm
    return min(OPENED * half, 0.22 * vessel.rim.z_cm * projection.mm_per_cm)


def _rim(vessel: VesselShape, projection: Projection, ring: Ring) -> tuple[list[Spot], list[Spot]]:
    """Front and back edge of an outline at the rim's height, each from left to right."""
    half = _half(ring, projection) * projection.mm_per_cm
    rise = (
        opened_mm(vessel, projection)
        * half
        / (_half(vessel.rim, projection) * projection.mm_per_cm)
    )
    middle = _spot(projection, 0.0, vessel.rim.z_cm)
    if vessel.corner_cm is None:
        return _arc(middle, half, rise, True), _arc(middle, half, rise, False)
    up = opened_mm(vessel, projection) - rise
    front = [(middle[0] - half, middle[1] - up), (middle[0] + half, middle[1] - up)]
    back_y, back = middle[1] - 2 * rise - up, half * BACK_EDGE
    return front, [(middle[0] - back, back_y), (middle[0] + back, back_y)]


def _sides(vessel: VesselShape, projection: Projection) -> tuple[list[Spot], list[Spot]]:
    left = [_spot(projection, -_half(ring, projection), ring.z_cm) for ring in vessel.outside]
    right = [_spot(projection, _half(ring, projection), ring.z_cm) for ring in vessel.outside]
    return left, right


def _bottom(vessel: VesselShape, projection: Projection) -> list[Spot]:
    foot = vessel.outside[0]
    half = _half(foot, projection) * projection.mm_per_cm
    middle = _spot(projection, 0.0, 0.0)
    if vessel.corner_cm is not None:
        return [(middle[0] + half, middle[1]), (middle[0] - half, middle[1])]
    share = half / (_half(vessel.rim, projection) * projection.mm_per_cm)
    dip = opened_mm(vessel, projection) * share * 0.6
    return _arc(middle, half, dip, True)[::-1]


def pot(vessel: VesselShape, projection: Projection) -> Pot:
    """The vessel from the side, standing on the table."""
    front_in, back_in = _rim(vessel, projection, vessel.mouth)
    front_out, back_out = _rim(vessel, projection, vessel.rim)
    left, right = _sides(vessel, projection)
    body = _body(vessel, projection, left, right)
    behind: list[Mark] = [
        *_table(vessel, projection),
        Path(
            tuple(back_out + front_out[::-1]),
            curved=vessel.corner_cm is None,
            closed=True,
            fill=PAPER,
            stroke=INK,
            width_mm=LINE_MM * 0.8,
            corners=frozenset((0, len(back_out) - 1, len(back_out), 2 * len(back_out) - 1)),
        ),
        Path(
            tuple(back_in),
            curved=vessel.corner_cm is None,
            stroke=INK,
            width_mm=FINE_MM,
        ),
    ]
    face = left[::-1][:1] + front_in + right[::-1][:1] + front_out[::-1]
    front: list[Mark] = [
        body,
        Path(tuple(face), closed=True, fill=PAPER, stroke=None),
        Path(tuple(front_in), curved=vessel.corner_cm is None, stroke=INK, width_mm=FINE_MM),
        Path(tuple(front_out), curved=vessel.corner_cm is None, stroke=INK, width_mm=LINE_MM),
        *_hatching(vessel, projection),
    ]
    if vessel.corner_cm is not None:
        front += [
            Path((front_out[side], back_out[side]), stroke=INK, width_mm=LINE_MM * 0.8)
            for side in (0, 1)
        ]
    return Pot(tuple(behind), tuple(front))


def through_the_wall(scene: Scene, projection: Projection) -> tuple[Mark, ...]:
    """Water and pin holder behind the wall."""
    return (*_water(scene, projection), *_holder(scene, projection))


def _body(vessel: VesselShape, projection: Projection, left: list[Spot], right: list[Spot]) -> Path:
    front = _rim(vessel, projection, vessel.rim)[0]
    points = left + front[1:-1] + right[::-1] + _bottom(vessel, projection)[1:-1]
    walls = len(vessel.inside)
    feet = len(left) - walls
    smooth = vessel.curved
    keep = set(range(len(left)))
    if smooth:
        # A bowl has its ring or the edge of its foot, the rest is one sweep.
        keep = {0, 1, len(left) - 1} | ({feet} if feet == 2 else set())
    first_right = len(left) + max(0, len(front) - 2)
    keep |= {first_right + len(right) - 1 - index for index in keep}
    return Path(
        tuple(points),
        curved=True,
        closed=True,
        fill=PAPER,
        stroke=INK,
        width_mm=LINE_MM,
        corners=frozenset(keep),
    )


def _table(vessel: VesselShape, projection: Projection) -> list[Mark]:
    """The table's line, left and right of the foot, and a stand where there is one."""
    k = projection.mm_per_cm
    half = _half(vessel.outside[0], projection)
    widest = projection.half_cm(*vessel.widest)
    marks: list[Mark] = []
    table = 0.0
    if vessel.stand_cm > 0:
        table = -vessel.stand_cm
        broad = widest * 1.08
        corners = [(-broad, 0.0), (broad, 0.0), (broad, table), (-broad, table)]
        marks.append(
            Path(
                tuple(_spot(projection, x, z) for x, z in corners),
                closed=True,
                fill=WASH,
                width_mm=FINE_MM,
            )
        )
        half = broad
    reach = max(TABLE_REACH * 2 * widest, 4.0 / k)
    for side in (-1.0, 1.0):
        start = _spot(projection, side * (half + 0.6 / k), table)
        stop = _spot(projection, side * (max(half, widest * 0.9) + reach), table)
        line = brush.part_of((start, stop), 0.0, 1.0, 5)
        marks.append(brush.swelling(line, 0.3, INK, 7))
    return marks


def _hatching(vessel: VesselShape, projection: Projection) -> list[Mark]:
    """Short strokes of shadow low on the right-hand side of the wall."""
    low, high = vessel.inside[0].z_cm, vessel.rim.z_cm
    marks: list[Mark] = []
    for number in range(HATCHES):
        across = 0.9 - 0.055 * number
        bottom = low + (high - low) * 0.12
        top = bottom + (high - low) * (0.5 - 0.04 * number)
        spots = []
        for z in (bottom, (bottom + top) / 2, top):
            half = projection.half_cm(*vessel.inside_at(z))
            spots.append(_spot(projection, half * (across + 0.02 * (z - bottom)), z))
        marks.append(Path(tuple(spots), curved=True, stroke=SOFT, width_mm=HAIR_MM))
    return marks


def _water(scene: Scene, projection: Projection) -> list[Mark]:
    z = scene.water_z_cm
    if z <= scene.vessel.inside[0].z_cm + 0.05:
        return []
    half = projection.half_cm(*scene.vessel.inside_at(z))
    marks: list[Mark] = [
        Path(
            (_spot(projection, -half, z), _spot(projection, half, z)),
            stroke=SOFT,
            width_mm=HAIR_MM * 1.2,
            dash=HIDDEN_DASH,
        )
    ]
    # Two short strokes under the line: the usual sign for a water level.
    x, y = _spot(projection, -half * 0.55, z)
    for number, long_mm in enumerate((1.6, 0.8), start=1):
        down = y + 0.5 * number
        marks.append(
            Path(((x - long_mm / 2, down), (x + long_mm / 2, down)), stroke=SOFT, width_mm=HAIR_MM)
        )
    return marks


PLATE_OF_HOLDER = 0.35  # [own] the plate's share of a pin holder's height
PIN_GAP_CM = 0.55  # [own] pins are drawn this far apart; real ones stand closer


def _holder(scene: Scene, projection: Projection) -> list[Mark]:
    held = scene.holder
    if held is None:
        return []
    middle = projection.view.right[0] * held.x_cm + projection.view.right[1] * held.y_cm
    half = projection.half_cm(held.holder.width_cm / 2, held.holder.depth_cm / 2)
    floor = held.floor_z_cm
    plate = floor + PLATE_OF_HOLDER * held.holder.height_cm
    corners = [(-half, floor), (-half, plate), (half, plate), (half, floor)]
    marks: list[Mark] = [
        Path(
            tuple(_spot(projection, middle + x, z) for x, z in corners),
            closed=True,
            stroke=SOFT,
            width_mm=HAIR_MM * 1.2,
            dash=HIDDEN_DASH,
        )
    ]
    gap = max(PIN_GAP_CM, 0.9 / projection.mm_per_cm)
    pins = max(3, int(2 * half / gap))
    for pin in range(pins):
        x = middle - half + (pin + 0.5) * 2 * half / pins
        foot, point = _spot(projection, x, plate), _spot(projection, x, held.top_z_cm)
        marks.append(Path((foot, point), stroke=SOFT, width_mm=HAIR_MM))
    return marks


# From above


def plan_outline(
    vessel: VesselShape, projection: Projection, ring: Ring, count: int = 36
) -> tuple[Spot, ...]:
    """An outline of the vessel seen from above."""
    a, b = ring.half_x_cm, ring.half_y_cm
    if vessel.corner_cm is None:
        angles = [2 * math.pi * step / count for step in range(count)]
        return tuple(
            projection.at(Point(a * math.cos(t), b * math.sin(t), ring.z_cm)) for t in angles
        )
    corner = min(max(vessel.corner_cm + a - vessel.mouth.half_x_cm, 0.15), a, b)
    points = []
    for quarter, (sx, sy) in enumerate(((1, 1), (-1, 1), (-1, -1), (1, -1))):
        for step in range(5):
            angle = math.pi / 2 * (quarter + step / 4)
            x = sx * (a - corner) + corner * math.cos(angle)
            y = sy * (b - corner) + corner * math.sin(angle)
            points.append(projection.at(Point(x, y, ring.z_cm)))
    return tuple(points)


def pot_from_above(scene: Scene, projection: Projection) -> tuple[Mark, ...]:
    """Rim, water and pin holder seen from above."""
    vessel = scene.vessel
    curved = vessel.corner_cm is None

    def ring(outline: Ring, width_mm: float) -> Path:
        points = plan_outline(vessel, projection, outline)
        return Path(points, curved=curved, closed=True, width_mm=width_mm)

    wide = max(vessel.outside, key=lambda outline: outline.half_x_cm)
    marks: list[Mark] = []
    if wide.half_x_cm > vessel.rim.half_x_cm + 0.1:
        marks.append(ring(wide, FINE_MM))
    marks += [ring(vessel.rim, LINE_MM), ring(vessel.mouth, FINE_MM)]
    marks += _ripples(scene, projection)
    if scene.holder is not None:
        marks += holder_from_above(scene.holder, projection)
    return tuple(marks)


def _ripples(scene: Scene, projection: Projection) -> list[Mark]:
    """The edge of the water, and three strokes on it."""
    vessel = scene.vessel
    z = scene.water_z_cm
    if z <= vessel.inside[0].z_cm + 0.05:
        return []
    half_x, half_y = vessel.inside_at(z)
    marks: list[Mark] = []
    if half_x < vessel.mouth.half_x_cm - 0.3:
        edge = plan_outline(vessel, projection, Ring(z, half_x, half_y))
        marks.append(
            Path(
                edge,
                curved=vessel.corner_cm is None,
                closed=True,
                stroke=SOFT,
                width_mm=HAIR_MM,
            )
        )
    away = -1.0 if scene.holder is None or scene.holder.x_cm > 0 else 1.0
    up = -1.0 if scene.holder is not None and scene.holder.y_cm > 0 else 1.0
    middle = projection.at(Point(away * half_x * 0.42, up * half_y * 0.35, z))
    reach = min(half_x, half_y) * projection.mm_per_cm
    for row, (shift, long) in enumerate(((0.0, 0.42), (0.16, 0.62), (-0.1, 0.3))):
        y = middle[1] + (row - 1) * reach * 0.11
        start = middle[0] + shift * reach - long * reach / 2
        line = [
            (start + long * reach * step / 6, y + 0.25 * math.sin(math.pi * step / 3))
            for step in range(7)
        ]
        marks.append(Path(tuple(line), curved=True, stroke=SOFT, width_mm=HAIR_MM))
    return marks


def holder_from_above(held: HolderShape, projection: Projection) -> tuple[Mark, ...]:
    """The pin holder from above: its edge and its pins."""
    k = projection.mm_per_cm
    middle = projection.at(Point(held.x_cm, held.y_cm, held.floor_z_cm))
    half_x, half_y = held.holder.width_cm / 2, held.holder.depth_cm / 2
    marks: list[Mark] = []
    if held.holder.rectangular:
        x, y = middle
        a, b = half_x * k, half_y * k
        corners = ((x - a, y - b), (x + a, y - b), (x + a, y + b), (x - a, y + b))
        marks.append(Path(corners, closed=True, fill=WASH, width_mm=FINE_MM))
    else:
        marks.append(Disc(middle, half_x * k, fill=WASH, width_mm=FINE_MM))
    gap = max(PIN_GAP_CM * k, 0.85)
    across, deep = int(half_x * k / gap), int(half_y * k / gap)
    for row in range(-deep, deep + 1):
        for column in range(-across, across + 1):
            x, y = column * gap, row * gap
            if not held.holder.rectangular and math.hypot(x, y) > half_x * k - 0.5:
                continue
            marks.append(Disc((middle[0] + x, middle[1] + y), 0.12, fill=SOFT, stroke=None))
    return tuple(marks)
