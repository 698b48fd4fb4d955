"""Classes: which there are, filling one in part by part, and the files in which they travel.

A class is kept as the tree of its file. Whatever was typed is kept, also where it cannot be
planned yet: what is wrong is told beside its field for as long as it is.
"""

from __future__ import annotations

import datetime as dt
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from nejime.basis.errors import Fault, InputError
from nejime.desk.left_over import left_over
from nejime.desk.settings import settings
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.desk.taught import day_of, known_rules
from nejime.lesson.lesson import Lesson
from nejime.reading.checking import known_keys
from nejime.reading.class_fields import OURS, fields_of_tree, place, tree_of_fields
from nejime.reading.class_file import read_class, read_class_tree
from nejime.reading.class_tree import Tree, tree_of_file, tree_text
from nejime.reading.lending import plain
from nejime.reading.tables import GardenTable, LentHolderTable, LentVesselTable, ShopTable

KIND = "class"
PARTS: Mapping[str, tuple[str, ...]] = {  # each a page, and the tables of the tree that it fills
    "when": ("class",),
    "people": ("person",),
    "vessels": ("demonstration", "vessel", "holder"),
    "material": ("material",),
    "supplies": ("shop", "garden"),
    "room": ("room",),
}
FILE_LETTERS = 50  # [own] of a title in the name of a file
REMEMBERED = 60  # [own] versions of classes that need not be read again
KEPT_KINDS: Mapping[str, Any] = {  # what is kept beside classes, and its table in a class file
    "vessel": LentVesselTable,
    "holder": LentHolderTable,
    "shop": ShopTable,
    "garden": GardenTable,
}
TO_LEND = ("vessel", "holder")


@dataclass(frozen=True, slots=True)
class Opened:
    """A class as it is now, with everything that is wrong with it.

    `fields` is what stands in each field. `lesson` is there when nothing is wrong.
    """

    kept: Kept
    fields: Mapping[str, str]
    faults: tuple[Fault, ...]
    lesson: Lesson | None

    def wrong_in(self, part: str) -> tuple[Fault, ...]:
        """What is wrong in a part."""
        return tuple(each for each in self.faults if part_of(each) == part)

    def many(self, at: str) -> int:
        """How many there are in the list at a place."""
        found = _at(self.kept.content, at)
        return len(found) if isinstance(found, list) else 0


@dataclass(frozen=True, slots=True)
class Listed:
    """A class in the list. `day` is None while nobody has set it."""

    kept: Kept
    day: dt.date | None
    people: int
    unknown: int
    faults: int


@dataclass(frozen=True, slots=True)
class Clash:
    """Somebody else changed the same part meanwhile: what stands there, and what was typed."""

    theirs: Kept
    typed: Mapping[str, str]
    differing: tuple[tuple[str, str, str], ...]
    """Place, theirs, typed."""


def _at(found: Any, at: str) -> Any:
    """What stands at a place of a tree; None where there is nothing."""
    for step in place(at) or ():
        found = _step(found, step)
    return found


def _step(found: Any, step: str | int) -> Any:
    if isinstance(step, int):
        return found[step] if isinstance(found, list) and step < len(found) else None
    return found.get(step) if isinstance(found, dict) else None


def classes(shelf: Shelf, today: dt.date) -> tuple[tuple[Listed, ...], tuple[Listed, ...]]:
    """The classes to come, the next first, and those that are over, the last first."""
    found = [_listed(each) for each in shelf.all(KIND)]
    ahead = [each for each in found if each.day is None or each.day >= today]
    over = [each for each in found if each.day is not None and each.day < today]
    ahead.sort(key=lambda each: each.day or dt.date.max)
    over.sort(key=lambda each: each.day or dt.date.min, reverse=True)
    return tuple(ahead), tuple(over)


def _listed(kept: Kept) -> Listed:
    people = [each for each in kept.content.get("person", []) if isinstance(each, dict)]
    unknown = sum(1 for each in people if not each.get("vessel"))
    return Listed(kept, day_of(kept), len(people), unknown, len(read(kept)[1]))


def opened(shelf: Shelf, class_id: int) -> Opened:
    """A class with its fields and faults. Raises `Missing`."""
    kept = shelf.get(class_id)
    lesson, faults = read(kept)
    fields = fields_of_tree(kept.content, settings(shelf)["units"])
    return Opened(kept, fields, faults, lesson)


