"""A stem of a plant, grown: `skeleton` is the one function that drawings and pages call.

Model: `branch` (wood with buds, flowers, leaves or berries), `tufts` (needles), `stem` (one flower
at the end), `spray`, `spike`, `blades` (a fan of leaves), `leaf`, `frond`, `plume`, `cane`.
Frame: stem-local: foot at the origin, chord to the end along +z, the good side to -y; cm, degrees.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import lru_cache

from nejime.drawings.skeleton import foliar, green, wood
from nejime.drawings.skeleton.chance import Chance
from nejime.drawings.skeleton.heads import STAGES
from nejime.drawings.skeleton.stem import Skeleton, Stance, Stem
from nejime.drawings.skeleton.table import habit
from nejime.drawings.skeleton.vectors import unit

HABITS: Mapping[str, Callable[[Stem], None]] = {
    "branch": wood.branch,
    "tufts": wood.tufts,
    "stem": green.single,
    "spray": green.spray,
    "spike": green.spike,
    "blades": foliar.blades,
    "leaf": foliar.one_leaf,
    "frond": foliar.frond,
    "plume": foliar.plume,
    "cane": foliar.cane,
}


OPENINGS: Mapping[str, float] = {  # [own] as the trade says it
    "in bud": 0.0,
    "colour showing": 0.25,
    "half open": 0.55,
    "open": 1.0,
}


@lru_cache(maxsize=256)  # the views and steps of a piece show the same stems again and again
def skeleton(
    plant_id: str,
    length_cm: float,
    thickness_mm: float,
    seed: int,
    stance: Stance,
    stage: float = 0.8,
) -> Skeleton:
    """A stem of a plant: equal arguments give the equal stem.

    `length_cm` is the chord from foot to end, `thickness_mm` that of the cut end, `stage` how far
    its flowers are open, 0 to 1 (`OPENINGS` names four). Raises `KeyError` for an unknown plant.
    """
    opening = max(0, min(STAGES, round(stage * STAGES)))
    true = replace(stance, up=unit(stance.up), eye=unit(stance.eye))
    stem = Stem(habit(plant_id), length_cm, thickness_mm, Chance(seed), true, opening)
    HABITS[stem.habit.habit](stem)
    return Skeleton(tuple(stem.axes), stem.organs, tuple(stem.placed))
