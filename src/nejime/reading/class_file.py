"""A class file into a `Lesson`, or every fault of it at once, each with its line.

Model: each table is read by itself, then what joins them is checked: names that must differ,
vessels that are lent, forms that a vessel can hold. In the place of a fault, things in a list are
counted from 1: `person[3]` is the third person.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from nejime.basis.errors import InputError
from nejime.forms.rules import Rule, packaged
from nejime.lesson.lesson import Lend, Lesson, Money, Room
from nejime.plants.plant import Plant
from nejime.reading.checking import Filled, Sheet, known_keys, sheet
from nejime.reading.fields import meant, shown
from nejime.reading.lending import holders_to_lend, vessels_to_lend
from nejime.reading.people import note_impossible_forms, read_demonstration, read_people
from nejime.reading.supplies import read_garden, read_shops, read_wishes
from nejime.reading.tables import ClassTable, RoomTable
from nejime.reading.text import read_bytes
from nejime.reading.when import is_southern, moment

TABLES = (
    "class",
    "room",
    "demonstration",
    "person",
    "vessel",
    "holder",
    "material",
    "shop",
    "garden",
)


HOMES = {
    **dict.fromkeys(known_keys(ClassTable), "class"),
    **dict.fromkeys(known_keys(RoomTable), "room"),
}


def read_class(
    file_name: str,
    data: bytes,
    known_rules: Mapping[str, Rule] | None = None,
    plants: tuple[Plant, ...] = (),
) -> Lesson:
    """The class that a file describes. Raises `InputError` with every fault, in the file's order.

    `known_rules`: the proportions that may be named; those of the package where none are given.
    `plants`: those of which the teacher knows something else than the plant table.
    """
    rules = packaged() if known_rules is None else known_rules
    found = sheet(file_name, read_bytes(file_name, data))
    found.homes = HOMES
    return _lesson(found, rules, plants)


def read_class_tree(
    name: str,
    tree: Mapping[str, Any],
    known_rules: Mapping[str, Rule] | None = None,
    plants: tuple[Plant, ...] = (),
) -> Lesson:
    """The class that filled-in fields describe: the tables of a class file, their numbers as text.

    Raises `InputError` with every fault; a fault's field is the place in the tree.
    """
    rules = packaged() if known_rules is None else known_rules
    return _lesson(Filled(name, tree, {}, HOMES), rules, plants)


def _lesson(found: Sheet, rules: Mapping[str, Rule], plants: tuple[Plant, ...]) -> Lesson:
    _note_unknown_tables(found)
    table = _class(found, rules)
    room = found.one("room", RoomTable) or RoomTable()
    vessels, holders = vessels_to_lend(found), holders_to_lend(found)
    demonstration = read_demonstration(found, vessels)
    people = read_people(found, vessels, holders)
    vessels.note_shortage(found)
    holders.note_shortage(found)
    wishes = read_wishes(found)
    shops = read_shops(
        found, table.decimals if table else ClassTable.model_fields["decimals"].default
    )
    garden = read_garden(found)
    starts = None
    if table is not None:
        starts = moment(found, ("class",), table.date, table.start, table.zone)
        note_impossible_forms(found, table, rules, people, demonstration)
    if found.faults or table is None or starts is None:
        raise InputError(found.in_order())
    return Lesson(
        title=table.title,
        library=table.library,
        place=table.place,
        starts=starts,
        minutes=table.minutes,
        people=tuple(person for _, person in people),
        form=table.form,
        rule=table.proportions,
        size=table.size,
        opens=table.opens,
        fuller_third=table.fuller_third,
        holder_by_season=table.holder_by_season,
        filmed=table.filmed,
        take_home=table.kits_instead_of_class,
        display_days=table.display_days,
        demonstration=demonstration,
        sure_percent=table.sure_percent,
        spare_percent=table.spare_percent,
        split_shops=table.split_shops,
        units=table.units,
        paper=table.paper,
        large_print=table.large_print,
        money=Money(table.currency, table.decimals),
        room=Room(room.floor, room.width, room.depth, room.water, room.seats_at_table),
        lend=Lend(vessels.all, holders.all),
        wishes=wishes,
        shops=shops,
        garden=garden,
        region=table.region,
        poison_line=table.poison_line,
        contact=table.contact,
        southern=is_southern(table.zone),
        plants=plants,
    )


def _note_unknown_tables(found: Sheet) -> None:
    for key in found.tree:
        if key not in TABLES:
            found.wrong((key,), "reading.unknown-table", key=shown(key), meant=meant(key, TABLES))


def _class(found: Sheet, rules: Mapping[str, Rule]) -> ClassTable | None:
    if "class" not in found.tree:
        found.wrong(("class",), "reading.no-class")
        return None
    table = found.one("class", ClassTable)
    if table and table.spare_percent is not None and "sure_percent" in table.model_fields_set:
        found.wrong(("class", "spare_percent"), "reading.sure-and-spare")
    if table is None or table.proportions in (None, *rules):
        return table
    found.wrong(
        ("class", "proportions"),
        "reading.unknown-proportions",
        typed=shown(table.proportions),
        meant=meant(str(table.proportions), tuple(rules)),
    )
    return table
