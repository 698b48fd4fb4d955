"""What is where, in centimetres: vessel, water, pin holder and stems, before anybody looks.

Model: the vessel is a stack of outlines from foot to rim; a stem is a curve from its lower end to
its free end, with a thickness and what it carries. A main stem bows out by its `bow_cm` in the
plane in which it leans, so that its end turns up; the straight line from start to end is the one
that the lengths and leans speak of.
Frame: the house frame; see `basis.angles`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import Point
from nejime.forms.curve import CURVE_POINTS, stem_curve
from nejime.forms.holder import Holder
from nejime.forms.stems import Piece, Stem
from nejime.forms.vessel import Vessel

Kind = Literal["branch", "flower", "leaf", "grass", "berry"]
Outline = Literal[
    "bare-twig",
    "blossom-branch",
    "leafy-branch",
    "needle-branch",
    "berry-branch",
    "cup",
    "daisy",
    "trumpet",
    "round",
    "spike",
    "spray",
    "broad-leaf",
    "strap-leaf",
    "frond",
    "grass",
]

FOOT_RING_CM = 0.8  # [own] height of the ring under a bowl, where it has one
WAIST_OF_FOOT = 0.55  # [own] the stem of a footed bowl, over its foot
WALL_RINGS = 7  # [own] outlines along a curved wall


@dataclass(frozen=True, slots=True)
class Look:
    """How a stem's material is drawn: what it is, how thick, how large its head, which outline.

    Where the `plant` is known it is drawn as it grows, from the `seed`; `stage` is how far its
    flowers are open (0 to 1), `roll_deg` turns it about its own line, its good side away. `off` is
    the line of a branch of somebody's own; see `skeleton.axes.own_line`.
    """

    kind: Kind
    thickness_mm: float
    head_cm: float
    form: Outline
    plant: str = ""
    seed: int = 0
    stage: float = 0.8
    roll_deg: float = 0.0
    off: tuple[float, ...] = ()


USUAL_LOOKS: dict[str, Look] = {  # [own] where nobody has chosen the material yet
    "main": Look("branch", 8.0, 2.0, "bare-twig"),
    "helper": Look("branch", 5.0, 1.5, "bare-twig"),
    "heart": Look("flower", 6.0, 5.0, "cup"),
    "leaf": Look("leaf", 4.0, 7.0, "broad-leaf"),
}


@dataclass(frozen=True, slots=True)
class Ring:
    """The vessel's outline at a height above the table."""

    z_cm: float
    half_x_cm: float
    half_y_cm: float


@dataclass(frozen=True, slots=True)
class VesselShape:
    """A vessel as it is drawn: outside and inside outlines, from below upwards."""

    outside: tuple[Ring, ...]
    inside: tuple[Ring, ...]
    curved: bool
    corner_cm: float | None
    stand_cm: float

    @property
    def rim(self) -> Ring:
        """The outer edge of the rim."""
        return self.outside[-1]

    @property
    def mouth(self) -> Ring:
        """The inner edge of the rim."""
        return self.inside[-1]

    @property
    def widest(self) -> tuple[float, float]:
        """The largest half measures of the outside, left to right and front to back."""
        return (
            max(ring.half_x_cm for ring in self.outside),
            max(ring.half_y_cm for ring in self.outside),
        )

    def inside_at(self, z_cm: float) -> tuple[float, float]:
        """Half measures of the inside at a height above the table."""
        for low, high in zip(self.inside, self.inside[1:], strict=False):
            if z_cm <= high.z_cm:
                share = (z_cm - low.z_cm) / max(high.z_cm - low.z_cm, 1e-9)
                share = min(max(share, 0.0), 1.0)
                return (
                    low.half_x_cm + share * (high.half_x_cm - low.half_x_cm),
                    low.half_y_cm + share * (high.half_y_cm - low.half_y_cm),
                )
        return self.mouth.half_x_cm, self.mouth.half_y_cm

    def holds(self, point: Point) -> bool:
        """Whether a point is inside the vessel, below its rim."""
        if not self.inside[0].z_cm - 1e-6 <= point.z_cm <= self.rim.z_cm + 1e-6:
            return False
        a, b = self.inside_at(point.z_cm)
        if self.corner_cm is not None:
            return abs(point.x_cm) <= a + 1e-6 and abs(point.y_cm) <= b + 1e-6
        return (point.x_cm / max(a, 1e-9)) ** 2 + (point.y_cm / max(b, 1e-9)) ** 2 <= 1 + 1e-6


@dataclass(frozen=True, slots=True)
class HolderShape:
    """The pin holder: its middle on the floor, its size, the height of plate and pins together."""

    holder: Holder
    x_cm: float
    y_cm: float
    floor_z_cm: float

    @property
    def top_z_cm(self) -> float:
        """The points of its pins."""
        return self.floor_z_cm + self.holder.height_cm


