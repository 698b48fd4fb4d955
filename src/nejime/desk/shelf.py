"""Where everything that a teacher makes and owns is kept: the pages hold it, the acts use it.

Kinds of things, each a document with all its versions: `piece`, `class`, `vessel`, `holder`,
`garden`, `shop`, `display`, `settings`, `review`, `talking` (what is said at the beginning),
`where` (the place of the plants), `temperatures`, `seen` (what was seen open) and `made` (a piece
that somebody made and photographed; its pictures are kept apart, and only where she asks for it).
"""

from __future__ import annotations

from pathlib import Path

from platformdirs import user_data_path

from nejime.basis.errors import refuse
from nejime.records import CannotKeep, CannotOpen, Conflict, Document, Missing, Store, open_store

Shelf = Store
Kept = Document

__all__ = [
    "CannotKeep",
    "CannotOpen",
    "Conflict",
    "Kept",
    "Missing",
    "Shelf",
    "open_shelf",
    "usual_place",
]

FILE = "nejime.sqlite"
KINDS = (
    "piece",
    "class",
    "vessel",
    "holder",
    "garden",
    "shop",
    "settings",
    "review",
    "talking",
    "where",
    "temperatures",
    "seen",
    "display",
    "made",
)


def usual_place() -> Path:
    """The folder for her data on this machine."""
    return user_data_path("nejime", appauthor=False)


def open_shelf(folder: Path) -> Shelf:
    """What is kept in a folder, which is made if there is none. Raises `InputError`."""
    try:
        return open_store(folder / FILE)
    except CannotOpen as trouble:
        key = f"desk.cannot-open-{trouble.why}"
        raise refuse("--keep-in", key, f"{key}-try", file=str(folder / FILE)) from trouble


def is_empty(shelf: Shelf) -> bool:
    """Whether nothing of hers is kept yet."""
    return not any(shelf.all(kind) for kind in KINDS)
