"""Where facts come from: `data/sources.toml`, one entry a source."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from nejime.basis import tables

GRADES = (
    "teacher",
    "published",
    "extension",
    "trade",
    "derived",
    "practice",
    "memory",
    "own",
    "hand",
)
"""Grades of evidence, the best first: before all print stands what the teacher herself has seen."""


@dataclass(frozen=True, slots=True)
class Source:
    """A source as it can be cited."""

    key: str
    cite: str
    grade: str
    address: str = ""
    licence: str = ""
    read: str = ""


@cache
def sources() -> dict[str, Source]:
    """Every source by its key. Raises `tables.TableError` for an unknown grade."""
    found = {}
    for row, (key, entry) in enumerate(tables.read_toml("sources.toml").items(), start=1):
        if entry.get("grade") not in GRADES:
            raise tables.TableError("sources.toml", row, f"{key}: unknown grade")
        found[key] = Source(key=key, **entry)
    return found


def source(key: str) -> Source:
    """The source with this key. Raises `KeyError`."""
    return sources()[key]
