"""The plants as she knows them: the plant table with what she confirmed or found herself in it.

Every page that uses a plant by itself takes it from here; a class is given those that she knows
otherwise (`own_plants`), and work that waits keeps what she said with its question (`said_of`).
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from nejime.desk.shelf import Kept, Shelf
from nejime.lesson.lesson import Lesson
from nejime.plants.plant import Plant
from nejime.plants.review import Correction, corrected
from nejime.plants.table import plant, plants
from nejime.reading.corrections import read_corrections, written_corrections

KIND = "review"
REMEMBERED = 8  # [own] versions of what she said: the one that holds, and a few classes' own


def kept_review(shelf: Shelf) -> Kept | None:
    """The document of what she said of rows from memory, where she said anything."""
    found = shelf.all(KIND)
    return found[0] if found else None


def corrections(shelf: Shelf) -> tuple[Correction, ...]:
    """What she said."""
    kept = kept_review(shelf)
    return () if kept is None else _read(_key(kept.content))


def known_plants(shelf: Shelf) -> tuple[Plant, ...]:
    """Every plant of the table, as she knows it."""
    return _all(corrections(shelf))


def known_plant(shelf: Shelf, plant_id: str) -> Plant:
    """One plant, as she knows it. Raises `InputError`."""
    return corrected(plant(plant_id), corrections(shelf))


def own_plants(shelf: Shelf) -> tuple[Plant, ...]:
    """Those of which she knows something else than the table."""
    return _own(corrections(shelf))


def said_of(shelf: Shelf, lesson: Lesson | None) -> dict[str, Any]:
    """What she said of the plants of a class, to be kept with what is asked about it.

    Empty where it is nothing, so that a question is the same as before she said anything.
    """
    wishes = lesson.wishes if lesson else ()
    names = {name for wish in wishes for name in wish.choices}
    said = tuple(each for each in corrections(shelf) if each.row.about in names)
    return {"known": written_corrections(said)} if said else {}


def plants_said(told: Mapping[str, Any]) -> tuple[Plant, ...]:
    """The plants of which something was said, by what was kept with a question."""
    return _own(_read(_key(told.get("known", {}))))


def _key(content: Mapping[str, Any]) -> str:
    return json.dumps(content, ensure_ascii=False, sort_keys=True)


@lru_cache(maxsize=REMEMBERED)
def _read(content: str) -> tuple[Correction, ...]:
    return read_corrections(json.loads(content))


@lru_cache(maxsize=REMEMBERED)
def _all(said: tuple[Correction, ...]) -> tuple[Plant, ...]:
    own = {each.id: each for each in _own(said)}
    return tuple(own.get(each.id, each) for each in plants())


@lru_cache(maxsize=REMEMBERED)
def _own(said: tuple[Correction, ...]) -> tuple[Plant, ...]:
    by_plant: dict[str, list[Correction]] = {}
    for each in said:
        by_plant.setdefault(each.row.about, []).append(each)
    return tuple(corrected(each, by_plant[each.id]) for each in plants() if each.id in by_plant)
