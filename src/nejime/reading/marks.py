"""What a page sends of marks on pictures: points of the rim, ends, feet and middles of stems.

Model: marks may be incomplete at any time, as they are kept one by one; whether they are enough to
measure is asked afterwards. Pixels of the whole picture in display orientation.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from nejime.basis.errors import Fault, InputError, refuse
from nejime.basis.units import CM_PER_INCH, length_cm

MOST_VIEWS = 2
MOST_RIM = 24  # [own] more is no better
CORNERS = 4
MOST_STEMS = 24  # [own] as many as anybody marks
MARGIN = 0.5  # [own] of a picture's side: an end may lie a little outside
LEAST_LENGTH_CM, MOST_LENGTH_CM = 2.0, 300.0  # [own]
PARTS = ("tip", "base", "mid")
NAME_LETTERS = 60

_PLAIN = re.compile(r"\d{1,6}([.,]\d{1,6})?")
_ID = re.compile(r"[a-z][a-z0-9-]{0,31}")

Json = dict[str, Any]


def marks_of(told: object, view: Mapping[str, Any], shape: str) -> Json:
    """The marks of one view: its rim or corners, its stems, the pins. Raises `InputError`."""
    if not isinstance(told, dict):
        raise _not_marks()
    where = "corners" if shape == "rectangle" else "rim"
    rim = told.get(where, [])
    stems = told.get("stems", [])
    if not isinstance(rim, list) or not isinstance(stems, list):
        raise _not_marks()
    if len(rim) > (CORNERS if shape == "rectangle" else MOST_RIM) or len(stems) > MOST_STEMS:
        raise _not_marks()
    found = [_stem(each, view) for each in stems]
    if len({each["id"] for each in found}) < len(found):
        raise _not_marks()
    pins = told.get("pins")
    return {
        where: [_point(each, view) for each in rim],
        "stems": [s for s in found if len(s) > 1],
        "pins": None if pins is None else _point(pins, view),
    }


def _stem(told: object, view: Mapping[str, Any]) -> Json:
    if not isinstance(told, dict):
        raise _not_marks()
    marked = {part: _point(told[part], view) for part in PARTS if told.get(part) is not None}
    return {"id": stem_id(told.get("id")), **marked}


def stem_id(told: object) -> str:
    """The id of a stem. Raises `InputError`."""
    if not isinstance(told, str) or not _ID.fullmatch(told):
        raise _not_marks()
    return told


def _point(told: object, view: Mapping[str, Any]) -> list[float]:
    """A point within a margin around the picture, to a hundredth of a pixel."""
    if not isinstance(told, list) or len(told) != 2:
        raise _not_marks()
    found = []
    for each, side in zip(told, (view["width"], view["height"]), strict=True):
        found.append(number(each, -MARGIN * side, (1 + MARGIN) * side))
    return found


def number(told: object, least: float, most: float) -> float:
    """A finite number within limits, to a hundredth. Raises `InputError`."""
    if isinstance(told, bool) or not isinstance(told, int | float):
        raise _not_marks()
    if not (math.isfinite(told) and least <= told <= most):
        raise _not_marks()
    return round(float(told), 2)


def facts_of(told: object, unit: str) -> Json:
    """What is told of each stem: its name, how long it is, which way it leans.

    Raises `InputError` at `length.<id>` where a length is none.
    """
    if not isinstance(told, dict) or len(told) > MOST_STEMS:
        raise _not_marks()
    faults: list[Fault] = []
    found: Json = {}
    for key, fact in told.items():
        try:
            found[stem_id(key)] = _fact(key, fact, unit)
        except InputError as trouble:
            faults += trouble.faults
    if faults:
        raise InputError(faults)
    return found


def _fact(key: str, told: object, unit: str) -> Json:
    if not isinstance(told, dict):
        raise _not_marks()
    found: Json = {}
    if isinstance(told.get("name"), str) and told["name"].strip():
        found["name"] = told["name"].strip()[:NAME_LETTERS]
    length = told.get("cut_length_cm")
    if length not in (None, ""):
        found["cut_length_cm"] = _length(key, length, unit)
    if isinstance(told.get("aim"), dict):
        aim = told["aim"]
        found["aim"] = {
            "tilt_deg": number(aim.get("tilt_deg"), 0, 180),
            "bearing_deg": number(aim.get("bearing_deg"), -360, 720) % 360,
        }
    return found


def _length(key: str, told: object, unit: str) -> float:
    field = f"length.{key}"
    try:
        value = _typed(told, unit) if isinstance(told, str) else told
    except ValueError:
        value = None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise refuse(field, "marks.length", "marks.length-try")
    if not LEAST_LENGTH_CM <= value <= MOST_LENGTH_CM:
        raise refuse(
            field,
            "marks.length-range",
            "marks.length-try",
            least_cm=LEAST_LENGTH_CM,
            most_cm=MOST_LENGTH_CM,
        )
    return round(float(value), 2)


def _typed(text: str, unit: str) -> float:
    """A length as it was typed, a plain number in the reader's unit. Raises `ValueError`."""
    plain = text.strip()
    if unit == "in" and _PLAIN.fullmatch(plain):
        return float(plain.replace(",", ".")) * CM_PER_INCH
    return length_cm(plain)


def _not_marks() -> InputError:
    return refuse("marks", "marks.not-marks", "marks.not-marks-try")
