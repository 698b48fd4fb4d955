"""What is done to stems before a class, plant group by plant group: `data/conditioning.csv`.

Model: a treatment is a list of steps. Steps of the phase `prepare` are done when the stems come
home, `hold` is the rest in water that follows, `class` is for the day. A step that must be done
again after every cut (`every_cut`) makes the whole treatment one: such stems are cut to their final
length first and not cut in class. A step `at_home` needs boiling water or a flame and is never for
a public room.
Shapes: times in minutes, depths in centimetres, as ranges; None where nothing is known.
Source: on each row, with its grade and, where a custom was tried or was not, what is known of that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from itertools import groupby

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants.plant import TREATMENTS
from nejime.plants.table import Plant

FILE = "conditioning.csv"
COLUMNS = (
    "treatment",
    "order",
    "step",
    "phase",
    "low",
    "high",
    "unit",
    "optional",
    "at_home",
    "every_cut",
    "do_not",
    "evidence",
    "evidence_source",
    "source",
    "place",
    "grade",
)
PHASES = ("prepare", "hold", "class")
LIMP = "limp"
"""What is done with stems that hang after the night; no plant has it as its own treatment."""
MIN_PER = {"s": 1 / 60, "min": 1.0, "h": 60.0}  # [hand] 60 s a minute, 60 min an hour


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, for how long or how deep, what not to do, and how well it is known."""

    treatment: str
    name: str
    phase: str
    low: float | None
    high: float | None
    unit: str
    optional: bool
    at_home: bool
    every_cut: bool
    do_not: Saying | None
    evidence: Saying | None
    evidence_source: str
    source: str
    place: str
    grade: str

    @property
    def says(self) -> Saying:
        """The step as a sentence."""
        key = f"keeping.step.{self.name}"
        if self.low is None:
            return Saying(key)
        ending = "_cm" if self.unit == "cm" else ""
        return Saying(key, **{f"low{ending}": self.low, f"high{ending}": self.high})

    @property
    def least_min(self) -> float | None:
        """The shortest time, in minutes; None where it is no matter of time."""
        return self._minutes(self.low)

    @property
    def best_min(self) -> float | None:
        """The time to give it where there is time, in minutes."""
        return self._minutes(self.high)

    def _minutes(self, value: float | None) -> float | None:
        return None if value is None or self.unit not in MIN_PER else value * MIN_PER[self.unit]


@dataclass(frozen=True, slots=True)
class Treatment:
    """All steps for a group of plants, in their order."""

    key: str
    steps: tuple[Step, ...]

    def phase(self, name: str) -> tuple[Step, ...]:
        """The steps of one phase (`PHASES`)."""
        return tuple(step for step in self.steps if step.phase == name)

    @property
    def hold(self) -> Step | None:
        """The rest in water before the class."""
        return next(iter(self.phase("hold")), None)

    @property
    def repeats(self) -> bool:
        """Whether it must be done again after every cut: so the final cut comes first."""
        return any(step.every_cut for step in self.steps)

    @property
    def needs_fire(self) -> bool:
        """Whether a step of it asks for boiling water or a flame."""
        return any(step.at_home for step in self.steps)


@cache
def treatments() -> Mapping[str, Treatment]:
    """Every treatment by its key, `limp` among them. Raises `TableError`."""
    return {
        key: Treatment(key, tuple(steps))
        for key, steps in groupby(_steps(), key=lambda step: step.treatment)
    }


def treatment(plant: Plant) -> Treatment:
    """How a plant is treated."""
    return treatments()[plant.treatment]


def growth_cm(plant: Plant) -> tuple[float, float] | None:
    """How much it goes on growing after it is cut; None where nothing is known of that."""
    fact = plant.fact("grows_after_cutting_cm")
    if fact is None or fact.low is None or fact.high is None:
        return None
    return fact.low, fact.high


def _steps() -> Iterator[Step]:
    last = ("", 0)
    for number, row in enumerate(tables.read_csv(FILE, COLUMNS), start=2):
        place = (row["treatment"], int(row["order"]))
        if place[0] == last[0] and place[1] != last[1] + 1:
            raise TableError(FILE, number, "the steps of a treatment are counted 1, 2, 3 …")
        last = place
        yield _step(row, number)


def _step(row: dict[str, str], number: int) -> Step:
    tables.check_one_of(FILE, number, row["treatment"], (*TREATMENTS, LIMP))
    tables.check_one_of(FILE, number, row["phase"], PHASES)
    tables.check_one_of(FILE, number, row["unit"], ("", "cm", *MIN_PER))
    tables.check_one_of(FILE, number, row["grade"], GRADES)
    for key in {row["source"], row["evidence_source"]} - {""}:
        tables.check_one_of(FILE, number, key, tuple(sources()))
    low, high = (float(row[name]) if row[name] else None for name in ("low", "high"))
    if (low is None) != (high is None) or (low is not None and high is not None and low > high):
        raise TableError(FILE, number, "low and high are both given, low first, or both left out")
    return Step(
        treatment=row["treatment"],
        name=row["step"],
        phase=row["phase"],
        low=low,
        high=high,
        unit=row["unit"],
        optional=_yes(number, row["optional"]),
        at_home=_yes(number, row["at_home"]),
        every_cut=_yes(number, row["every_cut"]),
        do_not=Saying(f"keeping.do-not.{row['do_not']}") if row["do_not"] else None,
        evidence=Saying(f"keeping.evidence.{row['evidence']}") if row["evidence"] else None,
        evidence_source=row["evidence_source"],
        source=row["source"],
        place=row["place"],
        grade=row["grade"],
    )


def _yes(number: int, cell: str) -> bool:
    tables.check_one_of(FILE, number, cell, ("yes", "no"))
    return cell == "yes"
