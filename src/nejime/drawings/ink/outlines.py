"""How the parts of an organ look from a side: outlines and inner lines, on arrays.

Model: of every part a few points are known once, in the organ's own frame; all organs of a kind are
seen at once. A broad sheet or a round body is outlined by its outermost points in a ring of
directions (which is its silhouette, as it bulges everywhere); a long sheet by its two edges, taken
row by row where the sheet is widest as seen; a palm by its fingers.
Shapes: points are (organs, points, 2).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from nejime.drawings.skeleton.organs import Body
from nejime.drawings.skeleton.surface import FUNNEL, PALM, Blade, surf
from nejime.drawings.skeleton.vectors import Vec

Array = NDArray[np.float64]

BROAD = 2.3  # [own] a sheet less slim than this is outlined as a silhouette
SAME_MM = 0.03  # [own] points nearer to each other are one
ACROSS = (-1.0, -0.5, 0.0, 0.5, 1.0)
RIM = (8, 20, 28)  # [own] points of a trumpet's rim, by how finely it is drawn
TEETH = 7  # [own] of a fringed petal
RIB_TO = 0.93  # [own] a rib ends before the end of its leaf


@dataclass(frozen=True, slots=True)
class Sampled:
    """A form as points in its own frame: what makes its outline, and its inner lines.

    `rows` is the number of rows of a long sheet, 0 for a silhouette, -1 for a ready outline. The
    last `mouth` points are the rim of a funnel, whose silhouette is made of the rest.
    """

    points: Array
    rows: int
    lines: tuple[Array, ...]
    size_cm: float
    corners: frozenset[int] = frozenset()
    mouth: int = 0


STEPS = (4, 5, 8)  # [own] rows of a long sheet, by how finely it is drawn
LOBED_STEPS = (7, 10, 13)  # [own] and of one whose edge is lobed
SHARES = (  # [own] where a broad sheet is looked at
    (0.0, 0.35, 0.7, 0.95),
    (0.0, 0.3, 0.55, 0.75, 0.9, 1.0),
    (0.0, 0.2, 0.4, 0.6, 0.8, 0.93, 1.0),
)


@lru_cache(maxsize=4096)
def sampled(form: Blade | Body, veins: str, level: int) -> Sampled:
    """The points of a form; the more, the larger it is on paper (`level` 0 to 2)."""
    if isinstance(form, Body):
        return Sampled(np.asarray(_hull_of(form)), 0, (), form.length_cm)
    size = max(form.length_cm, form.width_cm if form.shape == FUNNEL else 0.0)
    lines = tuple(np.asarray(line) for line in _veins(form, veins, level > 0))
    if form.shape == PALM:
        spots, corners = _fingers(form)
        return Sampled(np.asarray(spots), -1, lines, size, corners)
    if form.shape == "fringed" and level:
        spots, corners = _fringe(form)
        return Sampled(np.asarray(spots), -1, lines, size, corners)
    if form.shape == FUNNEL:
        return _tube(form, lines, size, level)
    if form.length_cm < BROAD * form.width_cm and form.shape not in ("lobed", "spoon"):
        return Sampled(_grid(form, SHARES[level]), 0, lines, size)
    count = (LOBED_STEPS if form.shape == "lobed" else STEPS)[level]
    rows = [1 - (1 - index / (count - 1)) ** 1.2 for index in range(count)]
    return Sampled(_grid(form, rows), count, lines, size)


def _grid(form: Blade, shares: Sequence[float]) -> Array:
    return np.asarray([surf(form, t, v) for t in shares for v in ACROSS])


def _tube(form: Blade, lines: tuple[Array, ...], size: float, level: int) -> Sampled:
    """A funnel; a whole one ends in its rim."""
    whole = form.high - form.low == 2
    count = RIM[level] if whole else 7
    span = (form.high - form.low) / (count if whole else count - 1)
    around = [form.low + span * index for index in range(count)]
    grid = [surf(form, t, v) for t in (0.0, 0.35, 0.65, 0.88, 1.0) for v in around]
    return Sampled(np.asarray(grid), 0, lines, size, mouth=count if whole else 0)


def _hull_of(body: Body) -> list[Vec]:
    """Rings of points on a round body; `point` draws its end out."""
    spots: list[Vec] = []
    for share in (0.0, 0.15, 0.35, 0.6, 0.85, 1.0):
        round_ = math.sqrt(max(0.0, 1 - (2 * share - 1) ** 2))
        sharp = (1 - share) ** 0.9 * min(1.0, share * 5) ** 0.5
        radius = body.width_cm / 2 * ((1 - body.point) * round_ + body.point * sharp)
        for turn in range(8 if 0 < share < 1 else 1):
            angle = turn * math.pi / 4
            spots.append(
                (share * body.length_cm, radius * math.cos(angle), radius * math.sin(angle))
            )
    return spots


def _fingers(blade: Blade) -> tuple[list[Vec], frozenset[int]]:
    """A palm's outline: bay, shoulder, finger's end, shoulder, bay…; ends and bays are sharp."""
    spots: list[Vec] = [surf(blade, 0.0, 0.0)]
    corners = {0}
    step = 2 / blade.fingers
    for finger in range(blade.fingers):
        low = -1 + finger * step
        for off in (0.0, 0.28, 0.5, 0.72):
            if off in (0.0, 0.5):
                corners.add(len(spots))
            spots.append(surf(blade, 1.0, low + off * step))
    corners.add(len(spots))
    spots.append(surf(blade, 1.0, 1.0))
    return spots, frozenset(corners)


def _fringe(blade: Blade) -> tuple[list[Vec], frozenset[int]]:
    """A fringed petal: up its one edge, along the teeth of its end, down the other."""
    spots = [surf(blade, 0.0, 0.0), surf(blade, 0.5, -1.0), surf(blade, 0.85, -1.0)]
    first = len(spots)
    for tooth in range(2 * TEETH - 1):
        v = -0.9 + 1.8 * tooth / (2 * TEETH - 2)
        spots.append(surf(blade, (0.9 if tooth % 2 else 0.985) - 0.06 * v * v, v))
    corners = frozenset((0, *range(first, len(spots))))
    return [*spots, surf(blade, 0.85, 1.0), surf(blade, 0.5, 1.0)], corners


def _veins(blade: Blade, kind: str, fine: bool) -> list[list[Vec]]:
    """The inner lines of a sheet."""
    return _VEINS[kind](blade, fine) if kind else []


RIB = (0.0, 0.25, 0.5, 0.75, RIB_TO)  # shares of a leaf's length


def _rib(blade: Blade, _: bool) -> list[list[Vec]]:
    return [[surf(blade, t, 0.0) for t in RIB]]


def _feather(blade: Blade, fine: bool) -> list[list[Vec]]:
    """A rib, and four veins to either side that turn to the leaf's end."""
    sides = [
        [surf(blade, min(0.97, foot + 0.15 * v), side * 0.84 * v) for v in (0.02, 0.5, 1.0)]
        for foot in (0.16, 0.31, 0.46, 0.61)
        for side in (-1.0, 1.0)
    ]
    return _rib(blade, fine) + (sides if fine else [])


