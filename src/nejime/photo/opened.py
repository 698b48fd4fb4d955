"""A picture as it is measured: its full size, its focal length, and the smaller grey picture.

Frame: pixels in display orientation, the centre of the top-left pixel at 0, 0: a point of the full
picture and the same point of the smaller one differ by half a pixel before and after the scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from nejime.basis.sayings import Saying
from nejime.photo.camera import Floats

Grey = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, eq=False)
class Opened:
    """A picture as it is measured.

    `width_px`, `height_px`: its full size in display orientation. `focal_35mm`: None where it is
    not known or not to be trusted; `remarks` say why. `grey`: the picture in grey, smaller.
    """

    width_px: int
    height_px: int
    focal_35mm: float | None
    grey: Grey
    remarks: tuple[Saying, ...] = ()

    def full_pixels(self, points: Any) -> Floats:
        """Points of the grey picture (..., 2) in pixels of the full one."""
        return rescaled(points, self.grey.shape[::-1], (self.width_px, self.height_px))

    def grey_pixels(self, points: Any) -> Floats:
        """Points of the full picture (..., 2) in pixels of the grey one."""
        return rescaled(points, (self.width_px, self.height_px), self.grey.shape[::-1])


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """The picture to mark, a clean JPEG as large as the grey one, and what is known of it."""

    jpeg: bytes
    work_width_px: int
    work_height_px: int
    opened: Opened

    @property
    def width_px(self) -> int:
        """Width of the full picture."""
        return self.opened.width_px

    @property
    def height_px(self) -> int:
        """Height of the full picture."""
        return self.opened.height_px

    @property
    def focal_35mm(self) -> float | None:
        """The focal length, where it can be trusted."""
        return self.opened.focal_35mm

    @property
    def grey(self) -> Grey:
        """The picture in grey, smaller."""
        return self.opened.grey

    @property
    def remarks(self) -> tuple[Saying, ...]:
        """What the person should know of the picture."""
        return self.opened.remarks


def rescaled(points: Any, from_size: tuple[int, ...], to_size: tuple[int, ...]) -> Floats:
    """Points (..., 2) of a picture in pixels of the same picture at another size."""
    factor = np.divide(to_size, from_size)
    moved: Floats = (np.asarray(points, float) + 0.5) * factor - 0.5
    return moved
