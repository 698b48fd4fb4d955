"""Small changes of a piece by hand: lean, turn, cut, move a foot or the pin holder, add, take out.

Model: a changed stem is set up anew as it then stands (`forms.leaning`), without the rim lifting
it, because the hand decides. Frame: the house frame.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from nejime.basis.angles import Point, heading, mirrored
from nejime.basis.sayings import Saying
from nejime.composing.material import Material, usual_leaf
from nejime.composing.setting import called
from nejime.forms.leaning import standing_stem
from nejime.forms.placing import travel_cm
from nejime.forms.rules import BEARING_TOLERANCE_DEG, TILT_TOLERANCE_DEG, Range
from nejime.forms.stems import Piece, Stem
from nejime.forms.supporting import with_supporting

LEAF_TILT_DEG = 25.0  # [own] steep enough to hide the pins behind it from a seat
LEAF_STEP = 0.75  # [own] of the pin holder's half measure: where a new leaf stands
LEAF_OVER_PINS = 1.6  # [own] of the pin holder's width: how long a leaf hides it
LEAF_CM = 0.2  # [own] of the first stem
MOST_LEAN_DEG = 88.0  # [own] lower than this a stem is set by eye
OVER_WATER_CM = 0.5  # [own] a leaf lifted out of the water stays this far over it


@dataclass(frozen=True, slots=True)
class Move:
    """One change by hand. `stem` is the one it is done to; numbers not used are 0.

    `lean_deg` more lean, `turn_deg` clockwise from above, `cut` the share of the length that is
    left, `foot_cm` the way of the foot, `holder_cm` the way of the pin holder with all stems,
    `grow` the share by which everything is longer or shorter, `droop_deg` less or more droop,
    `out` the stem is taken out, `leaves_deg` a leaf more on each of these sides, `leaves` so many
    as a lesson places them.
    """

    stem: str = ""
    lean_deg: float = 0.0
    turn_deg: float = 0.0
    cut: float = 1.0
    foot_cm: tuple[float, float] = (0.0, 0.0)
    holder_cm: tuple[float, float] = (0.0, 0.0)
    grow: float = 1.0
    droop_deg: float = 0.0
    out: bool = False
    leaves_deg: tuple[float, ...] = ()
    leaves: int = 0


def moved(
    piece: Piece, material: Mapping[str, Material], move: Move
) -> tuple[Piece, dict[str, Material]]:
    """The piece and its material after a change."""
    known = dict(material)
    if move.out:
        known.pop(move.stem, None)
        return replace(piece, stems=tuple(s for s in piece.stems if s.id != move.stem)), known
    if move.leaves_deg:
        for side_deg in move.leaves_deg:
            piece = _with_leaf(piece, known, side_deg)
        return piece, known
    if move.leaves:
        return _with_lesson_leaves(piece, known, move.leaves), known
    if move.holder_cm != (0.0, 0.0):
        return _with_holder(piece, move.holder_cm), known
    if move.grow != 1.0:
        # Leaves at the foot keep their size: they go with the pin holder.
        grown = tuple(
            stem if stem.role == "leaf" else changed(piece, stem, cut=move.grow)
            for stem in piece.stems
        )
        return replace(piece, stems=grown), known
    if move.droop_deg:
        old = known[move.stem]
        known[move.stem] = replace(old, droop_deg=old.droop_deg + move.droop_deg)
        return piece, known
    stems = tuple(
        changed(
            piece,
            stem,
            lean_deg=move.lean_deg,
            turn_deg=move.turn_deg,
            cut=move.cut,
            foot_cm=move.foot_cm,
        )
        if stem.id == move.stem
        else stem
        for stem in piece.stems
    )
    return replace(piece, stems=stems), known


def changed(
    piece: Piece,
    stem: Stem,
    *,
    lean_deg: float = 0.0,
    turn_deg: float = 0.0,
    cut: float = 1.0,
    foot_cm: tuple[float, float] = (0.0, 0.0),
) -> Stem:
    """A stem set anew: leaning more, turned, cut to a share of its length, its foot moved."""
    tilt = stem.stands_deg + lean_deg
    bearing = (stem.bearing_deg + turn_deg) % 360.0
    if tilt < 0.0:  # past upright it leans to the other side
        tilt, bearing = -tilt, (bearing + 180.0) % 360.0
    start = Point(stem.start.x_cm + foot_cm[0], stem.start.y_cm + foot_cm[1], stem.start.z_cm)
    made = set_stem(piece, stem, stem.length_cm * cut, tilt, bearing, start)
    return replace(made, bow_cm=stem.bow_cm * cut, length=made.length)


def set_stem(
    piece: Piece,
    like: Stem,
    length_cm: float,
    tilt_deg: float,
    bearing_deg: float,
    start: Point,
) -> Stem:
    """A stem of the same role and name, standing so; the bearing is the one in the house frame."""
    written = bearing_deg if piece.opens == "right" else mirrored(bearing_deg)
    return standing_stem(
        piece,
        like.id,
        like.role,
        length_cm=length_cm,
        tilt=Range(
            max(0.0, tilt_deg - TILT_TOLERANCE_DEG), tilt_deg, tilt_deg + TILT_TOLERANCE_DEG
        ),
        bearing=Range(written - BEARING_TOLERANCE_DEG, written, written + BEARING_TOLERANCE_DEG),
        start=start,
        label=like.label,
        leader=like.leader,
        lifted=False,
    )


def _with_holder(piece: Piece, way_cm: tuple[float, float]) -> Piece:
    """The pin holder moved with all its stems, as far as the floor lets it."""
    if piece.holder is None:
        return piece
    free = travel_cm(piece.holder, piece.vessel)
    old = (piece.place.x_cm, piece.place.y_cm)
    new = [min(max(at + way, -most), most) for at, way, most in zip(old, way_cm, free, strict=True)]
    step = (new[0] - old[0], new[1] - old[1])
    place = replace(piece.place, x_cm=new[0], y_cm=new[1])
    bare = replace(piece, place=place)
    return replace(bare, stems=tuple(changed(bare, s, foot_cm=step) for s in piece.stems))


def _with_leaf(piece: Piece, known: dict[str, Material], side_deg: float) -> Piece:
    """One more leaf at the foot, on a side of the pin holder, like the ones that are there.

    Its material is put into `known`.
    """
    if piece.holder is None:
        return piece
    leaves = [stem for stem in piece.stems if stem.role == "leaf"]
    taken = {stem.id for stem in leaves}
    new = next(f"leaf-{at}" for at in range(1, len(taken) + 2) if f"leaf-{at}" not in taken)
    first_cm = piece.stem("first").length_cm
    like = known[leaves[0].id] if leaves else usual_leaf(LEAF_CM * first_cm)
    across, away = heading(side_deg)
    step = LEAF_STEP * piece.holder.half_along_cm(across, away)
    start = Point(
        piece.place.x_cm + step * across,
        piece.place.y_cm + step * away,
        piece.vessel.base_cm + piece.holder.foot_height_cm,
    )
    under = piece.vessel.base_cm + piece.water_cm - start.z_cm + OVER_WATER_CM
    least = like.blade_cm + under / math.cos(math.radians(LEAF_TILT_DEG))
    length = max(LEAF_CM * first_cm, least)
    model = replace(piece.stem("third"), id=new, role="leaf", label=None, leader="third")
    known[new] = replace(like, droop_deg=0.0)
    leaf = set_stem(piece, model, length, LEAF_TILT_DEG, side_deg, start)
    return replace(piece, stems=(*piece.stems, leaf))


def _with_lesson_leaves(piece: Piece, known: dict[str, Material], count: int) -> Piece:
    """Leaves where a lesson has them, beside those that are there; their material into `known`."""
    leaves = [stem for stem in piece.stems if stem.role == "leaf"]
    added = with_supporting(replace(piece, stems=piece.main), leaves=count).stems[3:]
    grow = max(1.0, _leaf_cm(piece) / max(leaf.length_cm for leaf in added))
    taken = {stem.id for stem in leaves}
    free = (f"leaf-{at}" for at in range(1, len(taken) + count + 1) if f"leaf-{at}" not in taken)
    added = tuple(
        replace(changed(piece, leaf, cut=grow), id=new)
        for leaf, new in zip(added, free, strict=False)
    )
    plant = known[leaves[0].id].plant if leaves else ""
    known.update(
        {leaf.id: replace(usual_leaf(leaf.length_cm, leaf.below_cm), plant=plant) for leaf in added}
    )
    return replace(piece, stems=(*piece.stems, *added))


def _leaf_cm(piece: Piece) -> float:
    """How long leaves that hide the pins of a piece are at least."""
    held = piece.holder
    return LEAF_OVER_PINS * (held.width_cm if held is not None else 0.0)


def told(piece: Piece, move: Move) -> Saying:
    """What to do, in words."""
    more = any(stem.role == "leaf" for stem in piece.stems)
    if move.leaves:
        key = "leaves-lesson-more" if more else "leaves-lesson"
        return Saying(f"composing.do.{key}", count=move.leaves, leaf_cm=_leaf_cm(piece))
    if move.leaves_deg:
        sides = tuple(_side(each) for each in move.leaves_deg)
        key = "leaves-more" if more else "leaves-first"
        return Saying(f"composing.do.{key}", count=len(sides), sides=sides)
    if move.holder_cm != (0.0, 0.0):
        x, y = move.holder_cm
        side = _side(math.degrees(math.atan2(x, y)) % 360.0)
        return Saying("composing.do.holder", way_cm=math.hypot(x, y), side=side)
    if move.grow != 1.0:
        first_cm = piece.stem("first").length_cm * move.grow
        key = "longer" if move.grow > 1.0 else "shorter"
        return Saying(f"composing.do.all-{key}", first_cm=first_cm)
    return _told_stem(called(piece, move.stem), piece.stem(move.stem), move)


def _told_stem(name: Saying, stem: Stem, move: Move) -> Saying:
    if move.out:
        return Saying("composing.do.out", stem=name)
    if move.droop_deg:
        return Saying("composing.do.lift-blade", stem=name)
    if move.cut < 1.0:
        return Saying("composing.do.cut", stem=name, left_cm=stem.length_cm * move.cut)
    if move.turn_deg and move.lean_deg:
        side = _side((stem.bearing_deg + move.turn_deg) % 360.0)
        lean = stem.stands_deg + move.lean_deg
        return Saying("composing.do.set", stem=name, side=side, to_deg=lean)
    if move.turn_deg:
        way = "clockwise" if move.turn_deg > 0 else "anticlockwise"
        return Saying(f"composing.do.turn-{way}", stem=name, turn_deg=abs(move.turn_deg))
    if move.lean_deg:
        way = "more" if move.lean_deg > 0 else "less"
        to = abs(stem.stands_deg + move.lean_deg)
        return Saying(f"composing.do.lean-{way}", stem=name, to_deg=to)
    x, y = move.foot_cm
    side = _side(math.degrees(math.atan2(x, y)) % 360.0)
    return Saying("composing.do.foot", stem=name, way_cm=math.hypot(x, y), side=side)


def _side(bearing_deg: float) -> Saying:
    """A side of the pin holder, in words."""
    words = ("back", "back-right", "right", "front-right", "front", "front-left", "left")
    return Saying(f"composing.side.{(*words, 'back-left')[round(bearing_deg / 45.0) % 8]}")