def _parallel(blade: Blade, fine: bool) -> list[list[Vec]]:
    places = (-0.6, -0.3, 0.0, 0.3, 0.6) if fine else (0.0,)
    return [[surf(blade, 0.03 + 0.97 * t, v) for t in RIB] for v in places]


def _streaks(blade: Blade, fine: bool) -> list[list[Vec]]:
    """Short lines from the foot of a petal."""
    middle, half = (blade.low + blade.high) / 2, (blade.high - blade.low) / 2
    places = ((-0.34, 0.5), (0.0, 0.62), (0.34, 0.5)) if fine else ((0.0, 0.5),)
    return [
        [surf(blade, 0.08 + high * t, middle + half * v) for t in (0.0, 0.5, 1.0)]
        for v, high in places
    ]


def _palm(blade: Blade, _: bool) -> list[list[Vec]]:
    """A vein into every finger."""
    middles = [-1 + (finger + 0.5) * 2 / blade.fingers for finger in range(blade.fingers)]
    return [[surf(blade, t, v) for t in (0.0, 0.5, 0.9)] for v in middles]


_VEINS: dict[str, Callable[[Blade, bool], list[list[Vec]]]] = {
    "rib": _rib,
    "feather": _feather,
    "parallel": _parallel,
    "streaks": _streaks,
    "palm": _palm,
}


def silhouettes(seen: Array, directions: int) -> tuple[Array, NDArray[np.intp]]:
    """Outermost points in a ring of directions: (organs, directions, 2), and which they are."""
    angles = np.arange(directions) * 2 * math.pi / directions + 0.2
    ring = np.stack([np.cos(angles), np.sin(angles)])
    found = np.argmax(seen @ ring, axis=1)
    return np.take_along_axis(seen, found[..., None], axis=1), found


def edges(seen: Array, rows: int) -> Array:
    """A long sheet's outline: up its one side and down its other, (organs, 2 rows, 2)."""
    grid = seen.reshape(len(seen), rows, len(ACROSS), 2)
    middle = grid[:, :, 2]
    way = np.gradient(middle, axis=1)
    long = np.linalg.norm(way, axis=2, keepdims=True)
    way = way / np.maximum(long, 1e-9)
    square = np.stack([-way[..., 1], way[..., 0]], axis=-1)
    off = np.einsum("krvc,krc->krv", grid - middle[:, :, None], square)
    left = np.take_along_axis(grid, np.argmax(off, axis=2)[..., None, None], axis=2)[:, :, 0]
    right = np.take_along_axis(grid, np.argmin(off, axis=2)[..., None, None], axis=2)[:, :, 0]
    # Both ends of a sheet are one point each.
    return np.concatenate([left, right[:, -2:0:-1]], axis=1)


def once(
    points: Sequence[Sequence[float]], which: Sequence[int]
) -> tuple[tuple[tuple[float, float], ...], frozenset[int]]:
    """A silhouette without points told twice; a point that is outermost in many directions is a
    corner."""
    spots: list[tuple[float, float]] = []
    runs: list[int] = []
    last = -1
    ax = ay = math.inf
    for index, (x, y) in zip(which, points, strict=True):
        if index == last or (abs(x - ax) < SAME_MM and abs(y - ay) < SAME_MM):
            runs[-1] += 1
            continue
        last, ax, ay = index, x, y
        runs.append(1)
        spots.append((x, y))
    if len(spots) > 2 and abs(spots[0][0] - ax) < SAME_MM and abs(spots[0][1] - ay) < SAME_MM:
        spots.pop()
        runs[0] += runs.pop()
    sharp = max(3, round(0.33 * len(which)))
    return tuple(spots), frozenset(n for n, run in enumerate(runs) if run >= sharp)
