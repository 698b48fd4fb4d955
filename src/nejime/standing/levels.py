"""What rests on what: the pin holder in the vessel, and the vessel on the table.

Model: the holder is held down by what it weighs under water and tips over its own edge; the vessel
rests with its water and holder, at their true weights, on its foot. No suction, no putty counted.
Frame: the house frame. Shapes: (samples,).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from nejime.forms.holder import Holder
from nejime.forms.stems import Piece
from nejime.forms.vessel import Mass, Vessel
from nejime.standing import draws as table
from nejime.standing.bending import Array
from nejime.standing.loads import Weights
from nejime.standing.tipping import (
    Bodies,
    Ellipse,
    Foot,
    Tipping,
    bodies,
    circle,
    rectangle,
    tipping,
    together,
)
from nejime.standing.water import carried, poured_ml, stems_ml

Level = Literal["holder", "vessel", "stem"]

RIM_OF_HOLDER_CM = 0.15  # [own] a holder tips over the inner edge of its rubber ring or chamfer
WATER_SPREAD = 0.05  # [own] how well a vessel's volume and level are known
FOOT_SPREAD = 0.1  # [own] of a foot's width that nobody measured


@dataclass(frozen=True, slots=True)
class Extra:
    """A weight put in: on the pin holder (a second one upside down) or in the vessel."""

    mass: Mass
    x_cm: float
    y_cm: float
    on_holder: bool


def holder_foot(held: Holder) -> Foot:
    """The edge over which a pin holder tips."""
    if held.rectangular:
        return rectangle(held.width_cm - 2 * RIM_OF_HOLDER_CM, held.depth_cm - 2 * RIM_OF_HOLDER_CM)
    return circle(held.width_cm / 2 - RIM_OF_HOLDER_CM)


def vessel_foot(vessel: Vessel) -> Foot:
    """The edge over which a vessel tips: its foot, not its rim."""
    if vessel.round_plan:
        return Ellipse(vessel.foot_width_cm / 2, vessel.foot_depth_cm / 2)
    return rectangle(vessel.foot_width_cm, vessel.foot_depth_cm)


def _lot(number: int, spread: float) -> Array:
    return np.asarray(np.exp(spread * table.column(number)))


def tippings(
    piece: Piece, found: Weights, extras: tuple[Extra, ...], level_cm: float
) -> dict[Level, Tipping]:
    """Both levels with water of a level above the floor; no `holder` in a tall vase."""
    each: dict[Level, Tipping] = {}
    if piece.holder is not None:
        each["holder"] = holder_tipping(piece, piece.holder, found, extras, level_cm)
    each["vessel"] = vessel_tipping(piece, found, extras, level_cm)
    return each


def holder_tipping(
    piece: Piece, held: Holder, found: Weights, extras: tuple[Extra, ...], level_cm: float
) -> Tipping:
    """The pin holder on the vessel's floor, with what it weighs under water."""
    middle = (piece.place.x_cm, piece.place.y_cm)
    lot = carried(held, level_cm) * _lot(table.HOLDER, held.mass.spread)
    base = [(held.mass.g, middle)]
    base += [(extra.mass.g, (extra.x_cm, extra.y_cm)) for extra in extras if extra.on_holder]
    top = max(stem.end.z_cm for stem in piece.stems) - piece.vessel.base_cm
    return tipping(
        holder_foot(held),
        _scaled(base, middle, lot),
        found.about(*middle),
        top_cm=max(top, held.height_cm),
    )


def vessel_tipping(
    piece: Piece, found: Weights, extras: tuple[Extra, ...], level_cm: float
) -> Tipping:
    """The vessel on the table, with water and holder at their true weights."""
    vessel, held, origin = piece.vessel, piece.holder, (0.0, 0.0)
    poured = poured_ml(vessel, held, level_cm, stems_ml(piece, found.bodies, level_cm))
    base = [
        _scaled([(vessel.mass.g, origin)], origin, _lot(table.VESSEL, vessel.mass.spread)),
        _scaled([(poured, origin)], origin, _lot(table.WATER, WATER_SPREAD)),
    ]
    if held is not None:
        heavy = [(held.mass.g, (piece.place.x_cm, piece.place.y_cm))]
        base.append(_scaled(heavy, origin, _lot(table.HOLDER, held.mass.spread)))
    for extra in extras:
        lot = _lot(table.HOLDER, extra.mass.spread)
        base.append(_scaled([(extra.mass.g, (extra.x_cm, extra.y_cm))], origin, lot))
    guessed = FOOT_SPREAD if "foot_width" in vessel.guessed else 0.0
    return tipping(
        vessel_foot(vessel),
        together(*base),
        found.about(*origin),
        top_cm=max(stem.end.z_cm for stem in piece.stems) + vessel.stand_cm,
        size=_lot(table.FOOT, guessed),
    )


def _scaled(
    heavy: list[tuple[float, tuple[float, float]]], about: tuple[float, float], lot: Array
) -> Bodies:
    """Masses at places as one body about a point, in every draw."""
    one = bodies([g for g, _ in heavy], np.array([place for _, place in heavy]) - about)
    return Bodies(one.g * lot, one.moment_g_cm * lot[:, None])
