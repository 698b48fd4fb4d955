"""A piece on display, filled in: its vessel, water, plants, days and room."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying, Words
from nejime.basis.units import whole_number
from nejime.desk.displays import KIND, one
from nejime.desk.door import free_name, shape_tiles, unit_of
from nejime.desk.settings import settings, words_for
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.desk.things import Both, fields_of
from nejime.drawings.icons import bare_icon
from nejime.forms.holder import HOLDER_HEIGHT_CM
from nejime.keeping.water_loss import ROOMS
from nejime.plants.table import plants
from nejime.reading.displays import USUAL_ROOM, VESSEL_KEYS, display_fields
from nejime.reading.typed import vessel_of

OWN = "own"
"""The choice of a vessel that is not in the cupboard."""
ROWS, MORE, MOST_ROWS = 4, 3, 40  # [own]
STAYS_DAYS = 14  # [own] how long a piece stays where nobody has said
AFTER = ("done", "readings", "ended")
"""What happened to a display since: it stays when the fields are changed."""
MEASURED_IN = ("vessel", "water", "room")
"""What a reading of the ruler holds for: with another vessel or room it says nothing."""
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class DisplayForm:
    """The fields of a display as they stand, and the version they come from."""

    fields: Mapping[str, str]
    number: int | None = None
    version: int | None = None
    rows: int = ROWS


@dataclass(frozen=True, slots=True)
class DisplayChoices:
    """What can be chosen: vessels of the cupboard, shapes with pictures, rooms, plants."""

    vessels: Sequence[tuple[str, str, str]]
    shapes: Sequence[tuple[str, str, str]]
    rooms: Sequence[tuple[str, str]]
    plants: Sequence[str]


def choices(shelf: Shelf) -> DisplayChoices:
    """What can be chosen in the fields."""
    words = words_for(shelf)
    ours = sorted(shelf.all("vessel"), key=lambda kept: kept.name.casefold())
    tiles = [(str(kept.id), kept.name, _icon(kept, words)) for kept in ours]
    return DisplayChoices(
        vessels=tiles,
        shapes=shape_tiles(words),
        rooms=[(each, words.say(Saying(f"display.room.{each}"))) for each in ROOMS],
        plants=sorted({each.english for each in plants()}),
    )


def _icon(kept: Kept, words: Words) -> str:
    made = vessel_of(kept.content)
    return bare_icon(made, words, glaze=kept.content.get("glaze", "celadon"))


def new_form(shelf: Shelf, today: dt.date) -> DisplayForm:
    """Empty fields: from today, for two weeks, on a usual pin holder."""
    until = today + dt.timedelta(days=STAYS_DAYS)
    return DisplayForm(
        {
            "vessel": "" if shelf.all("vessel") else OWN,
            "shape": "round",
            "pins": _length_text(HOLDER_HEIGHT_CM, unit_of(shelf)),
            "room": USUAL_ROOM,
            "since": today.isoformat(),
            "until": until.isoformat(),
            "contact": settings(shelf)["contact"],
        }
    )


def form(shelf: Shelf, number: int) -> DisplayForm:
    """The fields of one display. Raises `Missing`."""
    kept, unit = one(shelf, number), unit_of(shelf)
    found = fields_of({key: kept.content["vessel"].get(key, "") for key in VESSEL_KEYS}, unit)
    found = {key: text for key, text in found.items() if text}
    for key in ("name", "room", "since", "until", "contact"):
        found[key] = str(kept.content.get(key, ""))
    for key in ("water", "pins"):
        if key in kept.content:
            found[key] = _length_text(kept.content[key], unit)
    found |= {"name": kept.name, "vessel": OWN}
    names = {each.id: each.english for each in plants()}
    for row, each in enumerate(kept.content["plant"], start=1):
        found[f"plant[{row}].plant"] = names.get(each["plant"], each["plant"])
        found[f"plant[{row}].stems"] = str(each["stems"])
        found[f"plant[{row}].since"] = each.get("since", "")
    return DisplayForm(found, number, kept.version, max(ROWS, len(kept.content["plant"]) + 1))


def _length_text(value: object, unit: str) -> str:
    return f"{value} cm" if unit == "in" and not isinstance(value, str) else str(value)


def filled(typed: Typed, number: int | None) -> DisplayForm:
    """The fields as somebody left them, to be shown again; with more rows where asked."""
    base = typed.get("base", "")
    rows = _rows(typed) + (MORE if typed.get("more") else 0)
    return DisplayForm(typed, number, whole_number(base), rows)


def _rows(typed: Typed) -> int:
    rows = whole_number(typed.get("rows", ""))
    return ROWS if rows is None else min(rows, MOST_ROWS)


def keep(shelf: Shelf, typed: Typed, number: int | None = None) -> Kept | Both:
    """Keep what was typed: a new display, or number `number` changed from the version `base`.

    Raises `InputError` by field, `Missing`.
    """
    ours = _of_cupboard(shelf, typed)
    content = _content(shelf, typed, ours)
    if number is None:
        return shelf.add(KIND, free_name(shelf, KIND, content["name"]), content)
    held = one(shelf, number)
    after = {key: held.content[key] for key in AFTER if key in held.content}
    if any(content[key] != held.content[key] for key in MEASURED_IN):
        after.pop("readings", None)
    if ours is None and "glaze" in held.content:
        after["glaze"] = held.content["glaze"]
    base = filled(typed, number).version or 0
    saved = shelf.save(number, {**content, **after}, base, content["name"])
    if not isinstance(saved, Conflict):
        return saved
    theirs = form(shelf, number).fields
    keys = [key for key in theirs if key in typed and theirs[key] != typed[key]]
    return Both(saved.theirs, [(key, theirs[key], typed[key]) for key in keys])


def _content(shelf: Shelf, typed: Typed, ours: Kept | None) -> dict[str, Any]:
    table = _table_of(ours) if ours is not None or _chosen(shelf, typed) != OWN else None
    rows = range(1, _rows(typed) + 1)
    try:
        content = display_fields(typed, rows, unit_of(shelf), table)
    except InputError as trouble:
        raise InputError(_at_the_choice(each) for each in trouble.faults) from trouble
    glaze = ours.content.get("glaze") if ours is not None else None
    return {**content, "glaze": glaze} if glaze else content


def _at_the_choice(fault: Fault) -> Fault:
    """A fault of a vessel that was chosen, or should have been, stands at the choice."""
    if not fault.field.startswith("vessel."):
        return fault
    return Fault("vessel", Saying("typed.no-vessel"), Saying("typed.no-vessel-try"))


def _table_of(ours: Kept | None) -> dict[str, Any]:
    """The measures of a vessel of the cupboard; none where there is no such vessel."""
    content = {} if ours is None else ours.content
    return {key: content[key] for key in VESSEL_KEYS if key in content}


def _chosen(shelf: Shelf, typed: Typed) -> str:
    """The number of a vessel, or `OWN`; empty where there were some to choose and none was."""
    return typed.get("vessel", "" if shelf.all("vessel") else OWN)


def _of_cupboard(shelf: Shelf, typed: Typed) -> Kept | None:
    """The vessel of the cupboard that was chosen; None where measures were typed or it is gone."""
    chosen = _chosen(shelf, typed)
    return next((each for each in shelf.all("vessel") if str(each.id) == chosen), None)
