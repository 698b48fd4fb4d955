"""What was typed into a class is kept for later classes, too: one of its shops, or a place where
branches are cut. What is kept under the same name is replaced."""

from __future__ import annotations

from collections.abc import Mapping

from nejime.basis.errors import InputError
from nejime.desk import classes, things
from nejime.desk.classes import Clash
from nejime.desk.door import unit_of
from nejime.desk.shelf import Kept, Shelf
from nejime.papers.wording import plant_name
from nejime.reading import typed as read
from nejime.reading.class_fields import fields_of_tree, place
from nejime.reading.lending import plain

WORD = "remember"
KINDS = ("shop", "garden")


def fill_in(
    shelf: Shelf, class_id: int, part: str, base: int, fields: Mapping[str, str], act: str = ""
) -> tuple[Kept | Clash, bool | None]:
    """As `classes.fill_in`, with the act `remember shop[1]`; whether it was remembered, or None.

    Raises `Missing`.
    """
    done = classes.fill_in(shelf, class_id, part, base, fields, act)
    word, _, at = act.partition(" ")
    if word != WORD or isinstance(done, Clash):
        return done, None
    return done, remembered(shelf, done, at)


def remembered(shelf: Shelf, kept: Kept, at: str) -> bool:
    """Keeps a shop or a place of a class; False where something is still wrong with it."""
    path = place(at)
    if path is None or path[0] not in KINDS:
        return False
    kind, before = str(path[0]), f"{at}."
    fields = fields_of_tree(kept.content, unit_of(shelf))
    own = {
        name.removeprefix(before): text for name, text in fields.items() if name.startswith(before)
    }
    try:
        held = _same(shelf, kind, own)
        months = held.content.get("months", ()) if held else ()
        told = {
            **own,
            **{f"month-{month}": "yes" for month in months},
            "rows": str(sum(name.endswith("].plant") for name in own)),
            "base": str(held.version if held else ""),
        }
        things.keep(shelf, kind, told, held.id if held else None)
    except InputError:
        return False
    return True


def _same(shelf: Shelf, kind: str, own: Mapping[str, str]) -> Kept | None:
    """What is kept under the same name; of a garden also of the same plant. Raises `InputError`."""
    if kind == "shop":
        name, plant = own.get("name", ""), None
    else:
        plant = read.garden(own, unit_of(shelf))["plant"]
        name = own.get("name", "") or plant_name(plant)
    for kept in shelf.all(kind):
        is_same = plant is None or read.garden_numbers(kept.content).plant == plant
        if plain(kept.name) == plain(name) and is_same:
            return kept
    return None
