"""What can be measured of a piece's outline, to describe it and never to grade it.

Model: an outline is a boolean picture (rows, columns), true where there is something. A pixel is a
square of side 1, so the outline's area and that of its hull are counted alike.
Source: the distance of the centre of mass from the frame's centre [hubner2016], here over half the
frame's diagonal; solidity is a standard measure of shape.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from nejime.photo.asked import Pixel, Rim
from nejime.photo.camera import Camera, Floats
from nejime.photo.ghost import rim_outline, seen_px
from nejime.photo.triangle import doubled_area

Outline = npt.NDArray[np.bool_]
Box = tuple[float, float, float, float]
"""Left, top, right, bottom in pixels."""

COLUMNS = 240  # [own] an outline's width; its measures change by under 1 % with twice as many
THICK = 0.012  # [own] of a stem, over the diagonal of the frame
AROUND = 0.08  # [own] white around the outline, over the frame's longer side
LEAST_PX = 1.0  # [own] a frame's least side


@dataclass(frozen=True, slots=True)
class Composition:
    """An outline in its frame. `off_percent`: how far its centre of mass is from the middle, over
    half the diagonal; `across` and `up`: the same in halves of the frame's width and height.

    `mirror`: how much of it falls on itself when left and right change places; `solid`: its area
    over its hull's; `empty`: the share of the frame where there is nothing.
    """

    off_percent: float
    across: float
    up: float
    mirror: float
    solid: float
    empty: float


def composition(outline: Outline) -> Composition:
    """The measures of an outline. Raises `ValueError` where there is nothing in it."""
    if not outline.any():
        raise ValueError("an empty outline")
    across, up = off_centre(outline)
    return Composition(
        off_percent=off_percent(outline),
        across=across,
        up=up,
        mirror=mirror(outline),
        solid=solidity(outline),
        empty=1.0 - float(outline.mean()),
    )


def off_centre(outline: Outline) -> tuple[float, float]:
    """Where the centre of mass is, to the right of the middle and above it, in halves."""
    high, wide = outline.shape
    rows, columns = np.nonzero(outline)
    return (
        float(columns.mean() - (wide - 1) / 2.0) / (wide / 2.0),
        -float(rows.mean() - (high - 1) / 2.0) / (high / 2.0),
    )


def off_percent(outline: Outline) -> float:
    """Distance of the centre of mass from the frame's centre, over half its diagonal."""
    high, wide = outline.shape
    across, up = off_centre(outline)
    return 100.0 * math.hypot(across * wide, up * high) / math.hypot(wide, high)


def mirror(outline: Outline) -> float:
    """How much of an outline is also there when left and right change places."""
    return float((outline & outline[:, ::-1]).sum() / outline.sum())


def solidity(outline: Outline) -> float:
    """An outline's area over the area of its convex hull."""
    return float(outline.sum()) / area(hull(_corners(outline)))


def _corners(outline: Outline) -> list[Pixel]:
    """The corners of the first and the last pixel of every row: the hull needs no others."""
    found: list[Pixel] = []
    for row in np.flatnonzero(outline.any(axis=1)):
        columns = np.flatnonzero(outline[row])
        for x in (float(columns[0]), float(columns[-1]) + 1.0):
            found += [(x, float(row)), (x, float(row) + 1.0)]
    return found


def hull(points: Iterable[Pixel]) -> list[Pixel]:
    """The convex hull, once around."""
    ordered = sorted(set(points))

    def half(run: Iterable[Pixel]) -> list[Pixel]:
        kept: list[Pixel] = []
        for point in run:
            while len(kept) > 1 and doubled_area(kept[-2], kept[-1], point) <= 0.0:
                kept.pop()
            kept.append(point)
        return kept[:-1]

    return half(ordered) + half(reversed(ordered))


def area(polygon: Sequence[Pixel]) -> float:
    """The area within a polygon."""
    around = zip(polygon, [*polygon[1:], *polygon[:1]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in around)) / 2.0


# Drawing an outline


def silhouettes(pieces: Sequence[Sequence[Any]], rim: Rim, camera: Camera) -> list[Outline]:
    """Outlines of pieces in one frame that holds them all: lines of one thickness, the rim filled.

    `pieces`: of each its stems' lines, points (n, 3) in cm.
    """
    lines = [[np.array(seen_px(line, camera)) for line in piece] for piece in pieces]
    lines = [[line for line in piece if len(line) > 1] for piece in lines]
    around = np.array(rim_outline(rim, camera))
    if not len(around):
        return []
    box = frame(np.vstack([around, *itertools.chain.from_iterable(lines)]))
    return [drawn(piece, around, box) for piece in lines]


def frame(points_px: Floats) -> Box:
    """The frame around points, with white on all sides."""
    low, high = points_px.min(axis=0), points_px.max(axis=0)
    more = AROUND * max(float((high - low).max()), LEAST_PX)
    return (
        float(low[0]) - more,
        float(low[1]) - more,
        float(high[0]) + more,
        float(high[1]) + more,
    )


def drawn(lines: Sequence[Floats], rim: Floats, box: Box, columns: int = COLUMNS) -> Outline:
    """Lines of a thickness and a filled rim as an outline."""
    left, top, right, bottom = box
    scale = columns / (right - left)
    rows = max(1, math.ceil((bottom - top) * scale))
    spots = np.stack(np.meshgrid(np.arange(columns) + 0.5, np.arange(rows) + 0.5), axis=-1)
    found = _within((rim - (left, top)) * scale, spots)
    half = THICK * math.hypot(columns, rows) / 2.0
    for line in lines:
        for start, stop in itertools.pairwise((line - (left, top)) * scale):
            found |= _away(start, stop, spots) <= half
    return found


def _within(polygon: Floats, spots: Floats) -> Outline:
    """Which spots are inside a polygon: an upright through them crosses its sides oddly often."""
    inside = np.zeros(spots.shape[:2], dtype=bool)
    x, y = spots[..., 0], spots[..., 1]
    for (x1, y1), (x2, y2) in zip(polygon, np.roll(polygon, -1, axis=0), strict=True):
        if y1 == y2:
            continue
        crosses = (y1 > y) != (y2 > y)
        inside ^= crosses & (x < x1 + (y - y1) * (x2 - x1) / (y2 - y1))
    return inside


def _away(start: Floats, stop: Floats, spots: Floats) -> Floats:
    """How far spots are from a straight piece."""
    way = stop - start
    along = (spots - start) @ way / max(float(way @ way), 1e-12)
    nearest = start + np.clip(along, 0.0, 1.0)[..., None] * way
    away: Floats = np.linalg.norm(spots - nearest, axis=-1)
    return away
