"""Rim points drawn to the edge that is seen in the picture: a suggestion, with its support.

Model: the ellipse through the points is sampled right round. Across it, at each place, edges are
looked for: the steepest changes of grey along its normal that run along the ellipse and are
steeper than what is usual there. An ellipse near the first is off it by
a + b cos t + c sin t + d cos 2t + e sin 2t, with the angle t right round; these five come from
least squares over the nearest edges, those further off counting less, beginning from every size
in reach. Support is the share of the places where an edge lies on the ellipse found. Of ellipses
nearly as well supported the largest is taken, as a rim's outer edge is wanted and not its inner
one. All is done again from what was found.

Refused: too little support, or a size so different from the marked one that it is another edge.

Limits: on the three rendered pictures (`authorities/photo`), eight marks that are off by 8 px of a
12-megapixel picture lie on an ellipse that is 1.3 to 1.5 % of its long half axis off the rim
(median of 60); after snapping it is 0.1 to 0.2 % off, and a twentieth of the suggestions is
refused. Marks off by 14 px: 2.3 to 2.6 %, then 0.1 to 0.2 %, a third of them refused. None was
worse than the marks; a few in a hundred were little better. Photographs, and pale rims on pale
cloth, were not tried: the person sees the edge that was found, and may undo it.

Shapes: a picture (rows, columns); points (n, 2) in its pixels, the centre of the top-left at 0, 0.
Source: edges along normals, as contours are followed in films, from memory.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.photo.camera import Floats
from nejime.photo.ellipse import Ellipse, fitted_ellipse, right_round
from nejime.photo.opened import Grey, Opened

PASSES = 2  # [own] the second begins near enough to find what the first missed
PLACES = 240  # [own] right round; a rim of a third of the picture has one every 5 px
REACH = 0.035  # [own] of the long half axis: how far off an edge is looked for
LEAST_REACH_PX, MOST_REACH_PX = 5.0, 16.0  # [own] a finger marks to about 4 px
STEP_PX = 0.5  # [own] from sample to sample across
SOFT_PX = 1.0  # [own] the picture is blurred by this against its grain
ALONG = 0.92  # [own] cosine: an edge may run 23 degrees off the ellipse
STEEP = 2.0  # [own] an edge over the middle of all changes in the band
MOST_EDGES = 4  # [own] at each place, the steepest
ROUNDS = 12  # [own] of drawing nearer
WIDE_PX, CLOSE_PX, CLOSER = 3.5, 1.5, 0.8  # [own] how far edges count: first, last, each round over
FEWEST = 15.0  # [own] edges that count together, for five numbers
HOLD = 0.001  # [own] of the places: how strongly the marked ellipse holds the one that is found
NEAR_PX = 1.2  # [own] an edge this near lies on the ellipse
BEYOND_PX = 3.0  # [own] an ellipse may leave the reach by this
NEARLY = 0.9  # [own] of the best support; the largest such ellipse is taken
LEAST_SUPPORT = 0.5  # [own] on the rendered pictures everything that was worse had less
MOST_CHANGE = 0.03  # [own] of the size, either way


@dataclass(frozen=True, slots=True)
class Snap:
    """Points on the edge, one for each that was given.

    `support`: the share of the rim, 0 to 1, where an edge is seen. `size_change`: of the long half
    axis, over what was marked. `refused`: why the points are those that were given.
    """

    points: tuple[tuple[float, float], ...]
    support: float
    size_change: float
    refused: Saying | None = None


@dataclass(frozen=True, slots=True, eq=False)
class _Band:
    """Around an ellipse: the angle at each place (n,), the place and its normal (n, 2), how far off
    its edges lie (n, edges), NaN where there are fewer, and how far was looked."""

    angle: Floats
    place: Floats
    normal: Floats
    edges: Floats
    reach_px: float


def snapped_in(picture: Opened, rim_points: Sequence[tuple[float, float]] | Floats) -> Snap:
    """As `snapped`, with points in pixels of the full picture. Raises `InputError` at `rim`."""
    found = snapped(picture.grey, picture.grey_pixels(rim_points))
    full = picture.full_pixels(found.points)
    return Snap(_pairs(full), found.support, found.size_change, found.refused)


def snapped(grey: Grey, rim_points: Sequence[tuple[float, float]] | Floats) -> Snap:
    """Points of a rim on the edge that is seen near them.

    Raises `InputError` at `rim` where the points lie on no ellipse.
    """
    given = np.asarray(rim_points, float).reshape(-1, 2)
    marked = found = fitted_ellipse(given)
    support = 0.0
    for _ in range(PASSES):
        support, nearer = _best(_band(grey, found))
        if nearer is None:
            return Snap(_pairs(given), support, 0.0, Saying("photo.snap.no-edge"))
        found = nearer
    change = found.semi_major / marked.semi_major - 1.0
    if support < LEAST_SUPPORT:
        return Snap(_pairs(given), support, change, Saying("photo.snap.no-edge"))
    if abs(change) > MOST_CHANGE or _shortened(marked, found):
        return Snap(_pairs(given), support, change, Saying("photo.snap.other-edge"))
    return Snap(_pairs(found.at(found.angles(given))), support, change)


def _shortened(marked: Ellipse, found: Ellipse) -> bool:
    """Whether the short half axis changed by more than the long one may."""
    gap = abs(found.semi_minor - marked.semi_minor)
    return gap > MOST_CHANGE * marked.semi_major


def _pairs(points: Floats) -> tuple[tuple[float, float], ...]:
    return tuple((float(x), float(y)) for x, y in points)


# Edges


def _band(grey: Grey, around: Ellipse) -> _Band:
    """The edges near an ellipse."""
    angle = right_round(PLACES)
    place, normal = around.at(angle), around.normals(angle)
    reach = float(np.clip(REACH * around.semi_major, LEAST_REACH_PX, MOST_REACH_PX))
    off = np.arange(-reach - 1.0, reach + 1.0 + STEP_PX / 2.0, STEP_PX)
    spots = place[:, None, :] + off[:, None] * normal[:, None, :]
    down, right = _slopes(grey, spots)
    across = np.abs(right * normal[:, None, 0] + down * normal[:, None, 1])
    runs_along = across >= ALONG * np.hypot(right, down)
    edges = _steepest(np.where(runs_along, across, 0.0), across, off)
    return _Band(angle, place, normal, edges, reach)


def _steepest(allowed: Floats, across: Floats, off: Floats) -> Floats:
    """How far off the steepest edges lie (n, edges), to a part of a step by a parabola."""
    peak = np.zeros(across.shape, bool)
    middle = across[:, 1:-1]
    peak[:, 1:-1] = (middle > across[:, :-2]) & (middle >= across[:, 2:])
    steep = np.where(peak & (allowed > STEEP * np.median(across)), allowed, 0.0)
    chosen = np.argsort(-steep, axis=-1, kind="stable")[:, :MOST_EDGES]
    height = np.take_along_axis(steep, chosen, axis=-1)
    before, here, after = (
        np.take_along_axis(across, np.clip(chosen + each, 0, across.shape[1] - 1), axis=-1)
        for each in (-1, 0, 1)
    )
    bend = before - 2.0 * here + after
    part = np.divide(0.5 * (before - after), bend, out=np.zeros_like(bend), where=bend < 0.0)
    found: Floats = np.where(height > 0.0, off[chosen] + STEP_PX * part, np.nan)
    return found


def _slopes(grey: Grey, spots: Floats) -> tuple[Floats, Floats]:
    """How steeply the blurred picture changes downwards and to the right at spots (..., 2)."""
    high, wide = grey.shape
    margin = 8
    left, top = np.maximum(np.floor(spots.min(axis=(0, 1))).astype(int) - margin, 0)
    right, low = np.ceil(spots.max(axis=(0, 1))).astype(int) + margin + 1
    part = grey[min(top, high - 2) : max(low, 2), min(left, wide - 2) : max(right, 2)]
    at = spots - [min(left, wide - 2), min(top, high - 2)]
    down, across = (np.asarray(each) for each in np.gradient(_blurred(part.astype(float))))
    return _between(down, at), _between(across, at)


def _blurred(picture: Floats) -> Floats:
    """A picture blurred by a bell curve, its edges repeated."""
    reach = round(3.0 * SOFT_PX) + 1
    weight = np.exp(-0.5 * (np.arange(-reach, reach + 1) / SOFT_PX) ** 2)
    weight /= weight.sum()
    high, wide = picture.shape
    framed = np.pad(picture, reach, mode="edge")
    tall = sum(each * framed[n : n + high] for n, each in enumerate(weight))
    flat = sum(each * tall[:, n : n + wide] for n, each in enumerate(weight))
    return np.asarray(flat, float)


def _between(values: Floats, spots: Floats) -> Floats:
    """Values at spots (..., 2) between pixels; outside, those of the margin."""
    high, wide = values.shape
    x = np.clip(spots[..., 0], 0.0, wide - 1.0)
    y = np.clip(spots[..., 1], 0.0, high - 1.0)
    column = np.minimum(x.astype(int), wide - 2)
    row = np.minimum(y.astype(int), high - 2)
    u, v = x - column, y - row
    upper = values[row, column] * (1.0 - u) + values[row, column + 1] * u
    lower = values[row + 1, column] * (1.0 - u) + values[row + 1, column + 1] * u
    found: Floats = upper * (1.0 - v) + lower * v
    return found


# The ellipse


def _best(band: _Band) -> tuple[float, Ellipse | None]:
    """The largest of the best supported ellipses, and its support."""
    tried = []
    for start_px in np.arange(-band.reach_px, band.reach_px + 0.1, 1.0):
        off = _settled(band, float(start_px))
        if off is not None and np.abs(off).max() <= band.reach_px + BEYOND_PX:
            near = _gaps(band, off).min(axis=-1) < NEAR_PX
            tried.append((float(near.mean()), float(off.mean()), off, near))
    if not tried:
        return 0.0, None
    most = max(support for support, *_ in tried)
    support, _, off, near = max(
        (each for each in tried if each[0] >= NEARLY * most), key=lambda each: each[1]
    )
    spots = band.place + off[:, None] * band.normal
    try:
        return support, fitted_ellipse(spots[near] if near.sum() > FEWEST else spots)
    except InputError:  # edges that lie on no ellipse are no rim
        return support, None


def _gaps(band: _Band, off: Floats) -> Floats:
    """How far each edge lies from an ellipse (n, edges); infinite where there is none."""
    gaps: Floats = np.nan_to_num(np.abs(band.edges - off[:, None]), nan=np.inf)
    return gaps


def _settled(band: _Band, start_px: float) -> Floats | None:
    """How far off the first ellipse the found one is (n,), from one size to begin with."""
    t = band.angle
    waves = np.stack([np.ones_like(t), np.cos(t), np.sin(t), np.cos(2 * t), np.sin(2 * t)], axis=-1)
    held = HOLD * len(t) * np.eye(waves.shape[-1])
    off = np.full(len(t), start_px)
    wide = WIDE_PX
    for _ in range(ROUNDS):
        gaps = _gaps(band, off)
        nearest = np.argmin(gaps, axis=-1)[:, None]
        gap = np.take_along_axis(gaps, nearest, axis=-1)[:, 0]
        weight = (1.0 - np.minimum(gap / wide, 1.0) ** 2) ** 2
        if weight.sum() < FEWEST:
            return None
        edge = np.nan_to_num(np.take_along_axis(band.edges, nearest, axis=-1)[:, 0])
        counted = waves * weight[:, None]
        off = waves @ np.linalg.solve(counted.T @ waves + held, counted.T @ edge)
        wide = max(CLOSE_PX, CLOSER * wide)
    return off
