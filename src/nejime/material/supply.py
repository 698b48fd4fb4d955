"""What a class asks for and what the shops and the garden have: plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

How = Literal["as good", "will do", "only if nothing else"]
HOWS: tuple[How, ...] = ("as good", "will do", "only if nothing else")
MaterialRole = Literal["first", "second", "third", "helper", "heart", "leaf"]
MATERIAL_ROLES: tuple[MaterialRole, ...] = (
    "first",
    "second",
    "third",
    "helper",
    "heart",
    "leaf",
)


@dataclass(frozen=True, slots=True)
class StandIn:
    """Another plant that may take a place, and how gladly."""

    plant: str
    how: How


@dataclass(frozen=True, slots=True)
class Wish:
    """What stands in one role of everybody's piece.

    `each` counts the stems a person gets; it is 1 for a main stem. `thickness_mm` at the cut and
    `weighed_g`, a whole cut stem on the scale, are None where nobody said. `in_bud` is how it is
    used on the day.
    """

    role: MaterialRole
    plant: str
    each: int = 1
    thickness_mm: float | None = None
    weighed_g: float | None = None
    in_bud: bool = False
    stand_ins: tuple[StandIn, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """The plants that may be used, the best first."""
        rest = sorted(self.stand_ins, key=lambda each: HOWS.index(each.how))
        return (self.plant, *(each.plant for each in rest))


@dataclass(frozen=True, slots=True)
class Bunch:
    """What a shop sells: `length_cm` is the least that the grade promises."""

    shop: str
    plant: str
    stems: int
    price_minor: int
    length_cm: float
    least: int = 0
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop with its bunches; `minimum_minor` is the least it delivers or sells for."""

    name: str
    bunches: tuple[Bunch, ...]
    minimum_minor: int = 0
    delivery_minor: int = 0


@dataclass(frozen=True, slots=True)
class GardenBranch:
    """Branches at hand that cost nothing: `count` of them, each at least `length_cm` long."""

    plant: str
    length_cm: float
    count: int = 1
    thickness_mm: float | None = None
    name: str = ""
