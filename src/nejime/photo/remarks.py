"""What the person who marked should know: marks that do not fit, pictures that say little.

Model: each remark is a threshold on what the fit found; none changes an answer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.photo import turning
from nejime.photo.asked import Asked, Pixel
from nejime.photo.camera import Camera
from nejime.photo.fit import Fit
from nejime.photo.rim_marks import WIDEST_GAP_DEG, odd_mark, widest_gap_deg

OFF_RIM = 4.0  # [own] spreads from the rim at which a mark is asked about
NOISY = 2.0  # [own] marks this much worse than usual are told
TOO_LOW_DEG, TOO_HIGH_DEG = 8.0, 60.0  # [own] of the first camera over the rim's plane
SAME_PLACE_DEG = 20.0  # [own] two cameras nearer than this see nearly the same


def of_views(asked: Asked, fit: Fit, cameras: tuple[Camera, ...]) -> tuple[Saying, ...]:
    """Of every view by itself, and of all marks together."""
    found = [
        remark
        for number, camera in enumerate(cameras)
        for remark in _of_view(asked, fit, number, camera)
    ]
    if fit.noise > NOISY:
        found.append(Saying("photo.marks-do-not-fit"))
    return tuple(found)


def _of_view(asked: Asked, fit: Fit, number: int, camera: Camera) -> Iterator[Saying]:
    view, picture = asked.views[number], number + 1
    if asked.rim.shape == "round" and _has_gap(view.rim):
        yield Saying("photo.rim-gap", picture=picture)
    off = np.abs(fit.problem.rim_misfits(fit.unknown, number))
    if np.max(off) > OFF_RIM:
        yield _off_rim(asked, number, int(np.argmax(off)))
    if view.focal_35mm is None and not view.card:
        yield Saying("photo.focal-unknown", picture=picture)
    height = height_deg(camera, asked.rim.height_cm)
    if height < TOO_LOW_DEG:
        yield Saying("photo.camera-too-low", picture=picture)
    elif len(asked.views) == 1 and height > TOO_HIGH_DEG:
        yield Saying("photo.camera-too-high", picture=picture)


def _has_gap(rim: tuple[Pixel, ...]) -> bool:
    try:
        return widest_gap_deg(rim) > WIDEST_GAP_DEG
    except InputError:
        return False


def _off_rim(asked: Asked, number: int, farthest: int) -> Saying:
    """A mark that does not fit: of a round rim the one that the others are best without."""
    if asked.rim.shape == "rectangle":
        return Saying("photo.corners-do-not-fit", picture=number + 1)
    odd = odd_mark(asked.views[number].rim)
    mark = farthest if odd is None else odd[0]
    return Saying("photo.mark-off-rim", picture=number + 1, mark=mark + 1)


def height_deg(camera: Camera, rim_cm: float) -> float:
    """How high a camera stands over the rim's middle."""
    x, y, z = camera.centre_cm
    return math.degrees(math.atan2(z - rim_cm, math.hypot(x, y)))


def between_deg(one: Camera, other: Camera, rim_cm: float) -> float:
    """The angle between two cameras as the rim's middle sees them."""
    ways = [np.array(each.centre_cm) - [0.0, 0.0, rim_cm] for each in (one, other)]
    here, there = (way / np.linalg.norm(way) for way in ways)
    return turning.between_deg(here, there)


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
