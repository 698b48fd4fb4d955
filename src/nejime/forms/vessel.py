"""Vessels: what a person can say of a bowl, and what follows from it.

Model: the inside is one or two *tiers* stacked on the floor. In each tier the half measures change
linearly with height (straight walls) or the wall is part of a sphere. In both, the area of the
water at a height is a quadratic in that height, so the prismoidal formula gives volumes exactly.
Frame: heights of the inside are counted from the inside floor; the house frame from the table.
Source: prismoidal formula, any handbook of mensuration. Estimates of wall, floor and foot are our
own and are marked so; a typed value replaces each.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Literal

from nejime.basis.angles import heading

Shape = Literal["round", "oval", "rectangle", "bowl", "footed", "vase"]
SHAPES: tuple[Shape, ...] = ("round", "oval", "rectangle", "bowl", "footed", "vase")
Wall = Literal["straight", "curved"]
Ware = Literal["ceramic", "glass", "metal", "plastic", "wood"]

WARE_DENSITY_G_CM3: dict[str, float] = {  # [memory] handbook values, rounded
    "ceramic": 2.3,
    "glass": 2.5,
    "metal": 7.8,
    "plastic": 1.1,
    "wood": 0.7,
}
WALL_CM: dict[str, float] = {  # [own] what such ware is usually thick
    "ceramic": 0.6,
    "glass": 0.4,
    "metal": 0.1,
    "plastic": 0.3,
    "wood": 0.8,
}
FLOOR_OF_WIDTH: dict[str, float] = {  # [own] flat inside floor over inside width at the rim
    "round": 1.0,
    "oval": 1.0,
    "rectangle": 1.0,
    "bowl": 0.5,
    "footed": 0.5,
    "vase": 1.0,
}
FOOT_OF_WIDTH: dict[str, float] = {  # [own] outside foot over inside width at the rim
    "round": 0.85,
    "oval": 0.85,
    "rectangle": 0.9,
    "bowl": 0.5,
    "footed": 0.45,
    "vase": 0.95,
}
STEM_OF_FOOTED = 0.4  # [own] the foot's share of a footed bowl's height
RIM_FREE_CM = 0.8  # [practice] water stays this far under the rim
SHOULDER = 0.7  # [own] where the neck of a narrow-mouthed vase begins, over its inside depth
GUESS_SPREAD = 0.15  # [own] spread (of the logarithm) of an estimated mass
WEIGHED_SPREAD = 0.02  # [own] spread of a mass read on a kitchen scale


@dataclass(frozen=True, slots=True)
class Mass:
    """A mass in grams and how far it can be trusted (`spread`: deviation of its logarithm)."""

    g: float
    spread: float

    @property
    def weighed(self) -> bool:
        """Whether it comes from a scale."""
        return self.spread <= WEIGHED_SPREAD


def weighed(g: float) -> Mass:
    """A mass read on a kitchen scale."""
    return Mass(g, WEIGHED_SPREAD)


@dataclass(frozen=True, slots=True)
class Tier:
    """A part of the inside between two heights, with half measures at its bottom and top."""

    bottom_cm: float
    top_cm: float
    half_bottom_cm: tuple[float, float]
    half_top_cm: tuple[float, float]
    curved: bool = False

    def half_at(self, height_cm: float) -> tuple[float, float]:
        """Half width and half depth of the inside at a height above the floor."""
        share = (height_cm - self.bottom_cm) / (self.top_cm - self.bottom_cm)
        if not self.curved:
            return (
                self.half_bottom_cm[0] + share * (self.half_top_cm[0] - self.half_bottom_cm[0]),
                self.half_bottom_cm[1] + share * (self.half_top_cm[1] - self.half_bottom_cm[1]),
            )
        wide = _sphere_half(self, height_cm)
        return wide, wide * self.half_top_cm[1] / self.half_top_cm[0]


def _sphere_half(tier: Tier, height_cm: float) -> float:
    """Radius, at a height, of the sphere through the circles at the tier's bottom and top."""
    low, high = tier.half_bottom_cm[0], tier.half_top_cm[0]
    rise = tier.top_cm - tier.bottom_cm
    above = height_cm - tier.bottom_cm
    # r² = low² + c·h − h², with c so that r = high at the top.
    slope = (high**2 - low**2) / rise + rise
    return math.sqrt(max(0.0, low**2 + slope * above - above**2))


