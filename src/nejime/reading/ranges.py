"""A range that somebody typed in two fields, and its ends as they are typed again.

Model: an end is a month, a length, a thickness, a weight, a number of days, a temperature or a
plain number, by the unit of the row to which it belongs; a decimal comma is a point. An empty
field leaves the range open on that side; of months one alone is meant for both ends.
Source: 0 °C is 32 °F and 100 °C 212 °F by definition of the scales; the limits are ours.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying, texts
from nejime.basis.units import inches, length_cm, mass_g
from nejime.reading.fields import shown
from nejime.reading.fingers import thickness_mm

LOW, HIGH = "low", "high"
LIMITS: Mapping[str, tuple[float, float]] = {  # [own] no plant of a class lies outside
    "cm": (0.0, 1000.0),
    "mm": (0.0, 300.0),
    "g": (0.0, 10_000.0),
    "d": (0.0, 366.0),
    "c": (-5.0, 40.0),
    "1": (0.0, 20.0),
}
LEAST_LETTERS = 3  # [own] Jun and Jul differ, Ju does not
DAYS_A_WEEK = 7.0  # [hand]
Range = tuple[float | None, float | None]

_NUMBER = r"([+\-−]?\d+(?:[.,]\d+)?)"
_PLAIN = re.compile(_NUMBER)
_DAYS = re.compile(_NUMBER + r"\s*(d|days?|w|weeks?)?")
_DEGREES = re.compile(_NUMBER + r"\s*°?\s*([cf]?)")
_TIMES = re.compile(r"[×x]?\s*" + _NUMBER + r"\s*[×x]?")


def typed_range(fields: Mapping[str, str], unit: str, reader: str = "cm") -> Range:
    """The range in the fields `low` and `high`, in a row's unit. `reader`: of a plain length.

    Raises `InputError` by field.
    """
    faults: list[Fault] = []
    ends = [_end(fields.get(name, ""), name, unit, reader, faults) for name in (LOW, HIGH)]
    low, high = ends
    if not faults and low is None and high is None:
        faults.append(_fault(LOW, "empty"))
    if unit == "month":
        low, high = (low if high is None else high if low is None else each for each in ends)
    elif low is not None and high is not None and low > high:
        faults.append(_fault(HIGH, "turned"))
    if faults:
        raise InputError(faults)
    return low, high


def as_typed(value: float | None, unit: str, reader: str = "cm") -> str:
    """An end of a range as it stands in its field, so that it is read as the same number."""
    if value is None:
        return ""
    if unit == "month":
        return texts()[f"month.{value:.0f}"]
    if unit == "cm" and reader == "in" and math.isclose(length_cm(inches(value)), value):
        return inches(value)
    return f"{value:.12g}{_WRITTEN.get(unit, '')}"


_WRITTEN = {"cm": " cm", "mm": " mm", "g": " g", "c": " °C"}


def _end(text: str, name: str, unit: str, reader: str, faults: list[Fault]) -> float | None:
    """One end; None where nothing stands there or, its fault noted, where it is wrong."""
    plain = " ".join(text.split()).casefold()
    if not plain:
        return None
    kind = unit if unit in _READ else "1"
    try:
        value = _inches_too(plain) if kind == "cm" and reader == "in" else _READ[kind](plain)
    except (ValueError, OverflowError):
        faults.append(_fault(name, f"not-{KIND_OF[kind]}", typed=shown(text.strip())))
        return None
    least, most = LIMITS.get(kind, (-math.inf, math.inf))
    if not least <= value <= most:
        ends = {"least": f"{least:g}", "most": f"{most:g}{_WRITTEN.get(kind, '')}"}
        faults.append(_fault(name, "outside", typed=shown(text.strip()), **ends))
        return None
    return value


def _fault(name: str, key: str, **told: object) -> Fault:
    return Fault(name, Saying(f"ranges.{key}", **told), Saying(f"ranges.{key}-try", **told))


def _number(text: str) -> float:
    return float(text.replace("−", "-").replace(",", "."))


def _matched(pattern: re.Pattern[str], plain: str) -> re.Match[str]:
    found = pattern.fullmatch(plain)
    if found is None:
        raise ValueError(plain)
    return found


def _month(plain: str) -> float:
    word = plain.rstrip(".")
    if word.isdecimal() and 1 <= float(word) <= 12:
        return float(word)
    names = {number: texts()[f"month.{number}"].casefold() for number in range(1, 13)}
    if len(word) >= LEAST_LETTERS:
        for number, month in names.items():
            if month.startswith(word):
                return float(number)
    raise ValueError(plain)


def _inches_too(plain: str) -> float:
    return length_cm(f"{plain} in" if _PLAIN.fullmatch(plain) else plain)


def _thickness(plain: str) -> float:
    return _number(plain) if _PLAIN.fullmatch(plain) else thickness_mm(plain)


def _days(plain: str) -> float:
    found = _matched(_DAYS, plain)
    return _number(found[1]) * (DAYS_A_WEEK if (found[2] or "").startswith("w") else 1.0)


def _celsius(plain: str) -> float:
    found = _matched(_DEGREES, plain)
    value = _number(found[1])
    return (value - 32.0) * 5.0 / 9.0 if found[2] == "f" else value


def _times(plain: str) -> float:
    return _number(_matched(_TIMES, plain)[1])


_READ: Mapping[str, Callable[[str], float]] = {
    "month": _month,
    "cm": length_cm,
    "mm": _thickness,
    "g": mass_g,
    "d": _days,
    "c": _celsius,
    "1": _times,
}
KIND_OF = {
    "month": "month",
    "cm": "length",
    "mm": "thickness",
    "g": "weight",
    "d": "days",
    "c": "temperature",
    "1": "number",
}
"""What a row's unit is a unit of, as the sayings call it."""
