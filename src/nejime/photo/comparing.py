"""A whole piece as it was made beside the plan: what is common to all stems is said once.

Model: in this order. A piece that opens to the other side is compared with the plan's mirror. A
turn that brings all stems to their directions is one turn of the bowl. Lengths that are all longer
or shorter by one share are one scale. Depth is how far the ends, and the feet as one point, are
apart from front to back; a piece is flat where its depth surely is under `FLAT` of the plan's. What
then is left belongs to single stems (`differences`).
Frame: the house frame; the first picture was taken from the front.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.angles import Point, line, mirrored
from nejime.forms.placing import Place, mirrored_place
from nejime.forms.rules import BEARING_TOLERANCE_DEG, LENGTH_TOLERANCE, Range
from nejime.forms.stems import Piece, Stem
from nejime.photo.answer import Interval, Line, Measured
from nejime.photo.differences import (
    Change,
    StemCompared,
    changes_of,
    known_line,
    pairs,
    signed_deg,
    stem_compared,
    weighed_mean,
)
from nejime.photo.ghost import in_picture_deg
from nejime.photo.outline import unevenness

BETTER = 0.25  # [own] squared distances must fall to this for a mirror or a turn to be meant
OFF_SHARE = 0.15  # [own] ends nearer than this share of the lengths are no other piece
FEW = 2  # [own] stems that must be known for a turn or a mirror
OF_SCALE = 3  # [own] lengths that must be known for a scale
FLAT = 0.6  # [own]
FLAT_CM = 4.0  # [own] less depth missing is not seen
HOLDER_CM = 2.0  # [own] a pin holder nearer than this lies where it should
FEET_CM = 1.5  # [own] feet that are moved alike agree to this
FEET = (0.0, 0.0)
EVEN = 0.08  # [own] a triangle is uneven where no two sides are nearer, over the longest
ALIKE = 0.05  # [own] sides of two triangles that are alike differ by less, over the way round

Lines = Sequence[tuple[Line, Stem]]


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


@dataclass(frozen=True, slots=True)
class Depth:
    """How far apart ends and feet are from front to back. `stem`: the one whose end is missing most
    there, by `missing_cm` (positive: it should come to the front)."""

    made: Interval
    aim_cm: float
    stem: str
    missing_cm: float

    @property
    def flat(self) -> bool:
        """Whether it surely has too little depth."""
        return self.made.high < FLAT * self.aim_cm and self.effect_cm > FLAT_CM

    @property
    def near(self) -> bool:
        """Whether it surely has about the depth that was meant."""
        least, most = FLAT * self.aim_cm, self.aim_cm / FLAT
        return self.aim_cm > FLAT_CM and least <= self.made.low and self.made.high <= most

    @property
    def effect_cm(self) -> float:
        """How much depth is missing."""
        return self.aim_cm - self.made.value


@dataclass(frozen=True, slots=True)
class Comparison:
    """A piece beside its plan. `plan` is what it was compared with: the mirrored one where the
    piece opens to the other side. `unmarked`: main stems of the plan that nobody marked;
    `holder_cm`: how far the pin holder lies off, to the right and to the back; `uneven_as_meant`:
    whether the three ends make, from the front, the uneven triangle that the plan has.

    `changes`: what is to be changed of single stems, the largest effect first.
    """

    measured: Measured
    plan: Piece
    stems: tuple[StemCompared, ...]
    changes: tuple[Change, ...]
    mirrored: bool = False
    turn: Turn | None = None
    scale: Scale | None = None
    depth: Depth | None = None
    holder_cm: tuple[float, float] | None = None
    uneven_as_meant: bool = False
    unmarked: tuple[str, ...] = ()


def compared(
    measured: Measured, plan: Piece, grows_cm: Mapping[str, float] | None = None
) -> Comparison:
    """What was made beside the plan. `grows_cm`: by stem id, how much its plant grows at most after
    it was cut."""
    other = opens_otherwise(measured, plan)
    meant = mirrored_plan(plan) if other else plan
    known = pairs(measured, meant)
    turn = _of_bowl_or_holder(common_turn(known), known, measured)
    scale = common_scale(known)
    aims = {stem.id: stem for stem in meant.stems}
    stems = tuple(
        stem_compared(
            made,
            aims[made.id],
            measured,
            turn_deg=turn.by_deg if turn else 0.0,
            share=scale.share if scale else 1.0,
            grows_cm=(grows_cm or {}).get(made.id, 0.0),
        )
        for made in measured.stems
        if made.id in aims
    )
    changes = [change for stem in stems for change in changes_of(stem)]
    turn_deg = turn.by_deg if turn else 0.0
    bowl_deg = turn_deg if turn and turn.bowl else 0.0
    return Comparison(
        measured=measured,
        plan=meant,
        stems=stems,
        changes=tuple(sorted(changes, key=lambda each: -each.effect_cm)),
        mirrored=other,
        turn=turn,
        scale=scale,
        depth=depth(measured, meant, turn_deg),
        holder_cm=holder_off(known, bowl_deg, meant),
        uneven_as_meant=_uneven_as_meant(known, turn_deg),
        unmarked=tuple(
            stem.id for stem in meant.main if stem.id not in {each.id for each in measured.stems}
        ),
    )


# The other side


def mirrored_plan(plan: Piece) -> Piece:
    """The plan as it opens to the other side: left and right exchanged."""
    at = plan.place
    return replace(
        plan,
        opens="left" if plan.opens == "right" else "right",
        place=Place(mirrored_place(at.word), mirrored_place(at.wanted), -at.x_cm, at.y_cm),
        stems=tuple(_mirrored(stem) for stem in plan.stems),
    )


def _mirrored(stem: Stem) -> Stem:
    ways = stem.bearing
    return replace(
        stem,
        bearing_deg=mirrored(stem.bearing_deg),
        bearing=Range(360.0 - ways.most, 360.0 - ways.aim, 360.0 - ways.least),
        foot=_across(stem.foot),
        start=_across(stem.start),
    )


def _across(point: Point) -> Point:
    return Point(-point.x_cm, point.y_cm, point.z_cm)


def opens_otherwise(measured: Measured, plan: Piece) -> bool:
    """Whether a piece is much more like the plan's mirror than like the plan, turned or not."""
    known = pairs(measured, plan)
    if len(known) < FEW:
        return _leans_otherwise(measured, plan)
    across = [(each, _mirrored(aim)) for each, aim in known]
    turned = distance(known, best_turn_deg(known))
    plain, other = distance(known), distance(across)
    return _unlike(known, plain) and other <= BETTER * plain and other <= BETTER * turned