@dataclass(frozen=True, slots=True)
class Standing:
    """A stem as it stands: its numbers, its curve from the lower end up, and its look.

    `bare` is the share of the curve, above the stem's start, that is inside the vessel.
    """

    stem: Stem
    curve: tuple[Point, ...]
    look: Look
    chirality: float
    bare: float = 0.0

    @property
    def end(self) -> Point:
        """Its free end."""
        return self.curve[-1]


@dataclass(frozen=True, slots=True)
class Scene:
    """One piece, ready to be looked at."""

    vessel: VesselShape
    water_z_cm: float
    holder: HolderShape | None
    stems: tuple[Standing, ...]
    piece: Piece


def scene(piece: Piece, looks: Mapping[str, Look] | None = None) -> Scene:
    """The scene of a piece; `looks` by stem id, the usual look of its role where one is missing."""
    chosen = looks or {}
    held = piece.holder
    floor = piece.vessel.base_cm
    vessel = vessel_shape(piece.vessel)
    return Scene(
        vessel=vessel,
        water_z_cm=floor + piece.water_cm,
        holder=None
        if held is None
        else HolderShape(held, piece.place.x_cm, piece.place.y_cm, floor),
        stems=tuple(_standing(stem, vessel, chosen, piece.opens) for stem in piece.stems),
        piece=piece,
    )


def _standing(stem: Stem, vessel: VesselShape, chosen: Mapping[str, Look], opens: str) -> Standing:
    curve = stem_curve(stem)
    return Standing(
        stem,
        curve,
        chosen.get(stem.id, USUAL_LOOKS[stem.role]),
        1.0 if opens == "right" else -1.0,
        bare_share(vessel, curve),
    )


def bare_share(vessel: VesselShape, curve: tuple[Point, ...]) -> float:
    """How much of a stem's curve, above its start, is inside the vessel: nothing grows there."""
    above = curve[-CURVE_POINTS:]
    inside = [index for index, point in enumerate(above) if vessel.holds(point)]
    return max(inside, default=0) / (CURVE_POINTS - 1)


def vessel_shape(vessel: Vessel) -> VesselShape:
    """A vessel's outlines, from what is known and estimated of it."""
    inside = _inside(vessel)
    wall = vessel.wall_cm
    walls = [Ring(ring.z_cm, ring.half_x_cm + wall, ring.half_y_cm + wall) for ring in inside]
    foot_x, foot_y = vessel.foot_width_cm / 2, vessel.foot_depth_cm / 2
    below = _foot(vessel, foot_x, foot_y, walls[0])
    corner = None if vessel.round_plan else vessel.corner_radius_cm
    # A vase with a narrow mouth has a round shoulder, whatever its wall is called.
    curved = vessel.wall == "curved" or len(vessel.tiers()) > 1
    return VesselShape(tuple(below + walls), tuple(inside), curved, corner, vessel.stand_cm)


def _inside(vessel: Vessel) -> list[Ring]:
    heights = [0.0]
    for tier in vessel.tiers():
        steps = WALL_RINGS if tier.curved else 1
        rise = tier.top_cm - tier.bottom_cm
        heights += [tier.bottom_cm + rise * step / steps for step in range(1, steps + 1)]
    return [Ring(vessel.base_cm + height, *vessel.half_at(height)) for height in heights]


def _foot(vessel: Vessel, foot_x: float, foot_y: float, lowest: Ring) -> list[Ring]:
    """The outlines below the inside floor: a ring, a stem, or the wall going down to the table."""
    if vessel.shape == "footed":
        waist = WAIST_OF_FOOT
        return [
            Ring(0.0, foot_x, foot_y),
            Ring(min(0.3, vessel.base_cm / 4), foot_x, foot_y),
            Ring(vessel.base_cm * 0.55, foot_x * waist, foot_y * waist),
            Ring(vessel.base_cm * 0.8, foot_x * waist * 1.1, foot_y * waist * 1.1),
        ]
    ring = min(FOOT_RING_CM, lowest.z_cm / 2)
    return [
        Ring(0.0, min(foot_x, lowest.half_x_cm), min(foot_y, lowest.half_y_cm)),
        Ring(ring, min(foot_x, lowest.half_x_cm), min(foot_y, lowest.half_y_cm)),
    ]


def drawing_key(piece: Piece, looks: Mapping[str, Look] | None = None) -> str:
    """The same text for pieces that look the same, so that people can share a drawing.

    It covers the vessel, the holder, the water, every stem and its look, and the labels of the
    rule; not names, masses or what was guessed.
    """
    shown = scene(piece, looks)
    parts: list[object] = [shown.vessel, round(shown.water_z_cm, 3), piece.opens]
    if shown.holder is not None:
        held = shown.holder
        size = (held.holder.width_cm, held.holder.depth_cm, held.holder.height_cm)
        parts += [size, held.holder.rectangular, held.x_cm, held.y_cm]
    for standing in shown.stems:
        stem = standing.stem
        numbers = (stem.length_cm, stem.tilt_deg, stem.stands_deg, stem.bearing_deg)
        parts += [stem.id, stem.role, stem.label, numbers, stem.tilt, stem.cut_cm]
        parts += [standing.curve, standing.look]
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:16]
