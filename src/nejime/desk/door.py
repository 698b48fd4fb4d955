"""A bowl at the door: from a shape and two numbers to its half page, on screen and on paper."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.desk.settings import settings, stock_for, words_for
from nejime.desk.shelf import Kept, Shelf
from nejime.desk.taught import for_one, known_rules, nearest_class, taught
from nejime.drawings.icons import bare_icon
from nejime.drawings.measuring import USUAL
from nejime.forms.rules import FORMS, SIZES
from nejime.forms.vessel import SHAPES
from nejime.lesson.lesson import Lesson, Person
from nejime.lesson.pieces import Seat, seats
from nejime.lesson.plan import Made, judged
from nejime.papers.half_page import half_page
from nejime.papers.handout import Told
from nejime.papers.looks import looks
from nejime.papers.pdf import print_sheets
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.whole import standing_said
from nejime.papers.wording import plant_name
from nejime.reading.lending import plain
from nejime.reading.typed import door_vessel

FIELDS = ("shape", "width", "height", "depth", "name", "form", "size", "opens")
ASKED = ("form", "size", "opens")
"""What the class says, unless somebody asks for something else."""
OPENS = ("right", "left")
DEEP = ("oval", "rectangle")
"""The shapes of which a depth is asked."""
NAME_LETTERS = 60  # [own] as in a class file

Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class AtTheDoor:
    """One bowl answered: the piece judged, and the half page that says it."""

    seat: Seat
    made: Made
    sheet: Sheet
    stock: Stock


@dataclass(frozen=True, slots=True)
class DoorChoices:
    """What can be chosen at the door, and what holds where nothing is: pairs of value and word."""

    shapes: Sequence[tuple[str, str, str]]
    asked: Mapping[str, Sequence[tuple[str, str]]]
    usual: Mapping[str, str]
    taught_in: str


def choices(shelf: Shelf, today: dt.date) -> DoorChoices:
    """The shapes with their pictures, and form, size and side as the class has them."""
    words = words_for(shelf)
    lesson = taught(shelf, today)
    said = {"form": FORMS, "size": SIZES, "opens": OPENS}
    return DoorChoices(
        shapes=shape_tiles(words),
        asked={
            key: [(each, words.say(Saying(f"papers.{key}.{each}"))) for each in values]
            for key, values in said.items()
        },
        usual={"form": lesson.form or "upright", "size": lesson.size, "opens": lesson.opens},
        taught_in=lesson.title,
    )


def shape_tiles(words: Words) -> list[tuple[str, str, str]]:
    """Every shape of vessel: its word in a form, what it is called, its picture."""
    return [
        (shape, words.say(Saying(f"vessel.{shape}")), bare_icon(USUAL[shape], words))
        for shape in SHAPES
    ]


def unit_of(shelf: Shelf) -> str:
    """What a plain number in a field is in: `cm`, or `in` where that alone is read."""
    return "in" if settings(shelf)["units"] == "in" else "cm"


def at_the_door(shelf: Shelf, typed: Typed, today: dt.date) -> AtTheDoor:
    """The half page of a bowl: `typed` holds `FIELDS`. Raises `InputError`, by field."""
    name = " ".join(typed.get("name", "").split())[:NAME_LETTERS]
    made, _ = door_vessel(_of_vessel(typed), unit_of(shelf))
    asked = {key: typed.get(key, "") for key in ASKED}
    return answered(shelf, Person(name or "?", vessel=made), name, asked, today)


def _of_vessel(typed: Typed) -> Typed:
    """What is said of the vessel; a depth only where it is asked for."""
    keys = ("shape", "width", "height") + (("depth",) if typed.get("shape") in DEEP else ())
    return {key: typed.get(key, "") for key in keys}


def answered(
    shelf: Shelf, person: Person, name: str, asked: Mapping[str, Any], today: dt.date
) -> AtTheDoor:
    """The half page of one person with a vessel. Raises `InputError`, by field."""
    words, lesson = words_for(shelf), taught(shelf, today)
    alone = for_one(lesson, person, asked)
    try:
        seat = seats(alone, known_rules())[0]
    except InputError as trouble:
        raise InputError(
            replace(each, field=each.field.removeprefix("person[1].").removeprefix("vessel."))
            for each in trouble.faults
        ) from trouble
    assert seat.piece is not None
    made = judged(alone, seat.piece, {})
    stock = stock_for(shelf, today, lesson.library)
    sheet = half_page(told_of(seat, made, name, alone), words, stock)
    return AtTheDoor(seat, made, sheet, stock)


def told_of(seat: Seat, made: Made, name: str, lesson: Lesson) -> Told:
    """What is said to one person."""
    roles = {stem.id: stem.role for stem in made.piece.stems}
    return Told(
        name=name,
        piece=made.piece,
        file_name="half-page",
        occasion=lesson.title,
        standing=standing_said(made.verdict, made.remedies),
        notes=seat.remarks,
        plants={stem: plant_name(plant) for stem, plant in made.plants.items()},
        looks=looks(made.plants, made.bodies, roles),
    )


def printed(shelf: Shelf, typed: Typed, today: dt.date) -> bytes:
    """The half page as PDF. Raises `InputError`."""
    found = at_the_door(shelf, typed, today)
    return print_sheets([found.sheet], found.stock).pdf


def into_cupboard(shelf: Shelf, typed: Typed) -> Kept:
    """The bowl as one of ours, by a name that no other has. Raises `InputError`."""
    _, content = door_vessel(_of_vessel(typed), unit_of(shelf))
    wished = typed.get("name", "").strip()
    shape = words_for(shelf).say(Saying(f"vessel.{content['shape']}"))
    name = free_name(shelf, "vessel", wished or shape)
    return shelf.add("vessel", name, {**content, "name": name, "count": 1})


def free_name(shelf: Shelf, kind: str, wished: str) -> str:
    """The name, with a number behind it where it is taken."""
    taken = {plain(each.name) for each in shelf.all(kind)}
    names = (wished, *(f"{wished} {number}" for number in range(2, len(taken) + 3)))
    return next(name for name in names if plain(name) not in taken)


def into_class(shelf: Shelf, typed: Typed, today: dt.date) -> Kept | None:
    """The bowl as the vessel of a person in the nearest class; the class, None without one.

    A person of that name who is in it already gets the bowl; else somebody new is added.
    Raises `InputError`.
    """
    _, content = door_vessel(_of_vessel(typed), unit_of(shelf))
    found = nearest_class(shelf, today)
    if found is None:
        return None
    people = list(found.content.get("person", []))
    wished = typed.get("name", "").strip()
    for number, person in enumerate(people):
        if wished and str(person.get("name", "")).casefold() == wished.casefold():
            people[number] = {**person, "vessel": content}
            break
    else:
        people.append({"name": wished or _guest(people, words_for(shelf)), "vessel": content})
    saved = shelf.save(found.id, {**found.content, "person": people}, found.version)
    return saved if isinstance(saved, Kept) else saved.theirs


def _guest(people: Sequence[Mapping[str, Any]], words: Words) -> str:
    taken = {str(person.get("name", "")) for person in people}
    names = (
        words.say(Saying("desk.guest", number=str(number))) for number in range(1, len(people) + 2)
    )
    return next(name for name in names if name not in taken)
