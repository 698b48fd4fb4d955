"""The line of a stem and of its shoots: bowed, wandering, broken or twisted.

Model: the main axis is a parabola over its chord; what a species adds to it (knees of old wood, a
zigzag from node to node, the waves of a twisted willow) is nothing at both ends, and nothing in
the lowest part, which stands in the vessel.
Frame: stem-local; foot at the origin, chord along +z; centimetres.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from nejime.drawings.skeleton.chance import Chance
from nejime.drawings.skeleton.table import Line
from nejime.drawings.skeleton.vectors import (
    Vec,
    Z,
    add,
    along,
    minus,
    square_to,
    times,
    towards,
    turned,
    unit,
)

ELBOW = 2  # [own] of the pieces of a shoot, those in which one on old wood turns to the light
QUIET = (0.12, 0.32)  # [own] shares of a stem between which its own line comes in
POINTS = 25  # [own] of a main axis
KNEES = (3, 6)  # [own] straight lines in a piece of old wood, fewest and most
WAVE_CM = 9.0  # [own] a full wave of a twisted willow
ZIGZAG = 0.003  # [own] of a zigzag, over the length


@dataclass(frozen=True, slots=True)
class Axis:
    """A stem or shoot: points, radii in cm, whether it is wood, and where it leaves the stem.

    `foot_share` is the share of the main axis at which it begins; the main axis has -1. `old` wood
    has a rough edge; a jointed one has a ring every `joint_cm`.
    """

    points: tuple[Vec, ...]
    radii_cm: tuple[float, ...]
    woody: bool
    foot_share: float = -1.0
    joint_cm: float = 0.0
    old: bool = False
    thorns: bool = False

    @property
    def length_cm(self) -> float:
        """Length along its line."""
        return sum(math.dist(one, other) for one, other in itertools.pairwise(self.points))

    def at(self, share: float) -> tuple[Vec, Vec]:
        """The point at a share of its points, and the unit direction there."""
        last = len(self.points) - 1
        place = min(max(share, 0.0), 1.0) * last
        low = min(int(place), last - 1)
        one, other = self.points[low], self.points[low + 1]
        before, after = self.points[max(0, low - 1)], self.points[min(last, low + 2)]
        return along(one, place - low, minus(other, one)), unit(minus(after, before))

    def radius_at(self, share: float) -> float:
        """Its radius there, in cm."""
        last = len(self.radii_cm) - 1
        place = min(max(share, 0.0), 1.0) * last
        low = min(int(place), last - 1)
        one, other = self.radii_cm[low], self.radii_cm[low + 1]
        return one + (place - low) * (other - one)


def tapered(count: int, foot_cm: float, end_cm: float) -> tuple[float, ...]:
    """Radii from foot to end."""
    return tuple(
        foot_cm + (end_cm - foot_cm) * (index / (count - 1)) ** 0.8 for index in range(count)
    )


Off = list[tuple[float, float]]


def main_line(
    length_cm: float, bow: Vec, line: Line, wander: float, chance: Chance
) -> tuple[Vec, ...]:
    """The main axis of a stem; `bow` is how far, and to where, its middle lies off the chord."""
    shares = [index / (POINTS - 1) for index in range(POINTS)]
    off = _OFF[line](shares, length_cm, wander, chance)
    (x0, y0), (x1, y1) = off[0], off[-1]
    points = []
    for share, (x, y) in zip(shares, off, strict=True):
        calm = min(1.0, max(0.0, (share - QUIET[0]) / (QUIET[1] - QUIET[0])))
        calm *= calm * (3 - 2 * calm)
        x -= x0 + (x1 - x0) * share
        y -= y0 + (y1 - y0) * share
        even = along((0.0, 0.0, share * length_cm), 4 * share * (1 - share), bow)
        points.append(add(even, (x * calm, y * calm, 0.0)))
    points[-1] = (0.0, 0.0, length_cm)
    return tuple(points)


def own_line(length_cm: float, off: Sequence[float]) -> tuple[Vec, ...]:
    """The main axis along a line that somebody drew: how far it is off the chord, to the viewer's
    right and in shares of the length, at even steps between foot and end."""
    knots = (0.0, *off, 0.0)
    points = []
    for index in range(POINTS):
        at = index / (POINTS - 1) * (len(knots) - 1)
        low = min(int(at), len(knots) - 2)
        aside = knots[low] + (at - low) * (knots[low + 1] - knots[low])
        points.append((aside * length_cm, 0.0, index / (POINTS - 1) * length_cm))
    return tuple(points)


def _even(shares: Sequence[float], long: float, wander: float, chance: Chance) -> Off:
    a, b = chance.between(0, 6.28), chance.between(0, 6.28)
    p, q = chance.between(3.2, 5.5), chance.between(3.2, 5.5)
    size = wander * long
    return [(size * math.sin(p * s + a), 0.6 * size * math.sin(q * s + b)) for s in shares]


def _broken(shares: Sequence[float], long: float, wander: float, chance: Chance) -> Off:
    """Straight pieces that meet in knees, as old wood that was cut back and went on."""
    count = int(chance.between(KNEES[0], KNEES[1] + 0.99))
    inner = [(index + chance.between(-0.25, 0.25)) / count for index in range(1, count)]
    knees = [0.0, *inner, 1.0]
    way = chance.sign()
    offs: Off = []
    for _ in knees:
        size = 2.2 * wander * long * chance.between(0.6, 1.3) * way
        offs.append((size, 0.6 * chance.between(-1, 1) * size))
        way = -way if chance.share() < 0.8 else way
    found = []
    for share in shares:
        high = next(index for index in range(1, count + 1) if share <= knees[index] + 1e-9)
        part = (share - knees[high - 1]) / (knees[high] - knees[high - 1])
        (x, y), (x2, y2) = offs[high - 1], offs[high]
        found.append((x + part * (x2 - x), y + part * (y2 - y)))
    return found


def _zigzag(shares: Sequence[float], long: float, wander: float, chance: Chance) -> Off:
    size = ZIGZAG * long
    return [
        (x + size * (1 if index % 2 else -1) * chance.near(1, 0.4), y)
        for index, (x, y) in enumerate(_even(shares, long, wander, chance))
    ]


def _twisted(shares: Sequence[float], long: float, wander: float, chance: Chance) -> Off:
    """A corkscrew that changes its breadth and its pace on the way."""
    waves = max(2.0, long / WAVE_CM)
    a, b = chance.between(0, 6.28), chance.between(0, 6.28)
    found = []
    for share in shares:
        angle = 2 * math.pi * waves * (share + 0.05 * math.sin(7 * share + b)) + a
        size = wander * long * (0.75 + 0.45 * math.sin(5 * share + b)) * (1.1 - 0.5 * share)
        found.append((size * math.sin(angle), size * math.cos(angle)))
    return found


_OFF: dict[Line, Callable[[Sequence[float], float, float, Chance], Off]] = {
    "even": _even,
    "broken": _broken,
    "zigzag": _zigzag,
    "twisted": _twisted,
}


def shoot_line(
    foot: Vec,
    way: Vec,
    length_cm: float,
    goal: Vec,
    lift_deg: float,
    line: Line,
    chance: Chance,
    whip: bool = False,
) -> tuple[Vec, ...]:
    """A shoot: it leaves in a direction and turns to the light (or falls) on its way.

    On old wood it turns at once, in an elbow, and goes on in straight pieces, or as a whip.
    """
    twisted = line == "twisted"
    steps = max(8, min(16, int(length_cm / 1.2))) if twisted else max(4, min(9, int(length_cm / 2)))
    points = [foot]
    step = length_cm / steps
    normal = square_to(way, Z)
    spin = chance.between(0, 360)
    for index in range(steps):
        if line != "broken":
            way = towards(way, goal, lift_deg / steps)
        elif index and index <= ELBOW:
            way = towards(way, goal, lift_deg / ELBOW)
        side, off = 0.0, 0.0
        if twisted:
            side, off = 360 * step * index / WAVE_CM * 1.3, 0.75
        elif line == "broken" and not whip:
            side, off = 180.0 * (index // 2), 0.24 * chance.between(0.5, 1.1)
        elif line == "zigzag":
            side, off = 180.0 * index, 0.13
        here = unit(along(way, off, turned(normal, way, spin + side)))
        points.append(along(points[-1], step, here))
    return tuple(points)


def falling(foot: Vec, way: Vec, length_cm: float, goal: Vec, turn_deg: float) -> tuple[Vec, ...]:
    """A hair-fine branch that turns evenly towards a goal."""
    steps = 7
    points = [foot]
    for _ in range(steps):
        way = towards(way, goal, turn_deg / steps)
        points.append(add(points[-1], times(way, length_cm / steps)))
    return tuple(points)
