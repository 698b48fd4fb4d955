"""The whole piece: its three main ends, its depth, its balance, pin holder and water, its foot.

Each measure takes a setting and says by how much the piece oversteps a limit: above 0 it does.
Source: the faults are old (Conder 1896; Averill 1913; common practice); their limits are ours.
"""

from __future__ import annotations

import math

import numpy as np

from nejime.composing.lines import Array, Blades, Flags, Stems, angle_deg
from nejime.composing.seeing import behind_balls, behind_blades, behind_stems, picture
from nejime.composing.setting import Setting
from nejime.forms.stems import base_cm
from nejime.standing.tipping import Bodies, circle, rectangle, tipping
from nejime.standing.tipping import bodies as gathered

EQUAL_SIDES = 0.15  # [own] longest over shortest side, less 1
TWO_SIDES = 0.06  # [own]
FLAT_TRIANGLE_DEG = 12.0  # [own]
SPREAD_DEG = 20.0  # [own] about the form's own angle
FLAT = 0.18  # [own] depth over width of the ends seen from above; forms have 0.46 and more
FRONT, BACK = 0.25, 0.04  # [own] of the first stem; forms reach 0.40 forward
MANY = 4  # [own] more main and helper stems than this want one behind
BALANCED, ALIKE, BINS = 0.08, 0.85, 25  # [own] of the half width; share of equal mass
MIDDLE = 0.15  # [own] of the half measures
LEANS_OUT, ONE_SIDE = 1.1, 0.92  # [own] of the half width; share of the stems
BETWEEN = 0.01  # [own] of the first stem, to the left and to the right of the pin holder's middle
SHOWS, SHOWS_BADLY = 0.15, 0.15  # [own] share of the pins that shows; more than noted: a fault
SHOWS_ASIDE = 0.30  # [own] from a neighbour's seat
WATER_HIDDEN = 0.50  # [averill1913] ch. 9: most of the water is to be seen
BAND = 0.6  # [own] of the foliage: what a leafy stem hides of the water
BIG_HOLDER = 0.5  # [own] of the smaller half measure: such a pin holder has one place
PLACE_OFF = 0.15  # [own] of the half measure: so far from its place the pin holder may lie
SMALL, TALL, WIDE = 0.98, 3.0, 3.0  # [practice] of width + height; width of vessels
LOOSE = 1.6  # [own] pin holder's half measures
BARE = 0.075  # [averill1913] ch. 4: four inches of bare stem on a tall piece
FIRM, SURE = 1.2, 1.5  # [own] times the stems' weight that tips the pin holder
FRESH_G_CM3 = 0.6  # [own] a stem's mass as a rough cylinder, tapering
LEAFY, LEAFY_FROM = 1.2, 4.0  # [own] with its twigs and leaves; where they stand out so far
GRAVITY_AT = 0.55  # [own] of the length
SUNK = 0.895  # [own] weight of lead and brass under water over that in air
EDGE_CM = 0.15  # [own] the rounded edge of the plate
NO = -1.0


def _sides_and_angle(ends: Array) -> tuple[Array, float]:
    """The sorted sides of a triangle (3, k) and its smallest angle in degrees."""
    a, b, c = np.sort([math.dist(ends[i], ends[j]) for i, j in ((1, 2), (0, 2), (0, 1))])
    if a <= 1e-9:
        return np.array([a, b, c]), 0.0
    cosine = (b**2 + c**2 - a**2) / (2 * b * c)
    return np.array([a, b, c]), math.degrees(math.acos(float(np.clip(cosine, -1.0, 1.0))))


def triangle(here: Setting) -> tuple[float, float, float]:
    """How flat, how even-sided, how two-sided the triangle of the main ends is."""
    ends = here.stems.end_cm[here.mains]
    front, front_angle = _sides_and_angle(ends[:, [0, 2]])
    space, space_angle = _sides_and_angle(ends)
    flat = 1.0 - max(front_angle, space_angle) / FLAT_TRIANGLE_DEG
    if front[0] <= 1e-9 or space[0] <= 1e-9:
        return flat, NO, NO
    equal = 1.0 - (front[2] / front[0] - 1.0) / EQUAL_SIDES
    alike = max(float(np.min(side[1:] / side[:-1])) - 1.0 for side in (front, space))
    return flat, float(equal), 1.0 - alike / TWO_SIDES if equal <= 0 else NO


