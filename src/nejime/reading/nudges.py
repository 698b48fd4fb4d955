"""The fields of a correction into nudges: `second.lean`, `second.lean_by` and so on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.forms.nudging import Nudge, Towards
from nejime.forms.rules import PLACES
from nejime.reading.checking import Filled
from nejime.reading.fields import Table, length, number, one_of, yes_or_no

LEANS = ("lower", "higher")
LONG = ("shorter", "longer")
TURNS: tuple[Towards, ...] = ("left", "right", "front", "back")
USUAL_LEAN_DEG, USUAL_TURN_DEG = 10.0, 15.0  # [own] what is seen from a chair
USUAL_LENGTH_CM = 3.0  # [own] the same
FIELDS = ("lean", "lean_by", "cut", "cut_by", "turn", "turn_by", "off")


class NudgeTable(Table):
    """The fields of one stem."""

    lean: Annotated[str, one_of(LEANS)] | None = None
    lean_by: Annotated[float, number(0, 135)] = USUAL_LEAN_DEG
    cut: Annotated[str, one_of(LONG)] | None = None
    cut_by: Annotated[float, length(0.1, 200.0)] = USUAL_LENGTH_CM
    turn: Annotated[Towards, one_of(TURNS)] | None = None
    turn_by: Annotated[float, number(0, 180)] = USUAL_TURN_DEG
    off: Annotated[bool, yes_or_no()] = False


def nudges(
    fields: Mapping[str, str], stems: Iterable[str], unit: str = "cm"
) -> tuple[dict[str, Nudge], str | None]:
    """The nudge of each stem by its id, and the place of the pin holder, None where it stays.

    Raises `InputError`.
    """
    sheet = Filled("", {}, {})
    found = {}
    for stem in stems:
        given = {key: fields.get(f"{stem}.{key}", "").strip() for key in FIELDS}
        table = sheet.checked(
            NudgeTable,
            {key: _value(key, text, unit) for key, text in given.items() if text},
            (stem,),
        )
        if table is not None:
            found[stem] = _nudge(table)
    where = fields.get("holder", "").strip()
    if where and where not in PLACES:
        sheet.wrong(
            ("holder",),
            "reading.not-one-of",
            typed=where,
            choices=", ".join(PLACES),
            meant=Saying("reading.write-one"),
        )
    if sheet.faults:
        raise InputError(sheet.faults)
    return found, where or None


def _value(key: str, text: str, unit: str) -> object:
    if key == "off":
        return text == "yes"
    if key in ("lean_by", "turn_by"):
        plain = text.removesuffix("°").strip().replace(",", ".")
        try:
            return float(plain)
        except ValueError:
            return text
    if key == "cut_by" and unit == "in" and text.replace(".", "", 1).isdecimal():
        return f"{text} in"
    return text


def _nudge(table: NudgeTable) -> Nudge:
    lower = {"lower": table.lean_by, "higher": -table.lean_by}
    longer = {"longer": table.cut_by, "shorter": -table.cut_by}
    return Nudge(
        lower_deg=lower[table.lean] if table.lean else 0.0,
        longer_cm=longer[table.cut] if table.cut else 0.0,
        towards=table.turn,
        turn_deg=table.turn_by if table.turn else 0.0,
        off=table.off,
    )
