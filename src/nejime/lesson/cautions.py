"""What everybody, the teacher and each person must beware of in one class: `data/cautions.csv`.

Model: general cautions have a row each, with the circumstance in which they hold (a glass vessel
among those used, a child among the people, water without a tap). Those of the plants come from the
plant table. What somebody asked us to note leads to a word on their own sheet and on the teacher's,
and on nobody else's.
Source: on each row. These are the usual cautions: local rules and the library's first aid come
before them, and they are not medical advice.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.forms.holder import Holder, holder
from nejime.forms.stems import Piece
from nejime.forms.vessel import Vessel
from nejime.keeping.conditioning import treatment
from nejime.keeping.hazards import (
    Audience,
    Caution,
    Objection,
    class_objections,
    names_of,
    person_objections,
    plant_cautions,
)
from nejime.lesson.lesson import NOTES, Lesson, Person
from nejime.plants.table import Plant
from nejime.plants.table import plants as all_plants
from nejime.standing.water import CARRY_G, poured_ml

FILE = "cautions.csv"
COLUMNS = ("id", "about", "audience", "when", "source", "place", "grade")
AUDIENCES: tuple[Audience, ...] = ("everyone", "teacher", "home")

GOES_HOME = True  # [practice] everybody takes the stems home and makes the piece again
USUAL_HOLDER = holder(7.0)  # [practice] counted where nobody said which holder


@dataclass(frozen=True, slots=True)
class HeavyVessel:
    """A vessel that is heavy once filled, and whose it is; `seat` counts from 1, 0 is ours."""

    seat: int
    vessel: Vessel
    filled_g: float

    @property
    def says(self) -> Saying:
        """The caution for whoever has it."""
        return Saying("lesson.caution.heavy-one", filled_kg=self.filled_g / 1000)


@dataclass(frozen=True, slots=True)
class PersonCautions:
    """What concerns one person alone: for their own sheet and the teacher's."""

    seat: int
    objections: tuple[Objection, ...]
    notes: tuple[Saying, ...]


@dataclass(frozen=True, slots=True)
class ClassCautions:
    """All cautions of a class."""

    general: tuple[Caution, ...]
    plants: tuple[Caution, ...]
    objections: tuple[Objection, ...]
    people: tuple[PersonCautions, ...]
    heavy: tuple[HeavyVessel, ...]

    def of(self, *audience: Audience) -> tuple[Caution, ...]:
        """General and plant cautions for these readers."""
        return tuple(each for each in (*self.general, *self.plants) if each.audience in audience)

    @property
    def blocks(self) -> tuple[tuple[int, Objection], ...]:
        """What must not be: seat and objection, seat 0 where it concerns the whole class."""
        whole = [(0, each) for each in self.objections if each.weight == "block"]
        single = [
            (person.seat, each)
            for person in self.people
            for each in person.objections
            if each.weight == "block"
        ]
        return (*whole, *single)


def filled_g(vessel: Vessel, water_cm: float | None = None, held: Holder | None = None) -> float:
    """What a vessel weighs with water and holder: to `water_cm`, else as full as it is carried."""
    water = vessel.most_water_cm if water_cm is None else water_cm
    used = None if vessel.tall else held or USUAL_HOLDER
    lead = used.mass.g if used else 0.0
    return vessel.mass.g + poured_ml(vessel, used, water) + lead


def cautions(
    lesson: Lesson,
    plants: Sequence[Plant],
    pieces: Sequence[Piece | None] = (),
) -> ClassCautions:
    """All cautions of a class with these plants.

    `pieces` are the planned pieces in the order of the people; without them a vessel is taken to be
    filled as far as it can be carried.
    """
    heavy = _heavy(lesson, pieces)
    return ClassCautions(
        general=_general(lesson, plants, heavy),
        plants=plant_cautions(plants, goes_home=GOES_HOME),
        objections=class_objections(
            plants,
            goes_home=GOES_HOME,
            region=lesson.region,
            children=any("child" in person.please_note for person in lesson.people),
        ),
        people=tuple(
            _of_person(seat, person, plants) for seat, person in enumerate(lesson.people, start=1)
        ),
        heavy=heavy,
    )