def spread(here: Setting) -> tuple[float, float, float]:
    """The angle between second and third in degrees; how much too wide, too narrow."""
    second, third = here.stems.line[here.mains[1]], here.stems.line[here.mains[2]]
    apart = float(angle_deg(second, third))
    aim = here.aims_apart_deg
    return apart, apart / (aim + SPREAD_DEG) - 1.0, 1.0 - apart / max(aim - SPREAD_DEG, 1.0)


def flatness(here: Setting) -> float:
    """How much flatter than allowed the piece is, seen from above."""
    if "flat" in here.allow:
        return NO
    plan = np.vstack([here.stems.end_cm[:, :2] - here.middle_cm, np.zeros((1, 2))])
    thin, broad = np.linalg.eigvalsh(np.cov(plan.T, bias=True))
    return 1.0 - math.sqrt(max(thin, 0.0) / max(broad, 1e-9)) / FLAT


def depth(here: Setting) -> tuple[float, float]:
    """How much is missing to the front, and to the back."""
    if "all-round" in here.allow:
        return NO, NO
    away = (here.stems.end_cm[:, 1] - here.middle_cm[1]) / here.main_cm
    front = NO if "back" in here.allow else 1.0 + float(np.min(away)) / FRONT
    # Flowers at the heart stand low in front; they ask for nothing behind.
    standing = sum(stem.role != "heart" for stem in here.lines)
    looked = standing > MANY and "front-only" not in here.allow
    return front, 1.0 - float(np.max(away)) / BACK if looked else NO


def visual_mass(here: Setting) -> tuple[Array, Array]:
    """Points across the vessel (p,) and their weight for the eye: twigs and flowers of the stems.

    Leaves at the foot are left out: they hide on which side the stems are.
    """
    stems = here.stems
    middle = (stems.curve_cm[:, 1:, 0] + stems.curve_cm[:, :-1, 0]) / 2
    pieces = middle.shape[1]
    band = 2 * np.maximum(stems.foliage_cm, stems.half_cm) * stems.length_cm / pieces
    weight = band[:, None] * np.linspace(0.3, 1.3, pieces)
    across = np.concatenate([middle.ravel(), stems.end_cm[:, 0]])
    return across, np.concatenate([weight.ravel(), np.pi * stems.head_cm**2])


def balance(here: Setting) -> tuple[float, float, float]:
    """How symmetric, how centred, how one-sided the piece is from the front."""
    across, weight = visual_mass(here)
    middle = float(np.sum(weight * across) / np.sum(weight)) / here.half_cm[0]
    width = 1.2 * here.main_cm
    seen, _ = np.histogram(across, BINS, (-width, width), weights=weight)
    alike = float(np.sum(np.minimum(seen, seen[::-1])) / np.sum(seen))
    # What stands on the line between the sides counts for neither.
    side = np.clip((across - here.middle_cm[0]) / (BETWEEN * here.main_cm), -1.0, 1.0)
    on_one = (1.0 + abs(float(np.sum(weight * side) / np.sum(weight)))) / 2
    still = "symmetric" in here.allow or abs(middle) >= BALANCED
    symmetric = NO if still else alike - ALIKE
    on_middle = abs(here.middle_cm[0]) < MIDDLE * here.half_cm[0]
    centred = NO if still or symmetric > 0 or not on_middle else 1.0 - abs(middle) / BALANCED
    one_sided = max(abs(middle) / LEANS_OUT, on_one / ONE_SIDE) - 1.0
    return symmetric, centred, NO if "hanging" in here.allow else one_sided


def share_hidden(points: Array, eye: Array, stems: Stems, leaf: Blades) -> Flags:
    """Which points leaves and heads hide from an eye: (…, q)."""
    by_leaf = np.any(behind_blades(points, eye, leaf), axis=-2)
    by_head = np.any(behind_balls(points, eye, stems.end_cm, stems.head_cm), axis=-2)
    return np.asarray(by_leaf | by_head)


def pins_hidden(here: Setting) -> tuple[float, float]:
    """Share of the pins hidden from the worst of the four eyes, and from the worst side."""
    if here.piece.holder is None:
        return 1.0, 1.0
    shares = [
        [
            float(np.mean(share_hidden(points, eye, here.stems, here.blades)))
            if len(points)
            else 1.0
            for eye, points in seen
        ]
        for seen in (here.holder_seen, here.holder_aside)
    ]
    return min(shares[0]), min(shares[1])


