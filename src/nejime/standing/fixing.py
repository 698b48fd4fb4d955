"""Stems in a tall vase: does friction keep them, and what must a cross-bar bear?

Model: a stem leans over the rim with its lower end against the opposite inner wall. The rim pushes
square to the stem, the wall square to itself, each with friction of at most μ times the push. The
stem can rest if one friction at the rim satisfies all three balances: an interval that is empty or
not. A cross-bar near the rim and the wall below make a couple; the bar itself is wedged and holds
by friction at its two ends.
Frame: the upright plane of the stem. Shapes: numbers or arrays that broadcast.
Source: statics; frictionless, the uniform stem rests where sin³θ = span / half its length.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from nejime.basis.sayings import Saying
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.forms.tall import DIP_CM, vase_span_cm
from nejime.standing.bending import GRAVITY_M_S2, Array, Flags
from nejime.standing.loads import Bodied, loads
from nejime.standing.masses import inside_cm

WET_FRICTION = 0.2  # [memory] wet stem on glaze; 0.1 to 0.3 is usual for smooth wet surfaces
BAR_FRICTION = 0.35  # [own] cut wood against the wall
SAFETY = 2.0  # [own] of the wedged bar
HARD_N = 30.0  # [own] pressed harder than this a bar may crack thin ware
LEAST_LEG_CM = 2.0  # [own] a stem must go on this far below the bar
ON_FLOOR_CM = 0.1  # [own] nearer to the floor than this a stem stands on it


class Leaning(NamedTuple):
    """Whether leaning stems stay where they are; else they slide down or slip out."""

    rests: Flags
    slides_down: Flags
    slips_out: Flags


@dataclass(frozen=True, slots=True)
class CrossBar:
    """The cross-bar of a tall vase. `needed_by` names the stems that would slip without it.

    `depth_cm` is below the rim; `wall_n` the push of the lower ends against the wall, `bar_n` the
    load on the bar, `wedge_n` how hard it must be wedged.
    """

    needed_by: tuple[str, ...]
    depth_cm: float
    wall_n: float
    bar_n: float
    wedge_n: float
    remarks: tuple[Saying, ...]

    @property
    def needed(self) -> bool:
        """Whether any stem slips without it."""
        return bool(self.needed_by)

    @property
    def hard(self) -> bool:
        """Whether it must be wedged so hard that thin ware may crack."""
        return self.wedge_n > HARD_N


def leaning(
    tilt_deg: npt.ArrayLike,
    span_cm: npt.ArrayLike,
    centre_cm: npt.ArrayLike,
    friction: float = WET_FRICTION,
) -> Leaning:
    """Whether stems rest on rim and opposite wall by friction alone.

    `span_cm`: horizontal way from the wall to the rim; `centre_cm`: from the wall to the centre
    of gravity.
    """
    tilt = np.radians(np.asarray(tilt_deg, dtype=float))
    span, centre = np.asarray(span_cm, dtype=float), np.asarray(centre_cm, dtype=float)
    sin, cos = np.sin(tilt), np.cos(tilt)
    rim = centre * sin / span  # push of the rim over the stem's weight
    low, high = _rubbing(rim, sin, cos, friction)
    rests = np.asarray(low <= high + 1e-12)
    steep = rim * sin < 1.0
    return Leaning(rests, np.asarray(~rests & steep), np.asarray(~rests & ~steep))


def _rubbing(rim: Array, sin: Array, cos: Array, friction: float) -> tuple[Array, Array]:
    """The least and most friction at the rim, along the stem, with which it can rest.

    Of the wall: push = rim·cos − f·sin ≥ 0, friction = 1 − rim·sin − f·cos, at most μ·push either
    way.
    """
    low, high = -friction * rim, friction * rim
    high = np.minimum(high, rim * cos / np.maximum(sin, 1e-12))
    high = np.minimum(high, (1.0 - rim * (sin - friction * cos)) / (cos + friction * sin))
    wanted, slope = 1.0 - rim * (sin + friction * cos), cos - friction * sin
    bound = wanted / np.where(np.abs(slope) > 1e-12, slope, 1e-12)
    return (
        np.where(slope > 0, np.maximum(low, bound), low),
        np.where(slope > 0, high, np.minimum(high, bound)),
    )


def wall_push_n(load_g: float, arm_cm: float, leg_cm: float) -> float:
    """Push of a stem's lower end, `leg_cm` below the bar, its weight `arm_cm` out from it."""
    return load_g / 1000 * GRAVITY_M_S2 * arm_cm / leg_cm


