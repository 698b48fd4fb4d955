"""A plant's name, as somebody typed it, into the plant of the table."""

from __future__ import annotations

from nejime.basis.places import Path
from nejime.basis.sayings import Saying
from nejime.plants import table
from nejime.plants.names import folded, singulars
from nejime.plants.table import Plant
from nejime.reading.checking import Sheet
from nejime.reading.fields import shown

MOST_CHOICES = 5  # [own] as many as a person reads


def plant_id(sheet: Sheet, at: Path, word: str) -> str:
    """The id of the plant that a word means; empty, with a fault noted, where that is not clear.

    A whole name, or the beginning of a single plant's name, is clear.
    """
    found = table.find(word)
    if len(found) == 1 or (found and _is_named(found[0], word)):
        return found[0].id
    told = {"word": shown(word)}
    near = found or table.nearest(word)
    if not near:
        sheet.add(at, Saying("plants.unknown", **told), Saying("plants.unknown-no-choice", **told))
        return ""
    choices = ", ".join(each.english for each in near[:MOST_CHOICES])
    key = "reading.plant-not-clear" if found else "plants.unknown"
    sheet.add(at, Saying(key, **told), Saying("plants.unknown-try", **told, choices=choices))
    return ""


def _is_named(plant: Plant, word: str) -> bool:
    names = {folded(name) for name in plant.names}
    return any(each in names for each in (folded(word), *singulars(folded(word))))
