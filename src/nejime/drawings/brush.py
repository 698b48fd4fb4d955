"""Strokes as a brush leaves them: lines with a breadth that swells and tapers.

Model: a stroke is the area between two lines at half its breadth from a middle line. Breadths and
places are in paper millimetres.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence

from nejime.drawings.svg import FINE_MM, INK, Path, Spot

LEAST_MM = 0.16  # [own] a thinner end breaks up on an office printer


def lengths(points: Sequence[Spot]) -> list[float]:
    """How far along the line each point is."""
    far = [0.0]
    for here, there in itertools.pairwise(points):
        far.append(far[-1] + math.dist(here, there))
    return far


def spot_at(points: Sequence[Spot], share: float) -> tuple[Spot, Spot]:
    """The point at a share of a line's length, and the unit direction there."""
    far = lengths(points)
    wanted = min(max(share, 0.0), 1.0) * far[-1]
    for index in range(len(points) - 1):
        step = far[index + 1] - far[index]
        if step > 1e-9 and (wanted <= far[index + 1] or index == len(points) - 2):
            (x, y), (x2, y2) = points[index], points[index + 1]
            part = (wanted - far[index]) / step
            return (x + part * (x2 - x), y + part * (y2 - y)), ((x2 - x) / step, (y2 - y) / step)
    return points[-1], (0.0, -1.0)


def part_of(points: Sequence[Spot], low: float, high: float, count: int = 7) -> list[Spot]:
    """The line between two shares of its length, as so many points."""
    step = (high - low) / (count - 1)
    return [spot_at(points, low + step * index)[0] for index in range(count)]


def ribbon(
    points: Sequence[Spot],
    breadth_mm: Callable[[float], float],
    *,
    count: int = 9,
    fill: str | None = INK,
    stroke: str | None = None,
    width_mm: float = FINE_MM,
) -> Path:
    """The area along a line whose breadth is a function of the share of its length."""
    left: list[Spot] = []
    right: list[Spot] = []
    for index in range(count):
        share = index / (count - 1)
        (x, y), (dx, dy) = spot_at(points, share)
        half = breadth_mm(share) / 2
        left.append((x + dy * half, y - dx * half))
        right.append((x - dy * half, y + dx * half))
    return Path(
        tuple(left + right[::-1]),
        curved=True,
        closed=True,
        fill=fill,
        stroke=stroke,
        width_mm=width_mm,
        corners=frozenset((0, count - 1, count, 2 * count - 1)),
    )


def tapered(
    points: Sequence[Spot], foot_mm: float, end_mm: float, colour: str = INK, count: int = 9
) -> Path:
    """A stroke that gets thinner from foot to end, a little uneven like a branch."""

    def breadth(share: float) -> float:
        even = foot_mm + (end_mm - foot_mm) * share**0.8
        return float(max(LEAST_MM, even * (1.0 + 0.05 * math.sin(11.0 * share + 1.0))))

    return ribbon(points, breadth, count=count, fill=colour)


def swelling(points: Sequence[Spot], most_mm: float, colour: str = INK, count: int = 13) -> Path:
    """A stroke that begins and ends fine: one pull of the brush."""

    def breadth(share: float) -> float:
        swell = 0.35 + 0.65 * math.sin(math.pi * share) ** 0.7
        return float(max(LEAST_MM, most_mm * swell))

    return ribbon(points, breadth, count=count, fill=colour)


def bent(start: Spot, heading_rad: float, length_mm: float, turn_rad: float) -> list[Spot]:
    """A short line that starts in a direction and turns evenly on its way."""
    points = [start]
    steps = 5
    angle = heading_rad
    for _ in range(steps):
        x, y = points[-1]
        angle += turn_rad / steps
        points.append(
            (x + length_mm / steps * math.cos(angle), y + length_mm / steps * math.sin(angle))
        )
    return points
