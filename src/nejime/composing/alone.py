"""One stem or one leaf: in the water, against the rim, down, at the viewer, off the pins.

Each measure says by how much a stem oversteps its limit: above 0 it does.
Shapes: a bundle (…, n); results (…, n).
Source: the faults are old (the list of tea flowers); their limits are ours. The way to the rim is
the formula of `forms.vessel.to_edge_cm`, for arrays.
"""

from __future__ import annotations

import numpy as np

from nejime.composing.between import HEAD, LONG, NO, head_points
from nejime.composing.lines import Array, Blades, Flags, Stems, angle_deg, unit
from nejime.composing.seeing import behind_blades
from nejime.composing.setting import Setting

FACE_DEG = 12.0  # [own] a face nearer to the eye, or to straight at the front, stares
DOWN_DEG = 160.0  # [own] the list says straight down
STAB_DEG = 15.0  # [own]
RIM = 0.002  # [own] of the first stem: a millimetre on half a metre is no fault
WET = 0.004  # [own] of the first stem: a leaf's edge may touch the water
OFF_PINS = 0.92  # [own] of the pin holder's half measure
LEAF_HIDES = 0.5  # [own] share of a flower that one leaf hides
HEAD_FREE_CM = 2.0  # [own] a head's lowest point over the rim in what we suggest
HEART_OVER = 0.6  # [own] of its radius: how far the heart flower's middle is over the rim
UPRIGHT_DEG = 12.0  # [own] a small flower that leans less stands like a sweet on a stick
FRONT = np.array([0.0, -1.0, 0.0])


def stares(here: Setting, one: Stems) -> Array:
    """How directly a flower faces the eye or the front."""
    to_eye = unit(here.eye - one.end_cm)
    off = np.minimum(angle_deg(one.face, to_eye), angle_deg(one.face, FRONT))
    return np.where(one.head_cm >= HEAD * here.main_cm, 1.0 - off / FACE_DEG, NO)


def in_water(here: Setting, one: Stems) -> Array:
    """How far an end or a flower is under water inside the vessel, over the first stem."""
    low = one.end_cm[..., 2] - one.head_cm
    under = (here.water_z_cm - low) / here.main_cm
    return np.where(inside(here, one.end_cm) & ("floating" not in here.allow), under, NO)


def blade_in_water(here: Setting, leaf: Blades) -> Array:
    """How far a leaf is under water inside the vessel, over the first stem."""
    low = leaf.middle_cm[..., 2] - np.hypot(
        leaf.half_long_cm * leaf.along[..., 2], leaf.half_wide_cm * leaf.across[..., 2]
    )
    under = (here.water_z_cm - low) / here.main_cm - WET
    return np.where(inside(here, leaf.middle_cm) & ("floating" not in here.allow), under, NO)


def inside(here: Setting, points: Array) -> Flags:
    """Whether points (…, 3) are within the rim seen from above."""
    at = points[..., :2] / np.array(here.half_cm)
    if here.piece.vessel.round_plan:
        return np.asarray(np.hypot(at[..., 0], at[..., 1]) < 1.0)
    return np.asarray(np.max(np.abs(at), axis=-1) < 1.0)


def down(here: Setting, one: Stems) -> Array:
    """How nearly an end points straight down."""
    steep = np.degrees(np.arccos(np.clip(one.tangent[..., 2], -1.0, 1.0)))
    if "weeping" in here.allow:
        return np.full(steep.shape, NO)
    return np.asarray((steep - DOWN_DEG) / (180.0 - DOWN_DEG))


def stabs(here: Setting, one: Stems) -> Array:
    """How straight a long stem's end points at the viewer."""
    off = angle_deg(one.tangent, FRONT)
    return np.where(one.length_cm > LONG * here.main_cm, 1.0 - off / STAB_DEG, NO)


def below_rim(here: Setting, one: Stems) -> Array:
    """How far a stem is below the rim where it leaves the vessel, over the first stem.

    The higher of the straight line and the bowed stem counts: a stem may rest on the rim.
    """
    if here.piece.vessel.tall:
        return np.full(one.length_cm.shape, NO)
    out = np.maximum(np.hypot(one.line[..., 0], one.line[..., 1]), 1e-6)
    way = to_rim_cm(here, one)
    share = way / (one.length_cm * out)
    straight = one.line[..., 2] * one.length_cm * share
    bulge = 4 * one.bow_cm * share * (1 - share)
    # Where the bowed stem is that far out: first order in the bow.
    bowed = straight - bulge * (out + one.line[..., 2] ** 2 / out)
    z = one.start_cm[..., 2] + np.maximum(straight, bowed)
    low = (here.rim_cm + one.half_cm - z) / here.main_cm - RIM
    hangs = (one.tilt_deg >= 90.0) & ("hanging" in here.allow)
    return np.where((share < 1.0) & ~hangs, low, NO)


