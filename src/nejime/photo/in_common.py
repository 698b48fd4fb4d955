"""What all stems of a piece have in common: one turn, one scale, one place of their feet.

Model: the turn is the one after which the ends are nearest to where they were meant, seen from
their feet, in the sense of least squares; it is meant where it takes away nearly all that turning
every stem for itself would. The scale is the geometric mean of the lengths over the planned ones,
where all agree with it.
Frame: the house frame; turns clockwise from above, about the vessel's middle.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from nejime.basis.angles import Point, apart, line, shorter_way
from nejime.forms.rules import BEARING_TOLERANCE_DEG, LENGTH_TOLERANCE
from nejime.forms.stems import Piece, Stem
from nejime.photo.answer import Line, Measured
from nejime.photo.differences import reach_share, weighed_mean

BETTER = 0.25  # [own] squared distances must fall to this for a mirror or a turn to be meant
FEW = 2  # [own] stems that must be known for a turn or a mirror
OF_SCALE = 3  # [own] lengths that must be known for a scale
COUNTS = 0.05  # [own] of the weight of the stem that reaches out most; less has no direction
HOLDER_CM = 2.0  # [own] a pin holder nearer than this lies where it should
FEET_CM = 1.5  # [own] feet that are moved alike agree to this

Lines = Sequence[tuple[Line, Stem]]
"""Stems that are known in space, each with its plan."""


@dataclass(frozen=True, slots=True)
class Turn:
    """All stems are turned by one angle, clockwise from above, give or take `half_deg`.

    `bowl`: whether the feet are turned with them, so that it is the bowl that stands turned.
    """

    by_deg: float
    half_deg: float
    effect_cm: float
    bowl: bool = True


@dataclass(frozen=True, slots=True)
class Scale:
    """All lengths are the planned ones times `share`."""

    share: float
    effect_cm: float


def distance(known: Lines, turn_deg: float = 0.0) -> float:
    """The sum of the squared distances of ends from where they were meant, seen from their feet,
    the plan turned by `turn_deg`."""
    return sum(math.dist(_vector(made), _aim(aim, turn_deg)) ** 2 for made, aim in known)


def _vector(made: Line) -> tuple[float, float, float]:
    x, y, z = line(made.tilt_deg.value, made.bearing_deg.value)
    long = made.length_cm.value
    return long * x, long * y, long * z


def _aim(aim: Stem, turn_deg: float) -> tuple[float, float, float]:
    x, y, z = line(aim.stands_deg, aim.bearing_deg + turn_deg)
    return aim.length_cm * x, aim.length_cm * y, aim.length_cm * z


def best_turn_deg(known: Lines) -> float:
    """The turn of the plan after which the squared distances are least."""
    across = away = 0.0
    for weight, by in _turns(known):
        across += weight * math.sin(math.radians(by))
        away += weight * math.cos(math.radians(by))
    return math.degrees(math.atan2(across, away))


def _turns(known: Lines) -> list[tuple[float, float]]:
    """How far each stem is turned, and how much that weighs: what it reaches out, squared."""
    return [
        (
            made.length_cm.value * reach_share(made.tilt_deg.value) * aim.reach_cm,
            shorter_way(made.bearing_deg.value - aim.bearing_deg),
        )
        for made, aim in known
    ]


def common_turn(known: Lines) -> Turn | None:
    """The turn that all stems share, where it can be said and leaves little of their differences.

    An upright stem has no direction and does not count.
    """
    if len(known) < FEW:
        return None
    by = best_turn_deg(known)
    weights = [weight for weight, _ in _turns(known)]
    half = weighed_mean([made.bearing_deg.half for made, _ in known], weights)
    squared = distance(known)
    alike = all(
        apart(turned, by) <= max(BEARING_TOLERANCE_DEG, made.bearing_deg.half)
        for (made, _), (weight, turned) in zip(known, _turns(known), strict=True)
        if weight > COUNTS * max(weights)
    )
    if not alike or abs(by) <= max(BEARING_TOLERANCE_DEG, half):
        return None
    gained = squared - distance(known, by)
    if gained <= (1.0 - BETTER) * (squared - _without_turn(known)):
        return None
    return Turn(by, half, math.sqrt(gained / len(known)))


def _without_turn(known: Lines) -> float:
    """What is left of the squared distances if every stem is turned for itself."""
    return sum(distance([each], best_turn_deg([each])) for each in known)


def common_scale(known: Lines) -> Scale | None:
    """The share by which all lengths are longer or shorter, where it is one and can be said."""
    main = [(made, aim) for made, aim in known if aim.role == "main"]
    if len(main) < OF_SCALE:
        return None
    shares = [made.length_cm.value / aim.length_cm for made, aim in main]
    halves = [made.length_cm.half / aim.length_cm for made, aim in main]
    share = math.exp(sum(math.log(each) for each in shares) / len(shares))
    agree = all(
        abs(each / share - 1.0) <= max(LENGTH_TOLERANCE, half)
        for each, half in zip(shares, halves, strict=True)
    )
    if not agree or abs(share - 1.0) <= max(LENGTH_TOLERANCE, sum(halves) / len(halves)):
        return None
    return Scale(share, abs(share - 1.0) * max(aim.length_cm for _, aim in main))


# The feet


def of_bowl_or_holder(turn: Turn | None, known: Lines, measured: Measured) -> Turn | None:
    """The turn, of the bowl where the feet are turned with it: a rectangle has a front, and cannot
    be turned unseen."""
    if turn is None:
        return None
    with_it = _feet_off(known, turn.by_deg) <= _feet_off(known, 0.0) + FEET_CM
    return replace(turn, bowl=measured.rim.shape == "round" and with_it)


def _feet_off(known: Lines, turn_deg: float) -> float:
    """How far the feet are from where they were meant, on the whole."""
    return math.hypot(*_middle(_feet(known, turn_deg)))


def _middle(steps: Sequence[tuple[float, float]]) -> tuple[float, float]:
    return sum(x for x, _ in steps) / len(steps), sum(y for _, y in steps) / len(steps)


def _feet(known: Lines, turn_deg: float) -> list[tuple[float, float]]:
    """From where each foot was meant to where it is, the piece turned back by `turn_deg`."""
    at = [(turned_place(made.foot_cm, -turn_deg), aim.start) for made, aim in known]
    return [(x - aim.x_cm, y - aim.y_cm) for (x, y), aim in at]


def holder_off(known: Lines, turn_deg: float, plan: Piece) -> tuple[float, float] | None:
    """How far the pin holder lies from where it was meant, as the feet tell, where they all do."""
    if plan.holder is None or len(known) < FEW:
        return None
    steps = _feet(known, turn_deg)
    middle = _middle(steps)
    doubt = max(made.length_cm.half for made, _ in known)
    if math.hypot(*middle) <= max(HOLDER_CM, doubt):
        return None
    return middle if all(math.dist(step, middle) <= FEET_CM for step in steps) else None


def turned_place(point: Point, turn_deg: float) -> tuple[float, float]:
    """A place turned about the vessel's middle, clockwise from above."""
    angle = math.radians(turn_deg)
    return (
        point.x_cm * math.cos(angle) + point.y_cm * math.sin(angle),
        point.y_cm * math.cos(angle) - point.x_cm * math.sin(angle),
    )