def _leans_otherwise(measured: Measured, plan: Piece) -> bool:
    """The same where only leans in one picture are known: every one of them to the other side."""
    aims = {stem.id: stem for stem in plan.stems}
    plain = other = 0.0
    count = 0
    for made in measured.stems:
        if made.id not in aims or not made.picture_lean_deg or made.picture_lean_deg[0] is None:
            continue
        aim = aims[made.id]
        meant = in_picture_deg(aim.start, aim.end, measured.cameras[0])
        if meant is not None:
            count += 1
            plain += (made.picture_lean_deg[0].value - meant) ** 2
            other += (made.picture_lean_deg[0].value + meant) ** 2
    return count >= FEW and plain > count * BEARING_TOLERANCE_DEG**2 and other <= BETTER * plain


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


def _unlike(known: Lines, squared: float) -> bool:
    return squared > OFF_SHARE**2 * sum(aim.length_cm**2 for _, aim in known)


# One turn, one scale


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
            made.length_cm.value * _sin(made.tilt_deg.value) * aim.reach_cm,
            signed_deg(made.bearing_deg.value - aim.bearing_deg),
        )
        for made, aim in known
    ]


def _sin(angle_deg: float) -> float:
    return max(0.0, math.sin(math.radians(angle_deg)))


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
        abs(signed_deg(turned - by)) <= max(BEARING_TOLERANCE_DEG, made.bearing_deg.half)
        for (made, _), (weight, turned) in zip(known, _turns(known), strict=True)
        if weight > LENGTH_TOLERANCE * max(weights)
    )
    if not alike or abs(by) <= max(BEARING_TOLERANCE_DEG, half):
        return None
    gained = squared - distance(known, by)
    if gained <= (1.0 - BETTER) * (squared - _without_turn(known)):
        return None
    return Turn(by, half, math.sqrt(gained / len(known)))


def _of_bowl_or_holder(turn: Turn | None, known: Lines, measured: Measured) -> Turn | None:
    """The turn, of the bowl where the feet are turned with it: a rectangle has a front, and cannot
    be turned unseen."""
    if turn is None:
        return None
    with_it = _feet_off(known, turn.by_deg) <= _feet_off(known, 0.0) + FEET_CM
    return replace(turn, bowl=measured.rim.shape == "round" and with_it)


def _feet_off(known: Lines, turn_deg: float) -> float:
    """How far the feet are from where they were meant, on the whole."""
    steps = _feet(known, turn_deg)
    return math.hypot(sum(x for x, _ in steps), sum(y for _, y in steps)) / len(steps)


