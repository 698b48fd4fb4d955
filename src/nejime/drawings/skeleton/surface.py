"""The one surface of which leaves, petals, bracts, blades and spathes are made.

Model: `t` runs from the foot of a blade (0) to its end (1), `v` from edge (-1) to edge (1).
Flat blades have a width that is t^a (1 - t)^b, its largest value made 1; they curl along `t`, are
cupped and waved across `v`. A palm's radius goes by the angle, with one bay between two fingers. A
funnel goes around its axis by the angle.
Frame: x along the blade, y across, z out of its upper (inner) face; centimetres.
Source: our own formulas.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.drawings.skeleton.vectors import Vec

PROFILES: dict[str, tuple[float, float]] = {  # [own] exponents a and b
    "lance": (0.75, 1.1),
    "ovate": (0.5, 1.1),
    "elliptic": (0.65, 0.65),
    "obovate": (1.0, 0.42),
    "spoon": (1.5, 0.34),
    "round": (0.55, 0.45),
    "strap": (0.3, 0.22),
    "paddle": (0.55, 0.85),
    "tulip": (0.6, 0.75),
    "linear": (0.22, 0.4),
    "sword": (0.12, 0.55),
    "heart": (0.3, 0.9),
    "notched": (0.9, 0.3),
    "lobed": (0.55, 0.7),
    "fringed": (1.3, 0.25),
}
PALM = "palm"
FUNNEL = "funnel"
LOBES = 20.0  # [own] radians of the wave along a lobed edge
NOTCH = 0.16  # [own] depth of a notch over the length
FRINGE = 0.07  # [own] depth of a fringe over the length


@dataclass(frozen=True, slots=True)
class Blade:
    """A sheet. Lengths in cm, angles in degrees.

    `curl_deg` is the turn from foot to end, away from the upper face. `fingers` and `bay` are of a
    palm: how many, and how deep the bays are over the radius; its `spread_deg` is half its angle.
    `low`, `high` are the part of `v` that there is.
    """

    length_cm: float
    width_cm: float
    shape: str
    curl_deg: float = 0.0
    cup: float = 0.0
    wave: float = 0.0
    fingers: int = 5
    bay: float = 0.6
    spread_deg: float = 140.0
    low: float = -1.0
    high: float = 1.0


def breadth(shape: str, t: float) -> float:
    """Width of a flat blade over its largest width."""
    a, b = PROFILES[shape]
    most = a / (a + b)
    at = (max(t, 1e-6) ** a) * (max(1 - t, 1e-6) ** b) / (most**a * (1 - most) ** b)
    return float(at * (0.74 + 0.26 * math.cos(LOBES * t)) if shape == "lobed" else at)


def surf(blade: Blade, t: float, v: float) -> Vec:
    """A point of the surface; t from 0 to 1, v from -1 to 1."""
    if blade.shape == PALM:
        return _palm(blade, t, v)
    if blade.shape == FUNNEL:
        return _funnel(blade, t, v)
    long, k = blade.length_cm, math.radians(blade.curl_deg)
    x, z = (t, 0.0) if abs(k) < 1e-4 else (math.sin(k * t) / k, -(1 - math.cos(k * t)) / k)
    half = breadth(blade.shape, t) * blade.width_cm / 2
    if blade.shape == "notched":
        x -= NOTCH * t**6 * (1 - abs(v))
    if blade.shape == "fringed":
        x += FRINGE * t**4 * math.cos(v * 14.0)
    lift = blade.cup * half * v * v
    lift += blade.wave * half * abs(v) * math.sin(t * 13 + (1.6 if v > 0 else 0))
    return (
        x * long + math.sin(k * t) * lift,
        half * v * (1 - 0.25 * abs(blade.cup) * v * v),
        z * long + math.cos(k * t) * lift,
    )


def finger_reach(blade: Blade, v: float) -> float:
    """Radius of a palm over its largest, at an angle of `v` times its spread."""
    part = (v + 1) / 2 * blade.fingers
    off = abs(part - math.floor(part) - 0.5) * 2  # 0 in the middle of a finger, 1 in a bay
    long = 1 - 0.42 * abs(v) ** 1.6  # the outer fingers are shorter
    return float(long * (1 - blade.bay * off**0.8))


def _palm(blade: Blade, t: float, v: float) -> Vec:
    angle = math.radians(blade.spread_deg) * v
    radius = t * finger_reach(blade, v) * blade.length_cm
    fall = math.radians(blade.curl_deg) / 2
    z = -radius * math.sin(fall * t) + blade.cup * radius * 0.3 * v * v
    return radius * math.cos(angle), radius * math.sin(angle), z


def _funnel(blade: Blade, t: float, v: float) -> Vec:
    """`cup` is the radius at the foot over that of the mouth, `curl_deg` how the lip turns out.

    `bay` is how much lower it is in front (v = ±1) than at the back; `wave` frills the lip.
    """
    angle = math.pi * v
    flare = math.radians(blade.curl_deg)
    lip = t**4
    radius = blade.width_cm / 2 * (blade.cup + (1 - blade.cup) * t**1.6)
    radius += blade.width_cm / 2 * lip * math.sin(flare) * 0.5
    radius *= 1 + blade.wave * lip * math.sin(angle * 9)
    high = blade.length_cm * (1 - blade.bay * (0.5 - 0.5 * math.cos(angle)))
    x = high * (t - 0.12 * lip * (1 - math.cos(flare)))
    return x, radius * math.sin(angle), -radius * math.cos(angle)
