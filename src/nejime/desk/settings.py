"""What holds on every page: units, paper, where she is, and the proportions that she teaches."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from typing import Any

from nejime import __version__
from nejime.basis.sayings import Words
from nejime.desk.shelf import Kept, Shelf
from nejime.papers.sheet import Stock
from nejime.standing.draws import SEED

KIND = "settings"
USUAL: Mapping[str, Any] = {
    "units": "cm",
    "paper": "A4",
    "library": "",
    "place": "",
    "zone": "",
    "region": "",
    "currency": "$",
    "decimals": 2,
    "poison_line": "",
    "contact": "",
    "proportions": "width-plus-height",
    "traditions": False,
}


def settings(shelf: Shelf) -> Mapping[str, Any]:
    """What is set, and the usual for the rest."""
    kept = kept_settings(shelf)
    return USUAL if kept is None else {**USUAL, **kept.content}


def kept_settings(shelf: Shelf) -> Kept | None:
    """The document of the settings, where she has set anything."""
    found = shelf.all(KIND)
    return found[0] if found else None


def words_for(shelf: Shelf) -> Words:
    """The reader's units and money."""
    chosen = settings(shelf)
    return Words(
        unit=chosen["units"], currency=chosen["currency"], decimals=int(chosen["decimals"])
    )


def stock_for(shelf: Shelf, today: dt.date, author: str = "") -> Stock:
    """The paper that is set, stamped; in the library's name where no `author` is told."""
    chosen = settings(shelf)
    return Stock(
        paper=chosen["paper"],
        date=today,
        version=__version__,
        seed=SEED,
        author=author or chosen["library"],
    )
