"""What must be in the room, where it lies, and what is counted out and in: `data/kit.csv`.

Model: each row says for which class it is (`room`, `take-home` or both), when it is needed, and how
many: one a person, one for so many people begun (`every-8`), one for each demonstration, one for
each who needs it, or one for the class. What is sharp is counted out and in: as many come back as
went out, less those that go home.
Source: common practice and our own choice, on each row.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.lesson.lesson import Lesson, Person

FILE = "kit.csv"
COLUMNS = (
    "what",
    "place",
    "class",
    "when",
    "per",
    "count",
    "sharp",
    "comes_back",
    "source",
    "grade",
)
Where = Literal["seat", "teacher", "water", "hand-out"]
PLACES: tuple[Where, ...] = ("seat", "teacher", "water", "hand-out")


@dataclass(frozen=True, slots=True)
class Item:
    """A thing of the kit: where it lies and how many of it there are.

    `each` is how many lie at every seat; 0 where they only lie at some.
    """

    what: str
    place: Where
    count: int
    each: int
    sharp: bool
    comes_back: bool
    source: str
    grade: str

    @property
    def says(self) -> Saying:
        """What it is."""
        return Saying(f"lesson.kit.{self.what}")

    @property
    def back(self) -> int:
        """How many are there again at the end."""
        return self.count if self.comes_back else 0


@dataclass(frozen=True, slots=True)
class Kit:
    """Everything for one class."""

    items: tuple[Item, ...]

    def at(self, place: Where) -> tuple[Item, ...]:
        """What lies at one place."""
        return tuple(item for item in self.items if item.place == place)

    @property
    def sharps(self) -> tuple[Item, ...]:
        """What is counted out and in."""
        return tuple(item for item in self.items if item.sharp)

    @property
    def sharps_out(self) -> int:
        """How many sharp things go out."""
        return sum(item.count for item in self.sharps)

    @property
    def sharps_in(self) -> int:
        """How many sharp things must be back in the box."""
        return sum(item.back for item in self.sharps)

    @property
    def sharps_gone(self) -> int:
        """How many sharp things go home with people."""
        return sum(item.count for item in self.sharps if not item.comes_back)


def kit(lesson: Lesson) -> Kit:
    """The kit of a class, as many of each thing as its people and notes ask for."""
    asked = "take-home" if lesson.take_home else "room"
    items = []
    for row in _rows():
        if row["class"] not in (asked, "both"):
            continue
        count = _needed(row["when"], row["per"], lesson) * int(row["count"])
        if count:
            items.append(_item(row, count))
    return Kit(tuple(items))


def _item(row: dict[str, str], count: int) -> Item:
    place: Where = next(place for place in PLACES if place == row["place"])
    return Item(
        what=row["what"],
        place=place,
        count=count,
        each=int(row["count"]) if row["per"] == "person" else 0,
        sharp=row["sharp"] == "yes",
        comes_back=row["comes_back"] == "yes",
        source=row["source"],
        grade=row["grade"],
    )


def _needed(when: str, per: str, lesson: Lesson) -> int:
    """How many times a row's count is needed; 0 where it is not."""
    people = len(lesson.people)
    needing = _needing(when, lesson)
    if not needing:
        return 0
    if per == "need":
        return needing
    if per == "person":
        return people
    if per == "demonstration":
        return lesson.demonstrations
    if per.startswith("every-"):
        return math.ceil(people / int(per.removeprefix("every-")))
    return 1


def _needing(when: str, lesson: Lesson) -> int:
    """How many people, or whether the class (1), make a row needed."""
    people = lesson.people
    match when:
        case "lent-vessel":
            return sum(person.lent or person.vessel is None for person in people)
        case "lent-holder":
            return sum(needs_holder(person) for person in people)
        case "pins":
            return int(any(needs_holder(person) for person in people))
        case "tall":
            return sum(not needs_holder(person) for person in people)
        case "gloves":
            return _noting(people, "skin-allergy", "latex-allergy")
        case "carpet":
            return int(lesson.room.floor == "carpet")
        case "filmed":
            return int(lesson.filmed)
        case "no-water":
            return int(not lesson.room.water_in_room)
        case "always":
            return 1
    return _noting(people, when)


def needs_holder(person: Person) -> bool:
    """Whether a pin holder lies ready: for everybody whose vessel is not known to be a tall vase.

    Somebody who brings their own still finds one: it is asked for at the door.
    """
    return person.vessel is None or not person.vessel.tall


def _noting(people: Sequence[Person], *notes: str) -> int:
    return sum(any(note in person.please_note for note in notes) for person in people)


@cache
def _rows() -> tuple[dict[str, str], ...]:
    """The table, checked. Raises `TableError`."""
    rows = tables.read_csv(FILE, COLUMNS)
    for number, row in enumerate(rows, start=2):
        if row["place"] not in PLACES or row["class"] not in ("room", "take-home", "both"):
            raise tables.TableError(FILE, number, f"unknown place or class of {row['what']!r}")
    return rows
