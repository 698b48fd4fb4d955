"""Pieces that stay on display: what each asks for next, and what was done to it.

A display is a document: its vessel as it is, its plants as they stand now, what was done when, and
what was read on a ruler. What is done to it is kept as a version, so that it can be taken back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.basis.sources import sources
from nejime.basis.units import CM_PER_INCH
from nejime.desk.known_plants import known_plant
from nejime.desk.settings import settings, words_for
from nejime.desk.shelf import Kept, Missing, Shelf
from nejime.drawings.icons import bare_icon
from nejime.drawings.water_section import Levels, water_section
from nejime.keeping.hazards import plant_cautions
from nejime.keeping.looking_after import (
    Action,
    LookingAfter,
    OnDisplay,
    Shown,
    Stays,
    in_short,
    looking_after,
)
from nejime.keeping.water_loss import level_after
from nejime.papers.cautions import of
from nejime.papers.wording import clock, date, dated, plant_name
from nejime.plants.plant import Plant
from nejime.reading.displays import display_of

KIND = "display"
MORNING = dt.time(9)  # [own] when a piece is filled on its first day
DAYS_DRAWN = 21  # [own] dots beside the ruler


@dataclass(frozen=True, slots=True)
class Due:
    """One thing to do: on which day in words, how many days from now, what."""

    day: str
    away: int
    kind: str
    says: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A display in the list; `next` is None once it was taken away."""

    kept: Kept
    picture: str
    plants: str
    next: Due | None
    until: str


@dataclass(frozen=True, slots=True)
class Standing:
    """A plant that stands in it: its row, what is said of it, and how well that is known."""

    row: int
    name: str
    stems: int
    says: str
    instead: str
    grows: str
    known: str


@dataclass(frozen=True, slots=True)
class Opened:
    """Everything on the page of one display, in words."""

    kept: Kept
    ended: str
    drawing: str
    next: tuple[Due, ...]
    water: str
    why: tuple[str, ...]
    sources: tuple[str, ...]
    plants: tuple[Standing, ...]
    places: tuple[str, ...]
    cautions: tuple[str, ...]
    contact: str
    done: tuple[str, ...]
    readings: int
    overdue: bool


# What is kept, as values


def piece_of(shelf: Shelf, content: Mapping[str, Any]) -> OnDisplay:
    """The piece as it stands now."""
    told, chosen = display_of(content), settings(shelf)
    table = told.table
    return OnDisplay(
        vessel=told.vessel,
        full_cm=table.water,
        pins_cm=None if told.vessel.tall else table.pins,  # stems stand at its mouth
        room=table.room,
        plants=tuple(
            Shown(known_plant(shelf, each.plant), each.stems, each.since or table.since)
            for each in told.plants
        ),
        since=table.since,
        until=table.until,
        filled=_filled(content, table.since),
        readings=told.readings,
        contact=table.contact or chosen["contact"],
        poison_line=chosen["poison_line"],
        region=chosen["region"],
    )


def _filled(content: Mapping[str, Any], since: dt.date) -> dt.datetime:
    """When water was poured last."""
    poured = [each["at"] for each in content.get("done", ()) if each["what"] == "topped"]
    if poured:
        return dt.datetime.fromisoformat(poured[-1])
    return dt.datetime.combine(since, MORNING)


def one(shelf: Shelf, number: int) -> Kept:
    """A display. Raises `Missing`."""
    kept = shelf.get(number)
    if kept.kind != KIND:
        raise Missing(KIND, number)
    return kept


# The list


def listed(shelf: Shelf, now: dt.datetime) -> tuple[tuple[Listed, ...], tuple[Listed, ...]]:
    """The pieces that stand, the one that asks for something first; then those taken away."""
    words = words_for(shelf)
    found = [_listed_or_told(shelf, kept, now, words) for kept in shelf.all(KIND)]
    stand = [each for each in found if each.next is not None]
    stand.sort(key=lambda each: (each.next.away if each.next else 0, each.kept.name.casefold()))
    return tuple(stand), tuple(each for each in found if each.next is None)


def _listed_or_told(shelf: Shelf, kept: Kept, now: dt.datetime, words: Words) -> Listed:
    """One in the list; where it cannot be read any more, that it must be mended."""
    try:
        return _listed(shelf, kept, now, words)
    except InputError:
        says = words.say(Saying("display.mend"))
        mend = Due(date(words, now.date(), short=True), 0, "mend", says)
        return Listed(kept, "", "", mend, "")


