"""The rim as it was marked, drawn back over the picture, and what is not right with the marks.

Model: an ellipse through the points; a point does not fit that lies further off than the others can
explain. Points that leave more than a quarter of the rim bare say little about how it lies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.photo.camera import Floats
from nejime.photo.ellipse import Ellipse, fitted_ellipse

LEAST_POINTS = 6
MOST_GAP_DEG = 90.0  # photographs marked on the front half alone were three times as far off
OFF_SHARE = 0.02  # [own] of the rim's half width in the picture; a finger is nearer
OUTLINE_POINTS = 72
Marks = Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class SeenRim:
    """The outline in pixels, empty where there are too few points; what to say of the points;
    which of them does not fit the others, counted from 0."""

    outline: list[list[float]]
    says: tuple[Saying, ...]
    off: int | None = None


def seen_rim(rim: Marks, *, rectangle: bool) -> SeenRim:
    """What the points of a rim, or its corners, show."""
    if rectangle:
        return SeenRim([list(each) for each in rim] if len(rim) > 1 else [], ())
    if len(rim) < LEAST_POINTS:
        return SeenRim([], ())
    try:
        ellipse = fitted_ellipse([(x, y) for x, y in rim])
    except InputError as trouble:
        return SeenRim([], tuple(fault.says for fault in trouble.faults))
    outline = [[round(float(x), 1), round(float(y), 1)] for x, y in ellipse.points(OUTLINE_POINTS)]
    off = _off(rim)
    says = () if off is None else (Saying("made.rim-off", number=off + 1),)
    return SeenRim(outline, (*_gap(ellipse, rim), *says), off)


def _gap(ellipse: Ellipse, rim: Marks) -> tuple[Saying, ...]:
    """A word where the points leave more than a quarter of the rim bare."""
    round_it = np.sort(ellipse.angles(np.asarray(rim, float)))
    angles = [float(each) for each in round_it]
    gaps = [after - before for before, after in pairwise([*angles, angles[0] + 2 * math.pi])]
    return (Saying("made.rim-gap"),) if math.degrees(max(gaps)) > MOST_GAP_DEG else ()


def _off(rim: Marks) -> int | None:
    """The point without which the others lie on an ellipse best, where it lies far from that."""
    if len(rim) <= LEAST_POINTS:
        return None
    told = np.asarray(rim, float)
    found = []
    for at in range(len(told)):
        others = np.delete(told, at, axis=0)
        try:
            ellipse = fitted_ellipse(others)
        except InputError:
            return None
        away = _away(ellipse, told)
        found.append((float(np.delete(away, at).max()), float(away[at]), at))
    _, away_share, worst = min(found)
    return worst if away_share > 2 * OFF_SHARE else None


def _away(ellipse: Ellipse, points: Floats) -> Floats:
    """How far points lie from an ellipse, in shares of its half width."""
    outline = ellipse.points(360)
    apart = np.hypot(*(outline[:, None] - points[None]).transpose(2, 0, 1))
    return np.asarray(apart.min(axis=0) / ellipse.semi_major)
