"""A class begins filled in: a Saturday some weeks ahead, and material that is in season then.

What the settings, the cupboard, and garden and shops say is taken from there.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

from nejime.desk.classes import KEPT_KINDS, KIND, with_kept
from nejime.desk.known_plants import known_plants
from nejime.desk.new_class import SATURDAY, WEEKS_AHEAD
from nejime.desk.settings import settings
from nejime.desk.shelf import Kept, Shelf
from nejime.lesson.lesson import northern_month
from nejime.plants.plant import Plant
from nejime.plants.table import find
from nejime.reading.class_tree import Tree
from nejime.reading.when import is_southern

FIRST_CHOICES: Mapping[str, tuple[str, ...]] = {  # [own] easy on a first day, the best first
    "branch": (
        "forsythia",
        "flowering-quince",
        "pussy-willow",
        "beautyberry",
        "enkianthus",
        "maple",
        "pine",
        "camellia",
    ),
    "flower": (
        "tulip",
        "dutch-iris",
        "rose",
        "gerbera",
        "small-chrysanthemum",
        "spray-chrysanthemum",
        "carnation",
    ),
    "leaf": ("aspidistra", "hosta", "leather-fern", "eucalyptus"),
}
MINUTES = 120  # [own] a first lesson with talk, making and clearing up


def saturday_ahead(today: dt.date) -> dt.date:
    """A Saturday that leaves time to invite people and to order."""
    ahead = today + dt.timedelta(weeks=WEEKS_AHEAD)
    return ahead + dt.timedelta(days=(SATURDAY - ahead.weekday()) % 7)


def begin_class(shelf: Shelf, today: dt.date, called: str) -> Kept:
    """A new class, filled in as far as can be known. `called`: its title for now."""
    chosen = settings(shelf)
    day = saturday_ahead(today)
    south = is_southern(chosen["zone"])
    tree: Tree = {
        "class": {
            "title": called,
            **{key: chosen[key] for key in ("library", "place", "zone", "region") if chosen[key]},
            "date": day.isoformat(),
            "start": "10:00",
            "minutes": MINUTES,
            "form": "upright",
            "size": "usual",
            "opens": "right",
            "proportions": chosen["proportions"],
            "units": chosen["units"],
            "paper": chosen["paper"],
            "currency": chosen["currency"],
            "decimals": int(chosen["decimals"]),
            **{key: chosen[key] for key in ("poison_line", "contact") if chosen[key]},
        },
        "demonstration": {"vessel": {"shape": "round", "width": "30", "height": "6"}},
        "material": _material(shelf, day.month, southern=south),
    }
    for kind in KEPT_KINDS:
        for kept in reversed(shelf.all(kind)):
            tree = with_kept(tree, kept)
    return shelf.add(KIND, called, tree)


def had_there(shelf: Shelf) -> frozenset[str]:
    """The plants that her garden and her shops have."""
    names = [str(each.content.get("plant", "")) for each in shelf.all("garden")]
    for shop in shelf.all("shop"):
        names += [str(bunch.get("plant", "")) for bunch in shop.content.get("bunch", [])]
    return frozenset(each.id for name in names for each in find(name)[:1])


def _material(shelf: Shelf, month: int, *, southern: bool) -> list[Tree]:
    """One branch, one flower, one leaf that can be had."""
    known, had = {each.id: each for each in known_plants(shelf)}, had_there(shelf)
    branch, flower, leaf = (
        _first_choice([known[name] for name in names], month, had, southern=southern)
        for names in FIRST_CHOICES.values()
    )
    found: list[Tree] = []
    if branch:
        thick = {"first": "pencil", "second": "pencil", "third": "drinking-straw"}
        found += [{"for": role, "plant": branch, "thickness": each} for role, each in thick.items()]
    if flower:
        found.append({"for": "heart", "plant": flower, "each": 2})
    if leaf:
        found.append({"for": "leaf", "plant": leaf})
    return found


def _first_choice(
    chosen: Sequence[Plant], month: int, had: frozenset[str], *, southern: bool
) -> str:
    """The first of some plants: what her own places have, in season if possible; else what
    gardens, else shops, have in that month; empty where none."""
    in_garden = northern_month(month, southern=southern)
    grown = [each for each in chosen if each.in_garden(in_garden)]
    season = [*grown, *(each for each in chosen if each.on_market(month))]
    here = [each for each in (*season, *chosen) if each.id in had]
    return next((each.english for each in (*here, *season)), "")
