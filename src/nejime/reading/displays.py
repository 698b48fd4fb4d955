"""What somebody typed of a piece that stays on display, and what was read on a ruler.

Model: the vessel is a table like one of the cupboard. Rows of plants that stay empty say nothing.
A row's own day is that on which the plant came in, where that was later than the first day.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

from nejime.basis.errors import InputError
from nejime.basis.places import Path
from nejime.basis.units import whole_number
from nejime.forms.vessel import Vessel
from nejime.keeping.water_loss import ROOMS, Reading
from nejime.reading.checking import Filled, Sheet, known_keys
from nejime.reading.fields import Table, day, length, number, one_of, whole
from nejime.reading.plants import plant_name
from nejime.reading.tables import Line, Name, VesselTable
from nejime.reading.typed import Content, Typed, raw
from nejime.reading.vessels import made_vessel

LEAST_WATER_CM, MOST_WATER_CM = 0.5, 100.0  # [own]
LEAST_PINS_CM, MOST_PINS_CM = 0.5, 6.0  # [own] plate and pins together
LEAST_HOURS, MOST_HOURS = 2.0, 240.0  # [own] sooner nothing is to be read; later it was poured
LEAST_FALL_CM = 0.05  # [own] half a millimetre is the least that a ruler shows
MOST_DAYS = 366  # [own] a piece that stays longer is not one of fresh plants
MOST_STEMS = 200  # [own]
USUAL_ROOM = "usual"
VESSEL_KEYS = tuple(known_keys(VesselTable))

_PLAIN = re.compile(r"\d+([.,]\d+)?")

Day = Annotated[dt.date, day()]


class DisplayTable(Table):
    """A piece on display; its vessel and plants are checked by themselves."""

    name: Name
    water: Annotated[float, length(LEAST_WATER_CM, MOST_WATER_CM)]
    pins: Annotated[float, length(LEAST_PINS_CM, MOST_PINS_CM)] | None = None
    room: Annotated[str, one_of(tuple(ROOMS))] = USUAL_ROOM
    since: Day
    until: Day
    contact: Line = ""


class ShownTable(Table):
    """Stems of a plant in it."""

    plant: Annotated[str, plant_name()]
    stems: Annotated[int, whole(1, MOST_STEMS)] = 1
    since: Day | None = None


class ReadingTable(Table):
    """How far the water fell in how many hours."""

    hours: Annotated[float, number(LEAST_HOURS, MOST_HOURS)]
    fell: Annotated[float, length(LEAST_FALL_CM, MOST_WATER_CM)]


@dataclass(frozen=True, slots=True)
class Display:
    """A display as it is kept, checked."""

    table: DisplayTable
    vessel: Vessel
    plants: tuple[ShownTable, ...]
    readings: tuple[Reading, ...]


def display_fields(typed: Typed, rows: Sequence[int], unit: str, vessel: Content | None) -> Content:
    """What is kept of the fields of a display: `plant[1].plant` and so on for each row.

    `vessel` is the table of one of ours; None where its shape and measures were typed.
    Raises `InputError`.
    """
    own = {key: text for key, text in typed.items() if key not in ("name", "vessel")}
    content = {
        **_lengths(raw(DisplayTable, typed, unit), unit),
        "vessel": vessel if vessel is not None else raw(VesselTable, own, unit),
        "plant": [(row, _numbers(raw(ShownTable, typed, unit, f"plant[{row}]."))) for row in rows],
    }
    content["plant"] = [(row, told) for row, told in content["plant"] if told]
    sheet = Filled("", {}, {})
    found = _checked(sheet, content, () if vessel is None else ("vessel",))
    _raise(sheet)
    assert found is not None
    return {**content, "plant": [_kept(each) for each in found.plants]}


def display_of(content: Mapping[str, Any]) -> Display:
    """A display that is kept. Raises `InputError`, `KeyError`, `TypeError`."""
    sheet = Filled("", {}, {})
    rows = list(enumerate(content["plant"], start=1))
    asked = {key: content[key] for key in known_keys(DisplayTable) if key in content}
    found = _checked(sheet, {**asked, "vessel": content["vessel"], "plant": rows}, ("vessel",))
    _raise(sheet)
    assert found is not None
    readings = tuple(Reading(each["hours"], each["fell"]) for each in content.get("readings", ()))
    return replace(found, readings=readings)


def reading_fields(typed: Typed, unit: str, full_cm: float) -> Content:
    """A reading of the ruler, by the fields `hours` and `fell`. Raises `InputError`."""
    content = {key: typed.get(key, "").strip() for key in ("hours", "fell")}
    hours = content["hours"].replace(",", ".")
    told = _lengths({key: text for key, text in content.items() if text}, unit)
    if _PLAIN.fullmatch(hours):
        told["hours"] = float(hours)
    sheet = Filled("", {}, {})
    table = sheet.checked(ReadingTable, told, ())
    if table is not None and table.fell > full_cm:
        sheet.wrong(("fell",), "typed.fell-too-far", fell_cm=table.fell, water_cm=full_cm)
    _raise(sheet)
    assert table is not None
    return {"hours": table.hours, "fell": table.fell}


def replacing_fields(typed: Typed, rows: int) -> tuple[int, str]:
    """Which row was replaced, from 0, and by which plant: empty where by the same again.

    Raises `InputError`.
    """
    sheet = Filled("", {}, {})
    row, word = whole_number(typed.get("row", "")) or 0, typed.get("by", "").strip()
    if not 1 <= row <= rows:
        sheet.wrong(("row",), "typed.no-such-row")
    table = sheet.checked(_ByTable, {"by": word}, ()) if word else _ByTable()
    _raise(sheet)
    assert table is not None
    return row - 1, table.by


class _ByTable(Table):
    """What came in the place of a plant."""

    by: Annotated[str, plant_name()] = ""


def _checked(sheet: Sheet, content: Mapping[str, Any], at: Path) -> Display | None:
    """The whole of a display, every fault noted; `at` is where its vessel stands."""
    parts = {key: value for key, value in content.items() if key not in ("vessel", "plant")}
    table = sheet.checked(DisplayTable, parts, ())
    measures = sheet.checked(VesselTable, dict(content["vessel"]), at)
    vessel = made_vessel(sheet, measures, at) if measures is not None else None
    plants = [sheet.checked(ShownTable, told, ("plant", row - 1)) for row, told in content["plant"]]
    if not plants:
        sheet.wrong(("plant", 0, "plant"), "typed.no-plant")
    if table is not None:
        _check_days(sheet, table)
        if vessel is not None:
            _check_water(sheet, table, vessel)
    if table is None or vessel is None or sheet.faults:
        return None
    return Display(table, vessel, tuple(each for each in plants if each is not None), ())


def _check_days(sheet: Sheet, table: DisplayTable) -> None:
    stays = (table.until - table.since).days
    if stays < 1:
        sheet.wrong(("until",), "typed.until-before-since")
    elif stays > MOST_DAYS:
        sheet.wrong(("until",), "typed.stays-too-long", count=stays)


def _check_water(sheet: Sheet, table: DisplayTable, vessel: Vessel) -> None:
    if table.water > vessel.inside_cm:
        told = {"water_cm": table.water, "inside_cm": vessel.inside_cm}
        sheet.wrong(("water",), "typed.water-over-rim", **told)
    elif not vessel.tall and table.pins is not None and table.pins >= table.water:
        sheet.wrong(("water",), "typed.pins-dry", water_cm=table.water, pins_cm=table.pins)


def _lengths(content: Content, unit: str) -> Content:
    """Plain lengths in the reader's unit; what is no plain length as it was typed."""
    found = dict(content)
    for key in ("water", "pins", "fell"):
        text = str(found.get(key, ""))
        if _PLAIN.fullmatch(text):
            found[key] = f"{text} in" if unit == "in" else float(text.replace(",", "."))
    return found


def _numbers(content: Content) -> Content:
    stems = whole_number(str(content.get("stems", "")))
    return content if stems is None else {**content, "stems": stems}


def _kept(table: ShownTable) -> Content:
    kept: Content = {"plant": table.plant, "stems": table.stems}
    return {**kept, "since": table.since.isoformat()} if table.since else kept


def _raise(sheet: Sheet) -> None:
    if sheet.faults:
        raise InputError(sheet.faults)