def _feet(known: Lines, turn_deg: float) -> list[tuple[float, float]]:
    """From where each foot was meant to where it is, the piece turned back by `turn_deg`."""
    at = [(_turned(made.foot_cm, -turn_deg), aim.start) for made, aim in known]
    return [(x - aim.x_cm, y - aim.y_cm) for (x, y), aim in at]


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


# Depth, pin holder, triangle


def depth(measured: Measured, plan: Piece, turn_deg: float = 0.0) -> Depth | None:
    """The depth of the ends beside the plan's; None where fewer than three lines are known."""
    aims = {stem.id: stem for stem in plan.stems}
    known = [
        (made.id, line_, aims[made.id])
        for made in measured.stems
        if made.id in aims and (line_ := known_line(made)) is not None
    ]
    if len(known) < OF_SCALE:
        return None
    at = {name: _depth_of(made, turn_deg) for name, made, _ in known}
    front = min(FEET, *at.values())
    back = max(FEET, *at.values())
    half = math.hypot(front[1], back[1])
    value = back[0] - front[0]
    meant = {name: aim.end.y_cm - aim.start.y_cm for name, _, aim in known}
    missing = {name: at[name][0] - meant[name] for name in at}
    most = max(missing, key=lambda name: abs(missing[name]))
    return Depth(
        Interval(value, value - half, value + half),
        max(0.0, *meant.values()) - min(0.0, *meant.values()),
        most,
        missing[most],
    )


def _depth_of(made: Line, turn_deg: float) -> tuple[float, float]:
    """How far to the back an end is from its foot, and half the interval of that."""
    tilt = math.radians(made.tilt_deg.value)
    way = math.radians(made.bearing_deg.value - turn_deg)
    long = made.length_cm.value
    parts = (
        math.sin(tilt) * math.cos(way) * made.length_cm.half,
        long * math.cos(tilt) * math.cos(way) * math.radians(made.tilt_deg.half),
        long * math.sin(tilt) * math.sin(way) * math.radians(made.bearing_deg.half),
    )
    return long * math.sin(tilt) * math.cos(way), math.hypot(*parts)


def holder_off(known: Lines, turn_deg: float, plan: Piece) -> tuple[float, float] | None:
    """How far the pin holder lies from where it was meant, as the feet tell, where they all do."""
    if plan.holder is None or len(known) < FEW:
        return None
    steps = _feet(known, turn_deg)
    x = sum(step[0] for step in steps) / len(steps)
    y = sum(step[1] for step in steps) / len(steps)
    doubt = max(made.length_cm.half for made, _ in known)
    if math.hypot(x, y) <= max(HOLDER_CM, doubt):
        return None
    return (x, y) if all(math.dist(step, (x, y)) <= FEET_CM for step in steps) else None


def _turned(point: Point, turn_deg: float) -> tuple[float, float]:
    """A place turned about the vessel's middle, clockwise from above."""
    angle = math.radians(turn_deg)
    return (
        point.x_cm * math.cos(angle) + point.y_cm * math.sin(angle),
        point.y_cm * math.cos(angle) - point.x_cm * math.sin(angle),
    )


def _uneven_as_meant(known: Lines, turn_deg: float) -> bool:
    """Whether the ends of the three main stems make, from the front, the uneven triangle that was
    meant: the same way round, each side with its share of the way round."""
    main = [(made, aim) for made, aim in known if aim.role == "main"]
    if len(main) != OF_SCALE:
        return False
    made = [(_turned(each.end_cm, -turn_deg)[0], each.end_cm.z_cm) for each, _ in main]
    meant = [(aim.end.x_cm, aim.end.z_cm) for _, aim in main]
    if min(unevenness(*made), unevenness(*meant)) < EVEN or _way(made) * _way(meant) <= 0.0:
        return False
    pairs_of_shares = zip(_shares(made), _shares(meant), strict=True)
    return all(abs(one - other) <= ALIKE for one, other in pairs_of_shares)


Flat = Sequence[tuple[float, float]]


def _way(corners: Flat) -> float:
    """Twice a triangle's area, negative where its corners go round the other way."""
    (ax, ay), (bx, by), (cx, cy) = corners
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def _shares(corners: Flat) -> list[float]:
    """Each side's share of the way round."""
    a, b, c = corners
    lengths = [math.dist(a, b), math.dist(b, c), math.dist(c, a)]
    return [each / sum(lengths) for each in lengths]
