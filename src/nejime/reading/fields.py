"""The kinds of value that a field can hold, each saying in words why it refuses one.

Model: a kind is a pydantic validator that runs before pydantic's own, so that every refusal is a
key of ours with its quantities. Numbers come as `int` or, exact as they were typed, as `Decimal`.
"""

from __future__ import annotations

import datetime as dt
import math
import re
import unicodedata
from collections.abc import Callable, Sequence
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction
from typing import Any

from pydantic import BaseModel, BeforeValidator, ConfigDict
from pydantic_core import PydanticCustomError

from nejime.basis.sayings import Saying
from nejime.basis.units import length_cm, mass_g
from nejime.forms.rules import MOST_TILT_DEG
from nejime.reading.fingers import thickness_mm
from nejime.standing.masses import THICKNESS_MM

AS_WRITTEN = {None: "null", True: "true", False: "false"}  # in TOML and JSON
SHOWN_LETTERS = 40  # [own] of a value that is repeated in a sentence
MOST_MONEY = Decimal(1_000_000)  # [own] in the main unit; no class costs more
MOST_PLACES = 30  # [own] no amount is written with more figures after the point
ALIKE = 0.6  # [own] difflib's own usual cut-off
TURNS_WRITING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"  # Unicode bidi controls

OTHER_WORDS = {  # [own] what people write for a key of ours
    "people": "person",
    "participant": "person",
    "participants": "person",
    "student": "person",
    "students": "person",
    "plants": "material",
    "bowl": "vessel",
    "kenzan": "holder",
    "diameter": "width",
    "length": "width",
    "weight": "mass",
    "weighs": "mass",
    "material": "ware",
    "quantity": "count",
    "number": "count",
    "amount": "count",
    "cost": "price",
    "time": "start",
    "duration": "minutes",
    "timezone": "zone",
    "notes": "note",
    "flower": "plant",
    "role": "for",
    "quality": "how",
    "angle": "lean",
    "bearing": "direction",
}


class Table(BaseModel):
    """A table whose keys are all known; a key that is not among them is a fault."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def wrong(key: str, /, **quantities: object) -> PydanticCustomError:
    """The refusal of a value; `checking` makes a `Fault` of it."""
    return PydanticCustomError("reading", "reading", {"says": key, **quantities})


def shown(value: object) -> str:
    """A value as it may be repeated in a sentence: short, on one line."""
    try:
        text = AS_WRITTEN[value] if value is None or isinstance(value, bool) else str(value)
    except ValueError:  # a whole number of thousands of digits
        text = "…"
    kept = "".join(" " if _unprintable(letter) else letter for letter in text[: SHOWN_LETTERS * 2])
    return kept if len(kept) <= SHOWN_LETTERS else f"{kept[: SHOWN_LETTERS - 1]}…"


def _unprintable(letter: str) -> bool:
    return unicodedata.category(letter) in {"Cc", "Cs", "Zl", "Zp"} or letter in TURNS_WRITING


def alike(word: str, known: Sequence[str], most: int = 1) -> list[str]:
    """The known words that look most like one that is not known."""
    plain = {each.casefold(): each for each in known}
    close = get_close_matches(word.casefold(), plain, n=most, cutoff=ALIKE)
    return [plain[each] for each in close]


def meant(word: str, known: Sequence[str]) -> object:
    """What to do about an unknown word: the one that is meant, it seems, or all there are."""
    other = OTHER_WORDS.get(word.casefold(), "")
    close = [other] if other in known else alike(word, known)
    if close:
        return Saying("reading.did-you-mean", word=close[0])
    if known:
        return Saying("reading.choose", choices=", ".join(known))
    return Saying("reading.leave-out")


def _plain_number(value: object) -> float | None:
    """A typed number as a float; None for anything that is not one."""
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        return None
    try:
        return float(value)
    except OverflowError:
        return math.inf


def _measure(
    kind: str,
    read: Callable[[str | float], float],
    least: float,
    most: float,
    unit: str,
    **told: object,
) -> BeforeValidator:
    def check(value: Any) -> float:
        number = _plain_number(value)
        if number is None and not isinstance(value, str):
            raise wrong(f"reading.not-a-{kind}", typed=shown(value), **told)
        try:
            found = read(value if number is None else number)
        except (ValueError, OverflowError):
            raise wrong(f"reading.not-a-{kind}", typed=shown(value), **told) from None
        if not math.isfinite(found):
            raise wrong("reading.not-measurable", typed=shown(value))
        if not least <= found <= most:
            raise wrong(
                f"reading.{kind}-outside",
                **{f"value_{unit}": found, f"least_{unit}": least, f"most_{unit}": most},
            )
        return found

    return BeforeValidator(check)


def length(least_cm: float = -math.inf, most_cm: float = math.inf) -> BeforeValidator:
    """A length in cm: `30`, `"30 cm"`, `"12 in"`."""
    return _measure("length", length_cm, least_cm, most_cm, "cm")


def mass(least_g: float = -math.inf, most_g: float = math.inf) -> BeforeValidator:
    """A mass in g: `450`, `"450 g"`, `"1 lb"`."""
    return _measure("mass", mass_g, least_g, most_g, "g")


def thickness(least_mm: float, most_mm: float) -> BeforeValidator:
    """A stem's thickness in mm: `"pencil"`, `"8 mm"`."""
    return _measure(
        "thickness", thickness_mm, least_mm, most_mm, "mm", choices=", ".join(THICKNESS_MM)
    )


