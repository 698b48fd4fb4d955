"""Vessels and pin holders from their tables, with everything that cannot be."""

from __future__ import annotations

from nejime.basis.places import Path
from nejime.forms.holder import Holder, holder
from nejime.forms.limits import vessel_faults
from nejime.forms.vessel import Vessel, vessel
from nejime.reading.checking import Sheet
from nejime.reading.tables import HolderTable, VesselTable

LEAST_INSIDE_CM = 0.5  # [own] less depth than this holds no water
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
ONLY_FOR = {"corner_radius": "rectangle", "foot_height": "footed", "body": "vase"}


def read_vessel(sheet: Sheet, value: object, at: Path) -> Vessel | None:
    """A vessel from a `{ … }`; None, with its faults noted, where it cannot be."""
    table = sheet.checked(VesselTable, value, at)
    return None if table is None else made_vessel(sheet, table, at)


def made_vessel(sheet: Sheet, table: VesselTable, at: Path) -> Vessel | None:
    """A vessel from its checked table; None, with its faults noted, where it cannot be."""
    before = len(sheet.faults)
    sheet.borrow(at, vessel_faults({name: getattr(table, name) for name in NUMBERS}))
    for key, shape in ONLY_FOR.items():
        if getattr(table, key) is not None and table.shape != shape:
            sheet.wrong((*at, key), "reading.not-this-shape", key=key, shape=shape)
    if table.shape == "round" and table.depth not in (None, table.width):
        sheet.wrong((*at, "depth"), "reading.round-is-round")
    if len(sheet.faults) > before:
        return None
    found = vessel(
        table.shape,
        table.width,
        table.height,
        depth_cm=table.depth,
        corner_radius_cm=table.corner_radius,
        floor_width_cm=table.floor_width,
        foot_width_cm=table.foot_width,
        foot_height_cm=table.foot_height,
        wall_cm=table.wall,
        body_cm=table.body,
        wall=table.walls,
        ware=table.ware,
        mass_g=table.mass,
        stand_cm=table.stand or 0.0,
        name=table.name,
    )
    if found.inside_cm < LEAST_INSIDE_CM:
        sheet.wrong((*at, "height"), "reading.no-inside", height_cm=table.height)
        return None
    return found


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