def to_rim_cm(here: Setting, one: Stems) -> Array:
    """Horizontal way from each foot to the inner edge of the rim, in the stem's direction."""
    half = np.array(here.half_cm)
    bearing = np.radians(one.bearing_deg)
    step = np.stack([np.sin(bearing), np.cos(bearing)], axis=-1)
    foot = one.start_cm[..., :2]
    if here.piece.vessel.round_plan:
        return _leaves_ellipse(foot / half, step / half)
    return _leaves_rectangle(foot, step, half, here.piece.vessel.corner_radius_cm)


def _leaves_ellipse(foot: Array, step: Array) -> Array:
    a = np.sum(step**2, axis=-1)
    b = np.sum(foot * step, axis=-1)
    c = np.sum(foot**2, axis=-1) - 1.0
    return np.where(c >= 0, 0.0, (-b + np.sqrt(np.maximum(b**2 - a * c, 0.0))) / a)


def _leaves_rectangle(foot: Array, step: Array, half: Array, corner_cm: float) -> Array:
    with np.errstate(divide="ignore", invalid="ignore"):
        walls = np.where(step != 0, (np.copysign(half, step) - foot) / step, np.inf)
    way = np.min(walls, axis=-1)
    end = foot + way[..., None] * step
    middle = np.copysign(half - corner_cm, end)
    off = foot - middle
    along = np.sum(off * step, axis=-1)
    round_way = -along + np.sqrt(np.maximum(corner_cm**2 - np.sum(off**2, axis=-1) + along**2, 0.0))
    in_corner = (corner_cm > 0) & np.all(np.abs(end) > half - corner_cm, axis=-1)
    outside = np.any(np.abs(foot) >= half, axis=-1)
    return np.where(outside, 0.0, np.where(in_corner, np.maximum(round_way, 0.0), way))


def off_pins(here: Setting, one: Stems) -> Array:
    """How far a foot is outside the pins."""
    held = here.piece.holder
    if held is None:
        return np.full(one.length_cm.shape, NO)
    at = np.abs(one.start_cm[..., :2] - here.middle_cm) / np.array(here.holder_half_cm)
    far = np.max(at, axis=-1) if held.rectangular else np.hypot(at[..., 0], at[..., 1])
    return np.asarray(far - OFF_PINS)


def behind_leaf(here: Setting, one: Stems, leaf: Blades) -> Array:
    """How much more than allowed of a flower one leaf hides: (…, n, m) of unbatched stems."""
    points, _ = head_points(here, one)
    flat = points.reshape(-1, 3)
    hidden = behind_blades(flat, here.eye, leaf)
    share = np.mean(hidden.reshape(*hidden.shape[:-1], *points.shape[-3:-1]), axis=-1)
    looked = one.head_cm >= HEAD * here.main_cm
    return np.where(looked[:, None], np.swapaxes(share, -1, -2) - LEAF_HIDES, NO)


def low_head(here: Setting, one: Stems) -> Array:
    """In a suggestion: how far a head is too near the rim, in cm, inside or over it."""
    room = here.rim_cm + HEAD_FREE_CM - (one.end_cm[..., 2] - one.head_cm)
    at = one.end_cm[..., :2] / (np.array(here.half_cm) + one.head_cm[..., None])
    clear = np.hypot(at[..., 0], at[..., 1]) > 1.0
    return np.where(clear | (one.head_cm <= 0), NO, room)


def low_heart(here: Setting, one: Stems) -> Array:
    """In a suggestion: how far the flower at the heart sinks behind the wall, in cm."""
    return np.asarray(here.rim_cm + HEART_OVER * one.head_cm - one.end_cm[..., 2])


def too_upright(here: Setting, one: Stems) -> Array:
    """In a suggestion: how much too upright a flower stands, over its limit."""
    del here
    return np.where(one.head_cm > 0, 1.0 - one.tilt_deg / UPRIGHT_DEG, NO)
