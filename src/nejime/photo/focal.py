"""Whether the focal length that a camera wrote into a picture can be trusted.

Model: the focal length is told as its 35 mm equivalent, between 13 and 130 mm; other numbers are
known to be mistakes of programs. It holds for a whole frame of the usual shapes, 4 : 3 and 3 : 2;
of a picture that was cut, or zoomed by cutting in the camera, it is not known for what frame the
number was written (from memory: makers differ), so that it counts as unknown.
Source: Exif [cipa-exif]
"""

from __future__ import annotations

from collections.abc import Sequence

from nejime.basis.sayings import Saying

LEAST_FOCAL_MM, MOST_FOCAL_MM = 13.0, 130.0  # [own] from the widest to the longest on telephones
FRAMES = (4.0 / 3.0, 3.0 / 2.0)  # [practice] whole frames of telephones and of cameras
FRAME_SLACK = 0.02  # [own] sizes are rounded to blocks of pixels
ZOOMED = 1.05  # [own] less is within what the measuring allows the focal length


def trusted(
    told_mm: float | None,
    zoom: float | None,
    taken_px: Sequence[float | None],
    size_px: tuple[int, int],
) -> tuple[float | None, tuple[Saying, ...]]:
    """The focal length where it can be trusted; otherwise None and why it cannot.

    `zoom`: by cutting, in the camera; `taken_px`: the size that the camera wrote; each None where
    nothing was written.
    """
    if not told_mm:
        return None, (Saying("photo.picture.focal-not-told"),)
    if not LEAST_FOCAL_MM <= told_mm <= MOST_FOCAL_MM:
        return None, (Saying("photo.picture.focal-strange", focal_mm=told_mm),)
    if (zoom or 1.0) > ZOOMED:
        return None, (Saying("photo.picture.focal-zoomed"),)
    if _cut(taken_px, size_px):
        return None, (Saying("photo.picture.focal-cut"),)
    return told_mm, ()


def _cut(taken_px: Sequence[float | None], size_px: tuple[int, int]) -> bool:
    """Whether a picture has another shape than a camera's frame, or than it had when taken."""
    shape = max(size_px) / min(size_px)
    sides = [side for side in taken_px if side and side >= 1.0]
    taken = max(sides) / min(sides) if len(sides) == 2 else shape
    usual = any(abs(shape / frame - 1.0) <= FRAME_SLACK for frame in FRAMES)
    return not usual or abs(taken / shape - 1.0) > FRAME_SLACK
