"""What the measuring answers: every number with its 95 % interval."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import Point
from nejime.basis.sayings import Saying
from nejime.photo.asked import Rim
from nejime.photo.camera import Camera

Status = Literal["measured", "two answers", "lean only", "not measurable"]
"""`two answers`: nothing decides between a line and its mirror in the depth of the picture.
`lean only`: one picture and no known length. `not measurable`: the interval is too wide to use."""


@dataclass(frozen=True, slots=True)
class Interval:
    """A value and the ends of its 95 % interval.

    Of a bearing the value is in [0, 360) and the ends go on from it, below 0 or over 360.
    """

    value: float
    low: float
    high: float

    @property
    def half(self) -> float:
        """Half the interval's width."""
        return (self.high - self.low) / 2.0


@dataclass(frozen=True, slots=True)
class Line:
    """A stem's straight line from foot to end."""

    tilt_deg: Interval
    bearing_deg: Interval
    length_cm: Interval
    foot_cm: Point
    end_cm: Point


@dataclass(frozen=True, slots=True)
class MeasuredStem:
    """One stem, measured.

    `picture_lean_deg`: for each view in which it was marked (None elsewhere), how far it leans in
    the picture from the upright through its foot, positive to the right. `bow`: how far its middle
    is from its straight line, over the line's length; from one picture the least that it can be.
    """

    id: str
    status: Status
    picture_lean_deg: tuple[Interval | None, ...]
    line: Line | None = None
    other: Line | None = None
    bow: Interval | None = None


@dataclass(frozen=True, slots=True)
class Measured:
    """What one picture or two say of a piece.

    `cameras`: where each picture was taken from, in the order of the views. `remarks`: what the
    person who marked should know, such as a mark that does not fit the rim.
    """

    rim: Rim
    cameras: tuple[Camera, ...]
    stems: tuple[MeasuredStem, ...]
    remarks: tuple[Saying, ...] = ()

    def stem(self, stem_id: str) -> MeasuredStem:
        """The stem with this id. Raises `KeyError`."""
        for each in self.stems:
            if each.id == stem_id:
                return each
        raise KeyError(stem_id)
