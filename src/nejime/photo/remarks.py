"""What the person who marked should know: marks that do not fit, pictures that say little."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.photo.asked import Asked
from nejime.photo.camera import Camera, Floats
from nejime.photo.ellipse import fitted_ellipse
from nejime.photo.fit import Fit

WIDEST_GAP_DEG = 90.0  # [own] between two marks round the rim
OFF_RIM = 4.0  # [own] spreads from the rim at which a mark is asked about
NOISY = 2.0  # [own] marks this much worse than usual are told
TOO_LOW_DEG, TOO_HIGH_DEG = 8.0, 60.0  # [own] of the first camera over the rim's plane
SAME_PLACE_DEG = 20.0  # [own] two cameras nearer than this see nearly the same


def widest_gap(points: Sequence[tuple[float, float]] | Floats) -> float:
    """The widest gap between marks, in degrees round the rim. Raises `InputError`."""
    marks = np.asarray(points, float)
    around = np.sort(np.degrees(fitted_ellipse(marks).angles(marks)) % 360.0)
    return float(np.max(np.diff(np.append(around, around[0] + 360.0))))


def of_views(asked: Asked, fit: Fit, cameras: tuple[Camera, ...]) -> tuple[Saying, ...]:
    """Of every view by itself."""
    found: list[Saying] = []
    for number, view in enumerate(asked.views):
        picture = number + 1
        if asked.rim.shape == "round":
            found += _of_round(view.rim, picture)
        off = np.abs(fit.problem.rim_misfits(fit.unknown, number))
        if np.max(off) > OFF_RIM:
            pairs = 2 if asked.rim.shape == "rectangle" else 1
            found.append(
                Saying("photo.mark-off-rim", picture=picture, mark=int(np.argmax(off)) // pairs + 1)
                if pairs == 1
                else Saying("photo.corners-do-not-fit", picture=picture)
            )
        if view.focal_35mm is None and not view.card:
            found.append(Saying("photo.focal-unknown", picture=picture))
        height = height_deg(cameras[number], asked.rim.height_cm)
        if height < TOO_LOW_DEG:
            found.append(Saying("photo.camera-too-low", picture=picture))
        elif number == 0 and len(asked.views) == 1 and height > TOO_HIGH_DEG:
            found.append(Saying("photo.camera-too-high", picture=picture))
    if fit.noise > NOISY:
        found.append(Saying("photo.marks-do-not-fit"))
    return tuple(found)


def _of_round(rim: tuple[tuple[float, float], ...], picture: int) -> list[Saying]:
    try:
        gap = widest_gap(rim)
    except InputError:
        return []
    return [Saying("photo.rim-gap", picture=picture)] if gap > WIDEST_GAP_DEG else []


def height_deg(camera: Camera, rim_cm: float) -> float:
    """How high a camera stands over the rim's middle."""
    x, y, z = camera.centre_cm
    return math.degrees(math.atan2(z - rim_cm, math.hypot(x, y)))


def between_deg(one: Camera, other: Camera, rim_cm: float) -> float:
    """The angle between two cameras as the rim's middle sees them."""
    here, there = (np.array(each.centre_cm) - [0.0, 0.0, rim_cm] for each in (one, other))
    cosine = float(here @ there / (np.linalg.norm(here) * np.linalg.norm(there)))
    return math.degrees(math.acos(max(-1.0, min(cosine, 1.0))))


def of_turns(
    asked: Asked, fits: tuple[Fit, ...], cameras: tuple[Camera, ...]
) -> tuple[Saying, ...]:
    """Of two views together."""
    found: list[Saying] = []
    rim_cm = asked.rim.height_cm
    problem, later = fits[0].problem, range(1, len(cameras))
    untied = asked.rim.shape == "round" and not all(problem.is_tied(each) for each in later)
    near = len(cameras) > 1 and between_deg(cameras[0], cameras[1], rim_cm) < SAME_PLACE_DEG
    if near and not untied:
        found.append(Saying("photo.same-place"))
    if len(fits) > 1 or untied:
        found.append(Saying("photo.second-place"))
    return tuple(found)


def too_short(stem_id: str) -> Saying:
    """A straight length that is shorter than the picture shows."""
    return Saying("photo.length-too-short", stem=stem_id)