def _of_person(seat: int, person: Person, plants: Sequence[Plant]) -> PersonCautions:
    notes = tuple(Saying(f"lesson.note.{note}") for note in person.please_note if note in NOTES)
    against = person_objections(plants, person.please_note, goes_home=GOES_HOME)
    return PersonCautions(seat, against, notes)


def _heavy(lesson: Lesson, pieces: Sequence[Piece | None]) -> tuple[HeavyVessel, ...]:
    found = []
    used = [(seat, person.vessel, person.holder) for seat, person in enumerate(lesson.people, 1)]
    if lesson.take_home:  # kits leave empty
        used = []
    for seat, vessel, held in [*used, (0, lesson.demonstration, None)]:
        if vessel is None:
            continue
        piece = pieces[seat - 1] if 0 < seat <= len(pieces) else None
        total = filled_g(
            vessel, piece.water_cm if piece else None, (piece.holder if piece else None) or held
        )
        if total > CARRY_G:
            found.append(HeavyVessel(seat, vessel, total))
    return tuple(found)


def _general(
    lesson: Lesson, plants: Sequence[Plant], heavy: tuple[HeavyVessel, ...]
) -> tuple[Caution, ...]:
    holds = _circumstances(lesson, plants, heavy)
    quantities: dict[str, object] = {"line": lesson.poison_line, "heavy_kg": CARRY_G / 1000}
    return tuple(
        Caution(
            row["about"],
            Saying(f"lesson.caution.{row['id']}", **quantities),
            next(each for each in AUDIENCES if each == row["audience"]),
            row["source"],
            row["grade"],
        )
        for row in caution_rows()
        if holds[row["when"]]
    )


def _circumstances(
    lesson: Lesson, plants: Sequence[Plant], heavy: tuple[HeavyVessel, ...]
) -> dict[str, bool]:
    """Which circumstances of the table hold in this class."""
    vessels = [
        *(person.vessel for person in lesson.people),
        lesson.demonstration,
        *(vessel for vessel, _ in lesson.lend.vessels),
    ]
    pins = any(vessel is None or not vessel.tall for vessel in vessels)
    notes = {note for person in lesson.people for note in person.please_note}
    room = not lesson.take_home
    return {
        "always": True,
        "room": room,
        "pins": pins,
        "pins-home": pins and lesson.take_home,
        "pins-child": pins and "child" in notes,
        "blades": room,
        "child": room and "child" in notes,
        "branches": any(plant.kind == "branch" for plant in plants),
        "thorns": any(hazard.hazard == "thorn" for plant in plants for hazard in plant.hazards),
        "garden": bool(lesson.garden),
        "filmed": lesson.filmed,
        "carpet": room and lesson.room.floor == "carpet",
        "heavy": bool(heavy),
        "glass": any(vessel is not None and vessel.ware == "glass" for vessel in vessels),
        "boiling": any(treatment(plant).needs_fire for plant in plants),
        "latex": "latex-allergy" in notes,
        "poison-line": bool(lesson.poison_line),
        "law-unknown": not law_known(lesson.region),
    }


@cache
def law_known(region: str) -> bool:
    """Whether anything is known to us of plants that the law of a region forbids."""
    names = names_of(region)
    return any(each.forbidden_in(name) for each in all_plants() for name in names)


@cache
def caution_rows() -> tuple[dict[str, str], ...]:
    """The table of general cautions, checked. Raises `TableError`."""
    rows = tables.read_csv(FILE, COLUMNS)
    for number, row in enumerate(rows, start=2):
        if row["audience"] not in AUDIENCES:
            raise tables.TableError(FILE, number, f"unknown audience {row['audience']!r}")
    return rows
