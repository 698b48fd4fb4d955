"""Outlines of plants as the shortest path data: many small curves in one drawing.

Model: points in whole grains (`GRAIN_MM`), so that no number has a point and rounding never adds
up; smooth curves by the Catmull-Rom rule, whose pieces join evenly, so that each but the first is
told by two points.
Source: Scalable Vector Graphics (SVG) 1.1, section 8.3: `s` mirrors the last control point; a
number may follow another without a space where it begins with a sign.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

GRAIN_MM = 0.07  # [own] under a dot of a 300 dpi printer: 25.4 / 300 = 0.085

Spot = tuple[float, float]
Grid = tuple[int, int]


def grains(length_mm: float) -> int:
    """A length in whole grains."""
    return round(length_mm / GRAIN_MM)


def _told(letter: str, numbers: Sequence[int]) -> str:
    """One letter and its numbers, with as little between them as the grammar allows."""
    return letter + " ".join(map(str, numbers)).replace(" -", "-")


def path_data(
    points: Sequence[Spot], curved: bool, closed: bool, corners: frozenset[int] = frozenset()
) -> str:
    """The `d` of one outline."""
    grid = [(round(x / GRAIN_MM), round(y / GRAIN_MM)) for x, y in points]
    start = _told("M", grid[0])
    if curved and len(grid) > 2:
        return start + _curves(grid, closed, corners) + ("z" if closed else "")
    steps: list[int] = []
    for (x, y), (x2, y2) in itertools.pairwise(grid):
        if x != x2 or y != y2:
            steps += (x2 - x, y2 - y)
    return start + (_told("l", steps) if steps else "") + ("z" if closed else "")


def _curves(grid: Sequence[Grid], closed: bool, corners: frozenset[int]) -> str:
    parts: list[str] = []
    letter = ""
    run: list[int] = []
    count = len(grid)
    for index in range(count if closed else count - 1):
        x, y = grid[index]
        x2, y2 = grid[(index + 1) % count]
        before = grid[index - 1] if (closed or index) else (x, y)
        after = grid[(index + 2) % count] if (closed or index + 2 < count) else (x2, y2)
        if index in corners:
            before = (x, y)
        if (index + 1) % count in corners:
            after = (x2, y2)
        ends = (
            round(x2 - (after[0] - x) / 6) - x,
            round(y2 - (after[1] - y) / 6) - y,
            x2 - x,
            y2 - y,
        )
        wanted = "s" if index and index not in corners else "c"
        if wanted != letter:
            if run:
                parts.append(_told(letter, run))
            letter, run = wanted, []
        if wanted == "c":
            run += (round((x2 - before[0]) / 6), round((y2 - before[1]) / 6))
        run += ends
    return "".join(parts) + _told(letter, run)
