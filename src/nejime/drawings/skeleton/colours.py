"""The colours of a plant, by what is coloured, and how they go with the seasons.

Model: a few tints a plant, each from the foot of a part to its end; every part of every organ takes
one of them, by what it is. Black and white drawings do not ask.
Source: own judgement, in `data/colours.toml`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Any, Literal, get_args

from nejime.basis import tables
from nejime.drawings.skeleton.organs import Organ, Part, Thread
from nejime.plants.table import plant

FILE = "colours.toml"

Season = Literal["", "spring", "summer", "autumn", "winter"]
SEASONS: tuple[Season, ...] = get_args(Season)[1:]
Tint = tuple[str, str]  # "#rrggbb" at the foot and at the end


@dataclass(frozen=True, slots=True)
class Colours:
    """What is coloured: stems, leaves, and the parts of flowers and buds."""

    wood: Tint
    green: Tint
    leaf: Tint
    flower: Tint
    bud: Tint
    calyx: Tint
    heart: Tint
    stamen: Tint
    anther: Tint


_NAMES = frozenset(field.name for field in fields(Colours))


@cache
def colours(plant_id: str, season: Season = "") -> Colours:
    """A plant's colours in a season; without one, as it is usually sold.

    Raises `KeyError` for an unknown plant, `tables.TableError` for a table that is not in order.
    """
    row = {**_usual(plant(plant_id).kind), **_own(plant_id)}
    told = {**row, **row.get(season, {})}
    unknown = set(told) - _NAMES - set(SEASONS)
    if unknown:
        raise tables.TableError(FILE, 0, f"{plant_id}: unknown {sorted(unknown)}")
    return Colours(**{name: _tint(told[name]) for name in _NAMES})


def _rows(kind: str) -> Mapping[str, Mapping[str, Any]]:
    found: Mapping[str, Mapping[str, Any]] = tables.read_toml(FILE)[kind]
    return found


def _usual(kind: str) -> dict[str, Any]:
    row = dict(_rows("usual")[kind])
    return {**_usual(row.pop("like")), **row} if "like" in row else row


def _own(plant_id: str) -> dict[str, Any]:
    row = dict(_rows("plant").get(plant_id, {}))
    return {**_own(row.pop("like")), **row} if "like" in row else row


def _tint(value: str | list[str]) -> Tint:
    return (value, value) if isinstance(value, str) else (value[0], value[1])


def rows() -> tuple[str, ...]:
    """The plants that have colours of their own."""
    return tuple(_rows("plant"))


def tint_of(painted: Colours, organ: Organ, part: Part) -> Tint:
    """The tint of a part of an organ; a stamen's knob is `anther`."""
    if organ.kind == "leaf":
        return painted.leaf
    if organ.kind == "bud":
        return _in_bud(painted, organ, part)
    if part.tissue == "leaf":
        return painted.calyx
    if isinstance(part.form, Thread):
        return painted.stamen
    if part.tissue == "dark":  # a cup behind the petals, an eye before them
        return painted.calyx if part.frame.at[0] < 0 else painted.heart
    return painted.heart if part.tissue == "inside" else painted.flower


def _in_bud(painted: Colours, organ: Organ, part: Part) -> Tint:
    if isinstance(part.form, Thread):
        return painted.green
    capped = any(each.tissue != "dark" for each in organ.parts if not isinstance(each.form, Thread))
    return painted.calyx if part.tissue == "dark" and capped else painted.bud
