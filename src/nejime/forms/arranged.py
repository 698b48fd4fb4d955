"""A piece as somebody arranged it by hand, kept so that it goes into any vessel.

Model: whatever was moved is kept as a share of what the vessel itself gives: lengths over the first
stem that the proportions ask for, feet over half the pin holder, the holder's place over the way
it can go. What was not moved is left to the form. Directions and feet are written for the piece
that opens to the right, so the other one is its mirror.
Frame: the house frame; see `basis.angles`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from nejime.basis.angles import Point, mirrored
from nejime.forms.holder import Holder
from nejime.forms.leaning import curve_cm, main_stem, standing_stem
from nejime.forms.piece import piece
from nejime.forms.placing import Place, named_place, travel_cm
from nejime.forms.rules import (
    BEARING_TOLERANCE_DEG,
    MAIN,
    MOST_TILT_DEG,
    TILT_TOLERANCE_DEG,
    Range,
    Rule,
    Size,
)
from nejime.forms.stems import Opens, Piece, Role, Stem
from nejime.forms.supporting import MOST, with_supporting
from nejime.forms.tall import at_mouth
from nejime.forms.vessel import Vessel

LEAST_SHARE, MOST_SHARE = 0.02, 4.0  # [own] of the first stem's length
LIKE = {"main": "first", "helper": "sub-1", "heart": "heart-1", "leaf": "leaf-1"}
"""Whose usual place a stem takes that has none of its own."""


@dataclass(frozen=True, slots=True)
class SetStem:
    """One stem as it was set; None where it is as the form, or the usual place, has it.

    `length` over the rule's first stem; `foot` (across, away) over half the pin holder's measure;
    `bow` over its own length; `leader` is the main stem that it follows; `bearing_deg` and `foot`
    for the piece that opens to the right.
    """

    id: str
    role: Role
    length: float | None = None
    tilt_deg: float | None = None
    bearing_deg: float | None = None
    foot: tuple[float, float] | None = None
    bow: float | None = None
    leader: str | None = None

    @property
    def moved(self) -> bool:
        """Whether anything of it was set by hand."""
        return (self.length, self.tilt_deg, self.bearing_deg, self.foot, self.bow) != (None,) * 5


@dataclass(frozen=True, slots=True)
class Design:
    """An arrangement without its vessel. `place`: the pin holder's, over the way that it can go."""

    form: str = "upright"
    size: Size = "usual"
    opens: Opens = "right"
    fuller_third: bool = False
    place: tuple[float, float] | None = None
    water_cm: float | None = None
    stems: tuple[SetStem, ...] = field(default=tuple(SetStem(each, "main") for each in MAIN))

    def stem(self, stem_id: str) -> SetStem:
        """The stem with this id. Raises `KeyError`."""
        for each in self.stems:
            if each.id == stem_id:
                return each
        raise KeyError(stem_id)

    def with_stem(self, changed: SetStem) -> Design:
        """The design with one stem changed."""
        kept = tuple(changed if each.id == changed.id else each for each in self.stems)
        return replace(self, stems=kept)


def aimed(design: Design, vessel: Vessel, held: Holder | None, rule: Rule) -> Piece:
    """The three main stems as the form has them, nothing moved. Raises `InputError`."""
    return piece(
        vessel,
        rule,
        design.form,
        size=design.size,
        opens=design.opens,
        held=held,
        water_cm=design.water_cm,
        fuller_third=design.fuller_third,
    )


def arranged(design: Design, vessel: Vessel, held: Holder | None, rule: Rule) -> Piece:
    """The design in a vessel. Raises `InputError` as `piece` does."""
    planned = aimed(design, vessel, held, rule)
    bare = replace(planned, place=_place(design, planned))
    usual = with_supporting(
        replace(bare, stems=tuple(_aim(bare, planned.stem(each)) for each in MAIN)),
        helpers=MOST["helper"],
        hearts=MOST["heart"],
        leaves=MOST["leaf"],
    )
    known = {stem.id: stem for stem in usual.stems}
    first_cm = planned.stem("first").length_cm
    stems = tuple(_stem(bare, each, known, first_cm) for each in design.stems)
    return replace(bare, stems=stems)


def _aim(bare: Piece, planned: Stem) -> Stem:
    """A main stem of the form with the pin holder where it lies now."""
    return main_stem(bare, planned.id, planned.length_cm)


def _place(design: Design, planned: Piece) -> Place:
    if design.place is None or planned.holder is None:
        return planned.place
    across, away = design.place
    side = 1.0 if design.opens == "right" else -1.0
    free_x, free_y = travel_cm(planned.holder, planned.vessel)
    return named_place(side * across * free_x, away * free_y, planned.holder, planned.vessel)


