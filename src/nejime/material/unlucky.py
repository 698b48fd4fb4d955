"""What is thought unlucky or unsuitable, for what purpose and where: advice, never a ban.

Model: a row says of a plant, or of any, that people in a place would rather not have it for a
purpose. Those who come to a class come from many places, so every row is told, those of the region
first. Colours are not known here; where one matters, the sentence names it.
Source: on each row of `data/unlucky.csv`; nearly all of it is common practice or from memory.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants.table import plants

FILE = "unlucky.csv"
COLUMNS = ("purpose", "plant", "place", "says", "source", "grade")
ANY = "any"
PURPOSES = ("sick-visit", "memorial", "table", "tea", "wedding")
"""What a piece can be for, beside an occasion of the calendar: to somebody who is ill, for the
dead, on a table where people eat, for tea, at a wedding."""


@dataclass(frozen=True, slots=True)
class Advice:
    """One thing to think of. `plant` is empty where it holds for every plant, `place` where it
    holds everywhere; `here` tells that the place is, or is in, the region asked for."""

    plant: str
    place: str
    says: Saying
    source: str
    grade: str
    here: bool


@cache
def _rows() -> tuple[tuple[str, Advice], ...]:
    known = frozenset(each.id for each in plants())
    found = []
    for number, row in enumerate(tables.read_csv(FILE, COLUMNS), start=2):
        if row["plant"] and row["plant"] not in known:
            raise TableError(FILE, number, f"{row['plant']!r} is not in the plant table")
        if row["source"] not in sources() or row["grade"] not in GRADES:
            raise TableError(FILE, number, f"source {row['source']!r} or grade {row['grade']!r}")
        saying = Saying(f"material.unlucky.{row['says']}", place=row["place"])
        told = Advice(row["plant"], row["place"], saying, row["source"], row["grade"], here=False)
        found.append((row["purpose"], told))
    return tuple(found)


def advice_on(
    plant: str, *, purpose: str = "", occasion: str = "", places: Collection[str] = ()
) -> tuple[Advice, ...]:
    """What to think of with a plant, that of the places first.

    `plant` empty: what holds for every plant. `places` are the names of the region (`places_of`).
    """
    asked = {ANY, purpose, occasion} - {""}
    found = [
        Advice(each.plant, each.place, each.says, each.source, each.grade, _here(each, places))
        for of, each in _rows()
        if each.plant == plant and of in asked
    ]
    return tuple(sorted(found, key=lambda each: not each.here))


def _here(advice: Advice, places: Collection[str]) -> bool:
    return not advice.place or any(place in advice.place for place in places)


def places_of(region: str) -> tuple[str, ...]:
    """What the tables call a region: `JP`, `JP-13` or `Japan`; an unknown region as itself."""
    asked = region.strip()
    code = asked.partition("-")[0].upper()
    for row in tables.read_csv("regions.csv", ("code", "names")):
        names = _listed(row["names"])
        if code == row["code"] or asked.casefold() in (name.casefold() for name in names):
            return names
    return (asked,) if asked else ()


def _listed(cell: str) -> tuple[str, ...]:
    return tuple(part for each in cell.split(";") if (part := each.strip()))