def water_band(here: Setting, stems: Stems) -> Flags:
    """Which samples of the water each stem covers from the usual eye: (…, n, q)."""
    rim = here.rim_cm
    flat = picture(here.water_points, here.eye, rim)
    curve = picture(stems.curve_cm[..., ::3, :], here.eye, rim)
    return behind_stems(flat, curve, np.maximum(BAND * stems.foliage_cm, stems.half_cm))


def over_pins(here: Setting) -> Flags:
    """Which samples of the water are over the pins."""
    at = np.abs(here.water_points[:, :2] - here.middle_cm) / np.array(here.holder_half_cm)
    held = here.piece.holder
    if held is not None and held.rectangular:
        return np.asarray(np.max(at, axis=-1) < 1.0)
    return np.asarray(np.hypot(at[:, 0], at[:, 1]) < 1.0)


def open_water(here: Setting) -> float:
    """Share of the water, as far as the eye sees over the wall, that nothing covers."""
    points = here.water_points
    if not len(points):
        return 1.0
    covered = share_hidden(points, here.eye, here.stems, here.blades)
    covered = covered | np.any(water_band(here, here.stems), axis=-2) | over_pins(here)
    return 1.0 - float(np.mean(covered))


def holder_place(here: Setting, taught_cm: tuple[float, float]) -> tuple[float, float]:
    """How near the middle the pin holder lies; how far from the place that the form wants."""
    half = here.half_cm
    one_place = max(here.holder_half_cm) >= BIG_HOLDER * min(half)
    free = {"holder-middle", "all-round"} & here.allow
    if here.piece.holder is None or one_place or free:
        return NO, NO
    x, y = (abs(at) / side for at, side in zip(here.middle_cm, half, strict=True))
    near = 1.0 - max(x, y) / MIDDLE
    off = max(
        abs(at - want) / side
        for at, want, side in zip(here.middle_cm, taught_cm, half, strict=True)
    )
    return float(near), float(off - PLACE_OFF) if near <= 0 else NO


def size(here: Setting) -> tuple[float, float, float, float]:
    """First stem over the measure of the vessel; how much too small, too tall, too wide."""
    piece = here.piece
    share = here.main_cm / base_cm(piece.rule, piece.vessel)
    across = here.stems.end_cm[:, 0]
    wide = float(np.ptp(across)) / (2 * here.half_cm[0]) / WIDE - 1.0
    if "hanging" in here.allow or piece.vessel.tall:
        return share, NO, NO, NO
    small = NO if piece.size == "small" else 1.0 - share / SMALL
    return share, small, share / TALL - 1.0, wide


def loose_feet(here: Setting) -> float:
    """How far apart the stems leave the water; only where the classical form is asked for."""
    if "classical" not in here.allow or here.piece.holder is None:
        return NO
    stems = here.stems
    long = (stems.length_cm > 0.25 * here.main_cm) & (stems.tilt_deg < 50.0)
    if np.count_nonzero(long) < 2:
        return NO
    rise = here.water_z_cm + BARE * here.main_cm - stems.start_cm[:, 2]
    across = stems.start_cm[:, 0] + rise * stems.line[:, 0] / np.maximum(stems.line[:, 2], 1e-6)
    return float(np.ptp(across[long])) / (LOOSE * here.holder_half_cm[0]) - 1.0


def load(here: Setting, stems: Stems, head_g: Array) -> Bodies:
    """The stems' weight as one body (…), about the pin holder's middle: rigid and rough."""
    grown = np.where(stems.foliage_cm > LEAFY_FROM * stems.half_cm, LEAFY, 1.0)
    wood = FRESH_G_CM3 * np.pi * stems.half_cm**2 * stems.length_cm * grown
    reach = stems.end_cm[..., :2] - stems.start_cm[..., :2]
    from_middle = stems.start_cm[..., :2] - here.middle_cm
    at_wood = from_middle + GRAVITY_AT * reach
    stem = gathered(wood, at_wood)
    heads = gathered(np.broadcast_to(head_g, wood.shape), from_middle + reach)
    return Bodies(stem.g + heads.g, stem.moment_g_cm + heads.moment_g_cm)


def tips(here: Setting, whole: Bodies) -> Array:
    """How many times the stems' weight tips the pin holder: (…). Infinite without one."""
    held = here.piece.holder
    if held is None:
        return np.full(np.shape(whole.g), np.inf)
    wide, deep = (2 * (half - EDGE_CM) for half in here.holder_half_cm)
    foot = rectangle(wide, deep) if held.rectangular else circle(wide / 2)
    base = Bodies(np.asarray(SUNK * held.mass.g), np.zeros(2))
    return tipping(foot, base, whole).factor
