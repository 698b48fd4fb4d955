"""When a class begins: a date, a time and a zone as one moment, if the clocks there show it once.

Source: the IANA time zone database, as the package `tzdata` brings it; latitudes from `zone.tab`.
"""

from __future__ import annotations

import datetime as dt
from functools import cache
from importlib.resources import files
from zoneinfo import ZoneInfo

from nejime.basis.places import Path
from nejime.reading.checking import Sheet
from nejime.reading.fields import alike

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
    return list(dict.fromkeys([*by_city, *by_name]))[:NEAR_ZONES]


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


def moment(
    sheet: Sheet, at: Path, date: dt.date, start: dt.time, zone_name: str
) -> dt.datetime | None:
    """The beginning with its zone; None, with its faults noted, where there is no such moment."""
    if zone_name not in zone_names():
        near = near_zones(zone_name)
        key = "reading.unknown-zone-near" if near else "reading.unknown-zone"
        sheet.wrong((*at, "zone"), key, zone=zone_name, choices=", ".join(near))
        return None
    zone = ZoneInfo(zone_name)
    early = dt.datetime.combine(date, start, zone)
    late = early.replace(fold=1)
    if early.utcoffset() == late.utcoffset():
        return early
    back = early.astimezone(dt.UTC).astimezone(zone).replace(tzinfo=None)
    skipped = back != early.replace(tzinfo=None)
    key = "reading.skipped-hour" if skipped else "reading.hour-twice"
    sheet.wrong((*at, "start"), key, time=f"{start:%H:%M}", date=f"{date:%Y-%m-%d}", zone=zone_name)
    return None
