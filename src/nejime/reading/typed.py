"""What somebody typed into the fields of a form, as the tables of a class file have it.

Model: every field is text and an empty one says nothing. A plain number is a number; where the
reader measures in inches, a plain length is one of inches. The tables are checked by the same
models as a class file, and each fault stands at the name of its field.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel

from nejime.basis.errors import InputError
from nejime.basis.places import Path
from nejime.basis.units import whole_number
from nejime.drawings.wire import GLAZES
from nejime.forms.holder import Holder
from nejime.forms.vessel import Vessel
from nejime.lesson.lesson import Paper, Units
from nejime.reading import shoots, weekdays
from nejime.reading.checking import Filled, Sheet, known_keys
from nejime.reading.class_fields import LENGTHS, SHOOTS
from nejime.reading.class_tree import DAYS
from nejime.reading.fields import Table, one_of, small_units, whole, words, yes_or_no
from nejime.reading.supplies import note_bunch, note_shoots
from nejime.reading.tables import (
    BunchTable,
    Count,
    GardenTable,
    HolderTable,
    Line,
    Name,
    Note,
    OrNone,
    ShopTable,
    StemCm,
    VesselTable,
)
from nejime.reading.vessels import made_holder, made_vessel
from nejime.reading.when import zone_name

Model = TypeVar("Model", bound=BaseModel)
Typed = Mapping[str, str]
"""The text of each field by its name."""
Content = dict[str, Any]
"""A table as it is kept: what was typed, numbers as numbers."""

MASSES = frozenset(("mass",))
WHOLE = frozenset(("count", "stems", "least", "most", "decimals", "notice_days"))
YES = frozenset(("traditions",))
MONTHS = range(1, 13)

_PLAIN = re.compile(r"\d+([.,]\d+)?")


class SettingsTable(Table):
    """What holds on every page and paper."""

    units: Annotated[Units, one_of(("cm", "in", "both"))]
    paper: Annotated[Paper, one_of(("A4", "Letter"))]
    library: Line = ""
    place: Line = ""
    zone: Annotated[str, zone_name()] | None = None
    region: Line = ""
    currency: Annotated[str, words(5)] = ""
    decimals: Annotated[int, whole(0, 4)] = 2
    poison_line: Line = ""
    contact: Line = ""
    proportions: Name
    traditions: Annotated[bool, yes_or_no()] = False


class AnyVesselTable(VesselTable):
    """A vessel of the cupboard or a person's own: what the pages keep beyond a class file."""

    count: Count = 1
    glaze: Annotated[str, one_of(GLAZES)] = "celadon"
    note: Note = ""


class KeptVesselTable(AnyVesselTable):
    """A vessel in the cupboard."""

    name: Name


class PileTable(Table):
    """A pile counted again; what is left empty is as it was planned."""

    count: OrNone | None = None
    length: StemCm | None = None


class AnyHolderTable(HolderTable):
    """A pin holder of the cupboard or a person's own."""

    count: Count = 1
    note: Note = ""


class KeptHolderTable(AnyHolderTable):
    """A pin holder in the cupboard."""

    name: Name


def value_of(key: str, text: str, unit: str = "cm") -> object:
    """One field's text as a class file would have it. `unit`: what a plain length is in."""
    plain = text.strip()
    if key in YES:
        return plain == "yes"
    if key == DAYS:
        return weekdays.as_list(plain)
    if key == SHOOTS:
        return shoots.with_unit(plain, "in") if unit == "in" else plain
    if key in WHOLE and (whole := whole_number(plain)) is not None:
        return whole
    if key in LENGTHS | MASSES and _PLAIN.fullmatch(plain):
        if unit == "in" and key in LENGTHS:
            return f"{plain} in"
        number = float(plain.replace(",", "."))
        return int(number) if number.is_integer() else number
    return plain


def raw(model: type[BaseModel], fields: Typed, unit: str = "cm", before: str = "") -> Content:
    """The table that the fields of a model make; `before` stands before each field's name."""
    given = {key: fields.get(f"{before}{key}", "") for key in known_keys(model)}
    return {key: value_of(key, text, unit) for key, text in given.items() if text.strip()}


def door_vessel(fields: Typed, unit: str = "cm") -> tuple[Vessel, Content]:
    """A vessel of which somebody has said little. Raises `InputError`."""
    content = raw(VesselTable, fields, unit)
    return _vessel(VesselTable, content), content


def kept_vessel(fields: Typed, unit: str = "cm") -> Content:
    """A vessel for the cupboard. Raises `InputError`."""
    content = raw(KeptVesselTable, fields, unit)
    _vessel(KeptVesselTable, content)
    return content


def kept_holder(fields: Typed, unit: str = "cm") -> Content:
    """A pin holder for the cupboard. Raises `InputError`."""
    content = raw(KeptHolderTable, fields, unit)
    _holder(KeptHolderTable, content)
    return content


def vessel_of(content: Mapping[str, Any]) -> Vessel:
    """The vessel of a table that is kept. Raises `InputError`."""
    return _vessel(AnyVesselTable, content)


def holder_of(content: Mapping[str, Any]) -> Holder:
    """The pin holder of a table that is kept. Raises `InputError`."""
    return _holder(AnyHolderTable, content)


def _vessel(model: type[VesselTable], content: Mapping[str, Any]) -> Vessel:
    sheet = _sheet()
    table = sheet.checked(model, dict(content), ())
    made = made_vessel(sheet, table, ()) if table else None
    _raise(sheet)
    assert made is not None
    return made


