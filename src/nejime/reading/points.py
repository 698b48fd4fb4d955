"""Points that were marked in a picture: whether they can be a rim, or its corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from nejime.photo.asked import Pixel

SAME_PX = 0.5  # [own] points nearer to each other are one point


def apart(points: Sequence[Pixel]) -> list[Pixel]:
    """The points without those that lie on another."""
    kept: list[Pixel] = []
    for each in points:
        if all(math.dist(each, other) >= SAME_PX for other in kept):
            kept.append(each)
    return kept


def crossing(corners: Sequence[Pixel]) -> bool:
    """Whether the way round four corners crosses itself: it turns twice to each side."""
    turns = []
    for at in range(len(corners)):
        (x0, y0), (x1, y1), (x2, y2) = (corners[(at + step) % len(corners)] for step in range(3))
        turns.append((x1 - x0) * (y2 - y1) > (y1 - y0) * (x2 - x1))
    return sum(turns) == len(corners) // 2


def flatness(points: Sequence[Pixel]) -> float:
    """How wide the points lie across their longest direction, over how wide along it."""
    count = len(points)
    mean_x, mean_y = (sum(each[axis] for each in points) / count for axis in (0, 1))
    xx = sum((x - mean_x) ** 2 for x, _ in points)
    yy = sum((y - mean_y) ** 2 for _, y in points)
    xy = sum((x - mean_x) * (y - mean_y) for x, y in points)
    half, spread = (xx + yy) / 2.0, math.hypot((xx - yy) / 2.0, xy)
    return math.sqrt(max(half - spread, 0.0) / (half + spread)) if half > 0 else 0.0