def number(least: float, most: float) -> BeforeValidator:
    """A plain finite number."""

    def check(value: Any) -> float:
        found = _plain_number(value)
        if found is None:
            raise wrong("reading.not-a-number", typed=shown(value))
        if not least <= found <= most:
            raise wrong("reading.number-outside", typed=shown(value), least=least, most=most)
        return found

    return BeforeValidator(check)


def point(count: int) -> BeforeValidator:
    """A place, told by so many numbers in a list."""

    def check(value: Any) -> Any:
        if not isinstance(value, list) or len(value) != count:
            raise wrong("reading.not-a-point", count=count)
        return value

    return BeforeValidator(check)


def whole(least: int, most: int) -> BeforeValidator:
    """A whole number."""

    def check(value: Any) -> int:
        if isinstance(value, Decimal) and value.is_finite() and abs(value) < MOST_MONEY:
            value = int(value) if value == int(value) else value
        if isinstance(value, bool) or not isinstance(value, int):
            raise wrong("reading.not-whole", typed=shown(value))
        found = int(value)
        if not least <= found <= most:
            raise wrong("reading.number-outside", typed=shown(found), least=least, most=most)
        return found

    return BeforeValidator(check)


def yes_or_no() -> BeforeValidator:
    """`true` or `false`."""

    def check(value: Any) -> bool:
        if not isinstance(value, bool):
            raise wrong("reading.not-yes-or-no", typed=shown(value))
        return value

    return BeforeValidator(check)


def words(most_letters: int, *, blank: bool = True) -> BeforeValidator:
    """A text without space around it, at most so long, without control characters."""

    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise wrong("reading.not-text", typed=shown(value))
        found = value.strip()
        if not found and not blank:
            raise wrong("reading.blank")
        if len(found) > most_letters:
            raise wrong("reading.too-long", count=len(found), most=most_letters)
        bad = next((letter for letter in found if _unprintable(letter) and letter != "\n"), None)
        if bad is not None:
            raise wrong("reading.control-character", code=f"U+{ord(bad):04X}")
        return " ".join(found.split())

    return BeforeValidator(check)


def one_of(choices: Sequence[str], otherwise: str = "reading.write-one") -> BeforeValidator:
    """One of some words; capitals and hyphens do not count.

    `otherwise`: the saying for what to do when the word is like none of them.
    """
    plain = {_plain_word(each): each for each in choices}

    def check(value: Any) -> str:
        if isinstance(value, str) and _plain_word(value) in plain:
            return plain[_plain_word(value)]
        near = alike(shown(value), choices)
        raise wrong(
            "reading.not-one-of",
            typed=shown(value),
            choices=", ".join(choices),
            meant=meant(shown(value), choices) if near else Saying(otherwise),
        )

    return BeforeValidator(check)


def _plain_word(word: str) -> str:
    return " ".join(word.casefold().replace("-", " ").split())


def lean() -> BeforeValidator:
    """How far a stem leans, in degrees."""

    def check(value: Any) -> float:
        found = _degrees(value)
        if found is None:
            raise wrong("reading.not-a-number", typed=shown(value))
        if not 0 <= found <= MOST_TILT_DEG:
            raise wrong("reading.lean-outside", typed=shown(value), most_deg=MOST_TILT_DEG)
        return found

    return BeforeValidator(check)


