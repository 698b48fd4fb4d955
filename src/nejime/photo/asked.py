"""What is asked of the measuring: a vessel, and what was marked in one picture or two.

Frame: pixels in display orientation, x to the right and y down, the centre of the top-left pixel
at 0, 0. Centimetres in the house frame. Bearing 0 of a round vessel points from the camera of the
first view through the vessel's centre; of a rectangular one away across its depth, the first view
being taken from its front.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Pixel = tuple[float, float]
RimShape = Literal["round", "rectangle"]


@dataclass(frozen=True, slots=True)
class Rim:
    """A vessel's upper edge, measured outside: a round one's diameter is both width and depth.

    `height_cm` is its height above the table.
    """

    shape: RimShape
    width_cm: float
    depth_cm: float
    height_cm: float


@dataclass(frozen=True, slots=True)
class Pins:
    """Where stems enter the pin holder, as far as it is known; `height_cm` above the table."""

    x_cm: float | None = None
    y_cm: float | None = None
    height_cm: float | None = None
    radius_cm: float | None = None


@dataclass(frozen=True, slots=True)
class StemMarks:
    """One stem as it was marked in one picture."""

    id: str
    tip: Pixel
    base: Pixel | None = None
    mid: Pixel | None = None


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a stem beforehand.

    `cut_length_cm` is its straight length from where it enters the pin holder; the aims are the
    plan's, and only choose between mirror answers.
    """

    cut_length_cm: float | None = None
    aim_tilt_deg: float | None = None
    aim_bearing_deg: float | None = None


@dataclass(frozen=True, slots=True)
class Marker:
    """One marker of the card as it was found: its number and its corners as they are printed.

    Corners: top left, top right, bottom right, bottom left.
    """

    id: int
    corners: tuple[Pixel, Pixel, Pixel, Pixel]


@dataclass(frozen=True, slots=True)
class View:
    """One picture: its size, its focal length where it can be trusted, and what was marked in it.

    `rim`: points right round the outer edge or, of a rectangle, its four corners, in any order
    around in the first view; later views begin at the same corner.
    """

    width_px: int
    height_px: int
    focal_35mm: float | None
    rim: tuple[Pixel, ...]
    stems: tuple[StemMarks, ...]
    card: tuple[Marker, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """A whole request: one vessel, its pins, one view or more, and what is known of each stem."""

    rim: Rim
    views: tuple[View, ...]
    pins: Pins = Pins()
    known: tuple[tuple[str, Known], ...] = ()

    def known_of(self, stem_id: str) -> Known:
        """What is known of a stem."""
        return dict(self.known).get(stem_id, Known())
