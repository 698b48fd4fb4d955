"""Look at the work: the pieces that somebody made and photographed, the last one first."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from nejime.basis.sayings import Saying
from nejime.desk.made.begin import KIND, NAME_LETTERS, plan_of, rim_saying
from nejime.desk.made.marks import one, ready_views
from nejime.desk.settings import words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.drawings.icons import vessel_icon
from nejime.reading.typed import vessel_of


@dataclass(frozen=True, slots=True)
class Listed:
    """One in the list: its vessel drawn and said, what it was meant to be, how far it is."""

    kept: Kept
    svg: str
    vessel: str
    plan: str
    says: str


def listed(shelf: Shelf, today: dt.date) -> tuple[Listed, ...]:
    """What was looked at so far."""
    words = words_for(shelf)
    found = []
    for kept in shelf.all(KIND):
        vessel = vessel_of(kept.content["bowl"])
        plan = plan_of(shelf, kept.content, today)
        ready, pictures = len(ready_views(kept.content)), len(kept.content["views"])
        key = "begun" if not pictures else "marking" if not ready else "measured"
        found.append(
            Listed(
                kept,
                vessel_icon(vessel, words, width_mm=34.0, height_mm=22.0),
                words.say(rim_saying(vessel)),
                plan.name if plan else "",
                words.say(Saying(f"made.{key}", count=ready or pictures)),
            )
        )
    return tuple(found)


def rename(shelf: Shelf, number: int, name: str) -> Kept:
    """Another name. Raises `Missing`."""
    kept = one(shelf, number)
    return shelf.rename(number, name.strip()[:NAME_LETTERS]) if name.strip() else kept
