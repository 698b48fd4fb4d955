"""Vessels and pin holders from their tables, with everything that cannot be."""

from __future__ import annotations

from nejime.basis.errors import InputError
from nejime.basis.places import Path
from nejime.forms.holder import Holder, holder
from nejime.forms.limits import checked_vessel
from nejime.forms.vessel import Vessel
from nejime.reading.checking import Sheet
from nejime.reading.tables import HolderTable, VesselTable

NUMBERS = (
    "width",
    "height",
    "depth",
    "corner_radius",
    "floor_width",
    "foot_width",
    "foot_height",
    "wall",
    "body",
    "mass",
    "stand",
)


def read_vessel(sheet: Sheet, value: object, at: Path) -> Vessel | None:
    """A vessel from a `{ … }`; None, with its faults noted, where it cannot be."""
    table = sheet.checked(VesselTable, value, at)
    return None if table is None else made_vessel(sheet, table, at)


def made_vessel(sheet: Sheet, table: VesselTable, at: Path) -> Vessel | None:
    """A vessel from its checked table; None, with its faults noted, where it cannot be."""
    try:
        return checked_vessel(
            table.shape,
            {name: getattr(table, name) for name in NUMBERS},
            ware=table.ware,
            wall=table.walls,
            name=table.name,
        )
    except InputError as trouble:
        sheet.borrow(at, trouble.faults)
        return None


def read_holder(sheet: Sheet, value: object, at: Path) -> Holder | None:
    """A pin holder from a `{ … }`; None, with its faults noted, where it cannot be."""
    table = sheet.checked(HolderTable, value, at)
    return None if table is None else made_holder(sheet, table, at)


def made_holder(sheet: Sheet, table: HolderTable, at: Path) -> Holder | None:
    """A pin holder from its checked table; None, with a fault, where its sides are unclear."""
    sides = (table.width, table.depth)
    if table.diameter is not None and sides == (None, None):
        return holder(table.diameter, mass_g=table.mass, name=table.name)
    if table.diameter is None and table.width is not None and table.depth is not None:
        return holder(table.width, table.depth, mass_g=table.mass, name=table.name)
    sheet.wrong(at, "reading.holder-sides")
    return None
