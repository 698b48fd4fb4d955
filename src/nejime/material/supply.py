"""What a class asks for and what the shops and the garden have: plain values."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import Literal

Whence = Literal["garden", "gift", "left over"]
WHENCES: tuple[Whence, ...] = ("garden", "gift", "left over")
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


FAILS_PERCENT = 5.0  # [own] one stem of twenty


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
    used on the day. `with_shoots`: it keeps the side shoots on its upper part, so it may not be
    what is left of a branch that was stripped, nor a side shoot. `thinnest_mm` and `thickest_mm`
    bound its thickness where it is cut. `fails_percent` of such stems break, do not drink or open
    badly.
    """

    role: MaterialRole
    plant: str
    each: int = 1
    thickness_mm: float | None = None
    weighed_g: float | None = None
    in_bud: bool = False
    with_shoots: bool = False
    thinnest_mm: float | None = None
    thickest_mm: float | None = None
    fails_percent: float = FAILS_PERCENT
    stand_ins: tuple[StandIn, ...] = ()

    @property
    def choices(self) -> tuple[str, ...]:
        """The plants that may be used, the best first."""
        rest = sorted(self.stand_ins, key=lambda each: HOWS.index(each.how))
        return (self.plant, *(each.plant for each in rest))


@dataclass(frozen=True, slots=True)
class Shoot:
    """A side shoot: it leaves its branch `at_cm` from the branch's cut end, and is so long."""

    at_cm: float
    length_cm: float


@dataclass(frozen=True, slots=True)
class Bunch:
    """What a shop sells: `length_cm` is the least that the grade promises.

    `thickness_mm` is a stem's at its cut end, None where nobody said. `shoots` are the side shoots
    that each of its stems has at least.
    """

    shop: str
    plant: str
    stems: int
    price_minor: int
    length_cm: float
    least: int = 0
    most: int | None = None
    thickness_mm: float | None = None
    shoots: tuple[Shoot, ...] = ()


@dataclass(frozen=True, slots=True)
class Shop:
    """A shop with its bunches; `minimum_minor` is the least it delivers or sells for.

    `days` are the weekdays on which it sells, Monday as 0; none where it always does. It wants to
    know of an order `notice_days` before the day on which it is fetched.
    """

    name: str
    bunches: tuple[Bunch, ...]
    minimum_minor: int = 0
    delivery_minor: int = 0
    days: tuple[int, ...] = ()
    notice_days: int = 0


@dataclass(frozen=True, slots=True)
class GardenBranch:
    """Branches or stems at hand that cost nothing: `count` of them, each at least `length_cm` long.

    `thickness_mm` is at the cut end, None where nobody said. `whence`: cut in a garden, a gift, or
    left over from the last class. `shoots` are the side shoots that each of them has at least.
    `blooms` is the day on which it opens outdoors, None where nobody said.
    """

    plant: str
    length_cm: float
    count: int = 1
    thickness_mm: float | None = None
    name: str = ""
    whence: Whence = "garden"
    shoots: tuple[Shoot, ...] = ()
    blooms: dt.date | None = None
