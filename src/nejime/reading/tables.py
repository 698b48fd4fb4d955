"""The tables of a class file: which keys each has, and what each key may hold.

What can be seen within one table is checked here; the rest in `class_file`.
"""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from nejime.forms.rules import FORMS, SIZES, Size
from nejime.forms.stems import Opens
from nejime.forms.vessel import SHAPES, WARE_DENSITY_G_CM3, Shape, Wall, Ware
from nejime.lesson.lesson import NOTES, Floor, Paper, Units
from nejime.material.supply import (
    HOWS,
    MATERIAL_ROLES,
    WHENCES,
    How,
    MaterialRole,
    Shoot,
    Whence,
)
from nejime.reading.fields import (
    Table,
    amount,
    clock,
    day,
    length,
    mass,
    one_of,
    thickness,
    whole,
    words,
    yes_or_no,
)
from nejime.reading.plants import plant_name
from nejime.reading.shoots import shoots
from nejime.reading.weekdays import days
from nejime.reading.when import zone_name

# [own] Limits wide enough for any class in a library; beyond them a slip is likelier than intent.
NAME_LETTERS = 60
LINE_LETTERS = 120
NOTE_LETTERS = 500
LEAST_MINUTES, MOST_MINUTES = 15, 600
MOST_COUNT = 1000
LEAST_HOLDER_CM, MOST_HOLDER_CM = 1.5, 30.0
LEAST_HOLDER_G, MOST_HOLDER_G = 10.0, 10_000.0
LEAST_STEM_CM, MOST_STEM_CM = 3.0, 300.0
LEAST_STEM_MM, MOST_STEM_MM = 1.0, 60.0
LEAST_STEM_G, MOST_STEM_G = 1.0, 5000.0
LEAST_ROOM_CM, MOST_ROOM_CM = 150.0, 10_000.0
MOST_SURE_PERCENT = 99  # [own] no number of spares makes it quite sure
SURE_PERCENT = 95  # [own] one class of twenty has somebody without a stem
MOST_FAILING_PERCENT = 50
USUALLY_FAILING_PERCENT = 5  # [own] one stem of twenty
MOST_NOTICE_DAYS = 60

PlantId = Annotated[str, plant_name()]
Name = Annotated[str, words(NAME_LETTERS, blank=False)]
Line = Annotated[str, words(LINE_LETTERS)]
Note = Annotated[str, words(NOTE_LETTERS)]
Yes = Annotated[bool, yes_or_no()]
Cm = Annotated[float, length()]
Grams = Annotated[float, mass()]
Count = Annotated[int, whole(1, MOST_COUNT)]
OrNone = Annotated[int, whole(0, MOST_COUNT)]
Amount = Annotated[Decimal, amount()]
StemCm = Annotated[float, length(LEAST_STEM_CM, MOST_STEM_CM)]
StemMm = Annotated[float, thickness(LEAST_STEM_MM, MOST_STEM_MM)]
StemG = Annotated[float, mass(LEAST_STEM_G, MOST_STEM_G)]
Shoots = Annotated[tuple[Shoot, ...], shoots()]
Days = Annotated[tuple[int, ...], days()]
HolderCm = Annotated[float, length(LEAST_HOLDER_CM, MOST_HOLDER_CM)]
HolderG = Annotated[float, mass(LEAST_HOLDER_G, MOST_HOLDER_G)]
FormName = Annotated[str, one_of(FORMS)]
SizeName = Annotated[Size, one_of(SIZES)]
OpensTo = Annotated[Opens, one_of(("right", "left"))]


class ClassTable(Table):
    """`[class]`: when, where, how long, what is taught, and how the papers are to look."""

    title: Annotated[str, words(LINE_LETTERS, blank=False)]
    library: Line = ""
    place: Line = ""
    date: Annotated[dt.date, day()]
    start: Annotated[dt.time, clock()]
    minutes: Annotated[int, whole(LEAST_MINUTES, MOST_MINUTES)]
    zone: Annotated[str, zone_name()]
    form: FormName = "upright"
    proportions: Name | None = None
    size: SizeName = "usual"
    opens: OpensTo = "right"
    fuller_third: Yes = False
    holder_by_season: Yes = False
    units: Annotated[Units, one_of(("cm", "in", "both"))] = "cm"
    paper: Annotated[Paper, one_of(("A4", "Letter"))] = "A4"
    large_print: Yes = False
    filmed: Yes = False
    kits_instead_of_class: Yes = False
    display_days: Annotated[int, whole(0, 60)] = 0
    sure_percent: Annotated[int, whole(0, MOST_SURE_PERCENT)] = SURE_PERCENT
    spare_percent: Annotated[int, whole(0, 100)] | None = None
    split_shops: Yes = False
    currency: Annotated[str, words(5)] = ""
    decimals: Annotated[int, whole(0, 4)] = 2
    region: Line = ""
    poison_line: Line = ""
    contact: Line = ""


