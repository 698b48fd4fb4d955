"""What a class asks for, and what the shops and the garden have."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal

from nejime.basis.places import Path
from nejime.forms.rules import MAIN
from nejime.forms.supporting import MOST
from nejime.material.supply import Bunch, GardenBranch, Shop, StandIn, Wish
from nejime.reading.checking import Sheet
from nejime.reading.fields import shown, small_units
from nejime.reading.lending import note_same_names
from nejime.reading.plants import plant_id
from nejime.reading.tables import BunchTable, GardenTable, MaterialTable, ShopTable

MOST_IN_ROLE = {**dict.fromkeys(MAIN, 1), **MOST}


def read_wishes(sheet: Sheet) -> tuple[Wish, ...]:
    """The `[[material]]` tables."""
    found = []
    stems: Counter[str] = Counter()
    for at, table in sheet.all("material", MaterialTable):
        stems[table.role] += table.each
        if stems[table.role] > MOST_IN_ROLE[table.role]:
            sheet.wrong(
                (*at, "each" if table.each > 1 else "for"),
                "reading.role-full",
                role=table.role,
                count=MOST_IN_ROLE[table.role],
                each=stems[table.role],
            )
        found.append(_wish(sheet, at, table))
    return tuple(found)


def _wish(sheet: Sheet, at: Path, table: MaterialTable) -> Wish:
    wish = Wish(
        role=table.role,
        plant=plant_id(sheet, (*at, "plant"), table.plant),
        each=table.each,
        thickness_mm=table.thickness,
        weighed_g=table.weighed,
        in_bud=table.in_bud,
        stand_ins=tuple(
            StandIn(plant_id(sheet, (*at, "stand_ins", number, "plant"), each.plant), each.how)
            for number, each in enumerate(table.stand_ins)
        ),
    )
    for number, each in enumerate(wish.stand_ins):
        if each.plant and each.plant in (wish.plant, *(x.plant for x in wish.stand_ins[:number])):
            sheet.wrong(
                (*at, "stand_ins", number, "plant"),
                "reading.stand-in-twice",
                plant=shown(table.stand_ins[number].plant),
            )
    return wish


def read_shops(sheet: Sheet, decimals: int) -> tuple[Shop, ...]:
    """The `[[shop]]` tables; amounts become whole units of the currency's smallest."""
    tables = sheet.tables("shop")
    note_same_names(sheet, tables)
    return tuple(
        Shop(
            name=table.name,
            bunches=tuple(
                _bunch(sheet, (*at, "bunch", number), each, table.name, decimals)
                for number, each in enumerate(table.bunch)
            ),
            minimum_minor=_minor(sheet, (*at, "minimum"), table.minimum, decimals),
            delivery_minor=_minor(sheet, (*at, "delivery"), table.delivery, decimals),
        )
        for at, value in tables
        if (table := sheet.checked(ShopTable, value, at)) is not None
    )


def _bunch(sheet: Sheet, at: Path, table: BunchTable, shop: str, decimals: int) -> Bunch:
    if table.most is not None and table.most < table.least:
        sheet.wrong((*at, "most"), "reading.most-under-least", most=table.most, least=table.least)
    return Bunch(
        shop=shop,
        plant=plant_id(sheet, (*at, "plant"), table.plant),
        stems=table.stems,
        price_minor=_minor(sheet, (*at, "price"), table.price, decimals),
        length_cm=table.length,
        least=table.least,
        most=table.most,
    )


def _minor(sheet: Sheet, at: Path, value: Decimal, decimals: int) -> int:
    try:
        return small_units(value, decimals)
    except ValueError:
        sheet.wrong(at, "reading.too-exact", typed=shown(value), count=decimals)
        return 0


def read_garden(sheet: Sheet) -> tuple[GardenBranch, ...]:
    """The `[[garden]]` tables."""
    return tuple(
        GardenBranch(
            plant=plant_id(sheet, (*at, "plant"), table.plant),
            length_cm=table.length,
            count=table.count,
            thickness_mm=table.thickness,
            name=table.name,
        )
        for at, table in sheet.all("garden", GardenTable)
    )
