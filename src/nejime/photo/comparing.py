"""A whole piece as it was made beside the plan: what is common to all stems is said once.

Model: in this order. A piece that opens to the other side is compared with the plan's mirror. A
turn and a scale that all stems share are taken out (`in_common`), and the depth is compared as a
whole (`depth`). What then is left belongs to single stems (`differences`).
Frame: the house frame; the first picture was taken from the front.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from nejime.basis.angles import Point, mirrored
from nejime.forms.placing import Place, mirrored_place
from nejime.forms.rules import BEARING_TOLERANCE_DEG, Range
from nejime.forms.stems import Piece, Stem
from nejime.photo.answer import Measured
from nejime.photo.depth import Depth, depth
from nejime.photo.differences import Change, StemCompared, changes_of, pairs, stem_compared
from nejime.photo.in_common import (
    BETTER,
    FEW,
    Lines,
    Scale,
    Turn,
    best_turn_deg,
    common_scale,
    common_turn,
    distance,
    holder_off,
    of_bowl_or_holder,
    turned_place,
)
from nejime.photo.triangle import EVEN, alike, unevenness
from nejime.photo.upright import in_picture_deg

CORNERS = 3
OFF_SHARE = 0.15  # [own] ends nearer than this share of the lengths are no other piece


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
    turn = of_bowl_or_holder(common_turn(known), known, measured)
    turn_deg = turn.by_deg if turn else 0.0
    scale = common_scale(known)
    aims = {stem.id: stem for stem in meant.stems}
    stems = tuple(
        stem_compared(
            made,
            aims[made.id],
            measured,
            turn_deg=turn_deg,
            share=scale.share if scale else 1.0,
            grows_cm=(grows_cm or {}).get(made.id, 0.0),
        )
        for made in measured.stems
        if made.id in aims
    )
    changes = [change for stem in stems for change in changes_of(stem)]
    return Comparison(
        measured=measured,
        plan=meant,
        stems=stems,
        changes=tuple(sorted(changes, key=lambda each: -each.effect_cm)),
        mirrored=other,
        turn=turn,
        scale=scale,
        depth=depth(measured, meant, turn_deg),
        holder_cm=holder_off(known, turn_deg if turn and turn.bowl else 0.0, meant),
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


def _unlike(known: Lines, squared: float) -> bool:
    return squared > OFF_SHARE**2 * sum(aim.length_cm**2 for _, aim in known)


# The triangle


def _uneven_as_meant(known: Lines, turn_deg: float) -> bool:
    """Whether the ends of the three main stems make, from the front, the uneven triangle that was
    meant: the same way round, each side with its share of the way round."""
    main = [(made, aim) for made, aim in known if aim.role == "main"]
    if len(main) != CORNERS:
        return False
    made = [(turned_place(each.end_cm, -turn_deg)[0], each.end_cm.z_cm) for each, _ in main]
    meant = [(aim.end.x_cm, aim.end.z_cm) for _, aim in main]
    return min(unevenness(*made), unevenness(*meant)) >= EVEN and alike(made, meant)
