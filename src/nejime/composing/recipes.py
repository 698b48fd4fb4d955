"""Three plans for supporting stems that differ from the start: where the tall helper stem goes,
how the others are grouped, to which side the flower at the heart looks.

Model: a plan gives every stem a box of numbers; a search looks for the best point in it.
Frame: written for the piece that opens to the right; the other is its mirror.
Source: helper stems follow a main stem, are shorter and of varying lengths: common practice. The
boxes are ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np

from nejime.composing.lines import Array
from nejime.composing.material import Material
from nejime.forms.stems import Piece

NUMBERS = 6  # [own] share or stalk, lean, direction, foot across, foot away, droop
TALL = Literal["behind", "left", "right"]
FOOT_SHARE = 0.8  # [own] of the pin holder's half measure


@dataclass(frozen=True, slots=True)
class AtHand:
    """One stem that may be used: its role, its material, how long it can be at most."""

    role: Literal["helper", "heart", "leaf"]
    material: Material
    longest_cm: float


class Plan(NamedTuple):
    """What makes one suggestion different: a teacher's liking is for these."""

    tall: TALL
    heart: Literal["left", "right", "far right"]
    follows: tuple[str, ...]
    higher: bool


PLANS: tuple[Plan, ...] = (
    Plan("behind", "right", ("first", "second", "first", "third", "first", "first"), False),
    Plan("left", "left", ("first", "second", "third", "second", "second", "second"), True),
    Plan("right", "far right", ("first", "third", "second", "third", "third", "first"), False),
)
TALL_DEG = {"behind": (340.0, 390.0), "left": (280.0, 325.0), "right": (40.0, 85.0)}  # [own]
HEART_DEG = {
    "left": (190.0, 250.0),
    "right": (145.0, 172.0),
    "far right": (80.0, 130.0),
}  # [own] never dead in front
TALL_SHARE, TALL_LEAN_DEG = (0.50, 0.75), (8.0, 30.0)  # [own] of the first stem
BESIDE_DEG = 35.0  # [own] how far other helper stems of the first turn from the tall one
AFTER_DEG = 55.0  # [own] from the second or the third
BESIDE_SHARE, AFTER_SHARE = (0.25, 0.65), (0.40, 0.88)  # [own] of the stem that it follows
BESIDE_LEAN_DEG = (10.0, 42.0)  # [own]
AFTER_LEAN_DEG = (40.0, 8.0)  # [own] less and more than the stem that it follows
HEART_SHARE, HEART_LEAN_DEG = (0.18, 0.38), (20.0, 60.0)  # [own] of the first stem
STALK = (0.02, 0.14)  # [own] of the first stem
LEAF_LEAN_DEG, DROOP_DEG = (5.0, 50.0), (-10.0, 55.0)  # [own]
LEAF_SIDES_DEG = (180.0, 230.0, 130.0, 275.0)  # [own] the front first
LEAF_TURN_DEG = 45.0  # [own]


class Boxes(NamedTuple):
    """The least and the most of every number (s, 6), and whom each stem follows (s,)."""

    low: Array
    high: Array
    leaders: tuple[str, ...]


def boxes(piece: Piece, stock: tuple[AtHand, ...], plan: Plan, shift: int) -> Boxes:
    """The plan's boxes for the material at hand; `shift` varies whom the later ones follow."""
    rows, leaders = [], []
    seen = {"helper": 0, "heart": 0, "leaf": 0}
    for item in stock:
        nth = seen[item.role]
        seen[item.role] += 1
        if item.role == "helper":
            leader = _leader(plan, nth, shift)
            rows.append(_helper(piece, item, plan, nth, leader))
        elif item.role == "heart":
            leader = "third"
            rows.append(_heart(piece, item, plan, nth))
        else:
            leader = "third"
            rows.append(_leaf(piece, nth))
        leaders.append(leader)
    box = np.array(rows, dtype=float).reshape(-1, NUMBERS, 2)
    low, high = box[..., 0].copy(), box[..., 1].copy()
    if piece.opens == "left":
        low[:, 2], high[:, 2] = -box[:, 2, 1], -box[:, 2, 0]
    return Boxes(low, high, tuple(leaders))


def _leader(plan: Plan, nth: int, shift: int) -> str:
    """Whom the nth helper stem follows: the tall one the first, the others as the plan has it."""
    rest = plan.follows[1:]
    return plan.follows[0] if nth == 0 else rest[(nth - 1 + shift) % len(rest)]


Box = list[tuple[float, float]]
_FEET = (-FOOT_SHARE, FOOT_SHARE)
_UNUSED = (0.0, 0.0)


def _helper(piece: Piece, item: AtHand, plan: Plan, nth: int, leader: str) -> Box:
    aim = piece.form.lean(leader)
    lean, side = min(aim.tilt_deg.aim, 75.0), aim.bearing_deg.aim
    if nth == 0:
        return _box(piece, item, leader, TALL_SHARE, TALL_LEAN_DEG, TALL_DEG[plan.tall])
    if leader == "first":
        low, high = TALL_DEG[plan.tall]
        sides = (low - BESIDE_DEG, high + BESIDE_DEG)
        return _box(piece, item, leader, BESIDE_SHARE, BESIDE_LEAN_DEG, sides)
    less, more = AFTER_LEAN_DEG
    leans = (max(12.0, lean - less), max(30.0, min(78.0, lean + more)))
    half = (leans[0] + leans[1]) / 2
    leans = (leans[0], half + 5.0) if plan.higher else (min(leans[0] + 5.0, half), leans[1])
    return _box(piece, item, leader, AFTER_SHARE, leans, (side - AFTER_DEG, side + AFTER_DEG))


def _box(
    piece: Piece,
    item: AtHand,
    leader: str,
    share: tuple[float, float],
    lean: tuple[float, float],
    side: tuple[float, float],
) -> Box:
    most = min(share[1], item.longest_cm / piece.stem(leader).length_cm)
    return [(min(share[0], 0.8 * most), most), lean, side, _FEET, _FEET, _UNUSED]


def _heart(piece: Piece, item: AtHand, plan: Plan, nth: int) -> Box:
    low, high = HEART_DEG[plan.heart]
    turn = (0.0, -50.0, 50.0)[nth % 3]
    # `share` is of the third stem here, so that one rule holds for all: whom it follows.
    third, first = piece.stem("third").length_cm, piece.stem("first").length_cm
    most = min(HEART_SHARE[1] * first, item.longest_cm) / third
    least = min(HEART_SHARE[0] * first / third, 0.8 * most)
    return [(least, most), HEART_LEAN_DEG, (low + turn, high + turn), _FEET, (-0.8, 0.2), _UNUSED]


def _leaf(piece: Piece, nth: int) -> Box:
    side = LEAF_SIDES_DEG[nth % len(LEAF_SIDES_DEG)]
    first = piece.stem("first").length_cm
    stalk = (STALK[0] * first, STALK[1] * first)
    sides = (side - LEAF_TURN_DEG, side + LEAF_TURN_DEG)
    return [stalk, LEAF_LEAN_DEG, sides, (-0.9, 0.9), (-0.9, 0.6), DROOP_DEG]
