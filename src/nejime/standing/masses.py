"""What stems weigh and how stiff they are, from what a teacher can say of them.

Model: fresh mass = g_cm3 · π/4 · D² · length, with D the thickness at the cut, by the kind of stem
(`data/stem_kinds.toml`); the head comes on top. A kitchen scale replaces both.
Spread: the deviation of the logarithm of a quantity, so that 0.25 is about ± 25 %.
Source: see the table; masses of heads come from the plant table or from the teacher.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from functools import cache
from typing import Literal, NamedTuple

import numpy as np

from nejime.basis import tables
from nejime.forms.stems import Stem
from nejime.forms.vessel import WEIGHED_SPREAD, Mass
from nejime.standing.bending import Array, Rods, rods

Kind = Literal["bare-branch", "leafy-branch", "firm-stem", "soft-stem", "leaf-stalk"]
Stage = Literal["open", "bud"]

THICKNESS_MM: Mapping[str, float] = {  # [own] what is at hand to compare with
    "matchstick": 2.0,
    "drinking-straw": 5.0,
    "pencil": 7.0,
    "little-finger": 12.0,
    "thumb": 18.0,
}
THICKNESS_SPREAD = 0.1  # [own] of a thickness compared with a finger
USUAL_SPREAD = 0.2  # [own] of a thickness that nobody told
HEAD_SPREAD = 0.25  # [memory] flowers of a kind
BUD_SHARE = 0.7  # [own] a bud that shows colour over the open flower
BRANCH_MM_PER_CM = 0.13  # [own] a branch of 60 cm is 8 mm thick at the cut
BRANCH_MM = (4.0, 15.0)  # [own] the thinnest and thickest that is usual
FLOWER_MM = 6.0  # [own]
FLOWER_HEAD_G = 12.0  # [memory] a rose or tulip: 8 to 15
LEAF_MM = 4.0  # [own]
USUAL_MASS_SPREAD = 0.5  # [own] of a stem of which nobody told the kind


@dataclass(frozen=True, slots=True)
class StemKind:
    """What a kind of stem is like; see `data/stem_kinds.toml`."""

    name: str
    woody: bool
    stiffness_gpa: float
    stiffness_spread: float
    g_cm3: float
    mass_spread: float
    taper: float
    foliage: float
    leaves_from: float


@cache
def stem_kinds() -> dict[str, StemKind]:
    """Every kind of stem by its name. Raises `tables.TableError`."""
    file = "stem_kinds.toml"
    asked = {field.name for field in fields(StemKind)} - {"name"}
    found = {}
    for row, (name, entry) in enumerate(tables.read_toml(file).items(), start=1):
        if set(entry) != asked:
            raise tables.TableError(file, row, f"{name}: wants exactly {sorted(asked)}")
        found[name] = StemKind(name=name, **entry)
    return found


@dataclass(frozen=True, slots=True)
class Body:
    """What is known of one stem's material.

    `thickness_mm` is measured at the cut; `head_g` is the flower fully open (all flowers of a stem
    together), lighter while `stage` is `bud`. `weighed_g` is the cut stem with its head on a
    scale. `thinned`: share of its leaves and twigs taken off (after weighing). `conditioned`: had
    its drink; a thirsty stem is limp in its upper part. `told` is False for a stem of which
    nobody said anything.
    """

    kind: Kind
    thickness_mm: float
    head_g: float = 0.0
    weighed_g: float | None = None
    conditioned: bool = True
    stage: Stage = "open"
    thinned: float = 0.0
    told: bool = True

    @property
    def weighed(self) -> bool:
        """Whether its mass comes from a scale."""
        return self.weighed_g is not None


class Parts(NamedTuple):
    """The masses of a stem (with twigs and leaves) and of its head."""

    stem: Mass
    head: Mass


def usual_body(stem: Stem) -> Body:
    """What a stem is like when nobody said: branches, but a flower as third and at the heart."""
    kind: Kind = "leafy-branch"
    if stem.role == "leaf":
        kind = "leaf-stalk"
    elif stem.role == "heart" or stem.id == "third":
        kind = "firm-stem"
    head_g = FLOWER_HEAD_G if kind == "firm-stem" else 0.0
    return Body(kind, usual_thickness_mm(kind, whole_cm(stem)), head_g, told=False)


def usual_thickness_mm(kind: Kind, length_cm: float) -> float:
    """How thick a stem of a kind is at the cut when nobody said; longer branches are thicker."""
    if kind == "leaf-stalk":
        return LEAF_MM
    if not stem_kinds()[kind].woody:
        return FLOWER_MM
    thin, thick = BRANCH_MM
    return min(max(BRANCH_MM_PER_CM * length_cm, thin), thick)


def whole_cm(stem: Stem) -> float:
    """The length of a stem as it stands, with the part inside a tall vase."""
    return stem.length_cm + inside_cm(stem)


def inside_cm(stem: Stem) -> float:
    """The part of a stem inside a tall vase; 0 on pins."""
    return math.dist(stem.start, stem.foot)


def parts(body: Body, length_cm: float) -> Parts:
    """The masses of a stem of a length along the curve, and how far they can be trusted."""
    stem_g, head_g = _unweighed_g(body, body.thickness_mm, length_cm)
    mass, head = _mass_spread(body), HEAD_SPREAD
    if body.weighed_g is not None:
        share = body.weighed_g / (stem_g + head_g)
        stem_g, head_g, mass, head = stem_g * share, head_g * share, WEIGHED_SPREAD, WEIGHED_SPREAD
    else:
        mass = math.hypot(mass, 2 * _thickness_spread(body))
    return Parts(Mass(stem_g * (1.0 - _taken_off(body)), mass), Mass(head_g, head))


def _unweighed_g(body: Body, thick_mm: float, length_cm: float) -> tuple[float, float]:
    section_cm2 = math.pi / 4 * (thick_mm / 10) ** 2
    head = body.head_g * (BUD_SHARE if body.stage == "bud" else 1.0)
    return stem_kinds()[body.kind].g_cm3 * section_cm2 * length_cm, head


def _mass_spread(body: Body) -> float:
    return stem_kinds()[body.kind].mass_spread if body.told else USUAL_MASS_SPREAD


def _thickness_spread(body: Body) -> float:
    return THICKNESS_SPREAD if body.told else USUAL_SPREAD


def _taken_off(body: Body) -> float:
    """Share of the stem's mass that thinning takes off."""
    return body.thinned * stem_kinds()[body.kind].foliage


