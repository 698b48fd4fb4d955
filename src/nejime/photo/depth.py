"""How much depth a piece has beside its plan: what a photograph from the front hides.

Model: how far the ends, and the feet as one point, are apart from front to back. A piece is flat
where its depth surely is under `FLAT` of the plan's.
Frame: the house frame; depth along y, the first picture was taken from the front.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.forms.stems import Piece
from nejime.photo.answer import Interval, Line, Measured
from nejime.photo.differences import pairs

FLAT = 0.6  # [own]
FLAT_CM = 4.0  # [own] less depth missing is not seen
FEWEST = 3  # [own] lines that must be known
FEET = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Depth:
    """How far apart ends and feet are from front to back. `stem`: the one whose end is missing most
    there, by `missing_cm` (positive: it should come to the front)."""

    made: Interval
    aim_cm: float
    stem: str
    missing_cm: float

    @property
    def flat(self) -> bool:
        """Whether it surely has too little depth."""
        return self.made.high < FLAT * self.aim_cm and self.effect_cm > FLAT_CM

    @property
    def near(self) -> bool:
        """Whether it surely has about the depth that was meant."""
        least, most = FLAT * self.aim_cm, self.aim_cm / FLAT
        return self.aim_cm > FLAT_CM and least <= self.made.low and self.made.high <= most

    @property
    def effect_cm(self) -> float:
        """How much depth is missing."""
        return self.aim_cm - self.made.value


def depth(measured: Measured, plan: Piece, turn_deg: float = 0.0) -> Depth | None:
    """The depth of the ends beside the plan's; None where fewer than three lines are known."""
    known = pairs(measured, plan)
    if len(known) < FEWEST:
        return None
    at = {aim.id: _depth_of(made, turn_deg) for made, aim in known}
    front = min(FEET, *at.values())
    back = max(FEET, *at.values())
    half = math.hypot(front[1], back[1])
    value = back[0] - front[0]
    meant = {aim.id: aim.end.y_cm - aim.start.y_cm for _, aim in known}
    missing = {name: at[name][0] - meant[name] for name in at}
    most = max(missing, key=lambda name: abs(missing[name]))
    return Depth(
        Interval(value, value - half, value + half),
        max(0.0, *meant.values()) - min(0.0, *meant.values()),
        most,
        missing[most],
    )


def _depth_of(made: Line, turn_deg: float) -> tuple[float, float]:
    """How far to the back an end is from its foot, and half the interval of that."""
    tilt = math.radians(made.tilt_deg.value)
    way = math.radians(made.bearing_deg.value - turn_deg)
    long = made.length_cm.value
    parts = (
        math.sin(tilt) * math.cos(way) * made.length_cm.half,
        long * math.cos(tilt) * math.cos(way) * math.radians(made.tilt_deg.half),
        long * math.sin(tilt) * math.sin(way) * math.radians(made.bearing_deg.half),
    )
    return long * math.sin(tilt) * math.cos(way), math.hypot(*parts)
