"""Numbers as people type and read them.

Everything inside is in centimetres, grams, degrees, minutes and the smallest unit of a currency.
Text is turned into numbers, and numbers are rounded for display, only here.

Source: an inch is 2.54 cm exactly, a pound 453.59237 g (international yard and pound, 1959);
0 °C is 32 °F and 5 °C are 9 °F.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction

CM_PER_INCH = 2.54  # [bipm2019]
G_PER_OUNCE = 28.349523125  # [bipm2019]

_LENGTHS = {
    "": 1.0,
    "cm": 1.0,
    "mm": 0.1,
    "m": 100.0,
    "in": CM_PER_INCH,
    "inch": CM_PER_INCH,
    "inches": CM_PER_INCH,
    '"': CM_PER_INCH,
    "″": CM_PER_INCH,
    "”": CM_PER_INCH,
    "ft": 12 * CM_PER_INCH,
    "feet": 12 * CM_PER_INCH,
    "foot": 12 * CM_PER_INCH,
    "'": 12 * CM_PER_INCH,
}
_MASSES = {
    "": 1.0,
    "g": 1.0,
    "kg": 1000.0,
    "oz": G_PER_OUNCE,
    "lb": 16 * G_PER_OUNCE,
    "lbs": 16 * G_PER_OUNCE,
}
_TYPED = re.compile(
    r"^(?P<whole>[+-]?\d+(?:[.,]\d+)?)?"
    r"(?:\s*[- ]?(?P<over>\d{1,3})\s*/\s*(?P<under>\d{1,3})|(?P<vulgar>[¼½¾⅛⅜⅝⅞]))?"
    r"\s*(?P<unit>[a-z\"'″”]*)\.?$"
)
_VULGAR = {"¼": 1 / 4, "½": 1 / 2, "¾": 3 / 4, "⅛": 1 / 8, "⅜": 3 / 8, "⅝": 5 / 8, "⅞": 7 / 8}
_QUARTERS = {Fraction(1, 4): "¼", Fraction(1, 2): "½", Fraction(3, 4): "¾"}


MOST_DIGITS = 15  # [own] more stand in no field of ours


def whole_number(text: str) -> int | None:
    """A whole number as it was typed, 0 or more; None for anything else, or one too long."""
    plain = text.strip()
    return int(plain) if plain.isdecimal() and len(plain) <= MOST_DIGITS else None


_TWO_UNITS = re.compile(r"^(\d+ *(?:ft|feet|foot|'|lbs?)\.?) *(\d.*)$")


def _typed(text: str, known: dict[str, float]) -> float:
    """The value of a typed number with a unit, or of two: `1 ft 2 in`. Raises `ValueError`."""
    two = _TWO_UNITS.match(text.strip().lower())
    if two:
        return _number(two[1], known) + _number(two[2], known)
    return _number(text, known)


def _number(text: str, known: dict[str, float]) -> float:
    found = _TYPED.match(text.strip().lower())
    if not found or found["unit"] not in known:
        raise ValueError(text)
    whole, over, vulgar = found["whole"], found["over"], found["vulgar"]
    if whole is None and over is None and vulgar is None:
        raise ValueError(text)
    value = float((whole or "0").replace(",", "."))
    part = _VULGAR[vulgar] if vulgar else 0.0
    if over:
        if int(found["under"]) == 0:
            raise ValueError(text)
        part = int(over) / int(found["under"])
    return (value + math.copysign(part, value)) * known[found["unit"]]


def length_cm(typed: str | float) -> float:
    """Centimetres from `30`, `30 cm`, `300 mm`, `12 in`, `12"`, `5 1/2 in`, `1 ft`.

    Raises `ValueError` with the text as it was typed.
    """
    return float(typed) if isinstance(typed, int | float) else _typed(typed, _LENGTHS)


def mass_g(typed: str | float) -> float:
    """Grams from `800`, `800 g`, `1.2 kg`, `3 oz`, `2 lb`. Raises `ValueError`."""
    return float(typed) if isinstance(typed, int | float) else _typed(typed, _MASSES)


def inches(value_cm: float) -> str:
    """Centimetres as inches to the nearest quarter, as on a ruler: `21¼ in`."""
    quarters = Fraction(round(abs(value_cm) / CM_PER_INCH * 4), 4)
    whole, part = divmod(quarters, 1)
    sign = "−" if value_cm < 0 and quarters else ""
    number = f"{whole}" if whole or not part else ""
    return f"{sign}{number}{_QUARTERS.get(part, '')} in"


def as_said_cm(value_cm: float) -> float:
    """A length as a teacher says it in centimetres: to the half below 10, to the whole above."""
    step = 0.5 if abs(value_cm) < 10 else 1.0
    # Half a step goes up: 40.5 is said as 41, the same on every machine.
    return math.copysign(math.floor(abs(value_cm) / step + 0.5) * step, value_cm)


def centimetres(value_cm: float, *, bare: bool = False) -> str:
    """Centimetres as a teacher says them: to the half below 10, to the whole above."""
    return f"{_minus(as_said_cm(value_cm))}" + ("" if bare else " cm")


def length(value_cm: float, unit: str, *, bare: bool = False) -> str:
    """A length for display in `cm`, `in` or `both`."""
    if unit == "in":
        return inches(value_cm)
    if unit == "cm":
        return centimetres(value_cm, bare=bare)
    return f"{centimetres(value_cm)} ({inches(value_cm)})"


def money(price_minor: int, sign: str, decimals: int) -> str:
    """An amount in a currency's smallest unit, as it is printed on a price card."""
    amount = f"{abs(price_minor) / 10**decimals:,.{decimals}f}"
    return f"{'−' if price_minor < 0 else ''}{sign}{amount}"


def temperature(at_c: float, unit: str, *, bare: bool = False) -> str:
    """A temperature for display: Fahrenheit beside or instead of Celsius as lengths have inches."""
    celsius = _minus(round(at_c))
    fahrenheit = _minus(round(at_c * 9 / 5 + 32))
    if unit == "in":
        return fahrenheit if bare else f"{fahrenheit} °F"
    if unit == "cm" or bare:
        return celsius if bare else f"{celsius} °C"
    return f"{celsius} °C ({fahrenheit} °F)"


_UNIT_WORDS = {
    "mm": (" mm", 0),
    "g": (" g", 0),
    "kg": (" kg", 1),
    "ml": (" ml", 0),
    "l": (" l", 1),
    "deg": ("°", 0),
    "min": (" min", 0),
    "percent": (" %", 0),
}


def plain(value: float, unit: str, *, bare: bool = False) -> str:
    """A number with the unit that its name ends in; without a known unit, as short as it is."""
    if unit not in _UNIT_WORDS:
        return _minus(value)
    word, decimals = _UNIT_WORDS[unit]
    return f"{_minus(round(value, decimals))}{'' if bare else word}"


def _minus(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text.replace("-", "−")
