"""The colours in which a plant is shown on a screen, from `data/tints.toml`.

Model: an organ's colours are the usual ones, then those of its own row, then what its plant's row
says of flowers, leaves or buds, then what that says for the season.
Source: own judgement; see the table.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from nejime.basis import tables
from nejime.drawings.skeleton import table

FILE = "tints.toml"
SEASONS = ("spring", "summer", "autumn", "winter")
OF_A_PLANT = {"flower": "petal", "leaf": "leaf", "bud": "petal"}

Tints = Mapping[str, Any]


@cache
def _table() -> Mapping[str, Any]:
    return tables.read_toml(FILE)


def _plant(plant_id: str, season: str) -> Mapping[str, Any]:
    row: Mapping[str, Any] = _table()["plant"].get(plant_id, {})
    return {**{k: v for k, v in row.items() if k not in SEASONS}, **row.get(season, {})}


def _kind(organ: str) -> tuple[str, str]:
    """Whether an organ is a flower head, a leaf or a bud, and the name of its row."""
    if organ.endswith("-bud"):
        return "bud", organ.removesuffix("-bud")
    opened = re.fullmatch(r"(.+)-\d+", organ)
    return ("head", opened.group(1)) if opened else ("leaf", organ)


@cache
def organ_tints(plant_id: str, organ: str, season: str = "") -> Tints:
    """The colours of an organ of a plant, by tissue."""
    kind, name = _kind(organ)
    rows = _table()[kind]
    if kind == "head" and name not in rows:  # a head of small flowers has their colours
        name = table.head_row(name).get("florets", {}).get("of", name)
    found = {**_table()["usual"], **rows.get(name, {})}
    own = _plant(plant_id, season)
    key = "flower" if kind == "head" else kind
    if key in own:
        foot, end = own[key]
        found[OF_A_PLANT[key]] = [foot, end]
        if key != "leaf":  # berries and grains, which have one colour, take that of the end
            found |= {"pale": end} if key == "flower" else {"dark": end}
    return found


@cache
def stem_tints(plant_id: str, season: str = "") -> Tints:
    """The colours of a plant's wood and of its green stems: foot and end."""
    found = {**_table()["usual"], **_plant(plant_id, season)}
    return {key: found[key] for key in ("wood", "green")}