def _stem(bare: Piece, chosen: SetStem, known: Mapping[str, Stem], first_cm: float) -> Stem:
    """One stem: as the form or the usual place has it, with what was set by hand."""
    usual = known.get(chosen.id) or known[LIKE[chosen.role]]
    if not chosen.moved and chosen.id in known:
        return usual
    length_cm = usual.length_cm if chosen.length is None else chosen.length * first_cm
    tilt = usual.tilt if chosen.tilt_deg is None else about(chosen.tilt_deg, TILT_TOLERANCE_DEG)
    written = (
        _written(bare, usual.bearing_deg) if chosen.bearing_deg is None else chosen.bearing_deg
    )
    made = standing_stem(
        bare,
        chosen.id,
        chosen.role,
        length_cm=length_cm,
        tilt=tilt,
        bearing=about(written, BEARING_TOLERANCE_DEG),
        start=_start(bare, chosen, usual, written),
        label=bare.rule.label.get(chosen.id),
        leader=chosen.leader or usual.leader,
    )
    if chosen.bow is None:
        return made
    straight = made.cut_cm - curve_cm(length_cm, made.bow_cm)
    bow = chosen.bow * length_cm
    return replace(made, bow_cm=bow, cut_cm=straight + curve_cm(length_cm, bow))


def about(aim: float, slack: float) -> Range:
    """An aim with the slack of a lesson."""
    return Range(aim - slack, aim, aim + slack)


def _written(bare: Piece, bearing_deg: float) -> float:
    """A direction as it is written: for the piece that opens to the right."""
    return bearing_deg if bare.opens == "right" else mirrored(bearing_deg)


def _start(bare: Piece, chosen: SetStem, usual: Stem, written_deg: float) -> Point:
    turned = _written(bare, written_deg)
    if bare.holder is None:
        return at_mouth(bare.vessel, turned)
    if chosen.foot is None:
        return usual.start
    side = 1.0 if bare.opens == "right" else -1.0
    return foot_at(bare, side * chosen.foot[0], chosen.foot[1])


def foot_at(bare: Piece, across: float, away: float) -> Point:
    """A place between the pins, in shares of half the holder's measures; never outside them."""
    held = bare.holder
    assert held is not None
    if held.rectangular:
        across, away = max(-1.0, min(across, 1.0)), max(-1.0, min(away, 1.0))
    else:
        across, away = _between_pins(across, away)
    return Point(
        bare.place.x_cm + across * held.width_cm / 2,
        bare.place.y_cm + away * held.depth_cm / 2,
        bare.vessel.base_cm + held.foot_height_cm,
    )


def moved_to(
    design: Design,
    planned: Piece,
    stem_id: str,
    *,
    length_cm: float | None = None,
    tilt_deg: float | None = None,
    bearing_deg: float | None = None,
    foot_cm: tuple[float, float] | None = None,
    bow_cm: float | None = None,
) -> Design:
    """The design with a stem set as it now stands: true numbers in the vessel of `planned`, which
    is what `aimed` gave. `foot_cm` (x, y) is in the house frame."""
    was = design.stem(stem_id)
    side = 1.0 if design.opens == "right" else -1.0
    first_cm = planned.stems[0].length_cm
    changed = was
    if length_cm is not None:
        share = max(LEAST_SHARE, min(length_cm / first_cm, MOST_SHARE))
        changed = replace(changed, length=share)
    if tilt_deg is not None:
        changed = replace(changed, tilt_deg=max(0.0, min(tilt_deg, MOST_TILT_DEG)))
    if bearing_deg is not None:
        changed = replace(changed, bearing_deg=_written(planned, bearing_deg) % 360.0)
    if foot_cm is not None and planned.holder is not None:
        where = _place(design, planned)
        across = (foot_cm[0] - where.x_cm) / (planned.holder.width_cm / 2)
        away = (foot_cm[1] - where.y_cm) / (planned.holder.depth_cm / 2)
        changed = replace(changed, foot=_between_pins(side * across, away))
    if bow_cm is not None:
        now = changed.length * first_cm if changed.length else planned.stems[0].length_cm
        changed = replace(changed, bow=max(-0.4, min(bow_cm / now, 0.4)))
    return design.with_stem(changed)


def _between_pins(across: float, away: float) -> tuple[float, float]:
    far = max(1.0, math.hypot(across, away))
    return across / far, away / far


def holder_to(design: Design, planned: Piece, x_cm: float, y_cm: float) -> Design:
    """The design with the pin holder's middle at a place of the house frame, as far as it can go;
    the feet go with it."""
    if planned.holder is None:
        return design
    side = 1.0 if design.opens == "right" else -1.0
    free_x, free_y = travel_cm(planned.holder, planned.vessel)
    across = _share(side * x_cm, free_x)
    return replace(design, place=(across, _share(y_cm, free_y)))


def _share(way_cm: float, free_cm: float) -> float:
    return max(-1.0, min(way_cm / free_cm, 1.0)) if free_cm > 0 else 0.0


def next_id(design: Design, role: Role) -> str:
    """The id of one more stem of a role."""
    start = {"helper": "sub", "heart": "heart", "leaf": "leaf"}[role]
    taken = {stem.id for stem in design.stems}
    number = 1
    while f"{start}-{number}" in taken:
        number += 1
    return f"{start}-{number}"
