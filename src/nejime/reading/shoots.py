"""Side shoots as a short text: `"25 at 30, 18 at 52"`.

Model: each says how long a shoot is and where it leaves its branch, from the branch's cut end:
here one of 25 cm at 30 cm, and one of 18 cm at 52 cm. Commas, semicolons or line ends stand
between; a comma within a number is a decimal one. They are kept in order from the cut end.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from typing import Any

from pydantic import BeforeValidator

from nejime.basis.units import length_cm
from nejime.material.supply import Shoot
from nejime.reading.fields import shown, wrong

MOST_SHOOTS = 12  # [own] a branch with more is not measured by anybody
LEAST_SHOOT_CM, MOST_SHOOT_CM = 1.0, 300.0  # [own] a shorter one is a bud; no branch is longer

_BETWEEN = re.compile(r"[;\n]|,(?=\s)|,$")
_AT = re.compile(r"\s*(?<![a-z])at(?![a-z])\s*", re.IGNORECASE)
_PLAIN = re.compile(r"(?=.)(?:\d+(?:[.,]\d+)?)?(?:[- ]?\d{1,3}/\d{1,3}|[¼½¾⅛⅜⅝⅞])?")


def shoots() -> BeforeValidator:
    """Side shoots in order from the cut end: `"25 at 30, 10 in at 20 in"`."""

    def check(value: Any) -> tuple[Shoot, ...]:
        if not isinstance(value, str):
            raise wrong("reading.not-shoots", typed=shown(value))
        pieces = list(_pieces(value))
        if len(pieces) > MOST_SHOOTS:
            raise wrong("reading.too-many-shoots", count=len(pieces), most=MOST_SHOOTS)
        found = [_shoot(each) for each in pieces]
        return tuple(sorted(found, key=lambda each: (each.at_cm, each.length_cm)))

    return BeforeValidator(check)


def _pieces(text: str) -> Iterator[str]:
    """What is said of each shoot; a comma stands between only where two are left in one piece."""
    for rough in _BETWEEN.split(text.strip()):
        pieces = rough.split(",") if len(_AT.findall(rough)) > 1 else [rough]
        yield from (each.strip() for each in pieces if each.strip())


def _shoot(piece: str) -> Shoot:
    halves = _AT.split(piece)
    if len(halves) != 2:
        raise wrong("reading.not-shoots", typed=shown(piece))
    try:
        long, at = (length_cm(each) for each in halves)
    except ValueError:
        raise wrong("reading.not-shoots", typed=shown(piece)) from None
    if not (math.isfinite(long) and math.isfinite(at)):
        raise wrong("reading.not-measurable", typed=shown(piece))
    if not LEAST_SHOOT_CM <= long <= MOST_SHOOT_CM:
        told = {"least_cm": LEAST_SHOOT_CM, "most_cm": MOST_SHOOT_CM}
        raise wrong("reading.shoot-outside", value_cm=long, **told)
    if at < 0:
        raise wrong("reading.not-shoots", typed=shown(piece))
    return Shoot(at, long)


def with_unit(text: str, unit: str) -> str:
    """The same text with a unit after every plain number; as it was where it cannot be read."""

    def said(number: str) -> str:
        return f"{number} {unit}" if _PLAIN.fullmatch(number) else number

    return _each_half(text, said)


def _each_half(text: str, said: Callable[[str], str]) -> str:
    split = [_AT.split(piece) for piece in _pieces(text)]
    if any(len(halves) != 2 or not all(halves) for halves in split):
        return text
    return ", ".join(" at ".join(said(half) for half in halves) for halves in split)


def shoots_text(found: Iterable[Shoot]) -> str:
    """Side shoots as the text that is read as the same ones."""
    return ", ".join(f"{_number(each.length_cm)} at {_number(each.at_cm)}" for each in found)


def _number(value_cm: float) -> str:
    """A number exactly, and without an exponent, which nobody writes."""
    return f"{int(value_cm)}" if value_cm.is_integer() else f"{Decimal(repr(value_cm)):f}"
