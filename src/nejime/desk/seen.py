"""What the teacher saw open, and when: one tap, and next year is better for it."""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import Fault, InputError, refuse
from nejime.basis.sayings import Saying, Words
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.desk.where import is_from_here, stamp
from nejime.papers.wording import date
from nejime.plants.table import find, nearest, plant
from nejime.reading.plants import found_by_name, meant

KIND = "seen"
ON = "seen-on"
"""Where the day of a note is typed: the day that the page shows is another field."""
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Note:
    """One note, in words."""

    id: int
    plant: str
    says: str


def seen(shelf: Shelf) -> Mapping[str, tuple[dt.date, ...]]:
    """The days on which she saw each plant open here, by its id."""
    found: dict[str, list[dt.date]] = defaultdict(list)
    for kept in shelf.all(KIND):
        if not is_from_here(shelf, kept.content):
            continue
        name, day = note_of(kept.content)
        found[name].append(day)
    return {name: tuple(sorted(days)) for name, days in found.items()}


def note_of(content: Mapping[str, Any]) -> tuple[str, dt.date]:
    """The plant and the day of what was kept."""
    return plant(content["plant"]).id, dt.date.fromisoformat(content["on"])


def note(shelf: Shelf, typed: Typed, today: dt.date) -> Kept:
    """Keep that a plant was open on a day; the same note once. Raises `InputError` by field."""
    name = _plant(typed.get("plant", ""))
    day = _day(typed.get("on", ""), today)
    content = {"plant": name, "on": day.isoformat()}
    for kept in shelf.all(KIND):
        if content.items() <= kept.content.items() and is_from_here(shelf, kept.content):
            return kept
    return shelf.add(KIND, plant(name).english, {**content, **stamp(shelf)})


def _plant(word: str) -> str:
    asked = word.strip()
    if not asked:
        raise refuse("plant", "season.missing-plant", "season.missing-plant-try")
    clear = found_by_name(asked)
    if clear is None:
        near = find(asked)
        key = "season.which-plant" if near else "plants.unknown"
        raise InputError(
            [Fault("plant", Saying(key, word=asked[:40]), meant(near or nearest(asked)))]
        )
    return clear.id


def _day(text: str, today: dt.date) -> dt.date:
    try:
        day = dt.date.fromisoformat(text.strip()) if text.strip() else today
    except ValueError as trouble:
        told = {"typed": text.strip()[:40]}
        raise refuse(ON, "season.no-date", "season.no-date-try", **told) from trouble
    if day > today:
        raise refuse(ON, "season.not-yet-seen", "season.not-yet-seen-try")
    if day.year < 1951:  # [own] as far back as the calendar goes
        raise refuse(ON, "season.no-date", "season.no-date-try", typed=text.strip()[:40])
    return day


def take_back(shelf: Shelf, number: int) -> Kept:
    """Take a note back. Raises `Missing`."""
    kept = shelf.get(number)
    if kept.kind != KIND:
        raise Missing(KIND, number)
    return shelf.remove(number)


def notes(shelf: Shelf, words: Words) -> Sequence[Note]:
    """Every note, the newest first."""
    kept = sorted(shelf.all(KIND), key=lambda each: each.content["on"], reverse=True)
    return [
        Note(each.id, plant(each.content["plant"]).english, _says(shelf, each, words))
        for each in kept
    ]


def _says(shelf: Shelf, kept: Kept, words: Words) -> str:
    day = date(words, _on(kept))
    if is_from_here(shelf, kept.content):
        return day
    return words.say(Saying("season.seen-elsewhere", day=day))


def _on(kept: Kept) -> dt.date:
    return dt.date.fromisoformat(kept.content["on"])