def _listed(shelf: Shelf, kept: Kept, now: dt.datetime, words: Words) -> Listed:
    piece = piece_of(shelf, kept.content)
    first = _next(kept, piece, now, words)
    names = tuple(dict.fromkeys(each.plant.english for each in piece.plants))
    return Listed(
        kept=kept,
        picture=bare_icon(piece.vessel, words, glaze=kept.content.get("glaze", "white")),
        plants=words.together(list(names)),
        next=first,
        until=date(words, piece.until, short=True),
    )


def _next(kept: Kept, piece: OnDisplay, now: dt.datetime, words: Words) -> Due | None:
    if kept.content.get("ended"):
        return None
    return _due(looking_after(piece, now).actions[0], now, words)


def _due(action: Action, now: dt.datetime, words: Words) -> Due:
    away = (action.on - now.date()).days
    return Due(date(words, action.on, short=True), away, action.kind, words.say(action.says))


def due(shelf: Shelf, now: dt.datetime) -> tuple[Listed, ...]:
    """The next thing that every piece on display asks for."""
    return listed(shelf, now)[0]


# One display


def opened(shelf: Shelf, number: int, now: dt.datetime) -> Opened:
    """One display with all that is said of it. Raises `Missing`; `InputError` where a part of it
    is not known any more."""
    kept, words = one(shelf, number), words_for(shelf)
    piece = piece_of(shelf, kept.content)
    found = looking_after(piece, now, step_cm(words))
    kinds = tuple(dict.fromkeys(each.plant for each in piece.plants))
    ended = kept.content.get("ended", "")
    return Opened(
        kept=kept,
        ended=_when(dt.datetime.fromisoformat(ended), words) if ended else "",
        drawing=water_section(piece.vessel, _levels(piece, found), words),
        next=() if ended else tuple(_due(x, now, words) for x in in_short(found.actions)),
        water=words.say(found.pouring.line),
        why=tuple(words.say(each) for each in found.pouring.why),
        sources=_cited(piece),
        plants=tuple(_standing(piece, each, words) for each in found.plants),
        places=tuple(words.say(each) for each in found.places),
        cautions=_cautions(kinds, piece, words),
        contact=piece.contact,
        done=tuple(_done(each, words) for each in reversed(kept.content.get("done", ()))),
        readings=len(piece.readings),
        overdue=not ended and found.actions[0].on <= now.date(),
    )


def step_cm(words: Words) -> float:
    """The fall that is told in days: a centimetre, or half an inch."""
    return CM_PER_INCH / 2 if words.unit == "in" else 1.0


def _levels(piece: OnDisplay, found: LookingAfter) -> Levels:
    daily: list[float] = []
    for day in range(1, DAYS_DRAWN + 1):
        level = level_after(piece.water, piece.full_cm, day).usual
        if level < piece.lowest_cm:
            break
        daily.append(level)
    now = found.pouring.level_cm.usual
    return Levels(piece.full_cm, now, piece.lowest_cm, piece.pins_cm, tuple(daily))


def _cited(piece: OnDisplay) -> tuple[str, ...]:
    keys = () if piece.readings else ("shah2014", "shah2011", "doi2000", "allen1998")
    return tuple(sources()[key].cite for key in keys)


def _cautions(kinds: Sequence[Plant], piece: OnDisplay, words: Words) -> tuple[str, ...]:
    found = of(plant_cautions(kinds, goes_home=False), words)
    if piece.poison_line:
        found.append(words.say(Saying("keeping.display.eaten", line=piece.poison_line)))
    return tuple(found)


def _standing(piece: OnDisplay, each: Stays, words: Words) -> Standing:
    known = ""
    if each.days is not None:
        told = {"count": each.days, "grade": Saying(f"display.grade.{each.grade}")}
        known = words.say(Saying("display.lasts", **told))
    instead = words.together([new.english for new in each.instead])
    return Standing(
        row=piece.plants.index(each.shown) + 1,
        name=each.shown.plant.english,
        stems=each.shown.stems,
        says=dated(each.says, words),
        instead=words.say(Saying("display.instead", plants=instead)) if instead else "",
        grows=words.say(each.grows) if each.grows else "",
        known=known,
    )


def _when(moment: dt.datetime, words: Words) -> str:
    told = {"day": date(words, moment.date(), short=True), "time": clock(words, moment)}
    return words.say(Saying("display.when", **told))


def _done(told: Mapping[str, Any], words: Words) -> str:
    quantities = {
        "when": _when(dt.datetime.fromisoformat(told["at"]), words),
        "plant": plant_name(told["plant"]) if "plant" in told else "",
        "by": plant_name(told["by"]) if "by" in told else "",
    }
    same = told["what"] == "replaced" and told["by"] == told["plant"]
    return words.say(Saying(f"display.done.{'fresh' if same else told['what']}", **quantities))
