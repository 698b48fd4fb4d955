"""What is not right with marks round a rim: a gap among them, or one that is not on the rim."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from nejime.basis.errors import InputError
from nejime.photo.camera import Floats
from nejime.photo.ellipse import Ellipse, fitted_ellipse

ENOUGH = 7
"""Marks of which one can be left out and the others still tell whether they agree."""
WIDEST_GAP_DEG = 90.0  # [own] marked on the near half alone, errors are three times as large
FINE = 360  # [own] points round an ellipse by which distances from it are found

Marks = Sequence[Sequence[float]] | Floats


def widest_gap_deg(marks: Marks) -> float:
    """The widest gap between marks (n, 2), in degrees round the rim. Raises `InputError`."""
    told = np.asarray(marks, float)
    around = np.sort(np.degrees(fitted_ellipse(told).angles(told)) % 360.0)
    return float(np.max(np.diff(np.append(around, around[0] + 360.0))))


def odd_mark(marks: Marks) -> tuple[int, float] | None:
    """The mark (from 0) without which the others fit best, and how far it is from their rim.

    The distance is over half the rim's longer axis. None where there are too few marks to tell.
    """
    told = np.asarray(marks, float)
    if len(told) < ENOUGH:
        return None
    found = []
    for at in range(len(told)):
        others = np.delete(told, at, axis=0)
        try:
            rim = fitted_ellipse(others)
        except InputError:
            continue
        left = float(np.sqrt(np.mean(away_px(rim, others) ** 2)))
        found.append((left, at, float(away_px(rim, told[at : at + 1])[0]) / rim.semi_major))
    if not found:
        return None
    _, at, far = min(found)
    return at, far


def away_px(rim: Ellipse, marks: Floats) -> Floats:
    """How far marks (n, 2) are from an ellipse, in pixels (n,)."""
    step = marks[:, None, :] - rim.points(FINE)
    away: Floats = np.min(np.hypot(step[..., 0], step[..., 1]), axis=-1)
    return away
