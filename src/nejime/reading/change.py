"""One change at the arranging table: what was dragged, typed, chosen, added or taken away.

Model: a change says what act it is and carries that act's fields. Dragged numbers are true ones in
the vessel, in centimetres and degrees; typed ones are text, read like any length or lean.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import Field

from nejime.basis.errors import InputError
from nejime.drawings.tints import SEASONS
from nejime.drawings.wire import GLAZES
from nejime.forms.rules import SIZES, Size
from nejime.forms.stems import Role
from nejime.reading.checking import Sheet
from nejime.reading.design import OwnLine
from nejime.reading.fields import Table, direction, lean, length, one_of
from nejime.reading.tables import FormName, OpensTo, PlantId, StemMm
from nejime.reading.typed import value_of

LEAST_CM, MOST_CM = 1.0, 300.0  # [own] a shorter stem cannot be put on pins
TYPED = ("length", "have", "water")  # lengths that are typed as text
FAR_CM = 200.0  # [own] no foot or pin holder is further away

Number = Annotated[float, Field(allow_inf_nan=False)]
Near = Annotated[float, Field(ge=-FAR_CM, le=FAR_CM, allow_inf_nan=False)]
Long = Annotated[float, length(LEAST_CM, MOST_CM)]
Lean = Annotated[float, lean()]
Direction = Annotated[float, direction()]
Deep = Annotated[float, length(0.5, 100.0)]
StemId = Annotated[str, Field(pattern=r"^(first|second|third|(sub|heart|leaf)-[1-9][0-9]?)$")]


class StemChange(Table):
    """A stem is set: what is given is changed, the rest stays."""

    act: Literal["stem"]
    id: StemId
    length: Long | None = None
    lean: Lean | None = None
    direction: Direction | None = None
    foot: tuple[Near, Near] | None = None
    bow: Annotated[float, Field(ge=-60.0, le=60.0, allow_inf_nan=False)] | None = None
    roll: Annotated[float, Field(ge=-360.0, le=360.0, allow_inf_nan=False)] | None = None
    open: Annotated[float, Field(ge=0.0, le=1.0)] | None = None
    off: OwnLine | None = None
    plant: PlantId | None = None
    thickness: StemMm | None = None
    another: bool = False


class HolderChange(Table):
    """The pin holder is moved."""

    act: Literal["holder"]
    x: Near
    y: Near


class AddChange(Table):
    """One more stem of a role."""

    act: Literal["add"]
    role: Annotated[Role, one_of(("helper", "heart", "leaf"))]
    plant: PlantId


class OneChange(Table):
    """A stem is taken away, or goes back to where the form has it."""

    act: Literal["take", "back"]
    id: StemId


class WholeChange(Table):
    """Something of the whole piece is chosen anew."""

    act: Literal["whole"]
    form: FormName | None = None
    proportions: str | None = None
    size: Annotated[Size, one_of(SIZES)] | None = None
    opens: OpensTo | None = None
    glaze: Annotated[str, one_of(GLAZES)] | None = None
    season: Annotated[str, one_of(SEASONS)] | None = None
    vessel: dict[str, Any] | None = None
    holder: dict[str, Any] | None = None
    water: Deep | None = None


Change = StemChange | HolderChange | AddChange | OneChange | WholeChange
_ACTS: Mapping[str, type[Table]] = {
    "stem": StemChange,
    "holder": HolderChange,
    "add": AddChange,
    "take": OneChange,
    "back": OneChange,
    "whole": WholeChange,
}


def read_change(tree: Mapping[str, Any], unit: str = "cm") -> Change:
    """The change that the page tells of. Raises `InputError` with every fault.

    `unit`: what a plain length is in that was typed; a dragged one is a number, in centimetres.
    """
    tree = _in_unit(tree, unit)
    found = Sheet("", tree, {})
    model = _ACTS.get(str(tree.get("act")))
    if model is None:
        found.wrong(("act",), "reading.not-possible", typed=str(tree.get("act"))[:40])
        raise InputError(found.in_order())
    change = found.checked(model, dict(tree), ())
    if found.faults or change is None:
        raise InputError(found.in_order())
    return change  # type: ignore[return-value]


def _in_unit(tree: Mapping[str, Any], unit: str) -> dict[str, Any]:
    """What was typed as text, in the reader's unit."""
    told = {
        key: value_of("length", value, unit) if key in TYPED and isinstance(value, str) else value
        for key, value in tree.items()
    }
    vessel = told.get("vessel")
    if isinstance(vessel, dict):
        told["vessel"] = {
            key: value_of(key, value, unit) if isinstance(value, str) else value
            for key, value in vessel.items()
        }
    return told


class HaveTable(Table):
    """How long a branch is, instead of a stem."""

    id: StemId
    have: Long


def read_have(tree: Mapping[str, Any], unit: str = "cm") -> tuple[str, float]:
    """The stem, and how long the branch is that is there for it. Raises `InputError`."""
    tree = _in_unit(tree, unit)
    found = Sheet("", tree, {})
    told = found.checked(HaveTable, {key: tree.get(key) for key in ("id", "have")}, ())
    if told is None:
        raise InputError(found.in_order())
    return told.id, told.have
