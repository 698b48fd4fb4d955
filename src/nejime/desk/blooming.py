"""When the branches of a class's garden open outdoors, so that they can be forced in time.

What the teacher says in the class comes first; for spring branches of which she says nothing, it is
reckoned for her place, if she told it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from typing import Any

from nejime.basis.errors import InputError
from nejime.desk.known_plants import known_plant
from nejime.desk.seen import seen
from nejime.desk.shelf import Shelf
from nejime.desk.where import measured, place
from nejime.plants.table import find
from nejime.season.bloom import bloom
from nejime.season.evidence import rules

GARDEN, BLOOMS = "garden", "blooms"


def with_blooms(shelf: Shelf, tree: Mapping[str, Any]) -> Mapping[str, Any]:
    """A class, with the day on which each spring branch of its garden opens outdoors."""
    where, day = place(shelf), _day(tree)
    branches = tree.get(GARDEN)
    if not where.told or where.site.climate is None or day is None:
        return tree
    if not isinstance(branches, list) or not all(isinstance(each, dict) for each in branches):
        return tree
    notes, days = seen(shelf), measured(shelf)

    def opens(plant_id: str) -> dt.date | None:
        of = known_plant(shelf, plant_id)
        made = bloom(of, where.site, day, seen=notes.get(plant_id, ()), measured=days)
        return None if made is None else made.begins

    return {**tree, GARDEN: [_told(each, opens) for each in branches]}


def _day(tree: Mapping[str, Any]) -> dt.date | None:
    told = tree.get("class")
    try:
        return dt.date.fromisoformat(str(told["date"])) if isinstance(told, dict) else None
    except (KeyError, ValueError):
        return None


def _told(branch: Mapping[str, Any], opens: Callable[[str], dt.date | None]) -> Mapping[str, Any]:
    found = find(str(branch.get("plant", "")))
    if BLOOMS in branch or not found or branch.get("from", GARDEN) != GARDEN:
        return branch
    rule = rules().get(found[0].id)
    if rule is None or rule.rule != "warmth":
        return branch
    try:
        day = opens(found[0].id)
    except InputError:  # outside the years of the calendar
        return branch
    return branch if day is None else {**branch, BLOOMS: day.isoformat()}
