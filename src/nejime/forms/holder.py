"""Pin holders (kenzan): size, mass, and which of them a floor takes.

Model: a lead plate with brass pins; its mass is an area density times its area.
Source: one holder weighed, 14.0 g/cm²; a trade statement of 0.8 to 1 kg for 9 cm. We take
13 g/cm² with a spread of 15 %, which gives 827 g for 9 cm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.forms.vessel import Mass, Vessel, weighed

HOLDER_G_CM2 = 13.0  # [practice] between the weighed 14.0 and thin plates
HOLDER_SPREAD = 0.15  # [own]
HOLDER_HEIGHT_CM = 2.2  # [practice] plate and pins together
PIN_BITE_CM = 0.7  # [own] how far a stem goes down between the pins
WATER_COVER_CM = 0.5  # [practice] water over the pins
FLOOR_GAP_CM = 0.3  # [own] room between a holder and the edge of the flat floor
SIZES_CM = (3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0)  # [practice] round holders as sold


@dataclass(frozen=True, slots=True)
class Holder:
    """A pin holder: round (`depth_cm` equals `width_cm`) or rectangular."""

    width_cm: float
    depth_cm: float
    mass: Mass
    height_cm: float = HOLDER_HEIGHT_CM
    rectangular: bool = False
    name: str = ""

    @property
    def foot_height_cm(self) -> float:
        """How high above the floor a stem's foot ends: some way down between the pins."""
        return self.height_cm - PIN_BITE_CM

    @property
    def cover_cm(self) -> float:
        """The least depth of water that covers its pins."""
        return self.height_cm + WATER_COVER_CM

    def half_along_cm(self, across: float, away: float) -> float:
        """Half its extent along a direction (unit vector)."""
        if self.rectangular:
            return abs(across) * self.width_cm / 2 + abs(away) * self.depth_cm / 2
        return self.width_cm / 2


def holder(
    width_cm: float,
    depth_cm: float | None = None,
    *,
    mass_g: float | None = None,
    height_cm: float = HOLDER_HEIGHT_CM,
    name: str = "",
) -> Holder:
    """A holder by its diameter, or by width and depth where it is rectangular."""
    rectangular = depth_cm is not None
    deep = width_cm if depth_cm is None else depth_cm
    area = width_cm * deep if rectangular else math.pi * width_cm**2 / 4
    mass = weighed(mass_g) if mass_g is not None else Mass(HOLDER_G_CM2 * area, HOLDER_SPREAD)
    return Holder(width_cm, deep, mass, height_cm, rectangular, name)


def fits(held: Holder, vessel: Vessel) -> bool:
    """Whether it lies flat on the vessel's floor."""
    room_x = vessel.floor_width_cm - 2 * FLOOR_GAP_CM
    room_y = vessel.floor_depth_cm - 2 * FLOOR_GAP_CM
    if not (held.rectangular and vessel.round_plan):
        return held.width_cm <= room_x and held.depth_cm <= room_y
    # The corners of a rectangle must lie inside the ellipse.
    return (held.width_cm / room_x) ** 2 + (held.depth_cm / room_y) ** 2 <= 1.0


def largest_that_fits(vessel: Vessel, most_cm: float = 8.0) -> Holder | None:
    """The largest usual round holder, at most `most_cm`, that lies flat; None where none does.

    Without a teacher's own list a class works with holders up to 8 cm (common practice).
    """
    usual = [holder(size) for size in SIZES_CM if size <= most_cm]
    return next((each for each in reversed(usual) if fits(each, vessel)), None)