def direction() -> BeforeValidator:
    """Where a stem points, in degrees: `"front left"`, or a number clockwise from straight back."""

    def check(value: Any) -> float:
        found = _degrees(value)
        if found is not None and 0 <= found <= 360:
            return found % 360
        said = frozenset(_plain_word(value).split()) if isinstance(value, str) else frozenset()
        if said - _FILLING in BEARINGS_DEG:
            return BEARINGS_DEG[said - _FILLING]
        raise wrong("reading.not-a-direction", typed=shown(value))

    return BeforeValidator(check)


def _degrees(value: Any) -> float | None:
    """A number of degrees, with or without their sign; None where it is none."""
    if isinstance(value, str):
        text = value.strip().removesuffix("°").rstrip().replace(",", ".")
        return float(text) if _DEGREES.fullmatch(text) else None
    return _plain_number(value)


_DEGREES = re.compile(r"\d{1,3}(?:\.\d{1,3})?")
_FILLING = {"straight", "to", "the", "towards", "and"}
BEARINGS_DEG = {  # in any order of the two words
    frozenset(name.split()): 45.0 * turn
    for turn, names in enumerate(
        (
            ("back", "away"),
            ("back right",),
            ("right",),
            ("front right",),
            ("front", "viewer", "me"),
            ("front left",),
            ("left",),
            ("back left",),
        )
    )
    for name in names
}

_AMOUNT = re.compile(r"^\d{1,9}(?:[.,]\d{1,9})?$")


def amount() -> BeforeValidator:
    """Money in the main unit, exact: `7.99`. It becomes whole small units in `money`."""

    def check(value: Any) -> Decimal:
        if isinstance(value, str) and _AMOUNT.match(value.strip()):
            value = Decimal(value.strip().replace(",", "."))
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise wrong("reading.not-money", typed=shown(value))
        if isinstance(value, Decimal) and not value.is_finite():
            raise wrong("reading.not-money", typed=shown(value))
        if not 0 <= value <= MOST_MONEY:
            raise wrong("reading.money-outside", typed=shown(value), most=f"{MOST_MONEY:,}")
        return Decimal(value)

    return BeforeValidator(check)


def small_units(value: Decimal, decimals: int) -> int:
    """`7.99` with two decimal places as 799. Raises `ValueError` where that is not whole."""
    if not value:
        return 0
    exponent = value.as_tuple().exponent
    if not isinstance(exponent, int) or exponent < -MOST_PLACES:
        raise ValueError(str(value))
    exact = Fraction(value) * 10**decimals
    if exact.denominator != 1:
        raise ValueError(str(value))
    return int(exact)


def day() -> BeforeValidator:
    """A date: `2026-03-14`, as it is or as text."""

    def check(value: Any) -> dt.date:
        if isinstance(value, dt.datetime):
            raise wrong("reading.date-with-time")
        found = _typed_date(value) if isinstance(value, str) else value
        if not isinstance(found, dt.date):
            raise wrong("reading.not-a-date", typed=shown(value))
        if not FIRST_YEAR <= found.year <= LAST_YEAR:
            raise wrong(
                "reading.year-outside", typed=shown(value), least=FIRST_YEAR, most=LAST_YEAR
            )
        return found

    return BeforeValidator(check)


FIRST_YEAR, LAST_YEAR = 2000, 2100  # [own] a year outside is a slip of the finger
_CLOCK = re.compile(r"^(\d{1,2})[:.](\d{2})(?::00)?\s*([ap])?\.?(?:m\.?)?$", re.IGNORECASE)


def _typed_date(text: str) -> dt.date | None:
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        return None


def clock() -> BeforeValidator:
    """A time of day: `10:00:00` as it is, `"10:00"` or `"2:30 pm"` as text."""

    def check(value: Any) -> dt.time:
        found = _typed_time(value) if isinstance(value, str) else value
        if not isinstance(found, dt.time):
            raise wrong("reading.not-a-time", typed=shown(value))
        return found

    return BeforeValidator(check)


def _typed_time(text: str) -> dt.time | None:
    found = _CLOCK.match(text.strip())
    if not found:
        return None
    hour, minute, half = int(found[1]), int(found[2]), (found[3] or "").lower()
    if half:
        if not 1 <= hour <= 12:
            return None
        hour = hour % 12 + (12 if half == "p" else 0)
    return dt.time(hour, minute) if hour < 24 and minute < 60 else None
