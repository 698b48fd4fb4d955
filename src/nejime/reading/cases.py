"""Descriptions of pieces in numbers, as JSON, for judging many at once.

Model: `{"cases": [...]}` or the bare list. Each case is a holder in a vessel with its stems, in the
keys of `Case`; other keys are let pass and left out. In the place of a fault cases and stems are
counted from 1.
Frame: x right, y away from the viewer, z up; `foot_cm` and `tip_cm` from the middle of the holder's
base, `holder_offset_cm` from the middle of the vessel's foot.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any

from pydantic import ConfigDict

from nejime.basis.errors import InputError
from nejime.reading.checking import Sheet
from nejime.reading.fields import Table, number, point, words
from nejime.reading.json_file import read_json
from nejime.reading.text import read_bytes, refuse_file

MOST_BYTES = 20_000_000  # [own] some twenty thousand cases
MOST = 1e6  # [own] no piece has a measure of 10 km or a mass of a tonne

LEAST = 0.01  # [own] of what cannot be nothing: a tenth of a millimetre, a hundredth of a gram

AboveZero = Annotated[float, number(LEAST, MOST)]
FromZero = Annotated[float, number(0.0, MOST)]
Coordinate = Annotated[float, number(-MOST, MOST)]
OnBase = Annotated[tuple[Coordinate, Coordinate], point(2)]
InSpace = Annotated[tuple[Coordinate, Coordinate, Coordinate], point(3)]


class CaseStem(Table):
    """One stem: a uniform rod from foot to tip, with its head at the tip."""

    model_config = ConfigDict(extra="ignore")

    foot_cm: OnBase
    foot_height_cm: FromZero = 0.0
    tip_cm: InSpace
    stem_g: FromZero
    head_g: FromZero


class Case(Table):
    """One case."""

    model_config = ConfigDict(extra="ignore")

    holder_radius_cm: AboveZero
    holder_height_cm: FromZero = 0.0
    holder_g: AboveZero
    holder_offset_cm: OnBase
    vessel_foot_radius_cm: AboveZero
    vessel_g: FromZero
    water_g: FromZero
    stems: tuple[CaseStem, ...]
    simulated: Annotated[str, words(20)] | None = None


def read_cases(file_name: str, data: bytes) -> Sequence[Mapping[str, Any]]:
    """The cases of a file, each checked. Raises `InputError` with every fault."""
    text = read_bytes(file_name, data, MOST_BYTES)
    found = Sheet(file_name, {"cases": _list(file_name, read_json(file_name, text))}, {})
    checked = [model.model_dump(exclude_none=True) for _, model in found.all("cases", Case)]
    if found.faults:
        raise InputError(found.faults)
    return checked


def _list(file: str, value: Any) -> list[Any]:
    cases = value.get("cases") if isinstance(value, dict) else value
    if not isinstance(cases, list) or not cases:
        raise refuse_file(file, "reading.json.no-cases")
    return cases
