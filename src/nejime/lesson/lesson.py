"""A class as a teacher writes it down: plain values, nothing computed.

What a class file says becomes a `Lesson`; `lesson.plan` makes everything else of it.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import Literal

from nejime.forms.holder import Holder
from nejime.forms.rules import DEFAULT_RULE, Size
from nejime.forms.stems import Opens
from nejime.forms.vessel import Vessel
from nejime.material.supply import GardenBranch, Shop, Wish
from nejime.plants.plant import Plant
from nejime.plants.table import plant

Paper = Literal["A4", "Letter"]
Units = Literal["cm", "in", "both"]
Floor = Literal["carpet", "hard"]

SEASONS = ("winter", "spring", "summer", "autumn")
NOTES = (
    "left-handed",
    "wheelchair",
    "low-vision",
    "hard-of-hearing",
    "child",
    "cat-at-home",
    "dog-at-home",
    "pollen-allergy",
    "latex-allergy",
    "skin-allergy",
)
"""What a person may ask us to note; anything else is free text for the teacher alone."""


def northern_month(month: int, *, southern: bool) -> int:
    """The month in which the north is where a place is in this one: half a year on in the south."""
    return (month + (6 if southern else 0) - 1) % 12 + 1


def season_of(month: int) -> str:
    """The season of a northern month: three months each, winter from December."""
    return SEASONS[month % 12 // 3]


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody who comes. `vessel` is None while nobody knows it; `lent` when it is ours.

    `form`, `size` and `opens` are None where the class's own hold.
    """

    name: str
    vessel: Vessel | None = None
    lent: bool = False
    holder: Holder | None = None
    form: str | None = None
    size: Size | None = None
    opens: Opens | None = None
    please_note: tuple[str, ...] = ()
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Lend:
    """Vessels and pin holders to lend, and how many of each."""

    vessels: tuple[tuple[Vessel, int], ...] = ()
    holders: tuple[tuple[Holder, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Money:
    """How amounts are written: a sign or code and the number of decimal places."""

    sign: str = ""
    decimals: int = 2


@dataclass(frozen=True, slots=True)
class Room:
    """What a teacher knows of the room."""

    floor: Floor = "hard"
    width_cm: float | None = None
    depth_cm: float | None = None
    water_in_room: bool = False
    seats_at_table: int = 4


@dataclass(frozen=True, slots=True)
class Lesson:
    """A class: when, where, how long, what is taught, who comes, and where material comes from."""

    title: str
    library: str
    place: str
    starts: dt.datetime
    """With its time zone."""
    minutes: int
    people: tuple[Person, ...]
    form: str | None = "upright"
    rule: str | None = DEFAULT_RULE
    size: Size = "usual"
    opens: Opens = "right"
    fuller_third: bool = False
    holder_by_season: bool = False
    filmed: bool = False
    take_home: bool = False
    display_days: int = 0
    demonstration: Vessel | None = None
    sure_percent: int = 95
    """The chance that everybody is complete, for which spares are counted."""
    spare_percent: int | None = None
    """A fixed share of spares instead."""
    split_shops: bool = False
    """Whether what two shops sell is bought in both, against one bad bunch."""
    units: Units = "cm"
    paper: Paper = "A4"
    large_print: bool = False
    money: Money = field(default_factory=Money)
    room: Room = field(default_factory=Room)
    lend: Lend = field(default_factory=Lend)
    wishes: tuple[Wish, ...] = ()
    shops: tuple[Shop, ...] = ()
    garden: tuple[GardenBranch, ...] = ()
    region: str = ""
    poison_line: str = ""
    contact: str = ""
    southern: bool = False
    plants: tuple[Plant, ...] = ()
    """Plants of which the teacher herself knows something else than the plant table."""
    blooms: tuple[tuple[str, dt.date], ...] = ()
    """When plants usually flower outdoors where she is, by their ids, as far as that is known:
    branches from the garden that flower later than the class are then forced."""

    def plant(self, plant_id: str) -> Plant:
        """A plant as the teacher knows it. Raises `InputError`."""
        own = (each for each in self.plants if each.id == plant_id)
        return next(own, None) or plant(plant_id)

    @property
    def ends(self) -> dt.datetime:
        """When the hour is over."""
        return self.starts + dt.timedelta(minutes=self.minutes)

    @property
    def season(self) -> str:
        """The season of its month; southern seasons are half a year apart."""
        return season_of(northern_month(self.starts.month, southern=self.southern))

    @property
    def kept(self) -> int:
        """How many pieces stay on display and need replacements: the demonstration."""
        return 1 if self.display_days else 0

    @property
    def demonstrations(self) -> int:
        """How many times the teacher makes the piece herself: twice when she films."""
        return 2 if self.filmed else 1
