"""What is done to a piece on display: poured, replaced, taken away; its papers and its calendar."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from typing import Any

from nejime.basis.errors import refuse
from nejime.desk.displays import one, piece_of, step_cm
from nejime.desk.door import unit_of
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Conflict, Kept, Shelf
from nejime.keeping.looking_after import card, looking_after
from nejime.papers.calendar import display_calendar
from nejime.papers.pdf import print_sheets
from nejime.papers.showing import label, showing
from nejime.reading.displays import display_of, reading_fields, replacing_fields

TRIES = 5  # [own] as often as somebody else may get in between
FILE_LETTERS = 50  # [own] of a name in the name of a file
Content = dict[str, Any]
Typed = Mapping[str, str]


def done(shelf: Shelf, number: int, typed: Typed, now: dt.datetime) -> Kept:
    """Keep what was done, by the field `do`: `topped`, `replaced` or `out` (with `row` and, where
    it was another plant, `by`), `down`. Raises `InputError`, `Missing`.
    """
    act = {"topped": _topped, "replaced": _replaced, "out": _out, "down": _down}.get(
        typed.get("do", "")
    )
    if act is None:
        raise refuse("do", "typed.no-such-act", "typed.no-such-act-try")
    return _changed(shelf, number, lambda content: act(content, typed, now))


def read_ruler(shelf: Shelf, number: int, typed: Typed) -> Kept:
    """Keep a reading of the ruler, by the fields `hours` and `fell`. Raises `InputError`,
    `Missing`."""
    full_cm = display_of(one(shelf, number).content).table.water
    told = reading_fields(typed, unit_of(shelf), full_cm)
    return _changed(
        shelf, number, lambda content: {**content, "readings": [*_of(content, "readings"), told]}
    )


def _changed(shelf: Shelf, number: int, act: Callable[[Content], Content]) -> Kept:
    """The display after an act, whoever else changed it just before."""
    for _ in range(TRIES):
        held = one(shelf, number)
        saved = shelf.save(number, act(held.content), held.version)
        if not isinstance(saved, Conflict):
            return saved
    return one(shelf, number)


def _of(content: Content, key: str) -> list[Any]:
    return list(content.get(key, ()))


def _noted(content: Content, now: dt.datetime, what: str, **told: str) -> Content:
    each = {"at": now.isoformat(timespec="minutes"), "what": what, **told}
    return {**content, "done": [*_of(content, "done"), each]}


def _topped(content: Content, typed: Typed, now: dt.datetime) -> Content:
    return _noted(content, now, "topped")


def _replaced(content: Content, typed: Typed, now: dt.datetime) -> Content:
    plants = _of(content, "plant")
    row, by = replacing_fields(typed, len(plants))
    old = plants[row]
    plants[row] = {**old, "plant": by or old["plant"], "since": now.date().isoformat()}
    told = {"plant": old["plant"], "by": plants[row]["plant"]}
    return _noted({**content, "plant": plants}, now, "replaced", **told)


def _out(content: Content, typed: Typed, now: dt.datetime) -> Content:
    plants = _of(content, "plant")
    row, _ = replacing_fields({**typed, "by": ""}, len(plants))
    if len(plants) == 1:
        raise refuse("row", "typed.last-plant", "typed.last-plant-try")
    old = plants.pop(row)
    return _noted({**content, "plant": plants}, now, "out", plant=old["plant"])


def _down(content: Content, typed: Typed, now: dt.datetime) -> Content:
    ended = now.isoformat(timespec="minutes")
    return {**_noted(content, now, "down"), "ended": ended}


def undone(shelf: Shelf, number: int) -> Kept:
    """Take back what was done or changed last. Raises `Missing`."""
    one(shelf, number)
    return shelf.undo(number)


def redone(shelf: Shelf, number: int) -> Kept:
    """Do again what was taken back. Raises `Missing`."""
    one(shelf, number)
    return shelf.redo(number)


def put_away(shelf: Shelf, number: int) -> Kept:
    """Off the list; it is kept. Raises `Missing`."""
    one(shelf, number)
    return shelf.remove(number)


def bring_back(shelf: Shelf, number: int) -> Kept:
    """Back on the list. Raises `Missing`."""
    one(shelf, number)
    return shelf.restore(number)


# To print and to take along


def papers_of(shelf: Shelf, number: int, now: dt.datetime) -> bytes:
    """The card for colleagues and the label for those who look, as PDF. Raises `Missing`."""
    kept, words = one(shelf, number), words_for(shelf)
    piece = piece_of(shelf, kept.content)
    found = looking_after(piece, now, step_cm(words))
    stock = stock_for(shelf, now.date())
    kinds = tuple(dict.fromkeys(each.plant for each in piece.plants))
    sheets = [
        showing(card(piece, found), words, kept.name),
        label(kept.name, kinds, piece.contact, words),
    ]
    return print_sheets(sheets, stock, kept.name).pdf


def calendar_of(shelf: Shelf, number: int, now: dt.datetime) -> tuple[str, bytes]:
    """What is to be done, as a calendar file, and what to call it. Raises `Missing`."""
    kept, words = one(shelf, number), words_for(shelf)
    found = looking_after(piece_of(shelf, kept.content), now, step_cm(words))
    actions = () if kept.content.get("ended") else found.actions
    letters = "".join(each if each.isalnum() else "-" for each in kept.name.lower())
    name = "-".join(part for part in letters.split("-") if part)[:FILE_LETTERS]
    told = display_calendar(kept.name, f"display-{kept.id}", actions, words, now.date())
    return f"{name or 'display'}.ics", told
