"""Look over what is known from memory only: say that it is right, or put one's own numbers there.

The rows of every table come from `from_memory`. What she says is one document; each act changes
what is said of one row, from whatever the document is by then, so that two windows do not undo
each other.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from nejime.basis.sayings import Saying, Words
from nejime.basis.units import whole_number
from nejime.desk.from_memory import home_of, mark_of, memory_rows, plant_names
from nejime.desk.known_plants import KIND, corrections, kept_review
from nejime.desk.plant_words import range_said
from nejime.desk.settings import settings
from nejime.desk.shelf import Conflict, Missing, Shelf
from nejime.desk.sourced import Sourced, sourced
from nejime.papers.wording import sentence
from nejime.plants.plant import UNIT_OF
from nejime.plants.review import (
    MEMORY,
    Correction,
    Row,
    RowKey,
)
from nejime.plants.table import find, plant
from nejime.reading.corrections import read_corrections, written_corrections
from nejime.reading.ranges import KIND_OF, as_typed, typed_range

NAME = "review"
A_PAGE = 8  # [own] groups: more rows than that nobody looks over in one go
SHOWN = ("left", "mine", "said", "all")
RIGHT, OWN, UNDO = "right", "own", "undo"
REMEMBERED = 300  # [own] the same few names stand in every class

Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Line:
    """One row as it is shown: what it says, and what she says of it."""

    mark: str
    what: str
    place: str
    says: str
    said: bool
    own: str
    """Her own range in words; empty where she has none."""
    sourced: Sourced
    takes: str
    """What kind of number may be typed; empty where none may."""
    low: str
    high: str


@dataclass(frozen=True, slots=True)
class Group:
    """The rows about one plant, or of one other table."""

    home: str
    plant: str
    """Its page, where it is about a plant."""
    title: str
    mine: bool
    left: int
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Review:
    """The page: a few groups, and how much of all is left."""

    groups: tuple[Group, ...]
    left: int
    of: int
    word: str
    shown: str
    page: int
    pages: int
    choices: tuple[str, ...] = SHOWN


def left(shelf: Shelf) -> int:
    """How many rows from memory nobody has looked over."""
    said = {each.row for each in corrections(shelf)}
    return sum(row.key not in said for row in memory_rows().values())


def left_of(shelf: Shelf, plant_id: str) -> int:
    """How many of them are about one plant."""
    said = {each.row for each in corrections(shelf)}
    of = [row for row in memory_rows().values() if home_of(row) == plant_id]
    return sum(row.key not in said for row in of)


# The page

_Chosen = tuple[str, list[Row], bool]


def review(shelf: Shelf, fields: Typed, words: Words) -> Review:
    """The rows that `word`, `shown` and `page` choose; those of plants that she uses come first."""
    word, shown = fields.get("word", "").strip(), fields.get("shown", "")
    shown = shown if shown in SHOWN else SHOWN[0]
    said = {each.row: each for each in corrections(shelf)}
    rows = {**memory_rows(), **_found_alone(said)}
    homes = _chosen(_by_home(rows), word, shown, said, plants_used(shelf))
    asked = fields.get("page", "")
    pages = max(1, -(-len(homes) // A_PAGE))
    page = _page_of(homes, fields.get("mark", "")) or min(max(1, whole_number(asked) or 1), pages)
    some = homes[(page - 1) * A_PAGE : page * A_PAGE]
    unit = words.unit if words.unit == "in" else "cm"
    return Review(
        groups=tuple(_group(*each, said, words, unit) for each in some),
        left=sum(row.key not in said for row in memory_rows().values()),
        of=len(memory_rows()),
        word=word,
        shown=shown,
        page=page,
        pages=pages,
    )


def _page_of(homes: Sequence[_Chosen], mark: str) -> int | None:
    """On which page a row stands: what was typed for it is shown again there."""
    found = (place for place, (_, rows, _) in enumerate(homes) if mark in map(_mark, rows))
    place = next(found, None) if mark else None
    return None if place is None else place // A_PAGE + 1


def _mark(row: Row) -> str:
    return mark_of(row.key)


def _by_home(rows: Mapping[str, Row]) -> dict[str, list[Row]]:
    found: dict[str, list[Row]] = {}
    for row in rows.values():
        found.setdefault(home_of(row), []).append(row)
    return found


def _found_alone(said: Mapping[RowKey, Correction]) -> dict[str, Row]:
    """Numbers of her own whose row the tables no longer have."""
    known = {row.key for row in memory_rows().values()}
    return {
        mark_of(key): Row(
            key, Saying(f"plants.what.{key.what}"), UNIT_OF[key.what], MEMORY, takes_numbers=True
        )
        for key, each in said.items()
        if key not in known and not each.confirms and key.what in UNIT_OF
    }


def _chosen(
    homes: Mapping[str, list[Row]],
    word: str,
    shown: str,
    said: Mapping[RowKey, Correction],
    used: frozenset[str],
) -> list[_Chosen]:
    """The groups that are wanted: as the word finds them, else hers first, each by its name."""
    named = [each.id for each in find(word)] if word else []
    found = []
    for home, rows in homes.items():
        if word and home not in named:
            continue
        wanted = [row for row in rows if _is_wanted(row, shown, said)]
        if wanted and (shown != "mine" or home in used):
            found.append((home, wanted, home in used))
    if word:
        return sorted(found, key=lambda each: named.index(each[0]))
    return sorted(found, key=lambda each: (not each[2], _sorting(each[0])))


def _is_wanted(row: Row, shown: str, said: Mapping[RowKey, Correction]) -> bool:
    if shown == "all":
        return True
    return (row.key in said) == (shown == "said")


def _sorting(home: str) -> tuple[bool, str]:
    """Tables that are not about single plants come before the plants that she does not use."""
    return (home in plant_names(), plant_names().get(home, home))


def _group(
    home: str,
    rows: Sequence[Row],
    mine: bool,
    said: Mapping[RowKey, Correction],
    words: Words,
    unit: str,
) -> Group:
    is_plant = home in plant_names()
    title = plant_names()[home] if is_plant else words.say(Saying(f"review.group.{home}"))
    lines = tuple(_line(row, said.get(row.key), words, unit) for row in rows)
    return Group(
        home=home,
        plant=home if is_plant else "",
        title=title,
        mine=mine,
        left=sum(row.key not in said for row in rows),
        lines=lines,
    )


def _line(row: Row, said: Correction | None, words: Words, unit: str) -> Line:
    what = sentence(words.say(row.says))
    takes = KIND_OF[row.unit] if row.takes_numbers else ""
    low, high = (row.low, row.high) if said is None or said.confirms else (said.low, said.high)
    own = said is not None and not said.confirms
    on = said.on if said else None
    key, grade = (row.source, row.grade) if said is None else ("teacher", "teacher")
    return Line(
        mark=mark_of(row.key),
        what=what,
        place="" if row.key.place in what else row.key.place,
        says=range_said(row.low, row.high, row.unit, words) if row.unit else "",
        said=said is not None,
        own=range_said(low, high, row.unit, words) if own else "",
        sourced=sourced(key, grade, words, place=row.key.place, on=on),
        takes=takes,
        low=as_typed(low, row.unit, unit) if takes else "",
        high=as_typed(high, row.unit, unit) if takes else "",
    )


def plants_used(shelf: Shelf) -> frozenset[str]:
    """The plants of her garden, of her shops and of the material of her classes."""
    words = [each.content.get("plant") for each in shelf.all("garden")]
    for kept in shelf.all("shop"):
        words += _named(kept.content.get("bunch"))
    for kept in shelf.all("class"):
        for table in ("material", "garden"):
            words += _named(kept.content.get(table))
        for shop in _tables(kept.content.get("shop")):
            words += _named(shop.get("bunch"))
    return frozenset(filter(None, (_meant(str(word)) for word in set(words))))


@lru_cache(maxsize=REMEMBERED)
def _meant(word: str) -> str:
    """The plant that a word names first; empty where it names none."""
    return next((each.id for each in find(word)), "")


def _named(tables: Any) -> list[Any]:
    """The plants of some tables of a class file, which may hold anything."""
    return [table.get("plant") for table in _tables(tables) if isinstance(table.get("plant"), str)]


def _tables(found: Any) -> list[dict[str, Any]]:
    return [each for each in found if isinstance(each, dict)] if isinstance(found, list) else []


# What she says


def say(shelf: Shelf, fields: Typed, today: dt.date) -> str:
    """Keeps what she says of the row `mark`: that it is right, her own numbers, or nothing again.

    Returns the mark. Raises `InputError` by field, `Missing` where there is no such row.
    """
    mark, act = fields.get("mark", ""), fields.get("act", "")
    there = {each.row: each for each in corrections(shelf)}
    row = {**memory_rows(), **_found_alone(there)}.get(mark)
    if row is None or act not in (RIGHT, OWN, UNDO) or (act == OWN and not row.takes_numbers):
        raise Missing("row", 0)
    said = None if act == UNDO else Correction(row.key, today)
    if said is not None and act == OWN:
        reader = settings(shelf)["units"]
        low, high = typed_range(fields, row.unit, reader if reader == "in" else "cm")
        if (low, high) != (row.low, row.high):
            said = replace(said, low=low, high=high)
    _keep(shelf, {row.key: said})
    return mark


def _keep(shelf: Shelf, said: Mapping[RowKey, Correction | None]) -> None:
    """What is said of some rows from now on, everything else as it is by then."""
    while True:
        kept = kept_review(shelf) or shelf.only(KIND, NAME, written_corrections(()))
        now = {**{each.row: each for each in read_corrections(kept.content)}, **said}
        told = written_corrections(each for each in now.values() if each is not None)
        if not isinstance(shelf.save(kept.id, told, kept.version), Conflict):
            return


def bring_in(shelf: Shelf, content: Mapping[str, Any]) -> bool:
    """Adds what another machine's document says of rows of which nothing is said here.

    Returns whether there was anything. Raises `InputError`.
    """
    here = {each.row for each in corrections(shelf)}
    new = {each.row: each for each in read_corrections(content) if each.row not in here}
    if new:
        _keep(shelf, new)
    return bool(new)


def title_of(mark: str, words: Words) -> str:
    """A row in a few words, for the notice after an act; empty where there is no such row."""
    row = memory_rows().get(mark)
    if row is None:
        return ""
    home = home_of(row)
    about = plant(home).english if home in plant_names() else ""
    return f"{about}: {words.say(row.says)}" if about else words.say(row.says)
