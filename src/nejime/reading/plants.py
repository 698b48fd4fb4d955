"""A plant's name, as somebody typed it, into the plant of the table."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from pydantic import BeforeValidator

from nejime.basis.sayings import Saying
from nejime.plants import table
from nejime.plants.names import folded, singulars
from nejime.plants.table import Plant
from nejime.reading.fields import shown, wrong

REMEMBERED = 200  # [own] the same few plants stand in a file again and again
MOST_CHOICES = 5  # [own] as many as a person reads


def plant_name() -> BeforeValidator:
    """Any name of a plant in the table; its id is what is kept.

    A whole name, or a part of the name of one plant only, is clear.
    """

    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise wrong("reading.not-text", typed=shown(value))
        clear = found_by_name(value)
        if clear is not None:
            return clear.id
        found = _found(value)
        key = "reading.plant-not-clear" if found else "reading.unknown-plant"
        raise wrong(key, word=shown(value), meant=meant(found or table.nearest(value)))

    return BeforeValidator(check)


def found_by_name(word: str) -> Plant | None:
    """The plant that a word clearly means: a whole name, or a part of the name of one alone."""
    found = _found(word)
    return found[0] if len(found) == 1 or (found and _is_named(found[0], word)) else None


@lru_cache(maxsize=REMEMBERED)
def _found(word: str) -> tuple[Plant, ...]:
    return table.find(word)


def meant(near: tuple[Plant, ...]) -> Saying:
    """Which plants may have been meant."""
    if not near:
        return Saying("plants.unknown-no-choice")
    choices = ", ".join(each.english for each in near[:MOST_CHOICES])
    return Saying("plants.unknown-try", choices=choices)


def _is_named(plant: Plant, word: str) -> bool:
    names = {folded(name) for name in plant.names}
    return any(each in names for each in (folded(word), *singulars(folded(word))))
