"""One stem while it grows: its axes, and every leaf, flower, bud and berry on them.

Model: shoots turn up to the light, leaves lay their upper faces to it, flowers turn towards the
viewer's shoulder.
Frame: stem-local: foot at the origin, chord to the end along +z, the good side to -y; cm, degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from nejime.drawings.skeleton import axes
from nejime.drawings.skeleton.axes import Axis
from nejime.drawings.skeleton.chance import Chance
from nejime.drawings.skeleton.foliage import bud, leaf
from nejime.drawings.skeleton.heads import GOLDEN_DEG, STAGES, head
from nejime.drawings.skeleton.organs import Frame, Organ, frame
from nejime.drawings.skeleton.table import Habit
from nejime.drawings.skeleton.vectors import (
    Vec,
    Z,
    add,
    along,
    dot,
    leaning,
    mixed,
    square_to,
    times,
    turned,
    unit,
)

FRONT: Vec = (0.0, -1.0, 0.0)
LEAST_RADIUS_CM = 0.03  # [own]


@dataclass(frozen=True, slots=True)
class Stance:
    """How a stem is used, seen from itself: where up is, where the viewer's shoulder is, its bow.

    `bare` is the share of the stem, from its foot, that stands in the vessel. `off`: the line of a
    branch of somebody's own, see `axes.own_line`.
    """

    up: Vec = Z
    eye: Vec = (0.0, -0.94, 0.34)
    bow: Vec = (0.0, 0.0, 0.0)
    bare: float = 0.0
    off: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Placed:
    """An organ in its place.

    `share` is how far up the main axis it, or its shoot, sits; `foot` is where it is attached.
    """

    organ: str
    frame: Frame
    scale: float
    share: float
    foot: Vec


@dataclass(frozen=True, slots=True)
class Skeleton:
    """A stem grown: its axes, the main one first; each organ once; and where the organs sit."""

    axes: tuple[Axis, ...]
    organs: dict[str, Organ]
    placed: tuple[Placed, ...]


@dataclass
class Stem:
    """A stem while it grows."""

    habit: Habit
    length_cm: float
    foot_mm: float
    chance: Chance
    stance: Stance
    opening: int
    axes: list[Axis] = field(default_factory=list)
    organs: dict[str, Organ] = field(default_factory=dict)
    placed: list[Placed] = field(default_factory=list)

    @property
    def bare(self) -> float:
        """Share of the main axis without organs: what is in the vessel is stripped."""
        return max(self.habit.bare, min(0.8, self.stance.bare + 0.02))

    @property
    def shut(self) -> float:
        """Share of a branch's flowers that are still buds: all, before any opens."""
        return shut(self.habit.buds, self.opening)

    def put(self, organ: Organ, at: Frame, scale: float, share: float, foot: Vec) -> None:
        """Set an organ in its place."""
        self.organs[organ.name] = organ
        self.placed.append(Placed(organ.name, at, scale, share, foot))

    def main(self) -> Axis:
        """Grow the main axis."""
        h = self.habit
        points = axes.main_line(self.length_cm, self.stance.bow, h.line, h.wander, self.chance)
        if self.stance.off:
            points = axes.own_line(self.length_cm, self.stance.off)
        radii = axes.tapered(len(points), self.foot_mm / 20, self.foot_mm / 20 * h.taper)
        old = h.woody and h.line == "broken"
        self.axes.append(Axis(points, radii, h.woody, -1.0, h.joint_cm, old, h.thorns))
        return self.axes[-1]

    def shoot(self, foot: Vec, way: Vec, long: float, radius: float, share: float) -> Axis:
        """Grow a shoot."""
        h = self.habit
        goal = self.stance.up if h.lift_deg >= 0 else times(self.stance.up, -1.0)
        points = axes.shoot_line(
            foot, way, long, goal, abs(h.lift_deg), h.line, self.chance, h.whips
        )
        end = max(LEAST_RADIUS_CM, radius * 0.45)
        radii = axes.tapered(len(points), max(radius, end), end)
        old = h.woody and h.line == "broken"
        self.axes.append(Axis(points, radii, h.woody, share, old=old, thorns=h.thorns))
        return self.axes[-1]

    def stalk(self, foot: Vec, end: Vec, share: float, radius_cm: float = 0.04) -> None:
        """A flower's or berry's stalk."""
        self.axes.append(Axis((foot, end), (radius_cm, radius_cm * 0.8), True, share))

    def side(self, way: Vec, around_deg: float) -> Vec:
        """A direction square to an axis, by its angle around it, from the good side."""
        return turned(square_to(way, FRONT), way, around_deg)

    def leaf_at(
        self, at: Vec, way: Vec, side: Vec, scale: float, share: float, deg: float | None = None
    ) -> None:
        """A leaf: off the stem, its upper face to the light and, as it is told, to the viewer."""
        h = self.habit
        angle = self.chance.near(h.leaf_deg if deg is None else deg, 0.15)
        long = leaning(way, side, angle)
        stance = self.stance
        long = unit(along(long, -h.show * dot(long, stance.eye), stance.eye), long)
        light = stance.eye if dot(stance.eye, long) < 0.8 else stance.up
        face = add(times(way, 0.7), times(side, -0.35))
        face = times(add(face, times(stance.up, 0.35)), 1 - 0.7 * h.show)
        face = unit(add(face, times(light, 0.7 + h.show)))
        face = turned(square_to(long, face), long, self.chance.between(-24, 24))
        grown = scale * self.chance.near(1, 0.12) * h.leaf_scale
        self.put(leaf(h.leaf), frame(at, long, face), grown, share, at)

    def flower_at(
        self, at: Vec, way: Vec, scale: float, share: float, opening: int, facing: float
    ) -> None:
        """A flower head whose face is turned towards the viewer's shoulder."""
        out = mixed(self.stance.up if self.habit.flat else way, self.stance.eye, facing)
        face = turned(square_to(out, self.stance.up), out, self.chance.between(-180, 180))
        grown = scale * self.chance.near(1, 0.08)
        self.put(head(self.habit.flower, opening), frame(at, out, face), grown, share, at)

    def bud_at(self, at: Vec, way: Vec, scale: float, share: float) -> None:
        """A bud, catkin or cluster of berries."""
        grown = scale * self.chance.near(1, 0.15)
        self.put(bud(self.habit.bud), frame(at, way, self.stance.eye), grown, share, at)


USUAL = 8  # [own] opening, in tenths, for which the table tells the share of buds


def shut(buds: float, opening: int) -> float:
    """Share of buds at an opening, where the usual one has so many."""
    if opening < USUAL:
        return float(buds + (1 - buds) * (1 - opening / USUAL) ** 1.4)
    return buds * (1 - 0.6 * (opening - USUAL) / (STAGES - USUAL))


AROUND_DEG = {"two-ranked": 180.0, "spiral": GOLDEN_DEG, "opposite": 90.0}


def node_angles(h: Habit, node: int, start_deg: float) -> tuple[float, ...]:
    """The angles around the stem, in degrees, of what stands at a node."""
    per = {"opposite": 2, "whorled": h.whorl}.get(h.phyllotaxis, 1)
    step = 180.0 / per if h.phyllotaxis == "whorled" else AROUND_DEG[h.phyllotaxis]
    return tuple(start_deg + node * step + 360.0 * each / per for each in range(per))