class RoomTable(Table):
    """`[room]`"""

    floor: Annotated[Floor, one_of(("carpet", "hard"))] = "hard"
    width: Annotated[float, length(LEAST_ROOM_CM, MOST_ROOM_CM)] | None = None
    depth: Annotated[float, length(LEAST_ROOM_CM, MOST_ROOM_CM)] | None = None
    water: Yes = False
    seats_at_table: Annotated[int, whole(1, 60)] = 4


class VesselTable(Table):
    """`vessel = { … }`; that its numbers are possible is for `forms.limits` to say."""

    shape: Annotated[Shape, one_of(SHAPES)]
    width: Cm
    height: Cm
    depth: Cm | None = None
    corner_radius: Cm | None = None
    floor_width: Cm | None = None
    foot_width: Cm | None = None
    foot_height: Cm | None = None
    wall: Cm | None = None
    body: Cm | None = None
    mass: Grams | None = None
    stand: Cm | None = None
    ware: Annotated[Ware, one_of(tuple(WARE_DENSITY_G_CM3))] = "ceramic"
    walls: Annotated[Wall, one_of(("straight", "curved"))] = "straight"
    name: Line = ""


class LentVesselTable(VesselTable):
    """`[[vessel]]`: ours, to lend."""

    name: Name
    count: Count = 1


class HolderTable(Table):
    """`holder = { … }`: a diameter, or width and depth."""

    diameter: HolderCm | None = None
    width: HolderCm | None = None
    depth: HolderCm | None = None
    mass: HolderG | None = None
    name: Line = ""


class LentHolderTable(HolderTable):
    """`[[holder]]`: ours, to lend."""

    name: Name
    count: Count = 1


class PersonTable(Table):
    """`[[person]]`; vessel and holder are a name or a table and are checked by themselves."""

    name: Name
    vessel: object = None
    holder: object = None
    form: FormName | None = None
    size: SizeName | None = None
    opens: OpensTo | None = None
    please_note: tuple[Annotated[str, one_of(NOTES, "reading.else-note")], ...] = ()
    note: Note = ""


class DemonstrationTable(Table):
    """`[demonstration]`: the teacher's own vessel."""

    vessel: object = None


class StandInTable(Table):
    """`{ plant = "…", how = "as good" }`"""

    plant: PlantId
    how: Annotated[How, one_of(HOWS)] = "will do"


class MaterialTable(Table):
    """`[[material]]`: what stands in one role of everybody's piece."""

    role: Annotated[MaterialRole, one_of(MATERIAL_ROLES)] = Field(alias="for")
    plant: PlantId
    each: Annotated[int, whole(1, 20)] = 1
    thickness: StemMm | None = None
    weighed: StemG | None = None
    in_bud: Yes = False
    with_shoots: Yes = False
    thinnest: StemMm | None = None
    thickest: StemMm | None = None
    fails_percent: Annotated[int, whole(0, MOST_FAILING_PERCENT)] = USUALLY_FAILING_PERCENT
    stand_ins: tuple[StandInTable, ...] = ()


class BunchTable(Table):
    """`{ plant = "tulip", stems = 10, price = 7.99, length = 35 }`"""

    plant: PlantId
    stems: Count
    price: Amount
    length: StemCm
    least: OrNone = 0
    most: OrNone | None = None
    thickness: StemMm | None = None
    shoots: Shoots = ()


class ShopTable(Table):
    """`[[shop]]`; each bunch is checked by itself."""

    name: Name
    minimum: Amount = Decimal(0)
    delivery: Amount = Decimal(0)
    days: Days = ()
    notice_days: Annotated[int, whole(0, MOST_NOTICE_DAYS)] = 0
    bunch: object = None


class GardenTable(Table):
    """`[[garden]]`: branches at hand that cost nothing: cut, given, or left over."""

    plant: PlantId
    length: StemCm
    count: Count = 1
    thickness: StemMm | None = None
    shoots: Shoots = ()
    whence: Annotated[Whence, one_of(WHENCES)] = Field(default="garden", alias="from")
    blooms: Annotated[dt.date, day()] | None = None
    name: Line = ""