def wedge_n(load_g: float, arm_cm: float, leg_cm: float) -> float:
    """How hard a bar must be wedged that bears one stem, with safety, at its two ends."""
    bar = math.hypot(load_g / 1000 * GRAVITY_M_S2, wall_push_n(load_g, arm_cm, leg_cm))
    return SAFETY * bar / (2 * BAR_FRICTION)


def bar_depth_cm(piece: Piece) -> float:
    """Depth of a cross-bar below the rim: far enough under the water."""
    return piece.vessel.inside_cm - piece.water_cm + DIP_CM


def cross_bar(piece: Piece, known: Bodied) -> CrossBar | None:
    """Whether a tall vase needs a cross-bar, where, and what it bears; None in a shallow one."""
    if not piece.vessel.tall or not piece.stems:
        return None
    found = loads(piece, known, drawn=False)
    depth = bar_depth_cm(piece)
    needed, wall, bar, wedge, short = [], 0.0, 0.0, 0.0, []
    for at, stem in enumerate(piece.stems):
        if _stays(piece, stem, found.place_cm[0, at]):
            continue
        needed.append(stem.id)
        leg = stem.start.z_cm - stem.foot.z_cm - depth
        if leg < LEAST_LEG_CM:
            short.append(stem_name(stem.id))
        g, leg = float(found.g[0, at]), max(leg, LEAST_LEG_CM)
        arm = max(0.0, _out_cm(stem, found.place_cm[0, at]) + depth * _inner_slope(stem))
        wall += wall_push_n(g, arm, leg)
        bar += math.hypot(g / 1000 * GRAVITY_M_S2, wall_push_n(g, arm, leg))
        wedge += wedge_n(g, arm, leg)
    said = _remarks(tuple(needed), depth, wedge, tuple(short))
    return CrossBar(tuple(needed), depth, wall, bar, wedge, said)


def _out_cm(stem: Stem, place_cm: Array) -> float:
    """How far out from the mouth, along its bearing, a stem's weight lies."""
    bearing = math.radians(stem.bearing_deg)
    x, y = place_cm[0] - stem.start.x_cm, place_cm[1] - stem.start.y_cm
    return float(x * math.sin(bearing) + y * math.cos(bearing))


def _inner_slope(stem: Stem) -> float:
    """Horizontal way over height of the part inside the vase."""
    across = math.hypot(stem.start.x_cm - stem.foot.x_cm, stem.start.y_cm - stem.foot.y_cm)
    return across / max(stem.start.z_cm - stem.foot.z_cm, 1e-9)


def _stays(piece: Piece, stem: Stem, place_cm: Array) -> bool:
    """Whether one stem rests by friction, or stands on the floor and does not slip out."""
    across = inside_cm(stem) and math.hypot(
        stem.start.x_cm - stem.foot.x_cm, stem.start.y_cm - stem.foot.y_cm
    )
    tilt = math.degrees(math.atan(_inner_slope(stem)))
    on_floor = stem.foot.z_cm <= piece.vessel.base_cm + ON_FLOOR_CM
    span = across if across > 0 else vase_span_cm(piece.vessel, stem.bearing_deg)
    rests, slides_down, _ = leaning(max(tilt, 0.1), span, across + _out_cm(stem, place_cm))
    return bool(rests) or (on_floor and bool(slides_down))


def _remarks(
    needed: tuple[str, ...], depth_cm: float, wedge: float, short: tuple[Saying, ...]
) -> tuple[Saying, ...]:
    if not needed:
        return (Saying("standing.no-cross-bar"),)
    names = tuple(stem_name(each) for each in needed)
    said = [Saying("standing.cross-bar", stems=names, count=len(names), depth_cm=depth_cm)]
    if short:
        said.append(Saying("standing.longer-leg", stems=short, count=len(short)))
    if wedge > HARD_N:
        said.append(Saying("standing.wedged-hard", wedge_kg=wedge / GRAVITY_M_S2))
    return tuple(said)
