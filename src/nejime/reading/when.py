"""When a class begins: a date, a time and a zone as one moment, if the clocks there show it once.

Source: the IANA time zone database, as the package `tzdata` brings it; latitudes from `zone.tab`.
"""

from __future__ import annotations

import datetime as dt
from functools import cache
from importlib.resources import files
from typing import Any
from zoneinfo import ZoneInfo

from pydantic import BeforeValidator

from nejime.basis.places import Path
from nejime.reading.checking import Sheet
from nejime.reading.fields import alike, shown, wrong

NEAR_ZONES = 3  # [own] as many as a person reads


@cache
def zone_names() -> tuple[str, ...]:
    """Every name of a zone."""
    return tuple((files("tzdata") / "zones").read_text(encoding="utf-8").split())


def near_zones(word: str) -> list[str]:
    """Zones whose city, or whose whole name, looks like a word."""
    cities = {name.rpartition("/")[2]: name for name in reversed(zone_names())}
    by_city = [cities[city] for city in alike(word.replace(" ", "_"), tuple(cities), NEAR_ZONES)]
    by_name = alike(word.replace(" ", "_"), zone_names(), NEAR_ZONES)
    near = [*by_name, *by_city] if "/" in word else [*by_city, *by_name]
    return list(dict.fromkeys(near))[:NEAR_ZONES]


def zone_name() -> BeforeValidator:
    """The name of a time zone: `"America/Chicago"`."""

    def check(value: Any) -> str:
        if not isinstance(value, str):
            raise wrong("reading.not-text", typed=shown(value))
        if value.strip() in zone_names():
            return value.strip()
        near = near_zones(shown(value))
        key = "reading.unknown-zone-near" if near else "reading.unknown-zone"
        raise wrong(key, zone=shown(value), choices=", ".join(near))

    return BeforeValidator(check)


@cache
def _southern_zones() -> frozenset[str]:
    """The zones whose city lies south of the equator, with their other names."""
    place = files("tzdata") / "zoneinfo"
    rows = (place / "zone.tab").read_text(encoding="utf-8").splitlines()
    cells = [row.split("\t") for row in rows if not row.startswith("#")]
    south = {cell[2] for cell in cells if cell[1].startswith("-")}
    links = (place / "tzdata.zi").read_text(encoding="utf-8").splitlines()
    for link in (row.split() for row in links if row.startswith("L ")):
        if link[1] in south:
            south.add(link[2])
    return frozenset(south)


def is_southern(zone: str) -> bool:
    """Whether a zone's seasons are those of the south."""
    return zone in _southern_zones()


def moment(sheet: Sheet, at: Path, date: dt.date, start: dt.time, zone: str) -> dt.datetime | None:
    """The beginning with its zone; None, with its fault noted at `start`, if there is none."""
    early = dt.datetime.combine(date, start, ZoneInfo(zone))
    late = early.replace(fold=1)
    if early.utcoffset() == late.utcoffset():
        return early
    back = early.astimezone(dt.UTC).astimezone(ZoneInfo(zone)).replace(tzinfo=None)
    skipped = back != early.replace(tzinfo=None)
    key = "reading.skipped-hour" if skipped else "reading.hour-twice"
    sheet.wrong((*at, "start"), key, time=f"{start:%H:%M}", date=f"{date:%Y-%m-%d}", zone=zone)
    return None
