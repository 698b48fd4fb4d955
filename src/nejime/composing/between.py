"""Two stems together: crossing, running side by side, facing, ending level, hiding, crowding.

Each measure compares two bundles of stems that broadcast against each other and says by how much a
pair oversteps its limit: above 0 it does. *From the front* is the plain elevation (x, z).
Shapes: bundles (…, n) and (…, n); results (…, n).
Source: the faults are old (Averill 1913; the list of tea flowers); their limits are ours.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from nejime.composing.lines import (
    POINTS,
    Array,
    Flags,
    Stems,
    angle_deg,
    front_deg,
    turn_between_deg,
    unit,
)
from nejime.composing.seeing import disc
from nejime.composing.setting import Setting

FOOT_ZONE = 0.10  # [own] of the first stem: Averill's four inches of a tall piece
CROSS_DEG = 10.0  # [own] a flatter meeting is no crossing
TOUCH = 0.075  # [own] of the first stem: nearer in depth than this they touch
WINDOW = 0.007  # [own] of the first stem's square
RAILS_DEG, RAILS_FRONT_DEG = 9.0, 6.0  # [own] in space; from the front
RAILS_GAP = 0.04  # [own] of the first stem: nearer than this it is a bundle
LONG = 0.25  # [own] of the first stem: shorter stems are not looked at
FRONT_RAILS_DEG = 4.0  # [own]
FRONT_RAILS_GAP = 0.15  # [own] of the first stem: further apart they do not compare
OVERLAP = 0.10  # [own] of the first stem: side by side over this height at least
PALMS, PALMS_OFF = 0.08, 0.12  # [own] of the longer stem's length
LEVEL, LEVEL_LOW = 0.03, 0.2  # [own] of the height of the piece
LEVEL_APART = 0.28  # [own] of the first stem, sideways
HEAD = 0.035  # [own] of the first stem: from this radius a flower is looked at as one
HEAD_RINGS = 4  # [own] a flower wants fewer samples than the pins
HIDDEN = 0.4  # [own] share of a flower that another hides
CROWD = 0.8  # [own] of the mean thickness of two stems
NO = -1.0


class Meeting(NamedTuple):
    """Where two polylines meet from the front: shares of both lengths, gap in depth (…, n)."""

    meets: Array
    one_cm: Array
    other_cm: Array
    gap_cm: Array


def meeting(one: Stems, other: Stems, foot_zone_cm: float) -> Meeting:
    """The meeting of each pair that touches nearest in depth, beyond the zone of the feet."""
    a, b = one.curve_cm[..., [0, 2]], other.curve_cm[..., [0, 2]]
    a0, b0 = a[..., :-1, None, :], b[..., None, :-1, :]
    step_a, step_b = np.diff(a, axis=-2)[..., :, None, :], np.diff(b, axis=-2)[..., None, :, :]
    between = b0 - a0
    turn = _turned(step_a, step_b)
    with np.errstate(divide="ignore", invalid="ignore"):
        t = _turned(between, step_b) / turn
        s = _turned(between, step_a) / turn
        meets = (t >= 0) & (t < 1) & (s >= 0) & (s < 1)
    t, s = np.where(meets, t, 0.0), np.where(meets, s, 0.0)
    segment = np.arange(POINTS - 1)
    up_a = (segment[:, None] + t) / (POINTS - 1) * one.length_cm[..., None, None]
    up_b = (segment[None, :] + s) / (POINTS - 1) * other.length_cm[..., None, None]
    opening = np.abs(np.degrees(np.arctan2(turn, np.sum(step_a * step_b, axis=-1))))
    meets &= (up_a > foot_zone_cm) & (up_b > foot_zone_cm)
    meets &= np.minimum(opening, 180.0 - opening) > CROSS_DEG
    depth_a, depth_b = one.curve_cm[..., 1], other.curve_cm[..., 1]
    y_a = depth_a[..., :-1, None] + t * np.diff(depth_a, axis=-1)[..., :, None]
    y_b = depth_b[..., None, :-1] + s * np.diff(depth_b, axis=-1)[..., None, :]
    gap = np.where(meets, np.abs(y_a - y_b), np.inf)
    flat = gap.reshape(*gap.shape[:-2], -1)
    nearest = np.argmin(flat, axis=-1)[..., None]
    found = [
        np.take_along_axis(each.reshape(flat.shape), nearest, axis=-1)[..., 0]
        for each in (np.broadcast_to(up_a, gap.shape), np.broadcast_to(up_b, gap.shape), gap)
    ]
    return Meeting(np.asarray(np.isfinite(found[2]), dtype=float), *found)


def _turned(one: Array, other: Array) -> Array:
    return np.asarray(one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0])


def crosses(here: Setting, one: Stems, other: Stems) -> Array:
    """1 where two stems cross from the front, 2 where they nearly touch there."""
    found = meeting(one, other, FOOT_ZONE * here.main_cm)
    touch = found.gap_cm < TOUCH * here.main_cm
    return np.where(found.meets > 0, 1.0 + touch, NO)


def window(here: Setting, one: Stems, other: Stems) -> Array:
    """By how much the field that two crossing stems enclose with their feet is too large."""
    found = meeting(one, other, FOOT_ZONE * here.main_cm)
    # Straight lines: the triangle of both feet and the meeting point.
    with np.errstate(invalid="ignore"):
        share = np.where(found.meets > 0, found.one_cm / one.length_cm, 0.0)
    to_meeting = share[..., None] * (one.line * one.length_cm[..., None])[..., [0, 2]]
    to_foot = (other.start_cm - one.start_cm)[..., [0, 2]]
    area = np.abs(_turned(to_meeting, to_foot)) / 2
    return np.where(found.meets > 0, area / (WINDOW * here.main_cm**2) - 1.0, NO)


def rails(here: Setting, one: Stems, other: Stems) -> Array:
    """How far two stems are within the angle in which they run side by side like rails."""
    if "rows" in here.allow:
        return np.full(np.broadcast_shapes(one.length_cm.shape, other.length_cm.shape), NO)
    apart = angle_deg(one.line, other.line)
    front = turn_between_deg(front_deg(one.line), front_deg(other.line))
    third, half = POINTS // 3, POINTS // 2
    step = one.curve_cm[..., [third, half], :] - other.curve_cm[..., [third, half], :]
    gap = np.mean(np.linalg.norm(step, axis=-1), axis=-1)
    looked = _both_long(here, one, other) & (front < RAILS_FRONT_DEG)
    looked &= gap > RAILS_GAP * here.main_cm
    return np.where(looked, 1.0 - apart / RAILS_DEG, NO)


def front_rails(here: Setting, one: Stems, other: Stems) -> Array:
    """The same where only the front sees it: the stems lean apart in depth."""
    if "rows" in here.allow:
        return np.full(np.broadcast_shapes(one.length_cm.shape, other.length_cm.shape), NO)
    front = turn_between_deg(front_deg(one.line), front_deg(other.line))
    low = np.maximum(one.start_cm[..., 2], other.start_cm[..., 2])
    high = np.minimum(one.end_cm[..., 2], other.end_cm[..., 2])
    gap = np.abs(_across_at(one, (low + high) / 2) - _across_at(other, (low + high) / 2))
    looked = (high - low > OVERLAP * here.main_cm) & (gap < FRONT_RAILS_GAP * here.main_cm)
    looked &= angle_deg(one.line, other.line) >= RAILS_DEG
    return np.where(looked & _both_long(here, one, other), 1.0 - front / FRONT_RAILS_DEG, NO)


def _across_at(bundle: Stems, height_cm: Array) -> Array:
    """Where a stem's straight line is, left to right, at a height."""
    rise = height_cm - bundle.start_cm[..., 2]
    up = np.where(np.abs(bundle.line[..., 2]) < 1e-6, 1e-6, bundle.line[..., 2])
    return bundle.start_cm[..., 0] + rise * bundle.line[..., 0] / up


