"""Piece by piece descriptions, judged as rigid bodies: does it stand, and what would tip?

Model: no bending, no buoyancy, no spread; the holder and the vessel's foot are round and end at the
given radius. Stems are uniform with the head at the tip.
Frame: x right, y away from the viewer; `foot_cm` and `tip_cm` from the middle of the holder's
base, `holder_offset_cm` from the middle of the vessel's foot.
Source: statics; see `tipping`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying
from nejime.standing.tipping import Bodies, bodies, circle, tipping, together

Falls = Literal["stands", "holder", "vessel"]


@dataclass(frozen=True, slots=True)
class CaseAnswer:
    """What became of a description; a load factor is None where no direction overturns."""

    load_factor_holder: float | None
    load_factor_vessel: float | None
    falls: Falls


def judge_case(case: Mapping[str, Any], place: str = "") -> CaseAnswer:
    """Judges one description.

    It holds `holder_radius_cm`, `holder_g`, `holder_offset_cm`, `vessel_foot_radius_cm`,
    `vessel_g`, `water_g` and `stems`, each with `foot_cm`, `tip_cm`, `stem_g`, `head_g`. `place`
    is written before the names of what is at fault. Raises `InputError`.
    """
    read = _Reader(case, place)
    holder_radius, holder_g = read.above_zero("holder_radius_cm"), read.above_zero("holder_g")
    foot_radius = read.above_zero("vessel_foot_radius_cm")
    vessel_g = read.at_least_zero("vessel_g") + read.at_least_zero("water_g")
    offset = read.point("holder_offset_cm", 2)
    stems = [_stem(stem) for stem in read.rows("stems")]
    read.finish(*(stem for stem, _ in stems))
    load = together(*(each for _, each in stems)) if stems else bodies([0.0], [[0.0, 0.0]])
    moved = Bodies(load.g, load.moment_g_cm + load.g * np.array(offset))
    on_holder = tipping(circle(holder_radius), bodies([holder_g], [[0.0, 0.0]]), load)
    base = bodies([vessel_g, holder_g], [[0.0, 0.0], offset])
    on_table = tipping(circle(foot_radius), base, moved)
    return _answer(float(on_holder.factor), float(on_table.factor))


def _answer(holder: float, vessel: float) -> CaseAnswer:
    falls: Falls = "stands"
    if min(holder, vessel) < 1.0:
        falls = "holder" if holder <= vessel else "vessel"
    return CaseAnswer(_finite(holder), _finite(vessel), falls)


def _finite(factor: float) -> float | None:
    return factor if math.isfinite(factor) else None


def _stem(read: _Reader) -> tuple[_Reader, Bodies]:
    foot, tip = read.point("foot_cm", 2), read.point("tip_cm", 3)[:2]
    middle = [(low + high) / 2 for low, high in zip(foot, tip, strict=True)]
    masses = [read.at_least_zero("stem_g"), read.at_least_zero("head_g")]
    return read, bodies(masses, [middle, tip])


class _Reader:
    """Numbers out of one description; what is missing or impossible is gathered as faults."""

    def __init__(self, table: Any, place: str) -> None:
        self.table: Mapping[str, Any] = table if isinstance(table, Mapping) else {}
        self.place = place
        self.faults: list[Fault] = []

    def _fault(self, name: str, key: str) -> None:
        field = f"{self.place}.{name}" if self.place else name
        self.faults.append(Fault(field, Saying(f"standing.case.{key}", field=name)))

    def _number(self, value: Any, name: str, key: str) -> float:
        good = isinstance(value, int | float) and not isinstance(value, bool)
        if not good or not math.isfinite(value):
            self._fault(name, key)
            return 1.0
        return float(value)

    def above_zero(self, name: str) -> float:
        """A number greater than 0."""
        number = self._number(self.table.get(name), name, "above-zero")
        if number <= 0:
            self._fault(name, "above-zero")
            return 1.0
        return number

    def at_least_zero(self, name: str) -> float:
        """A number that is not negative."""
        number = self._number(self.table.get(name), name, "at-least-zero")
        if number < 0:
            self._fault(name, "at-least-zero")
            return 1.0
        return number

    def point(self, name: str, count: int) -> list[float]:
        """A place of two or three numbers."""
        value = self.table.get(name)
        if not isinstance(value, Sequence) or isinstance(value, str) or len(value) != count:
            self._fault(name, f"place-of-{count}")
            return [0.0] * count
        return [self._number(each, name, f"place-of-{count}") for each in value]

    def rows(self, name: str) -> list[_Reader]:
        """A list of tables."""
        value = self.table.get(name)
        if not isinstance(value, Sequence) or isinstance(value, str):
            self._fault(name, "list")
            return []
        before = f"{self.place}." if self.place else ""
        return [_Reader(row, f"{before}{name}[{at}]") for at, row in enumerate(value, start=1)]

    def finish(self, *inner: _Reader) -> None:
        """Raises `InputError` with every fault found, here and inside."""
        faults = [fault for reader in (self, *inner) for fault in reader.faults]
        if faults:
            raise InputError(faults)
