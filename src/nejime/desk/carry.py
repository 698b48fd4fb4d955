"""Carry everything to another machine: one file out, the same file in.

Model: the file is JSON and holds every thing by kind, name and content, as it is now. What is
brought in is added; a thing that is already here with the same name and content is not added
again, and nothing that is here is changed.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from nejime import __version__
from nejime.basis.errors import InputError, refuse
from nejime.basis.sayings import Saying
from nejime.desk import review, seen, where
from nejime.desk.arrange import on_table
from nejime.desk.door import free_name
from nejime.desk.made.marks import check as check_made
from nejime.desk.shelf import Shelf
from nejime.desk.talking import check as check_talking
from nejime.desk.things import NAMED
from nejime.reading import typed as read
from nejime.reading.corrections import read_corrections
from nejime.reading.displays import display_of

SEASON = (where.WHERE, where.TEMPERATURES, seen.KIND)
KINDS = (
    "settings",
    "vessel",
    "holder",
    "garden",
    "shop",
    "piece",
    "class",
    "review",
    "talking",
    "display",
    "made",
    *SEASON,
)
SINGLE = ("settings", where.WHERE, where.TEMPERATURES)
"""Kinds of which there is one: hers stays."""
FORMAT = 1
MOST_BYTES = 50_000_000  # [own] more than anybody keeps of this
NAME_LETTERS = 200  # [own] longer is not a name


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """How many things were added, and how many were here already."""

    added: int
    known: int


def everything(shelf: Shelf) -> bytes:
    """Everything that is kept, as one file."""
    listed = [
        {"kind": kind, "name": kept.name, "content": kept.content}
        for kind in KINDS
        for kept in sorted(shelf.all(kind), key=lambda kept: kept.id)
    ]
    told = {"nejime": __version__, "format": FORMAT, "things": listed}
    return json.dumps(told, ensure_ascii=False, indent=1).encode()


def bring_in(shelf: Shelf, data: bytes) -> BroughtIn:
    """Add what a file holds: all of it or, where something is wrong, nothing.

    Raises `InputError` at `file`.
    """
    things = _things(data)
    known = added = 0
    for kind, name, content in things:
        if kind == "review":
            new = review.bring_in(shelf, content)
            added, known = added + new, known + (not new)
            continue
        if _is_here(shelf, kind, name, content):
            known += 1
            continue
        added += 1
        if kind in NAMED:
            name = free_name(shelf, kind, name)
            content = {**content, "name": name}
        shelf.add(kind, name, content)
    return BroughtIn(added, known)


def _is_here(shelf: Shelf, kind: str, name: str, content: Mapping[str, Any]) -> bool:
    if kind in SINGLE and shelf.all(kind):
        return True
    return any(each.name == name and each.content == content for each in shelf.all(kind))


def _things(data: bytes) -> list[tuple[str, str, dict[str, Any]]]:
    """Every thing of a file, each as it should be. Raises `InputError`."""
    if len(data) > MOST_BYTES:
        raise refuse("file", "carry.too-large", "carry.other-file")
    try:
        told = json.loads(data)
        listed = told["things"] if told["format"] == FORMAT else None
    except (ValueError, KeyError, TypeError, RecursionError) as trouble:
        raise refuse("file", "carry.not-ours", "carry.other-file") from trouble
    if not isinstance(listed, list):
        raise refuse("file", "carry.newer", "carry.newer-try")
    return [_thing(each, number) for number, each in enumerate(listed, start=1)]


def _thing(told: Any, number: int) -> tuple[str, str, dict[str, Any]]:
    shaped = isinstance(told, dict) and isinstance(told.get("content"), dict)
    if not shaped or told.get("kind") not in KINDS or not isinstance(told.get("name"), str):
        raise refuse("file", "carry.broken", "carry.other-file", number=number)
    kind, name, content = told["kind"], told["name"][:NAME_LETTERS], told["content"]
    try:
        CHECKS.get(kind, _anything)(content)
    except (InputError, KeyError, TypeError, AttributeError, ValueError) as trouble:
        wrong = Saying("carry.broken-thing", name=name, number=number)
        raise refuse("file", "carry.which", "carry.other-file", wrong=wrong) from trouble
    return kind, name, content


def _anything(content: Mapping[str, Any]) -> object:
    return content


def _shop(content: Mapping[str, Any]) -> object:
    return read.shop_numbers(content), [read.bunch_numbers(each) for each in content["bunch"]]


CHECKS: Mapping[str, Callable[[Mapping[str, Any]], object]] = {
    "vessel": read.vessel_of,
    "holder": read.holder_of,
    "garden": read.garden_numbers,
    "shop": _shop,
    "piece": on_table,
    "talking": check_talking,
    "review": read_corrections,
    where.WHERE: where.place_of,
    where.TEMPERATURES: lambda content: (where.days_of(content), where.stamped(content)),
    seen.KIND: lambda content: (seen.note_of(content), where.stamped(content)),
    "display": display_of,
    "made": check_made,
    "settings": lambda content: read.settings(read.field_texts(content), (content["proportions"],)),
}
"""How a thing is looked at before it is let in; a class tells on its own page what is wrong."""
