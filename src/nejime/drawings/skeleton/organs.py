"""What a stem carries, each kind once: a leaf, a flower head, a bud, a berry, a bundle of needles.

Model: an organ is made of parts, each in a place and a frame: sheets (`surface.Blade`), round
bodies (buds, berries, catkins), and threads (stamens, needles, stalks). A stem's skeleton holds
every organ once and says where it sits.
Frame: x along the organ (away from where it sits), z its upper face, y = z × x; centimetres.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.skeleton.vectors import Vec, along, cross, minus, square_to, times

Kind = Literal["leaf", "flower", "bud"]
Tissue = Literal["petal", "leaf", "dark", "pale", "inside"]
Veins = Literal["", "rib", "feather", "parallel", "palm", "streaks"]


@dataclass(frozen=True, slots=True)
class Body:
    """A round body from its foot to its end; `point` makes its end pointed."""

    length_cm: float
    width_cm: float
    point: float = 0.0
    mark: Literal["", "shine", "fur", "seam", "scales", "grain"] = ""


@dataclass(frozen=True, slots=True)
class Thread:
    """A fine line; `knob_cm` is the size of what sits on its end."""

    points: tuple[Vec, ...]
    thickness_cm: float = 0.03
    knob_cm: float = 0.0


class Frame(NamedTuple):
    """Where something is and how it is turned: its place, its x and its z, both one long."""

    at: Vec
    x: Vec
    z: Vec

    @property
    def y(self) -> Vec:
        """The third direction."""
        return cross(self.z, self.x)

    def out(self, point: Vec, scale: float = 1.0) -> Vec:
        """A point given in this frame, in the frame around it."""
        found = along(self.at, point[0] * scale, self.x)
        return along(along(found, point[1] * scale, self.y), point[2] * scale, self.z)

    def way(self, direction: Vec) -> Vec:
        """A direction given in this frame, in the frame around it."""
        return minus(self.out(direction), self.at)


def frame(at: Vec, x: Vec, face: Vec) -> Frame:
    """The frame at a place, along x, its upper face as near as possible to a wish."""
    return Frame(at, x, square_to(x, face))


HERE = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class Part:
    """A sheet, body or thread of an organ; parts of one floret share a `group`."""

    form: Blade | Body | Thread
    tissue: Tissue
    frame: Frame = HERE
    scale: float = 1.0
    veins: Veins = ""
    group: int = 0


@dataclass(frozen=True, slots=True)
class Organ:
    """Parts that belong together, in their own frame; berries and catkins count as buds."""

    name: str
    parts: tuple[Part, ...]
    reach_cm: float
    kind: Kind = "leaf"


def seated(part: Part, seat: Frame, scale: float, group: int) -> Part:
    """A part of a small organ as a part of a larger one in which that sits."""
    inner = Frame(seat.out(part.frame.at, scale), seat.way(part.frame.x), seat.way(part.frame.z))
    return replace(part, frame=inner, scale=part.scale * scale, group=group)


def sized(part: Part, size: float) -> Part:
    """The part so many times as large, about the organ's foot."""
    grown = part.frame._replace(at=times(part.frame.at, size))
    return replace(part, frame=grown, scale=part.scale * size)
