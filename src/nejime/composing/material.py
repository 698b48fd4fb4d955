"""What the eye needs to know of a stem's material: how thick, how leafy, how large its flower.

Model: a stem is a line with a band of twigs and leaves about it and perhaps a head at its end, a
ball. A leaf at the foot is a flat ellipse that ends its stalk and may droop from it.
Source: the sizes for material that nobody has chosen yet are our own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from nejime.forms.stems import Piece, Stem

Kind = Literal["branch", "flower", "leaf", "grass", "berry"]


@dataclass(frozen=True, slots=True)
class Material:
    """One stem's material.

    `plant` is equal for stems of the same kind, empty where nobody has said. `head_cm` is the width
    of its flower, 0 without one. `foliage_cm` is how far twigs and leaves stand out from the stem.
    `blade_cm` and `blade_width_cm` measure a leaf's blade, which hangs `droop_deg` lower than its
    stalk.
    `woody`: a tree or shrub, for the order of trees and herbs.
    """

    kind: Kind
    plant: str
    colour: str = ""
    thickness_mm: float = 6.0
    head_cm: float = 0.0
    head_g: float = 0.0
    foliage_cm: float = 0.0
    blade_cm: float = 0.0
    blade_width_cm: float = 0.0
    droop_deg: float = 0.0
    woody: bool = False
    weeping: bool = False


USUAL: Mapping[str, Material] = {  # [own] where nobody has chosen the material yet
    "branch": Material("branch", "", "", 8.0, 0.0, 0.0, 0.8, woody=True),
    "flower": Material("flower", "", "", 5.0, 4.0, 8.0, 0.8),
    "heart": Material("flower", "", "", 6.0, 6.0, 12.0, 0.8),
}
LEAF_BLADE, LEAF_BREADTH = 0.85, 0.6  # [own] of its length; of its blade
LEAST_BLADE = 0.3  # [own] of its length: in deep water
LEAF_MM, LEAF_DROOP_DEG = 4.0, 45.0  # [own] a leaf that bends over the pins


def usual_material(stem: Stem) -> Material:
    """What a stem is when nobody said: a branch, but a flower as third, as every other helper stem
    and, of another kind, at the heart."""
    if stem.role == "leaf":
        return usual_leaf(stem.length_cm, stem.below_cm)
    if stem.role == "heart":
        return USUAL["heart"]
    second = stem.role == "helper" and stem.id.endswith(("2", "4", "6", "8", "0"))
    return USUAL["flower" if stem.id == "third" or second else "branch"]


def usual_leaf(length_cm: float, below_cm: float = 0.0) -> Material:
    """A leaf chosen for the length that is wanted and for the part of it under water: blade and
    breadth go with it, and the stalk reaches out of the water."""
    blade = min(LEAF_BLADE * length_cm, max(length_cm - below_cm, LEAST_BLADE * length_cm))
    return Material(
        "leaf",
        "",
        thickness_mm=LEAF_MM,
        blade_cm=blade,
        blade_width_cm=LEAF_BREADTH * blade,
        droop_deg=LEAF_DROOP_DEG,
    )


def with_usual(piece: Piece, known: Mapping[str, Material] | None) -> dict[str, Material]:
    """The material of every stem of a piece by its id, the usual one where it is not known."""
    told = known or {}
    return {stem.id: told.get(stem.id, usual_material(stem)) for stem in piece.stems}
