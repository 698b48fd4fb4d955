"""Rows that are known from memory only, and what a teacher says of them: right, or her own numbers.

Model: a row is one line of any table with a source and a grade: a fact of a plant, a hazard, a step
of its treatment. A correction names the row with everything that it says, so that it never falls
on another one; where the table says something else meanwhile, a confirmation no longer holds and
the row is to be looked at again, while numbers of her own stay what she found. A hazard can be
confirmed and not taken away: what might hurt somebody stays on the papers.
Shapes: a range is open on a side where `low` or `high` is None; months run over the turn of the
year where `low` is the larger.
Source: the rows' own; what she confirms has the source `teacher`.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from nejime.basis.sayings import Saying
from nejime.plants.plant import TEACHER, UNIT_OF, Fact, Hazard, Plant

FACTS = "plant_facts"
HAZARDS = "plant_hazards"
MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class RowKey:
    """What tells a row from every other: its table, what it is about, and what it says.

    `about` is a plant's id or, in other tables, whatever the row belongs to.
    """

    table: str
    about: str
    what: str
    place: str
    source: str
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """A row as it can be looked over. `takes_numbers`: whether another range can be told."""

    key: RowKey
    says: Saying
    unit: str
    grade: str
    takes_numbers: bool = False

    @property
    def low(self) -> float | None:
        """The lower end of its range."""
        return self.key.low

    @property
    def high(self) -> float | None:
        """The upper end of its range."""
        return self.key.high

    @property
    def source(self) -> str:
        """The key of its source."""
        return self.key.source


@dataclass(frozen=True, slots=True)
class Correction:
    """What she says of a row on a day: that it is right, or her own range in its place."""

    row: RowKey
    on: dt.date
    low: float | None = None
    high: float | None = None

    @property
    def confirms(self) -> bool:
        """Whether the row is right as it stands."""
        return self.low is None and self.high is None


def fact_key(plant_id: str, fact: Fact) -> RowKey:
    """The row of a fact."""
    return RowKey(FACTS, plant_id, fact.what, fact.place, fact.source, fact.low, fact.high)


def hazard_key(plant_id: str, hazard: Hazard) -> RowKey:
    """The row of a hazard; whom it harms belongs to what it says."""
    what = f"{hazard.hazard} {hazard.to}"
    return RowKey(HAZARDS, plant_id, what, hazard.place, hazard.source)


def rows_of(plant: Plant) -> Iterator[Row]:
    """Every row of the plant table about one plant, as it is shipped."""
    for fact in plant.facts:
        says = Saying(f"plants.what.{fact.what}")
        yield Row(fact_key(plant.id, fact), says, fact.unit, fact.grade, takes_numbers=True)
    for hazard in plant.hazards:
        yield Row(hazard_key(plant.id, hazard), hazard.saying, "", hazard.grade)


def from_memory(rows: Iterable[Row]) -> tuple[Row, ...]:
    """The rows that are known from memory only."""
    return tuple(row for row in rows if row.grade == MEMORY)


def unchecked(rows: Iterable[Row], corrections: Iterable[Correction]) -> tuple[Row, ...]:
    """The rows from memory of which she has said nothing yet."""
    said = {each.row for each in corrections}
    return tuple(row for row in from_memory(rows) if row.key not in said)


def corrected(plant: Plant, corrections: Iterable[Correction]) -> Plant:
    """The plant with what she confirmed or found herself in the place of rows from memory.

    Numbers of her own whose row the table no longer has stand beside what it has now.
    """
    own = _about(plant, corrections)
    if not own:
        return plant
    facts = tuple(fact for fact, _ in facts_said(plant, own.values()))
    hazards = tuple(_hazard(each, own.get(hazard_key(plant.id, each))) for each in plant.hazards)
    return replace(plant, facts=facts, hazards=hazards)


def facts_said(
    plant: Plant, corrections: Iterable[Correction]
) -> Iterator[tuple[Fact, Correction | None]]:
    """The facts as she knows them, in the order of the table, each with what she said of it."""
    own = _about(plant, corrections)
    there = set()
    for fact in plant.facts:
        key = fact_key(plant.id, fact)
        said = own.get(key) if fact.grade == MEMORY else None
        there.add(key)
        yield (_fact(fact, said), said)
    for key, said in own.items():
        if key.table == FACTS and key.what in UNIT_OF and key not in there and not said.confirms:
            unit = UNIT_OF[key.what]
            yield Fact(key.what, said.low, said.high, unit, TEACHER, key.place, TEACHER), said


def _about(plant: Plant, corrections: Iterable[Correction]) -> dict[RowKey, Correction]:
    return {each.row: each for each in corrections if each.row.about == plant.id}


def _fact(fact: Fact, said: Correction | None) -> Fact:
    if said is None:
        return fact
    low, high = (fact.low, fact.high) if said.confirms else (said.low, said.high)
    return replace(fact, low=low, high=high, source=TEACHER, grade=TEACHER)


def _hazard(hazard: Hazard, said: Correction | None) -> Hazard:
    if said is None or hazard.grade != MEMORY:
        return hazard
    return replace(hazard, source=TEACHER, grade=TEACHER)
