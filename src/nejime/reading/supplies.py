"""What a class asks for, and what the shops and the garden have."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from nejime.basis.places import Path
from nejime.forms.rules import MAIN
from nejime.forms.supporting import MOST
from nejime.material.supply import Bunch, GardenBranch, Shoot, Shop, StandIn, Wish
from nejime.reading.checking import Sheet
from nejime.reading.fields import shown, small_units
from nejime.reading.lending import note_same_names
from nejime.reading.tables import BunchTable, GardenTable, MaterialTable, ShopTable

MOST_IN_ROLE = {**dict.fromkeys(MAIN, 1), **MOST}


def read_wishes(sheet: Sheet) -> tuple[Wish, ...]:
    """The `[[material]]` tables."""
    tables = sheet.tables("material")
    _note_full_roles(sheet, tables)
    checked = ((at, sheet.checked(MaterialTable, value, at)) for at, value in tables)
    return tuple(_wish(sheet, at, table) for at, table in checked if table is not None)


def _note_full_roles(sheet: Sheet, tables: Sequence[tuple[Path, Any]]) -> None:
    """Notes more stems than a piece has places, whether the rest of their table is right or not."""
    stems: Counter[str] = Counter()
    for at, value in tables:
        role = value.get("for") if isinstance(value, dict) else None
        if not isinstance(role, str) or role not in MOST_IN_ROLE:
            continue
        each = value.get("each", 1)
        stems[role] += each if isinstance(each, int) else 1
        if stems[role] > MOST_IN_ROLE[role]:
            sheet.wrong(
                (*at, "each" if "each" in value else "for"),
                "reading.role-full",
                role=role,
                count=MOST_IN_ROLE[role],
                each=shown(stems[role]),
            )


def _wish(sheet: Sheet, at: Path, table: MaterialTable) -> Wish:
    before = [table.plant]
    for number, each in enumerate(table.stand_ins):
        if each.plant in before:
            place = (*at, "stand_ins", number, "plant")
            sheet.wrong(place, "reading.stand-in-twice", plant=each.plant)
        before.append(each.plant)
    thinnest, thickest = table.thinnest, table.thickest
    if thinnest is not None and thickest is not None and thinnest > thickest:
        told = {"thinnest_mm": thinnest, "thickest_mm": thickest}
        sheet.wrong((*at, "thickest"), "reading.thickest-under-thinnest", **told)
    return Wish(
        role=table.role,
        plant=table.plant,
        each=table.each,
        thickness_mm=table.thickness,
        weighed_g=table.weighed,
        in_bud=table.in_bud,
        with_shoots=table.with_shoots,
        thinnest_mm=thinnest,
        thickest_mm=thickest,
        fails_percent=float(table.fails_percent),
        stand_ins=tuple(StandIn(each.plant, each.how) for each in table.stand_ins),
    )


def read_shops(sheet: Sheet, decimals: int) -> tuple[Shop, ...]:
    """The `[[shop]]` tables; amounts become whole units of the currency's smallest."""
    tables = sheet.tables("shop")
    note_same_names(sheet, tables)
    found = []
    for at, value in tables:
        table = sheet.checked(ShopTable, value, at)
        offered = value.get("bunch", []) if isinstance(value, dict) else []
        if not isinstance(offered, list):
            sheet.wrong((*at, "bunch"), "reading.not-a-list", typed=shown(offered))
            offered = []
        name = table.name if table else ""
        bunches = [
            _bunch(sheet, (*at, "bunch", number), each, name, decimals)
            for number, each in enumerate(offered)
        ]
        if table is not None:
            found.append(
                Shop(
                    name=name,
                    bunches=tuple(bunch for bunch in bunches if bunch is not None),
                    minimum_minor=_minor(sheet, (*at, "minimum"), table.minimum, decimals),
                    delivery_minor=_minor(sheet, (*at, "delivery"), table.delivery, decimals),
                    days=table.days,
                    notice_days=table.notice_days,
                )
            )
    return tuple(found)


def _bunch(sheet: Sheet, at: Path, value: object, shop: str, decimals: int) -> Bunch | None:
    table = sheet.checked(BunchTable, value, at)
    if table is None:
        return None
    note_bunch(sheet, at, table)
    return Bunch(
        shop=shop,
        plant=table.plant,
        stems=table.stems,
        price_minor=_minor(sheet, (*at, "price"), table.price, decimals),
        length_cm=table.length,
        least=table.least,
        most=table.most,
        thickness_mm=table.thickness,
        shoots=table.shoots,
    )


def note_bunch(sheet: Sheet, at: Path, table: BunchTable) -> None:
    """Notes what cannot be together in one bunch."""
    if table.most is not None and table.most < table.least:
        sheet.wrong((*at, "most"), "reading.most-under-least", most=table.most, least=table.least)
    note_shoots(sheet, at, table.shoots, table.length)


def note_shoots(sheet: Sheet, at: Path, shoots: Sequence[Shoot], length_cm: float) -> None:
    """Notes a side shoot that leaves its branch where there is none any more."""
    for each in shoots:
        if each.at_cm >= length_cm:
            told = {"at_cm": each.at_cm, "length_cm": length_cm}
            sheet.wrong((*at, "shoots"), "reading.shoot-beyond", **told)
            return


def _minor(sheet: Sheet, at: Path, value: Decimal, decimals: int) -> int:
    try:
        return small_units(value, decimals)
    except ValueError:
        sheet.wrong(at, "reading.too-exact", typed=shown(value), count=decimals)
        return 0


def read_garden(sheet: Sheet) -> tuple[GardenBranch, ...]:
    """The `[[garden]]` tables."""
    return tuple(_branch(sheet, at, table) for at, table in sheet.all("garden", GardenTable))


def _branch(sheet: Sheet, at: Path, table: GardenTable) -> GardenBranch:
    note_shoots(sheet, at, table.shoots, table.length)
    return GardenBranch(
        plant=table.plant,
        length_cm=table.length,
        count=table.count,
        thickness_mm=table.thickness,
        name=table.name,
        whence=table.whence,
        shoots=table.shoots,
        blooms=table.blooms,
    )
