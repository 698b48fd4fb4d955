"""Price lists of the shops: brought in, handed out, and an empty one to send to a shop.

What a list says of a shop's bunches takes the place of what was kept under that name; what it does
not say of the shop itself, like its delivery, stays. Where anything is wrong, nothing is changed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import refuse
from nejime.desk.door import unit_of
from nejime.desk.settings import settings
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.desk.things import one
from nejime.plants.table import plants
from nejime.reading.lending import plain
from nejime.reading.price_list import OF_SHOP, empty_price_list, price_list_text, read_price_list

KIND = "shop"
ENCODING = "utf-8-sig"  # the mark by which spreadsheets know UTF-8
FILE = "prices.csv"
FILE_LETTERS = 50  # [own] of a shop's name in the name of a file


@dataclass(frozen=True, slots=True)
class BroughtIn:
    """The names of the shops that a list added, replaced, and found as they were."""

    added: tuple[str, ...]
    replaced: tuple[str, ...]
    same: tuple[str, ...]


def bring_in(shelf: Shelf, file_name: str, data: bytes) -> BroughtIn:
    """Keeps the shops of a price list. Raises `InputError`: a fault's field is its column."""
    if not file_name:
        raise refuse("", "desk.no-price-list", "desk.no-price-list-try")
    decimals = int(settings(shelf)["decimals"])
    shops = read_price_list(file_name, data, unit_of(shelf), decimals)
    there = {plain(kept.name): kept for kept in shelf.all(KIND)}
    done: dict[str, list[str]] = {"added": [], "replaced": [], "same": []}
    for content in shops:
        name = content["name"]
        done[_keep(shelf, name, content, there.get(plain(name)))].append(name)
    return BroughtIn(**{key: tuple(names) for key, names in done.items()})


def _keep(shelf: Shelf, name: str, content: Mapping[str, Any], held: Kept | None) -> str:
    """Keeps a shop; what became of it."""
    if held is None:
        shelf.add(KIND, name, content)
        return "added"
    stays = {key: held.content[key] for key in OF_SHOP if key in held.content}
    made = {**stays, **content, "name": held.name}
    if made == held.content:
        return "same"
    saved = shelf.save(held.id, made, held.version)
    if isinstance(saved, Conflict):  # changed just now: a list replaces that, too
        shelf.save(held.id, made, saved.theirs.version)
    return "replaced"


def price_list(shelf: Shelf, number: int | None = None) -> tuple[str, bytes]:
    """The prices of all shops, or of shop `number`: the file and what to call it.

    Raises `Missing`.
    """
    shops = [one(shelf, KIND, number)] if number is not None else list(shelf.all(KIND))
    shops.sort(key=lambda kept: kept.name.casefold())
    names = {each.id: each.english for each in plants()}
    text = price_list_text((kept.content for kept in shops), names)
    return _file_name(shops[0].name) if number is not None else FILE, text.encode(ENCODING)


def _file_name(name: str) -> str:
    """A shop's name as that of a file."""
    letters = "".join(each if each.isalnum() else " " for each in name.casefold())
    return f"{'-'.join(letters.split())[:FILE_LETTERS] or 'shop'}-{FILE}"


def empty(shelf: Shelf) -> tuple[str, bytes]:
    """A price list to fill in: the names of the columns, and one row as an example."""
    return f"empty-{FILE}", empty_price_list(unit_of(shelf)).encode(ENCODING)