class Draws(NamedTuple):
    """Standard normal numbers for the uncertain quantities of stems: arrays (samples, stems)."""

    thickness: Array
    mass: Array
    head: Array
    stiffness: Array
    tilt: Array


def rods_of(
    known: Sequence[Body], length_cm: Sequence[float], held_cm: Sequence[float], draws: Draws
) -> Rods:
    """The stems with their spreads: fields (samples, stems).

    `length_cm` is the whole length of each, `held_cm` the part of it held inside a tall vase.
    """
    kinds = [stem_kinds()[body.kind] for body in known]
    wide = np.exp(draws.thickness * [_thickness_spread(body) for body in known])
    heavy = np.exp(draws.mass * [_mass_spread(body) for body in known])
    full = np.exp(draws.head * HEAD_SPREAD)
    usual = [
        _unweighed_g(body, body.thickness_mm, long)
        for body, long in zip(known, length_cm, strict=True)
    ]
    stem_g = np.array([stem for stem, _ in usual]) * wide**2 * heavy
    head_g = np.array([head for _, head in usual]) * full
    scale = _to_scale(known, stem_g + head_g, draws.mass)
    left = np.array([1.0 - _taken_off(body) for body in known])
    kept = np.array([1.0 - body.thinned for body in known])
    foliage = np.array([kind.foliage for kind in kinds])
    return rods(
        thickness_mm=np.array([body.thickness_mm for body in known]) * wide,
        stiffness_gpa=np.array([kind.stiffness_gpa for kind in kinds])
        * np.exp(draws.stiffness * [kind.stiffness_spread for kind in kinds]),
        stem_g=stem_g * scale * left,
        head_g=head_g * scale,
        taper=[kind.taper for kind in kinds],
        foliage=foliage * kept / left,
        leaves_from=[kind.leaves_from for kind in kinds],
        wilted=[0.0 if body.conditioned else 1.0 for body in known],
        held_from=np.array(held_cm) / np.array(length_cm),
    )


def _to_scale(known: Sequence[Body], estimate_g: Array, draw: Array) -> Array:
    """What brings the estimate to the scale's reading, where there is one; else 1."""
    read = np.array([body.weighed_g or np.nan for body in known])
    weighed = read * np.exp(draw * WEIGHED_SPREAD) / estimate_g
    return np.asarray(np.where(np.isnan(read), 1.0, weighed))