@dataclass(frozen=True, slots=True)
class Vessel:
    """A vessel, complete: what was typed and, where nothing was, what is usual.

    `width_cm` is left to right and `depth_cm` front to back, both inside at the rim; `height_cm`
    is outside, without a stand. `guessed` names the fields that nobody typed. Made by `vessel`.
    """

    shape: Shape
    width_cm: float
    depth_cm: float
    height_cm: float
    corner_radius_cm: float
    floor_width_cm: float
    floor_depth_cm: float
    foot_width_cm: float
    foot_depth_cm: float
    wall_cm: float
    base_cm: float
    body_cm: float
    wall: Wall
    ware: Ware
    mass: Mass
    stand_cm: float = 0.0
    name: str = ""
    guessed: frozenset[str] = field(default_factory=frozenset)

    @property
    def tall(self) -> bool:
        """Whether stems stand in its mouth instead of on pins."""
        return self.shape == "vase"

    @property
    def inside_cm(self) -> float:
        """Depth of the inside, from floor to rim."""
        return self.height_cm - self.base_cm

    @property
    def longest_cm(self) -> float:
        """The longest inside measure: what the proportions call the width."""
        return max(self.width_cm, self.depth_cm, self.body_cm)

    @property
    def size_cm(self) -> float:
        """Longest inside measure plus height: what the proportions are taken from."""
        return self.longest_cm + self.height_cm

    @property
    def most_water_cm(self) -> float:
        """The deepest water that can be carried without spilling."""
        return max(0.0, self.inside_cm - RIM_FREE_CM)

    @property
    def round_plan(self) -> bool:
        """Whether its plan is a circle or an ellipse."""
        return self.shape != "rectangle"

    def tiers(self) -> tuple[Tier, ...]:
        """The inside, from the floor up."""
        floor = (self.floor_width_cm / 2, self.floor_depth_cm / 2)
        rim = (self.width_cm / 2, self.depth_cm / 2)
        if self.tall and self.body_cm > max(self.width_cm, self.depth_cm):
            body = (self.body_cm / 2, self.body_cm / 2)
            shoulder = SHOULDER * self.inside_cm
            return (
                Tier(0.0, shoulder, body, body),
                Tier(shoulder, self.inside_cm, body, rim),
            )
        return (Tier(0.0, self.inside_cm, floor, rim, self.wall == "curved"),)

    def half_at(self, height_cm: float) -> tuple[float, float]:
        """Half width and half depth of the inside at a height above its floor."""
        level = min(max(height_cm, 0.0), self.inside_cm)
        tier = next(tier for tier in self.tiers() if level <= tier.top_cm + 1e-9)
        return tier.half_at(level)

    def _plan_cm2(self, half_cm: tuple[float, float]) -> float:
        """Area of the inside where its half measures are these; corners narrow with the width."""
        corner = self.corner_radius_cm * half_cm[0] / (self.width_cm / 2)
        return plan_area_cm2(*half_cm, None if self.round_plan else corner)

    def area_cm2(self, level_cm: float) -> float:
        """Area of the water at a level above the inside floor."""
        return self._plan_cm2(self.half_at(level_cm))

    def volume_ml(self, water_cm: float) -> float:
        """Millilitres up to a level above the inside floor (exact: prismoidal formula)."""
        level = min(max(water_cm, 0.0), self.inside_cm)
        return sum(
            self._slice_ml(tier, min(level, tier.top_cm))
            for tier in self.tiers()
            if level > tier.bottom_cm
        )

    def _slice_ml(self, tier: Tier, top_cm: float) -> float:
        low, high = tier.bottom_cm, top_cm
        areas = [self._plan_cm2(tier.half_at(at)) for at in (low, (low + high) / 2, high)]
        return (high - low) / 6 * (areas[0] + 4 * areas[1] + areas[2])

    def water_cm(self, volume_ml: float) -> float:
        """The level above the inside floor that a volume reaches, at most the rim (bisection)."""
        low, high = 0.0, self.inside_cm
        if volume_ml >= self.volume_ml(high):
            return high
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if self.volume_ml(middle) < volume_ml else (low, middle)
        return (low + high) / 2

    def to_rim_cm(self, x_cm: float, y_cm: float, bearing_deg: float) -> float:
        """Horizontal distance from a point inside to the inner edge of the rim, along a bearing."""
        return to_edge_cm(
            self.width_cm / 2,
            self.depth_cm / 2,
            self.corner_radius_cm if not self.round_plan else None,
            (x_cm, y_cm),
            bearing_deg,
        )


def plan_area_cm2(half_width_cm: float, half_depth_cm: float, corner_cm: float | None) -> float:
    """Area of an ellipse (`corner_cm` None) or of a rectangle with rounded corners."""
    if corner_cm is None:
        return math.pi * half_width_cm * half_depth_cm
    return 4 * half_width_cm * half_depth_cm - (4 - math.pi) * corner_cm**2


def to_edge_cm(
    half_width_cm: float,
    half_depth_cm: float,
    corner_cm: float | None,
    start_cm: tuple[float, float],
    bearing_deg: float,
) -> float:
    """Distance from a point inside a plan outline to the outline, along a bearing.

    The outline is an ellipse (`corner_cm` None) or a rectangle with rounded corners. The distance
    is 0 for a point on the outline or outside.
    """
    x, y = start_cm
    across, away = heading(bearing_deg)
    if corner_cm is None:
        return _to_ellipse(half_width_cm, half_depth_cm, x, y, across, away)
    return _to_rectangle(half_width_cm, half_depth_cm, corner_cm, (x, y), (across, away))


