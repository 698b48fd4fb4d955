"""A described piece into values, to ask whether it stands; or every fault of it at once.

Model: a TOML file with the `vessel` and `holder` of a class file, and one `[[stem]]` for each stem
as it stands: how long, how far it leans, where to, and what it is made of. A tall vase needs no
holder.
Frame: bearings clockwise from above, 0 away from the viewer; tilt 0 is upright.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, cast

from pydantic import AliasChoices, Field

from nejime.basis.errors import InputError, refuse
from nejime.forms.holder import Holder, fits
from nejime.forms.rules import PLACES
from nejime.forms.vessel import Vessel
from nejime.plants.plant import STEMS, Plant
from nejime.plants.table import plant
from nejime.reading.checking import Sheet, sheet
from nejime.reading.fields import Table, direction, lean, length, mass, meant, one_of, shown
from nejime.reading.lending import note_same_names
from nejime.reading.tables import HolderTable, Line, PlantId, StemCm, StemG, StemMm, Yes
from nejime.reading.text import read_bytes
from nejime.reading.vessels import made_holder, read_vessel
from nejime.standing.masses import FLOWER_HEAD_G, Body, Kind

TABLES = ("vessel", "holder", "stem", "water")
MOST_STEMS = 60  # [own] more do not go on any pin holder
LEAST_HEAD_G, MOST_HEAD_G = 0.0, 2000.0  # [own] none, and the largest sunflower
LEAST_WATER_CM, MOST_WATER_CM = 0.0, 100.0  # [own] as deep as the tallest vessel


Lean = Annotated[float, lean()]


@dataclass(frozen=True, slots=True)
class StandStem:
    """One stem as it stands: the straight line from foot to end, and what it is made of."""

    name: str
    length_cm: float
    tilt_deg: float
    bearing_deg: float
    body: Body


@dataclass(frozen=True, slots=True)
class StandQuestion:
    """A piece of which somebody asks whether it stands.

    `holder` is None only in a tall vase; `place` says in words where it lies. `water_cm` is the
    depth above the inside floor, None where nobody said.
    """

    vessel: Vessel
    holder: Holder | None
    place: str
    water_cm: float | None
    stems: tuple[StandStem, ...]


class PlacedHolderTable(HolderTable):
    """`[holder]`, and where it lies."""

    place: Annotated[str, one_of(PLACES)] = "middle"


class StemTable(Table):
    """`[[stem]]`; `tilt`, the word of the proportions files, is understood for `lean`."""

    name: Line = ""
    length: StemCm
    lean: Lean = Field(validation_alias=AliasChoices("lean", "tilt"))
    direction: Annotated[float, direction()]
    kind: Annotated[Kind, one_of(STEMS)] | None = None
    plant: PlantId | None = None
    thickness: StemMm
    head: Annotated[float, mass(LEAST_HEAD_G, MOST_HEAD_G)] | None = None
    weighed: StemG | None = None
    in_bud: Yes = False


class WaterTable(Table):
    """The water's depth, which stands above all tables."""

    water: Annotated[float, length(LEAST_WATER_CM, MOST_WATER_CM)] | None = None


def read_stand(file_name: str, data: bytes) -> StandQuestion:
    """The piece that a file describes. Raises `InputError` with every fault, in its order."""
    found = sheet(file_name, read_bytes(file_name, data))
    if "class" in found.tree:
        raise refuse("class", "reading.is-a-class", "reading.is-a-class-try", file=file_name)
    for key in found.tree:
        if key not in TABLES:
            found.wrong((key,), "reading.unknown-table", key=shown(key), meant=meant(key, TABLES))
    water = found.checked(
        WaterTable, {key: value for key, value in found.tree.items() if key == "water"}, ()
    )
    vessel = _vessel(found)
    held, place = _holder(found, vessel)
    stems = _stems(found)
    if vessel is not None and water is not None and (water.water or 0.0) > vessel.inside_cm:
        found.wrong(("water",), "reading.water-over-rim", inside_cm=vessel.inside_cm)
    if found.faults or vessel is None or water is None:
        raise InputError(found.in_order())
    return StandQuestion(vessel, held, place, water.water, stems)


def _vessel(found: Sheet) -> Vessel | None:
    if "vessel" not in found.tree:
        found.wrong(("vessel",), "reading.no-vessel")
        return None
    return read_vessel(found, found.tree["vessel"], ("vessel",))


def _holder(found: Sheet, vessel: Vessel | None) -> tuple[Holder | None, str]:
    """The pin holder and its place; a tall vase has none."""
    if "holder" not in found.tree:
        if vessel is not None and not vessel.tall:
            found.wrong(("holder",), "reading.no-holder")
        return None, "middle"
    table = found.one("holder", PlacedHolderTable)
    held = made_holder(found, table, ("holder",)) if table else None
    if table is None or held is None or vessel is None:
        return None, "middle"
    if vessel.tall:
        found.wrong(("holder",), "reading.holder-in-vase")
    elif not fits(held, vessel):
        found.wrong(
            ("holder",),
            "forms.holder-too-wide",
            holder_cm=max(held.width_cm, held.depth_cm),
            floor_cm=min(vessel.floor_width_cm, vessel.floor_depth_cm),
        )
    return held, table.place


def _stems(found: Sheet) -> tuple[StandStem, ...]:
    written = found.tables("stem")
    note_same_names(found, written)
    if found.tree.get("stem", []) == []:
        found.wrong(("stem",), "reading.no-stems")
    if len(written) > MOST_STEMS:
        found.wrong(("stem",), "reading.too-many-stems", count=len(written), most=MOST_STEMS)
    stems = []
    for at, value in written[:MOST_STEMS]:
        table = found.checked(StemTable, value, at)
        if table is None:
            continue
        made_of = plant(table.plant) if table.plant is not None else None
        if made_of is None and table.kind is None:
            found.wrong((*at, "kind"), "reading.no-kind", choices=", ".join(STEMS))
        stems.append(
            StandStem(table.name, table.length, table.lean, table.direction, _body(table, made_of))
        )
    return tuple(stems)


def _body(table: StemTable, made_of: Plant | None) -> Body:
    return Body(
        kind=table.kind or cast("Kind", made_of.stem if made_of else STEMS[0]),
        thickness_mm=table.thickness,
        head_g=_usual_head_g(made_of) if table.head is None else table.head,
        weighed_g=table.weighed,
        stage="bud" if table.in_bud else "open",
    )


def _usual_head_g(made_of: Plant | None) -> float:
    """The middle of what a plant's flower weighs; of a flower that nobody knows, what is usual."""
    if made_of is None:
        return 0.0
    fact = made_of.fact("head_g")
    if fact is not None and fact.low is not None and fact.high is not None:
        return (fact.low + fact.high) / 2
    return FLOWER_HEAD_G if made_of.kind == "flower" else 0.0
