"""The table of looks, `data/looks.toml`: how each plant grows, and its leaves, flowers and buds.

Model: a plant's row says what differs from the usual look of its kind of stem; `like` takes over
another row first. So every plant of the plant table has a look.
Source: own judgement, except where a row names a source beside a number.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from typing import Any, Literal

from nejime.basis import tables
from nejime.plants.table import plant

FILE = "looks.toml"

Phyllotaxis = Literal["two-ranked", "spiral", "opposite", "whorled"]
Line = Literal["even", "broken", "zigzag", "twisted"]


@dataclass(frozen=True, slots=True)
class Habit:
    """How a plant grows, as it is used in arranging: the columns of `looks.toml`.

    Lengths in cm, angles in degrees; `taper`, `wander`, `bare`, `shoot`, `leaves`, `least`,
    `bloom`, `buds`, `facing`, `show`, `droop` and what ends in `_from` or `_to` are shares. `show`
    is how far leaves turn their faces to the viewer; `whips` are shoots that go straight on after
    an elbow; `flat` is a plant that grows in tiers.
    """

    habit: str
    woody: bool = True
    taper: float = 0.35
    line: Line = "even"
    wander: float = 0.012
    joint_cm: float = 0.0
    thorns: bool = False
    phyllotaxis: Phyllotaxis = "spiral"
    whorl: int = 3
    node_cm: float = 3.0
    bare: float = 0.2
    shoots: int = 3
    shoot_deg: float = 42.0
    shoot: float = 0.35
    lift_deg: float = 25.0
    whips: bool = False
    flat: bool = False
    twigs: int = 0
    leaf: str = ""
    leaf_deg: float = 48.0
    show: float = 0.35
    leaves: float = 1.0
    leaf_from: float = 0.0
    leaf_to: float = 1.0
    leaf_number: int = 0
    leaf_scale: float = 1.0
    least: float = 0.6
    tufted: int = 0
    flower: str = ""
    flowers: tuple[int, int] = (1, 2)
    bloom: float = 0.7
    stalk_cm: float = 0.2
    droop: float = 0.0
    facing: float = 0.4
    face_deg: float = 30.0
    aside_deg: float = 0.0
    bud: str = ""
    buds: float = 0.35
    spurs: float = 0.0
    end: str = ""
    spray_from: float = 0.7
    spray_cm: float = 6.0
    spray_deg: float = 40.0
    spray_number: int = 6
    florets: int = 0
    gradient: float = 0.5
    blade_share: float = 0.65
    fan_deg: float = 7.0
    foot_leaf: str = ""
    foot_leaves: int = 0


def _rows(kind: str) -> Mapping[str, Any]:
    found: Mapping[str, Any] = tables.read_toml(FILE)[kind]
    return found


def _row(kind: str, name: str) -> Mapping[str, Any]:
    if name not in _rows(kind):
        raise tables.TableError(FILE, 0, f"no {kind} called {name!r}")
    row: Mapping[str, Any] = _rows(kind)[name]
    if "like" not in row:
        return row
    return {**_row(kind, row["like"]), **{k: v for k, v in row.items() if k != "like"}}


def head_row(name: str) -> Mapping[str, Any]:
    """A flower head's row. Raises `tables.TableError`."""
    return _row("head", name)


def leaf_row(name: str) -> Mapping[str, Any]:
    """A leaf's row. Raises `tables.TableError`."""
    return _row("leaf", name)


def bud_row(name: str) -> Mapping[str, Any]:
    """A bud's row. Raises `tables.TableError`."""
    return _row("bud", name)


_NAMES = frozenset(field.name for field in fields(Habit))


@cache
def habit(plant_id: str) -> Habit:
    """How a plant grows. Raises `KeyError` for an unknown plant, `tables.TableError`."""
    found = plant(plant_id)
    own = _row("plant", plant_id) if plant_id in _rows("plant") else {}
    usual = _row("usual", own.get("usual", _usual(found.kind, found.stem)))
    row = {**usual, **{k: v for k, v in own.items() if k != "usual"}}
    unknown = set(row) - _NAMES
    if unknown:
        raise tables.TableError(FILE, 0, f"{plant_id}: unknown {sorted(unknown)}")
    told: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in row.items()}
    return Habit(**told)


def _usual(kind: str, stem: str) -> str:
    """The usual look of a plant that has no row."""
    if kind == "leaf":
        return "single-leaf" if stem == "leaf-stalk" else "leafy-stem"
    return {"grass": "grass", "berry": "berry-branch", "flower": "flower"}.get(kind, stem)


def rows() -> tuple[str, ...]:
    """The plants that have a row of their own."""
    return tuple(_rows("plant"))
