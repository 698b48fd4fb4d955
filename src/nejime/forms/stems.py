"""A stem as it stands, and a piece of several in one vessel: plain values in space.

Frame: the house frame; see `basis.angles`. What makes them is in `forms.piece`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from nejime.basis.angles import Point, line
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder
from nejime.forms.placing import Place
from nejime.forms.rules import Form, Label, Range, Rule, Size
from nejime.forms.vessel import Vessel

Opens = Literal["right", "left"]
Role = Literal["main", "helper", "heart", "leaf"]


@dataclass(frozen=True, slots=True)
class Stem:
    """One stem as it stands. Lengths are along the straight line from foot (or mouth) to end.

    `tilt_deg` is what the form aims at; `stands_deg` is the tilt in this vessel, after the rim.
    `length`, `tilt` and `bearing` hold the least, the aim and the most that a lesson allows.
    `foot` is where it ends below: between the pins, or at the wall or floor of a tall vase; `start`
    is where the rule's length begins: the foot, or the mouth of a tall vase.
    `below_cm` is the part in the vase or, in a shallow vessel, under water.
    """

    id: str
    role: Role
    label: Label | None
    length_cm: float
    tilt_deg: float
    stands_deg: float
    bearing_deg: float
    foot: Point
    start: Point
    cut_cm: float
    below_cm: float
    bow_cm: float
    length: Range
    tilt: Range
    bearing: Range
    water_z_cm: float
    bend_deg: float = 0.0
    trim_cm: tuple[float, float] | None = None
    leader: str | None = None

    @property
    def said_cm(self) -> float:
        """The length that every paper says: in a tall vase what is cut, else the rule's own length.

        In a shallow vessel the two differ by the curve of the branch, under 0.3 %: less than
        anybody reads from a tape, but enough to be rounded apart from the number on the drawings.
        """
        return self.length_cm if self.trim_cm is None else self.cut_cm

    @property
    def end(self) -> Point:
        """Its free end, in the house frame."""
        x, y, z = line(self.stands_deg, self.bearing_deg)
        return Point(
            self.start.x_cm + self.length_cm * x,
            self.start.y_cm + self.length_cm * y,
            self.start.z_cm + self.length_cm * z,
        )

    @property
    def height_cm(self) -> float:
        """Height of its end above the pins, or above the mouth of a tall vase."""
        return self.length_cm * math.cos(math.radians(self.stands_deg))

    @property
    def reach_cm(self) -> float:
        """How far out its end is, seen from above, from where it starts."""
        return self.length_cm * math.sin(math.radians(self.stands_deg))

    @property
    def above_water_cm(self) -> float:
        """Height of its end above the water."""
        return self.end.z_cm - self.water_z_cm


@dataclass(frozen=True, slots=True)
class Piece:
    """A planned arrangement in one vessel."""

    vessel: Vessel
    holder: Holder | None
    place: Place
    rule: Rule
    form: Form
    size: Size
    opens: Opens
    water_cm: float
    stems: tuple[Stem, ...]
    remarks: tuple[Saying, ...] = ()
    fuller_third: bool = False
    season: str | None = None

    @property
    def main(self) -> tuple[Stem, ...]:
        """The three main stems."""
        return tuple(stem for stem in self.stems if stem.role == "main")

    @property
    def base_cm(self) -> float:
        """What the proportions were taken from."""
        return base_cm(self.rule, self.vessel)

    def stem(self, stem_id: str) -> Stem:
        """The stem with this id. Raises `KeyError`."""
        for stem in self.stems:
            if stem.id == stem_id:
                return stem
        raise KeyError(stem_id)


def base_cm(rule: Rule, vessel: Vessel) -> float:
    """The measure of a vessel that a rule multiplies."""
    high = vessel.height_cm + (vessel.stand_cm if rule.measures == "height" else 0.0)
    measure = rule.base["tall" if vessel.tall else "shallow"]
    return {
        "width + height": vessel.longest_cm + high,
        "width": vessel.longest_cm,
        "height": high,
    }[measure]


def stem_name(stem_id: str) -> Saying:
    """What a stem is called in a sentence."""
    kind, _, number = stem_id.partition("-")
    return Saying(f"stem.{kind}", number=number) if number else Saying(f"stem.{kind}")
