"""Where there is ink, as points: along lines, and inside areas.

Shapes: points are (n, 2), in paper millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Spot = tuple[float, float]


def points_along(
    starts: Sequence[Spot] | Array, stops: Sequence[Spot] | Array, step_mm: float
) -> Array:
    """Points along straight pieces, no farther apart than a step."""
    low, high = np.asarray(starts, dtype=float), np.asarray(stops, dtype=float)
    steps = high - low
    counts = np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / step_mm).astype(int) + 1
    index = np.repeat(np.arange(len(steps)), counts)
    inside = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
    share = (inside / np.maximum(counts[index] - 1, 1))[:, None]
    found: Array = low[index] + share * steps[index]
    return found


def points_inside(corners: Array, step_mm: float) -> Array:
    """Points of a square grid inside a polygon, by the even-odd rule."""
    (left, top), (right, bottom) = corners.min(axis=0), corners.max(axis=0)
    x, y = np.meshgrid(
        np.arange(left + step_mm / 2, right, step_mm), np.arange(top + step_mm / 2, bottom, step_mm)
    )
    nexts = np.roll(corners, -1, axis=0)
    odd = np.zeros(x.shape, dtype=bool)
    for (ax, ay), (bx, by) in zip(corners, nexts, strict=True):
        if ay != by:
            odd ^= ((ay <= y) != (by <= y)) & (x < ax + (y - ay) / (by - ay) * (bx - ax))
    return np.stack([x[odd], y[odd]], axis=1)


def area_mm2(points: Sequence[Spot]) -> float:
    """Area of a polygon."""
    pairs = zip(points, (*points[1:], points[0]), strict=True)
    return abs(sum(x * y2 - x2 * y for (x, y), (x2, y2) in pairs)) / 2
