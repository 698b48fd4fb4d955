"""Outlines of plants as the shortest path data: many small curves in one drawing.

Model: points in whole grains (`GRAIN_MM`), so that no number has a point and rounding never adds
up; smooth curves as quadratic splines, which go through the middles between their control points,
so that each piece but the first is told by one point.
Source: Scalable Vector Graphics (SVG) 1.1, section 8.3: `t` mirrors the last control point; a
number may follow another without a space where it begins with a sign.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

GRAIN_MM = 0.07  # [own] under a dot of a 300 dpi printer: 25.4 / 300 = 0.085
PULL = 0.3  # [own] a spline stays inside its control points by a quarter of what each stands out

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
    end = "z" if closed else ""
    if curved and len(points) > 2:
        return _curve([(x / GRAIN_MM, y / GRAIN_MM) for x, y in points], closed, corners) + end
    grid = [(round(x / GRAIN_MM), round(y / GRAIN_MM)) for x, y in points]
    steps: list[int] = []
    for (x, y), (x2, y2) in itertools.pairwise(grid):
        if x != x2 or y != y2:
            steps += (x2 - x, y2 - y)
    return _told("M", grid[0]) + (_told("l", steps) if steps else "") + end


def _curve(points: Sequence[Spot], closed: bool, corners: frozenset[int]) -> str:
    """A smooth line from corner to corner; a closed one without corners starts in its middle."""
    count = len(points)
    if not closed:
        stops = sorted({0, count - 1, *corners})
        runs = [points[one : other + 1] for one, other in itertools.pairwise(stops)]
    elif corners:
        first, *others = sorted(corners)
        turned = [*points[first:], *points[:first], points[first]]
        stops = [0, *(each - first for each in others), count]
        runs = [turned[one : other + 1] for one, other in itertools.pairwise(stops)]
    else:
        controls = _pulled([points[-1], *points, points[0]])
        (x, y), (x2, y2) = controls[-1], controls[0]
        middle = ((x + x2) / 2, (y + y2) / 2)
        return _told("M", _near(middle)) + _run([middle, *controls, middle])
    told = [_run([run[0], *_pulled(run), run[-1]]) for run in runs]
    return _told("M", _near(runs[0][0])) + "".join(told)


def _near(spot: Spot) -> Grid:
    return round(spot[0]), round(spot[1])


def _pulled(points: Sequence[Spot]) -> list[Spot]:
    """Control points for the inner ones of a row, so that the curve comes by the points."""
    found = []
    for (ax, ay), (x, y), (bx, by) in zip(points, points[1:], points[2:], strict=False):
        found.append((x + PULL * (x - (ax + bx) / 2), y + PULL * (y - (ay + by) / 2)))
    return found


def _run(points: Sequence[Spot]) -> str:
    """One smooth line: its start, its control points, its end.

    Between two control points it goes through their middle; each mirrors the one before it, as it
    was written, so that what is rounded away does not add up.
    """
    x, y = _near(points[0])
    last_x, last_y = _near(points[-1])
    if len(points) == 2:
        return _told("l", (last_x - x, last_y - y)) if (x, y) != (last_x, last_y) else ""
    cx, cy = _near(points[1])
    first = [cx - x, cy - y]
    steps: list[int] = []
    for wish_x, wish_y in points[2:-1]:
        mx, my = round((cx + wish_x) / 2), round((cy + wish_y) / 2)
        steps += (mx - x, my - y)
        x, y, cx, cy = mx, my, 2 * mx - cx, 2 * my - cy
    steps += (last_x - x, last_y - y)
    told = _told("q", first + steps[:2])
    return told + _told("t", steps[2:]) if len(steps) > 2 else told
