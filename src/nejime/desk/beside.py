"""What is noted beside a class, of each kind one thing: its papers, its buying, its morning."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from nejime.desk.shelf import Kept, Shelf


def noted(shelf: Shelf, kind: str, class_id: int) -> dict[str, Any]:
    """What is noted of a kind beside a class; nothing but the class where nothing is."""
    held = _held(shelf, kind, class_id)
    return dict(held.content) if held else {"class": class_id}


def note(shelf: Shelf, kind: str, class_id: int, content: Mapping[str, Any]) -> None:
    """Notes something beside a class, in the place of what was noted of this kind."""
    held = _held(shelf, kind, class_id)
    if held is None:
        shelf.add(kind, str(class_id), {"class": class_id, **content})
    else:
        shelf.save(held.id, {"class": class_id, **content}, held.version)


def _held(shelf: Shelf, kind: str, class_id: int) -> Kept | None:
    return next((each for each in shelf.all(kind) if each.content["class"] == class_id), None)
