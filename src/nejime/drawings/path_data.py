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

GRAIN_MM = 0.04  # [own] finer than the dots of an office printer: 25.4 / 600

Spot = tuple[float, float]
Grid = tuple[int, int]


class _Writer:
    """Letters and numbers with as little between them as the grammar allows."""

    def __init__(self) -> None:
        self.parts: list[str] = []
        self.letter = ""
        self.follows = False

    def go(self, letter: str, numbers: Sequence[int]) -> None:
        """One step of the path."""
        if letter != self.letter:
            self.parts.append(letter)
            self.letter, self.follows = letter, False
        for each in numbers:
            self.parts.append(f" {each}" if self.follows and each >= 0 else str(each))
            self.follows = True


def grains(length_mm: float) -> int:
    """A length in whole grains."""
    return round(length_mm / GRAIN_MM)


def path_data(
    points: Sequence[Spot], curved: bool, closed: bool, corners: frozenset[int] = frozenset()
) -> str:
    """The `d` of one outline."""
    grid = [(grains(x), grains(y)) for x, y in points]
    writer = _Writer()
    writer.go("M", grid[0])
    if curved and len(grid) > 2:
        _curves(writer, grid, closed, corners)
    else:
        for (x, y), (x2, y2) in itertools.pairwise(grid):
            if (x, y) != (x2, y2):
                writer.go("l", (x2 - x, y2 - y))
    return "".join(writer.parts) + ("z" if closed else "")


def _curves(writer: _Writer, grid: Sequence[Grid], closed: bool, corners: frozenset[int]) -> None:
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
        back = (round(x2 - (after[0] - x) / 6) - x, round(y2 - (after[1] - y) / 6) - y)
        if index and index not in corners:
            writer.go("s", (*back, x2 - x, y2 - y))
        else:
            out = (round((x2 - before[0]) / 6), round((y2 - before[1]) / 6))
            writer.go("c", (*out, *back, x2 - x, y2 - y))