def read(kept: Kept) -> tuple[Lesson | None, tuple[Fault, ...]]:
    """The class that is kept, or everything that is wrong with it."""
    return _read(fingerprint(kept.content))


def fingerprint(tree: Mapping[str, Any]) -> str:
    """Equal for equal trees."""
    return json.dumps(tree, ensure_ascii=False, sort_keys=True)


@lru_cache(maxsize=REMEMBERED)
def _read(tree: str) -> tuple[Lesson | None, tuple[Fault, ...]]:
    try:
        return read_class_tree("", json.loads(tree), known_rules()), ()
    except InputError as trouble:
        return None, tuple(sorted(trouble.faults, key=_rank))


def _rank(fault: Fault) -> int:
    return list(PARTS).index(part_of(fault))


def part_of(fault: Fault) -> str:
    """The part in which a fault is mended."""
    table = fault.field.partition(".")[0].partition("[")[0]
    return next((part for part, tables in PARTS.items() if table in tables), "when")


# Filling in


def fill_in(
    shelf: Shelf, class_id: int, part: str, base: int, fields: Mapping[str, str], act: str = ""
) -> Kept | Clash:
    """Keeps what was typed into the fields of a part, then does what a button of it says.

    `base` is the version that the fields were filled in over; a change to another part since then
    is no conflict. `act`: see `acted`; `undo` takes back what was typed or, where nothing was, the
    change before, and `redo` puts it back. Raises `Missing`.
    """
    tree = tree_of_fields(fields, settings(shelf)["units"])
    typed = {table: tree[table] for table in PARTS[part] if table in tree}
    held = shelf.get(class_id)
    before = _version(shelf, held, base)
    if _part(held.content, part) not in (_part(before, part), typed):
        return _clash(held, part, typed)
    made = acted(shelf, {**_without(held.content, part), **typed}, act, fields)
    made = with_ours(shelf, made)
    saved = shelf.save(class_id, made, held.version, title(made))
    if isinstance(saved, Conflict):
        return _clash(saved.theirs, part, typed)
    step = {"undo": shelf.undo, "redo": shelf.redo}.get(act)
    return _renamed(shelf, step(class_id) if step else saved)


def undone(shelf: Shelf, class_id: int) -> Kept:
    """The class as it was before its last change. Raises `Missing`."""
    return _renamed(shelf, shelf.undo(class_id))


def redone(shelf: Shelf, class_id: int) -> Kept:
    """The class as it was before the last undoing. Raises `Missing`."""
    return _renamed(shelf, shelf.redo(class_id))


def _renamed(shelf: Shelf, kept: Kept) -> Kept:
    """The class under its own title."""
    return shelf.rename(kept.id, title(kept.content))


def title(tree: Mapping[str, Any]) -> str:
    """What a class is called; empty where it has no title."""
    return str(_at(tree, "class.title") or "")


def _version(shelf: Shelf, held: Kept, number: int) -> Mapping[str, Any]:
    if number == held.version:
        return held.content
    found = (each.content for each in shelf.versions(held.id) if each.number == number)
    return next(found, {})


def _part(tree: Mapping[str, Any], part: str) -> Tree:
    """A part of the tree as its fields would make it, so that equal ones are equal."""
    own = {table: tree[table] for table in PARTS[part] if table in tree}
    return tree_of_fields(fields_of_tree(own))


def _without(tree: Mapping[str, Any], part: str) -> Tree:
    return {table: each for table, each in tree.items() if table not in PARTS[part]}


def _clash(held: Kept, part: str, typed: Tree) -> Clash:
    theirs, mine = fields_of_tree(_part(held.content, part)), fields_of_tree(typed)
    places = [name for name in {**theirs, **mine} if theirs.get(name) != mine.get(name)]
    return Clash(
        held, mine, tuple((name, theirs.get(name, ""), mine.get(name, "")) for name in places)
    )


def acted(shelf: Shelf, tree: Tree, act: str, fields: Mapping[str, str]) -> Tree:
    """What a button beside a list does: a word and a place or number.

    `add` (the names typed into the field `names`), `remove person[3]`, `up person[3]`,
    `down person[3]`, `lend 12` and `take 12` (what is kept under that number), `left 12` (what
    that class leaves over).
    """
    word, _, at = act.partition(" ")
    if word == "add":
        names = [line.strip() for line in fields.get("names", "").splitlines() if line.strip()]
        return {**tree, "person": [*tree.get("person", []), *({"name": each} for each in names)]}
    if word == "left" and at.isdecimal():
        return {**tree, "garden": [*tree.get("garden", []), *left_over(shelf, shelf.get(int(at)))]}
    if word in ("lend", "take") and at.isdecimal():
        return with_kept(tree, shelf.get(int(at)))
    if word in ("remove", "up", "down"):
        _moved(tree, at, word)
    return tree


