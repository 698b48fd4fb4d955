"""The stems of a piece as loads: what each weighs and where its weight comes to lie.

Model: each stem is bent by its own weight and its head (`bending`) from where it is held: the pins,
or the mouth of a tall vase. The part inside a vase is straight. Water carries next to nothing of a
stem and is left out, which is on the safe side.
Frame: the house frame. Shapes: (samples, stems); one sample where nothing is drawn.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from nejime.basis.angles import heading
from nejime.forms.stems import Piece
from nejime.standing import draws as table
from nejime.standing.bending import Array, Bent, Rods, standing, straight_centre
from nejime.standing.masses import Body, Draws, inside_cm, rods_of, stem_kinds, usual_body
from nejime.standing.tipping import Bodies, bodies

TILT_SPREAD_DEG = 3.0  # [own] how near to the asked lean a stem is set
SHARED = 0.5  # [own] share of the spread of masses that stems of one kind have in common
LINKS = 12  # [own] for loads: centre of gravity within 0.2 % of the length
Bodied = Mapping[str, Body]


@dataclass(frozen=True, slots=True)
class Weights:
    """What every stem weighs, and where. `g` and `place_cm` (…, 2) are of the whole stem with its
    head."""

    bodies: tuple[Body, ...]
    g: Array
    place_cm: Array

    def about(self, x_cm: float, y_cm: float) -> Bodies:
        """All stems as one body, with its moments about a point."""
        return bodies(self.g, self.place_cm - np.array([x_cm, y_cm]))


@dataclass(frozen=True, slots=True)
class Loads(Weights):
    """Every stem's load, with how it bends."""

    rods: Rods
    bent: Bent


def material(piece: Piece, known: Bodied) -> tuple[Body, ...]:
    """What each stem is made of; the usual where nobody told."""
    return tuple(known.get(stem.id) or usual_body(stem) for stem in piece.stems)


def loads(piece: Piece, known: Bodied, *, drawn: bool) -> Loads:
    """The loads of a piece's stems, 400 times with their spreads (`drawn`) or once without."""
    stems = piece.stems
    made_of = material(piece, known)
    chance = _drawn(made_of) if drawn else _undrawn(len(stems))
    held = [inside_cm(stem) for stem in stems]
    whole = [stem.length_cm + part for stem, part in zip(stems, held, strict=True)]
    rods = rods_of(made_of, whole, held, chance)
    tilt = np.array([stem.stands_deg for stem in stems]) + TILT_SPREAD_DEG * chance.tilt
    hung = standing(rods, np.array([stem.length_cm for stem in stems]), tilt, links=LINKS)
    g, place = _placed(piece, hung.centre_out_cm, hung.free_g, hung.held_g)
    return Loads(made_of, g, place, rods, hung)


def rigid_loads(piece: Piece, known: Bodied) -> Weights:
    """The loads of stems that do not bend, 400 times with their spreads: quick, for a hand that
    is still moving a stem. A soft stem that bends reaches further out than this says."""
    stems = piece.stems
    made_of = material(piece, known)
    chance = _drawn(made_of)
    held = [inside_cm(stem) for stem in stems]
    whole = [stem.length_cm + part for stem, part in zip(stems, held, strict=True)]
    rods = rods_of(made_of, whole, held, chance)
    tilt = np.array([stem.stands_deg for stem in stems]) + TILT_SPREAD_DEG * chance.tilt
    free_g, centre = straight_centre(rods)
    reach = np.array([stem.length_cm for stem in stems]) * np.sin(np.radians(tilt))
    g, place = _placed(piece, centre * reach, free_g, rods.stem_g + rods.head_g - free_g)
    return Weights(made_of, g, place)


def _placed(piece: Piece, out_cm: Array, free_g: Array, held_g: Array) -> tuple[Array, Array]:
    """Mass and centre of gravity of every stem, its free and its held part together."""
    ways = np.array([heading(stem.bearing_deg) for stem in piece.stems]).reshape(-1, 2)
    start = np.array([stem.start[:2] for stem in piece.stems]).reshape(-1, 2)
    middle = (start + np.array([stem.foot[:2] for stem in piece.stems]).reshape(-1, 2)) / 2
    free = start + out_cm[..., None] * ways
    g = free_g + held_g
    moment = free_g[..., None] * free + held_g[..., None] * middle
    return g, np.asarray(moment / g[..., None])


def _undrawn(count: int) -> Draws:
    none = np.zeros((1, count))
    return Draws(none, none, none, none, none)


def _drawn(made_of: tuple[Body, ...]) -> Draws:
    return _draws_of(tuple(body.kind for body in made_of))


@lru_cache(maxsize=64)  # a hand that moves a stem asks again and again for the same kinds
def _draws_of(made_of: tuple[str, ...]) -> Draws:
    """The table's columns for these kinds of stem; the masses of one kind have a part in common."""
    kinds = list(stem_kinds())
    columns = [
        np.stack([table.stem_column(stem, quantity) for stem in range(len(made_of))], axis=-1)
        for quantity in range(len(Draws._fields))
    ]
    drawn = Draws(*columns)
    shared = np.stack([table.column(table.KINDS + kinds.index(kind)) for kind in made_of], -1)
    mass = math.sqrt(SHARED) * shared + math.sqrt(1.0 - SHARED) * drawn.mass
    return drawn._replace(mass=mass)
