"""Stems and shoots as they are drawn: wood as a brush stroke, green stems with two edges.

Model: the area along a projected line at half its breadth to both sides. Old wood has knots and an
edge that is never straight, with a dry streak where the brush ran out; a jointed stem has rings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from nejime.drawings.ink.outlines import Array
from nejime.drawings.skeleton.axes import Axis
from nejime.drawings.svg import LINE, WHITE, Path, Spot

LEAST_MM = 0.17  # [own] a thinner end breaks up on an office printer
THIN_MM = 0.42  # [own] a green stem thinner than this is one line
OFF_MM = 0.12  # [own] a bend flatter than this is not seen
STRETCH_MM = 6.0  # [own] but a stem keeps a point so often, for its uneven edge
SOFT_MM = 0.26  # [own]
EDGE_MM = 0.16  # [own]
DRY_MM = 1.1  # [own] wood broader than this shows a dry streak
ROUGH = {True: 0.17, False: 0.06}  # [own] of old and of young wood, over its breadth


def axis_shapes(axis: Axis, points: Array, mm_per_cm: float, low: float) -> Iterator[Path]:
    """The shapes of one axis, from the share `low` of its points on."""
    first = round(low * (len(points) - 1))
    spots: list[Spot] = [(x, y) for x, y in points[first:].tolist()]
    halves = [max(LEAST_MM / 2, radius * mm_per_cm) for radius in axis.radii_cm[first:]]
    if len(spots) < 2 or math.dist(spots[0], spots[-1]) + len(spots) < 2.2:
        return
    if len(spots) == 2 or (2 * max(halves) < THIN_MM and (axis.foot_share >= 0 or not axis.woody)):
        yield Path(tuple(spots), len(spots) > 2, False, None, LINE, _line_mm(axis, halves[0]))
        return
    spots, halves = _thinned(spots, halves)
    if axis.woody:
        yield from _wood(axis, spots, halves)
        return
    left, right = _sides(spots, halves)
    outline = (*left, *right[::-1])
    count = len(left)
    sharp = frozenset((0, count - 1, count, 2 * count - 1))
    yield Path(outline, True, True, WHITE, LINE, EDGE_MM, (), sharp)
    if axis.joint_cm:
        yield from _joints(axis, spots, halves, axis.length_cm)


def _thinned(spots: Sequence[Spot], halves: Sequence[float]) -> tuple[list[Spot], list[float]]:
    """Without the points that lie on the line between their neighbours, as far as can be seen."""
    kept = [0]
    for index in range(1, len(spots) - 1):
        (ax, ay), (x, y), (bx, by) = spots[kept[-1]], spots[index], spots[index + 1]
        long = math.hypot(bx - ax, by - ay) or 1.0
        off = abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / long
        if off > OFF_MM or math.dist(spots[kept[-1]], (x, y)) > STRETCH_MM:
            kept.append(index)
    kept.append(len(spots) - 1)
    return [spots[index] for index in kept], [halves[index] for index in kept]


def _line_mm(axis: Axis, half_mm: float) -> float:
    """A fine stem is one line; a green one is never as black as wood."""
    most = 1.2 if axis.woody else SOFT_MM
    return round(min(most, max(LEAST_MM, 2 * half_mm)), 2)


def _sides(spots: Sequence[Spot], halves: Sequence[float]) -> tuple[list[Spot], list[Spot]]:
    left: list[Spot] = []
    right: list[Spot] = []
    last = len(spots) - 1
    for index, (x, y) in enumerate(spots):
        (ax, ay), (bx, by) = spots[max(0, index - 1)], spots[min(last, index + 1)]
        long = math.hypot(bx - ax, by - ay) or 1.0
        across = (-(by - ay) / long * halves[index], (bx - ax) / long * halves[index])
        left.append((x + across[0], y + across[1]))
        right.append((x - across[0], y - across[1]))
    return left, right


def _wood(axis: Axis, spots: Sequence[Spot], halves: Sequence[float]) -> Iterator[Path]:
    rough = ROUGH[axis.old]
    one = [h * (1 + rough * math.sin(2.7 * i + 0.4)) for i, h in enumerate(halves)]
    other = [h * (1 + rough * math.sin(3.9 * i + 2.1)) for i, h in enumerate(halves)]
    left, _ = _sides(spots, one)
    _, right = _sides(spots, other)
    # The cut end is a slant; the tip is drawn out.
    yield Path(
        (*left, *right[::-1]),
        not axis.old,
        True,
        LINE,
        None,
        0.0,
        (),
        frozenset((0, len(left) - 1, len(left), 2 * len(left) - 1)),
    )
    if 2 * halves[len(halves) // 4] > DRY_MM:
        yield from _dry(spots, halves)
    if axis.thorns:
        yield from _thorns(spots, halves)


def _dry(spots: Sequence[Spot], halves: Sequence[float]) -> Iterator[Path]:
    """White streaks where the brush ran dry: the light on the bark."""
    for start in range(2, len(spots) - 7, 5):
        part = range(start, start + 3)
        left, _ = _sides([spots[i] for i in part], [halves[i] * 0.3 for i in part])
        yield Path(tuple(left), True, False, None, WHITE, 0.14)


def _thorns(spots: Sequence[Spot], halves: Sequence[float]) -> Iterator[Path]:
    for index in range(3, len(spots) - 2, 4):
        left, right = _sides(spots[index : index + 2], halves[index : index + 2])
        foot, beyond = (left, spots[index + 1]) if index % 8 < 4 else (right, spots[index + 1])
        x, y = foot[0]
        out = (x - spots[index][0], y - spots[index][1])
        long = math.hypot(*out) or 1.0
        reach = 0.55 + halves[index] * 0.5
        up = (beyond[0] - spots[index][0], beyond[1] - spots[index][1])
        span = math.hypot(*up) or 1.0
        tip = (
            x + reach * (0.85 * out[0] / long + 0.4 * up[0] / span),
            y + reach * (0.85 * out[1] / long + 0.4 * up[1] / span),
        )
        base = (x + 0.4 * up[0] / span, y + 0.4 * up[1] / span)
        yield Path(((x, y), tip, base), False, True, LINE, LINE, 0.06)


def _joints(
    axis: Axis, spots: Sequence[Spot], halves: Sequence[float], long_cm: float
) -> Iterator[Path]:
    """Rings where a jointed stem has its nodes."""
    count = int(long_cm / axis.joint_cm)
    for joint in range(1, count + 1):
        place = joint * axis.joint_cm / long_cm * (len(spots) - 1)
        index = min(int(place), len(spots) - 2)
        left, right = _sides(
            spots[index : index + 2], [h * 1.15 for h in halves[index : index + 2]]
        )
        yield Path((left[0], right[0]), False, False, None, LINE, EDGE_MM)