def _holder(model: type[HolderTable], content: Mapping[str, Any]) -> Holder:
    sheet = _sheet()
    table = sheet.checked(model, dict(content), ())
    made = made_holder(sheet, table, ()) if table else None
    _raise(sheet, at_whole="diameter")
    assert made is not None
    return made


def garden(fields: Typed, unit: str = "cm") -> Content:
    """A place in the garden, with the months (`month-3`) in which it can be cut.

    Raises `InputError`.
    """
    content = raw(GardenTable, fields, unit)
    sheet = _sheet()
    table = sheet.checked(GardenTable, content, ())
    if table is not None:
        note_shoots(sheet, (), table.shoots, table.length)
    _raise(sheet)
    assert table is not None
    months = [month for month in MONTHS if fields.get(f"month-{month}")]
    return {**content, "plant": table.plant, "months": months}


def shop(fields: Typed, rows: Sequence[int], unit: str = "cm", decimals: int = 2) -> Content:
    """A shop with its bunches: the fields `bunch[1].plant` and so on; an empty row says nothing.

    Raises `InputError`.
    """
    sheet = _sheet()
    content = raw(ShopTable, {**fields, "bunch": ""}, unit)
    table = sheet.checked(ShopTable, content, ())
    for key in ("minimum", "delivery"):
        note_parts(sheet, (key,), getattr(table, key, None), decimals)
    bunches = []
    for row in rows:
        bunch = raw(BunchTable, fields, unit, f"bunch[{row}].")
        if not bunch:
            continue
        at: Path = ("bunch", row - 1)
        checked = sheet.checked(BunchTable, bunch, at)
        if checked is None:
            continue
        note_parts(sheet, (*at, "price"), checked.price, decimals)
        note_bunch(sheet, at, checked)
        bunches.append({**bunch, "plant": checked.plant})
    _raise(sheet)
    return {**content, "bunch": bunches}


def note_parts(sheet: Sheet, at: Path, amount: Any, decimals: int) -> None:
    """Notes an amount with more figures after the point than the currency has."""
    if amount is None:
        return
    try:
        small_units(amount, decimals)
    except ValueError:
        sheet.wrong(at, "typed.too-exact", typed=str(amount), count=decimals)


def garden_numbers(content: Mapping[str, Any]) -> GardenTable:
    """The numbers of a garden place that is kept. Raises `InputError`."""
    return _checked(GardenTable, {key: content[key] for key in content if key != "months"})


def shop_numbers(content: Mapping[str, Any]) -> ShopTable:
    """What a shop that is kept says of itself, without its bunches. Raises `InputError`."""
    return _checked(ShopTable, {key: content[key] for key in content if key != "bunch"})


def bunch_numbers(content: Mapping[str, Any]) -> BunchTable:
    """The numbers of a bunch that is kept. Raises `InputError`."""
    return _checked(BunchTable, content)


def _checked(model: type[Model], content: Mapping[str, Any]) -> Model:
    sheet = _sheet()
    table = sheet.checked(model, dict(content), ())
    _raise(sheet)
    assert table is not None
    return table


def counted(
    fields: Typed, piles: int, others: int, unit: str = "cm"
) -> tuple[tuple[PileTable, ...], tuple[GardenTable, ...]]:
    """What was counted on a morning: `pile[1].count`, `pile[1].length`, and so on, then whatever
    else is there (`also[1].plant`); an empty row of these says nothing. Raises `InputError`.
    """
    sheet = _sheet()
    found = []
    for row in range(1, piles + 1):
        pile = raw(PileTable, fields, unit, f"pile[{row}].")
        found.append(sheet.checked(PileTable, pile, ("pile", row - 1)) or PileTable())
    also = []
    for row in range(1, others + 1):
        other = raw(GardenTable, fields, unit, f"also[{row}].")
        if other:
            also.append(sheet.checked(GardenTable, other, ("also", row - 1)))
    _raise(sheet)
    return tuple(found), tuple(each for each in also if each is not None)


def settings(fields: Typed, known_proportions: Sequence[str]) -> Content:
    """What holds everywhere. Raises `InputError`."""
    content = raw(SettingsTable, fields)
    sheet = _sheet()
    sheet.checked(SettingsTable, content, ())
    chosen = content.get("proportions")
    if chosen is not None and chosen not in known_proportions:
        sheet.wrong(("proportions",), "typed.unknown-proportions", typed=chosen)
    _raise(sheet)
    return content


def field_texts(content: Mapping[str, Any], unit: str = "cm") -> dict[str, str]:
    """What stands in the fields of a table that is kept: plain numbers of cm say so to others."""
    found = {}
    for key, value in content.items():
        if isinstance(value, bool):
            found[key] = "yes" if value else ""
        elif key == DAYS:
            found[key] = weekdays.as_text(value)
        elif key == SHOOTS and unit == "in":
            found[key] = shoots.with_unit(str(value), "cm")
        elif key in LENGTHS and unit == "in" and _PLAIN.fullmatch(str(value)):
            found[key] = f"{value} cm"
        elif isinstance(value, int | float | str):
            found[key] = str(value)
    return found


def _sheet() -> Filled:
    return Filled("", {}, {})


def _raise(sheet: Sheet, at_whole: str = "") -> None:
    """Raises `InputError` where there is a fault; one of the whole goes to the field `at_whole`."""
    if sheet.faults:
        raise InputError(replace(each, field=each.field or at_whole) for each in sheet.faults)