def _both_long(here: Setting, one: Stems, other: Stems) -> Flags:
    return np.asarray(np.minimum(one.length_cm, other.length_cm) > LONG * here.main_cm)


def palms(here: Setting, one: Stems, other: Stems) -> Array:
    """How nearly two stems are mirror images of each other, like joined palms."""
    if "symmetric" in here.allow:
        return np.full(np.broadcast_shapes(one.length_cm.shape, other.length_cm.shape), NO)
    reach = one.line * one.length_cm[..., None]
    facing = other.line * other.length_cm[..., None] * np.array([-1.0, 1.0, 1.0])
    longer = np.maximum(one.length_cm, other.length_cm)
    off = np.linalg.norm(reach - facing, axis=-1) / longer
    looked = _both_long(here, one, other) & (np.abs(reach[..., 0]) / one.length_cm > PALMS_OFF)
    return np.where(looked, 1.0 - off / PALMS, NO)


def level(here: Setting, one: Stems, other: Stems) -> Array:
    """How nearly two ends near each other are equally high."""
    z_one = one.end_cm[..., 2] - here.water_z_cm
    z_other = other.end_cm[..., 2] - here.water_z_cm
    beside = np.abs(one.end_cm[..., 0] - other.end_cm[..., 0]) < LEVEL_APART * here.main_cm
    looked = beside & (np.minimum(z_one, z_other) > LEVEL_LOW * here.high_cm)
    return np.where(looked, 1.0 - np.abs(z_one - z_other) / (LEVEL * here.high_cm), NO)


def crowded(here: Setting, one: Stems, other: Stems) -> Array:
    """How far two feet are within each other's thickness. In a tall vase they share the mouth."""
    if here.piece.holder is None:
        return np.full(np.broadcast_shapes(one.length_cm.shape, other.length_cm.shape), NO)
    gap = np.linalg.norm((one.start_cm - other.start_cm)[..., :2], axis=-1)
    return np.asarray(1.0 - gap / (CROWD * (one.half_cm + other.half_cm)))


def hides(here: Setting, one: Stems, other: Stems) -> Array:
    """How much more than allowed of the first's flower the second's hides from the usual eye."""
    _, ray = head_points(here, one)
    far = np.linalg.norm(ray, axis=-1)
    centre = (other.end_cm - here.eye)[..., None, :]
    along = np.sum(centre * ray, axis=-1) / far
    off = np.sum(centre**2, axis=-1) - along**2
    hidden = (off < other.head_cm[..., None] ** 2) & (along < far)
    share = np.mean(hidden, axis=-1)
    looked = (one.head_cm >= HEAD * here.main_cm) & (other.head_cm >= HEAD * here.main_cm)
    return np.where(looked, share - HIDDEN, NO)


def head_points(here: Setting, bundle: Stems) -> tuple[Array, Array]:
    """Points of each flower's disc as the usual eye sees it, and their steps from the eye.

    Both (…, n, q, 3).
    """
    look = unit(bundle.end_cm - here.eye)
    right = unit(np.cross(look, [0.0, 0.0, 1.0]))
    up = np.cross(right, look)
    flat = disc(HEAD_RINGS)
    spread = flat[:, :1] * right[..., None, :] + flat[:, 1:] * up[..., None, :]
    points = bundle.end_cm[..., None, :] + bundle.head_cm[..., None, None] * spread
    return points, points - here.eye