def _moved(tree: Any, at: str, word: str) -> None:
    """Takes a thing out of its list, or changes its place with its neighbour."""
    path = place(at) or ()
    here = path[-1] if path else None
    found = tree
    for step in path[:-1]:
        found = _step(found, step)
    if not isinstance(found, list) or not isinstance(here, int) or here >= len(found):
        return
    thing = found.pop(here)
    if word != "remove":
        found.insert(max(0, here + (1 if word == "down" else -1)), thing)


def with_kept(tree: Tree, kept: Kept) -> Tree:
    """The class with a thing from the cupboard, or a place from which material comes."""
    return _adding(tree, kept.kind, _only(kept, known_keys(KEPT_KINDS[kept.kind])))


def _only(kept: Kept, keys: Sequence[str]) -> Tree:
    """What a class file has of a thing that is kept, as its fields would make it."""
    own = {key: each for key, each in kept.content.items() if key in keys and each != ""}
    named = {"name": kept.name} if kept.kind != "garden" else {}
    made: Tree = tree_of_fields(fields_of_tree({kept.kind: [{**named, **own}]}))[kept.kind][0]
    return made


def _adding(tree: Tree, table: str, thing: Tree) -> Tree:
    held = tree.get(table, [])
    if _known_by(thing) in {_known_by(each) for each in held}:
        return tree
    return {**tree, table: [*held, thing]}


def with_ours(shelf: Shelf, tree: Tree) -> Tree:
    """The class with everything from the cupboard that somebody in it was given."""
    for table in TO_LEND:
        users = [*tree.get("person", []), tree.get("demonstration", {})]
        asked = {plain(each[table]) for each in users if isinstance(each.get(table), str)}
        for kept in shelf.all(table) if asked else ():
            if plain(kept.name) in asked:
                tree = with_kept(tree, kept)
    return tree


def ours(shelf: Shelf, kept: Kept, table: str) -> list[tuple[str, str]]:
    """What can be lent, vessels or pin holders: those of the class, then those in the cupboard.

    Pairs of a field's value and its name.
    """
    in_class = [str(each.get("name", "")) for each in kept.content.get(table, [])]
    names = [*in_class, *(each.name for each in shelf.all(table))]
    return [(f"{OURS}{each}", each) for each in _once(names) if each]


def not_yet(shelf: Shelf, kept: Kept, *kinds: str) -> list[Kept]:
    """What is kept of these kinds and not in the class yet, by name."""
    found = []
    for kind in kinds:
        there = {_known_by(each) for each in kept.content.get(kind, [])}
        found += [
            each for each in shelf.all(kind) if _known_by(with_kept({}, each)[kind][0]) not in there
        ]
    return sorted(found, key=lambda each: each.name)


def _known_by(thing: Mapping[str, Any]) -> tuple[str, str]:
    """By what a thing is known again: its name; in the garden also its plant."""
    is_plant = "plant" in thing and "bunch" not in thing
    return plain(str(thing.get("name", ""))), str(thing["plant"]) if is_plant else ""


def _once(names: Sequence[str]) -> list[str]:
    return list({plain(each): each for each in reversed(names)}.values())[::-1]


# Files


def bring_in(shelf: Shelf, file_name: str, data: bytes) -> Kept:
    """Keeps the class of a file. Raises `InputError` with every fault and its line."""
    read_class(file_name, data, known_rules())
    tree = tree_of_file(file_name, data)
    return shelf.add(KIND, title(tree), tree)


def class_file(kept: Kept) -> tuple[str, bytes]:
    """The class file of a class, and what to call it."""
    name = "".join(each if each.isalnum() else "-" for each in title(kept.content).lower())
    name = "-".join(part for part in name.split("-") if part)[:FILE_LETTERS]
    return f"{name or 'class'}.toml", tree_text(kept.content).encode("utf-8")


def copied(shelf: Shelf, class_id: int) -> Kept:
    """The same class once more, to be changed. Raises `Missing`."""
    held = shelf.get(class_id)
    return shelf.copy(class_id, held.name)
