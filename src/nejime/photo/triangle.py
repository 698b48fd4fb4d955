"""The triangle of the three main ends: how uneven it is, and whether it is the one that was meant.

Model: corners are places in a plane; a triangle is known by its sides.
Source: the radius ratio is a standard measure of shape.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

EVEN = 0.08  # [own] a triangle is uneven where no two sides are nearer, over the longest
ALIKE = 0.05  # [own] sides of two triangles that are alike differ by less, over the way round

Corner = Sequence[float]
Corners = Sequence[Corner]


def sides(a: Corner, b: Corner, c: Corner) -> tuple[float, float, float]:
    """The sides of a triangle, the shortest first."""
    short, middle, long = sorted((math.dist(a, b), math.dist(b, c), math.dist(c, a)))
    return short, middle, long


def radius_ratio(a: Corner, b: Corner, c: Corner) -> float:
    """Twice the inscribed over the circumscribed circle's radius: 1 where all sides are equal."""
    p, q, r = sides(a, b, c)
    half = (p + q + r) / 2.0
    squared = max(0.0, half * (half - p) * (half - q) * (half - r))
    return 8.0 * squared / (half * p * q * r) if p > 0.0 else 0.0


def unevenness(a: Corner, b: Corner, c: Corner) -> float:
    """The smallest difference between two sides over the longest: 0 where two are equal."""
    found = sides(a, b, c)
    if found[2] <= 0.0:
        return 0.0
    return min(later - earlier for earlier, later in itertools.pairwise(found)) / found[2]


def alike(one: Corners, other: Corners) -> bool:
    """Whether two triangles go the same way round, each side with its share of it."""
    if doubled_area(*one) * doubled_area(*other) <= 0.0:
        return False
    return all(abs(a - b) <= ALIKE for a, b in zip(_shares(*one), _shares(*other), strict=True))


def doubled_area(a: Corner, b: Corner, c: Corner) -> float:
    """Twice a triangle's area, negative where its corners go round clockwise (y up)."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _shares(a: Corner, b: Corner, c: Corner) -> list[float]:
    """Each side's share of the way round."""
    lengths = [math.dist(a, b), math.dist(b, c), math.dist(c, a)]
    return [each / sum(lengths) for each in lengths]
