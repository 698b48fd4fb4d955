"""How far a flower has come to open: what is known of each plant, `data/opening.csv`, and a dose.

Model: from a stage in which it is bought or cut a flower needs so many days in water at 20 °C to be
open, a range. Elsewhere it opens faster or slower by `Q10 ** ((T - 20) / 10)`, Q10 2 where nothing
else is known, and not at all at or below the temperature at which it stops. The dose is the sum of
rate times days. At or below the temperature that spoils it, or after lying dry where it may not, it
never opens. Lilies open in the morning, all their ripe buds within hours, so that their dose is
counted in whole mornings.
An open flower stays fresh for a quarter of its vase life; after that it is past its best for a
class.
Shapes: days and temperatures as floats; ranges as low and high.
Source: on each row, with its grade. Q10 and stop of iris: doorn2014 (open after three days in water
at 6 or 11 °C, not at 3 °C) and doorn2004 (at 20 °C open on day 1 to 2), which together allow a Q10
of 2.2 at the most. Lilies: bieleski2000. No sums of degree-hours were found for any cut flower.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import groupby
from typing import Literal

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.keeping.vase_life import Spell, vase_life
from nejime.plants.plant import Plant
from nejime.plants.table import plants

FILE = "opening.csv"
COLUMNS = ("plant", "stage", "what", "low", "high", "unit", "source", "place", "grade")
UNIT_OF: Mapping[str, str] = {
    "opens_d": "d",
    "opens_mornings": "morning",
    "opening_q10": "1",
    "stops_c": "c",
    "spoils_c": "c",
    "dry": "yes",
    "ethylene": "yes",
    "food": "yes",
}
"""What can be known, and its unit; `yes` is 1 or 0. The first two belong to a stage."""
OF_STAGE = ("opens_d", "opens_mornings")

OPENING_Q10 = 2.0  # [doorn2014] iris: 2.2 at the most
OPENING_AT_C = 20.0  # [doorn2004] the room of the days in the table
FRESH_SHARE = 0.25  # [own] of a vase life, for which an open flower is at its best
FRESH_D = 1.0  # [own] where no vase life is known
DRY_H = 3.0  # [own] on the way home a stem may lie dry; it was tried for three days

Word = Literal["not yet", "open", "past", "will not open"]


@dataclass(frozen=True, slots=True)
class Known:
    """One thing known of how a plant opens: a range, with its source."""

    what: str
    low: float
    high: float
    source: str
    place: str
    grade: str


@dataclass(frozen=True, slots=True)
class Stage:
    """A stage in which it is bought or cut, and how long it takes to open from there."""

    name: str
    takes: Known

    @property
    def by_mornings(self) -> bool:
        """Whether it opens on a morning, so that whole mornings are counted."""
        return self.takes.what == "opens_mornings"

    @property
    def aim(self) -> float:
        """The middle of its range."""
        return (self.takes.low + self.takes.high) / 2

    @property
    def says(self) -> Saying:
        """What it looks like."""
        return Saying(f"keeping.stage.{self.name}")


@dataclass(frozen=True, slots=True)
class Opening:
    """What is known of how a plant opens; `stages` run from the tightest to the most open.

    None or no stage where nothing is known.
    """

    plant: str
    stages: tuple[Stage, ...]
    facts: tuple[Known, ...]

    def known(self, what: str) -> Known | None:
        """One thing that does not depend on the stage."""
        return next((each for each in self.facts if each.what == what), None)

    @property
    def q10(self) -> float:
        """How much faster it opens 10 °C warmer."""
        told = self.known("opening_q10")
        return OPENING_Q10 if told is None else (told.low + told.high) / 2

    @property
    def stops_c(self) -> float | None:
        """At and below this it does not open; the surer, higher end."""
        told = self.known("stops_c")
        return None if told is None else told.high

    @property
    def spoils_c(self) -> float | None:
        """At and below this it will never open."""
        told = self.known("spoils_c")
        return None if told is None else told.high

    @property
    def dry(self) -> bool | None:
        """Whether it may be stored dry; None where that is not known."""
        return self._yes("dry")

    @property
    def ethylene(self) -> bool | None:
        """Whether ripening fruit, smoke and exhaust age it; None where that is not known."""
        return self._yes("ethylene")

    @property
    def food(self) -> bool | None:
        """Whether bought flower food makes it last longer; None where that is not known."""
        return self._yes("food")

    def rate(self, at_c: float) -> float:
        """How many days at 20 °C one day here is worth; 0 where it stops."""
        if self.stops_c is not None and at_c <= self.stops_c:
            return 0.0
        return float(self.q10 ** ((at_c - OPENING_AT_C) / 10))

    def spoilt(self, spells: Iterable[Spell]) -> bool:
        """Whether it can no longer open after these spells."""
        stood = tuple(spells)
        cold = self.spoils_c
        if cold is not None and any(each.days > 0 and each.at_c <= cold for each in stood):
            return True
        dry_d = sum(each.days for each in stood if each.dry)
        return self.dry is False and dry_d * 24 > DRY_H  # [hand] 24 h a day

    def _yes(self, what: str) -> bool | None:
        told = self.known(what)
        return None if told is None else bool(told.low)


@cache
def openings() -> Mapping[str, Opening]:
    """What is known of each plant, by its id. Raises `TableError`."""
    found: dict[str, Opening] = {}
    for plant, known in groupby(_rows(), key=lambda row: row[0]):
        rows = list(known)
        if plant in found:
            raise TableError(FILE, 0, f"the rows of {plant} do not stand together")
        found[plant] = Opening(
            plant,
            tuple(Stage(stage, told) for _, stage, told in rows if stage),
            tuple(told for _, stage, told in rows if not stage),
        )
    return found


def opening(plant: Plant) -> Opening | None:
    """What is known of how a plant opens; None where there is no stage of it in the table."""
    found = openings().get(plant.id)
    return found if found is not None and found.stages else None


def dose_d(known: Opening, spells: Iterable[Spell]) -> float:
    """How far it has come, in days at 20 °C."""
    return sum(each.days * known.rate(each.at_c) for each in spells)


def days_to_open(known: Opening, stage: Stage, at_c: float) -> tuple[float, float]:
    """Days from a stage until it is open at one temperature; infinite where it stops."""
    rate = known.rate(at_c)
    if rate == 0:
        return math.inf, math.inf
    return stage.takes.low / rate, stage.takes.high / rate


def fresh_d(plant: Plant) -> float:
    """For how many days at 20 °C an open flower is at its best."""
    life = vase_life(plant)
    return FRESH_D if life is None or life.low_d is None else FRESH_SHARE * life.low_d


def state(plant: Plant, stage: Stage, dose: float) -> Word:
    """How a flower from this stage looks after a dose; of lilies only whole mornings count."""
    counted = math.floor(dose + 1e-9) if stage.by_mornings else dose
    if counted < stage.takes.low:
        return "not yet"
    return "open" if counted <= stage.takes.high + fresh_d(plant) else "past"


def opened(plant: Plant, stage: Stage, spells: Iterable[Spell]) -> Word:
    """How a flower from this stage looks after these spells."""
    known, stood = openings()[plant.id], tuple(spells)
    if known.spoilt(stood):
        return "will not open"
    return state(plant, stage, dose_d(known, stood))


def _rows() -> Iterator[tuple[str, str, Known]]:
    known = {each.id for each in plants()}
    for number, row in enumerate(tables.read_csv(FILE, COLUMNS), start=2):
        for value, choices in (
            (row["plant"], known),
            (row["what"], UNIT_OF),
            (row["source"], sources()),
            (row["grade"], GRADES),
        ):
            if value not in choices:
                raise TableError(FILE, number, f"{value!r} is not known")
        if row["unit"] != UNIT_OF[row["what"]]:
            raise TableError(FILE, number, f"{row['what']} is told in {UNIT_OF[row['what']]}")
        if bool(row["stage"]) != (row["what"] in OF_STAGE):
            raise TableError(FILE, number, "days belong to a stage, and nothing else does")
        low, high = float(row["low"]), float(row["high"])
        if low > high:
            raise TableError(FILE, number, f"low {low:g} is above high {high:g}")
        told = Known(row["what"], low, high, row["source"], row["place"], row["grade"])
        yield row["plant"], row["stage"], told
