"""A place as it was typed: coordinates, height, and twelve monthly means in either unit.

Model: a latitude may say N or S, a longitude E or W, with a comma or a point for the decimals. A
height in metres or feet. Means are all in °C or all in °F, as she says.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import Any

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying
from nejime.season.climate import MONTHS, means_faults

CLIMATES = ("city", "own", "none")
MOST_HEIGHT_M = 6000.0  # [own] nobody teaches higher up
LEAST_HEIGHT_M = -450.0
COLDEST_SUMMER_C = 5.0  # [own] nobody gardens where the warmest month is colder
FEET_M = 0.3048  # [bipm2019]
_DEGREES = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*°?\s*([nsew]?)", re.IGNORECASE)
_HEIGHT = re.compile(r"(-?\d+(?:[.,]\d+)?)\s*(m|metres?|meters?|ft|feet|')?", re.IGNORECASE)
_MEAN = re.compile(r"([+-]?\d+(?:[.,]\d+)?)\s*(?:°\s*[cf]?)?", re.IGNORECASE)
LIMITS = {"lat": (90.0, "ns"), "lon": (180.0, "ew")}


def read_where(typed: Mapping[str, str]) -> dict[str, Any]:
    """What to keep of a place. Raises `InputError` with every fault by its field."""
    faults: list[Fault] = []
    found: dict[str, Any] = {"climate": typed.get("climate") or "city"}
    if found["climate"] not in CLIMATES:
        faults.append(Fault("climate", Saying("season.no-climate"), None))
    for field in ("lat", "lon"):
        value = degrees(typed.get(field, ""), field)
        if value is None:
            told = {"typed": typed.get(field, "").strip()[:40]}
            key = f"season.no-{field}" if told["typed"] else f"season.missing-{field}"
            faults.append(Fault(field, Saying(key, **told), Saying(f"season.{field}-try")))
        found[field] = value
    if typed.get("height", "").strip():
        found["height_m"] = _height(typed["height"], faults)
    if typed.get("name", "").strip():
        found["name"] = typed["name"].strip()[:120]
    if found["climate"] == "own":
        found["means_c"] = _means(typed, faults)
    if faults:
        raise InputError(faults)
    return found


def degrees(typed: str, field: str) -> float | None:
    """A latitude or longitude; None where it is none, or does not lie on the Earth."""
    most, letters = LIMITS[field]
    found = _DEGREES.fullmatch(typed.replace("\N{MINUS SIGN}", "-").strip())
    if found is None or (found[2] and found[2].lower() not in letters):
        return None
    value = float(found[1].replace(",", "."))
    if found[2].lower() in ("s", "w"):
        value = -abs(value)
    return value if math.isfinite(value) and abs(value) <= most else None


def _height(typed: str, faults: list[Fault]) -> float | None:
    found = _HEIGHT.fullmatch(typed.replace("\N{MINUS SIGN}", "-").strip())
    value = None
    if found is not None:
        value = float(found[1].replace(",", "."))
        value *= FEET_M if (found[2] or "m").lower()[0] in "f'" else 1.0
    if value is None or not LEAST_HEIGHT_M <= value <= MOST_HEIGHT_M:
        said = Saying("season.no-height", typed=typed.strip()[:40])
        faults.append(Fault("height", said, Saying("season.height-try")))
        return None
    return round(value, 1)


def _means(typed: Mapping[str, str], faults: list[Fault]) -> list[float]:
    fahrenheit = typed.get("unit") == "f"
    found = []
    for number in range(1, len(MONTHS) + 1):
        field = f"mean-{number}"
        cell = typed.get(field, "").replace("\N{MINUS SIGN}", "-").strip()
        value = _MEAN.fullmatch(cell)
        if value is None:
            key = "season.not-a-mean" if cell else "season.missing-mean"
            said = Saying(key, typed=cell[:40])
            faults.append(Fault(field, said, Saying("season.mean-try")))
            continue
        mean = float(value[1].replace(",", "."))
        found.append(round((mean - 32) / 1.8 if fahrenheit else mean, 2))  # [hand]
    if fahrenheit and len(found) == len(MONTHS) and max(found) < COLDEST_SUMMER_C:
        said = Saying("season.too-cool", mean=f"{max(found):.0f}")
        faults.append(Fault("mean-1", said, Saying("season.too-cool-try")))
    elif len(found) == len(MONTHS):
        faults += [Fault("mean-1", each.says, each.try_instead) for each in means_faults(found)]
    return found