def _to_ellipse(a: float, b: float, x: float, y: float, across: float, away: float) -> float:
    # |(p + t·d) / (a, b)| = 1, the larger root.
    qa = (across / a) ** 2 + (away / b) ** 2
    qb = x * across / a**2 + y * away / b**2
    qc = (x / a) ** 2 + (y / b) ** 2 - 1.0
    if qc >= 0:
        return 0.0
    return (-qb + math.sqrt(qb**2 - qa * qc)) / qa


def _to_rectangle(
    a: float,
    b: float,
    corner: float,
    start: tuple[float, float],
    direction: tuple[float, float],
) -> float:
    (x, y), (across, away) = start, direction
    if abs(x) >= a or abs(y) >= b:
        return 0.0
    walls = []
    if across:
        walls.append((math.copysign(a, across) - x) / across)
    if away:
        walls.append((math.copysign(b, away) - y) / away)
    reach = min(walls)
    end_x, end_y = x + reach * across, y + reach * away
    if corner <= 0 or abs(end_x) <= a - corner or abs(end_y) <= b - corner:
        return reach
    # The straight walls are met inside a corner: its quarter circle is nearer.
    middle = (math.copysign(a - corner, end_x), math.copysign(b - corner, end_y))
    return _leaves_circle(corner, x - middle[0], y - middle[1], across, away)


def _leaves_circle(r: float, x: float, y: float, across: float, away: float) -> float:
    """How far along its way a line leaves a circle about the origin."""
    along = x * across + y * away
    off = r**2 - (x**2 + y**2 - along**2)
    return max(0.0, -along + math.sqrt(max(0.0, off)))


def vessel(
    shape: Shape,
    width_cm: float,
    height_cm: float,
    *,
    depth_cm: float | None = None,
    corner_radius_cm: float | None = None,
    floor_width_cm: float | None = None,
    foot_width_cm: float | None = None,
    foot_height_cm: float | None = None,
    wall_cm: float | None = None,
    body_cm: float | None = None,
    wall: Wall = "straight",
    ware: Ware = "ceramic",
    mass_g: float | None = None,
    stand_cm: float = 0.0,
    name: str = "",
) -> Vessel:
    """A vessel from two or three numbers; what is not given is estimated and named in `guessed`.

    `foot_height_cm` is the height of a footed bowl's foot. `body_cm` is the widest inside measure
    of a vase whose mouth is narrower. The caller has seen to it that the numbers are possible
    (`faults` lists what is not).
    """
    depth = width_cm if depth_cm is None else depth_cm
    thick = WALL_CM[ware] if wall_cm is None else wall_cm
    across = depth / width_cm
    widest = max(width_cm, body_cm or 0.0)
    floor = FLOOR_OF_WIDTH[shape] * widest if floor_width_cm is None else floor_width_cm
    foot = FOOT_OF_WIDTH[shape] * widest if foot_width_cm is None else foot_width_cm
    base = thick * 1.2
    if shape == "footed":
        base += STEM_OF_FOOTED * height_cm if foot_height_cm is None else foot_height_cm
    given = {
        "depth": depth_cm,
        "corner_radius": corner_radius_cm,
        "floor_width": floor_width_cm,
        "foot_width": foot_width_cm,
        "wall": wall_cm,
        "mass": mass_g,
    }
    bare = Vessel(
        shape=shape,
        width_cm=width_cm,
        depth_cm=depth,
        height_cm=height_cm,
        corner_radius_cm=(corner_radius_cm or 0.0) if shape == "rectangle" else 0.0,
        floor_width_cm=floor,
        floor_depth_cm=floor * across,
        foot_width_cm=foot,
        foot_depth_cm=foot * across,
        wall_cm=thick,
        base_cm=base,
        body_cm=body_cm or 0.0,
        wall=wall,
        ware=ware,
        mass=Mass(0.0, 0.0),
        stand_cm=stand_cm,
        name=name,
        guessed=frozenset(key for key, value in given.items() if value is None),
    )
    mass = weighed(mass_g) if mass_g is not None else Mass(_clay_g(bare), GUESS_SPREAD)
    return replace(bare, mass=mass)


def _clay_g(bare: Vessel) -> float:
    """An estimate of the empty vessel's mass from its walls and floor."""
    widest = max(bare.width_cm, bare.body_cm)
    perimeter = _perimeter_cm(widest, widest * bare.depth_cm / bare.width_cm, bare.round_plan)
    foot_share = bare.floor_width_cm / widest
    sides = perimeter * (1 + foot_share) / 2 * bare.height_cm * bare.wall_cm
    floor = plan_area_cm2(
        bare.floor_width_cm / 2, bare.floor_depth_cm / 2, None if bare.round_plan else 0.0
    )
    return WARE_DENSITY_G_CM3[bare.ware] * (sides + floor * bare.wall_cm * 1.2)


def _perimeter_cm(width_cm: float, depth_cm: float, round_plan: bool) -> float:
    if not round_plan:
        return 2 * (width_cm + depth_cm)
    a, b = width_cm / 2, depth_cm / 2
    # Ramanujan's first approximation, exact for a circle.
    return math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))
