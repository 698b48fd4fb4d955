"""A class file as a tree that can be kept and filled in: read from TOML, and written as TOML.

Model: the tree has the tables and keys of a class file. Measures and amounts are text, exactly as
they were typed; whole numbers are `int`; weekdays are a list of their names; what is true is True,
what is not is left out, as is whatever is empty. So the tree is the same, whether a file or a form
was read.
Source: TOML 1.0.0.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Any, get_args

from pydantic import BaseModel

from nejime.reading import weekdays
from nejime.reading.checking import sheet
from nejime.reading.tables import (
    BunchTable,
    ClassTable,
    DemonstrationTable,
    GardenTable,
    HolderTable,
    LentHolderTable,
    LentVesselTable,
    MaterialTable,
    PersonTable,
    RoomTable,
    ShopTable,
    StandInTable,
    VesselTable,
)
from nejime.reading.text import read_bytes

Tree = dict[str, Any]

INSIDE: Mapping[str, type[BaseModel]] = {  # tables that stand within others
    "vessel": VesselTable,
    "holder": HolderTable,
    "stand_ins": StandInTable,
    "bunch": BunchTable,
}
ONE: Mapping[str, type[BaseModel]] = {
    "class": ClassTable,
    "room": RoomTable,
    "demonstration": DemonstrationTable,
}
MANY: Mapping[str, type[BaseModel]] = {
    "person": PersonTable,
    "vessel": LentVesselTable,
    "holder": LentHolderTable,
    "material": MaterialTable,
    "shop": ShopTable,
    "garden": GardenTable,
}
TABLES = ("class", "room", "demonstration", *MANY)
"""In the order in which they are written."""


def _keys(kinds: Iterable[type]) -> frozenset[str]:
    """The keys, in any table, whose values are of these kinds."""
    wanted = set(kinds)
    models = (*ONE.values(), *MANY.values(), *INSIDE.values())
    return frozenset(
        entry.alias or name
        for model in models
        for name, entry in model.model_fields.items()
        if wanted & set(_kinds(entry.annotation))
    )


def _kinds(annotation: object) -> Iterable[object]:
    """A kind of value and those of which it is made."""
    inner = [kind for each in get_args(annotation) for kind in _kinds(each)]
    return [annotation, *inner]


WHOLE = _keys([int])
YES = _keys([bool])
BARE = _keys([float, Decimal, dt.date])  # written without quotation marks where TOML allows it
DAYS = "days"
_NUMBER = re.compile(r"(0|[1-9]\d*)(\.\d+)?")
_DATE = re.compile(r"\d{4}-\d\d-\d\d")
_INTEGER = re.compile(r"-?\d{1,9}")


def tree_of_file(file_name: str, data: bytes) -> Tree:
    """The tree of a class file. Raises `InputError` where it is not readable TOML."""
    found = _kept(sheet(file_name, read_bytes(file_name, data)).tree)
    return found if isinstance(found, dict) else {}


def _kept(value: Any, key: str = "") -> Any:
    """A value of a TOML file as it is kept; None where nothing is said by it."""
    if key == DAYS:
        value = weekdays.as_list(weekdays.as_text(value)) if _is_text(value) else value
    if isinstance(value, Mapping):
        pairs = ((name, _kept(each, name)) for name, each in value.items())
        return {name: each for name, each in pairs if each not in (None, "", [])}
    if isinstance(value, list):
        return [each for each in (_kept(item) for item in value) if each not in (None, "")]
    if isinstance(value, bool):
        return True if value or key not in YES else None
    if isinstance(value, dt.time):
        return f"{value:%H:%M}"
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, int) and key in WHOLE:
        return value
    return _typed(value) if isinstance(value, int | Decimal) else str(value).strip()


def _is_text(value: Any) -> bool:
    """Whether it is a text or a list of texts."""
    return all(isinstance(each, str) for each in (value if isinstance(value, list) else [value]))


def _typed(number: int | Decimal) -> str:
    """A number as a person types it."""
    return f"{number:f}" if isinstance(number, Decimal) and number.is_finite() else str(number)


def whole(text: str) -> int | str:
    """A typed whole number; the text itself where it is none."""
    return int(text) if _INTEGER.fullmatch(text.strip()) else text.strip()


# Writing


def tree_text(tree: Mapping[str, Any]) -> str:
    """The class file of a tree."""
    parts = []
    for name in TABLES:
        if name not in tree:
            continue
        value = tree[name]
        if isinstance(value, Mapping):
            parts.append(_table(f"[{name}]", value))
        else:
            parts += [_table(f"[[{name}]]", each) for each in value]
    return "\n".join(parts)


def _table(head: str, table: Mapping[str, Any]) -> str:
    lines = [head, *(f"{_key(key)} = {_value(key, each)}" for key, each in table.items())]
    return "\n".join(lines) + "\n"


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_-]+", key) else _quoted(key)


def _value(key: str, value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int):
        return str(value)
    if isinstance(value, Mapping):
        return _braces(value)
    if isinstance(value, Sequence) and not isinstance(value, str):
        return _list(key, value)
    text = str(value)
    return text if key in BARE and _stands_bare(key, text) else _quoted(text)


def _stands_bare(key: str, text: str) -> bool:
    if key != "date":
        return _NUMBER.fullmatch(text) is not None
    try:
        return _DATE.fullmatch(text) is not None and bool(dt.date.fromisoformat(text))
    except ValueError:
        return False


def _braces(table: Mapping[str, Any]) -> str:
    pairs = ", ".join(f"{_key(key)} = {_value(key, each)}" for key, each in table.items())
    return f"{{ {pairs} }}" if pairs else "{}"


def _list(key: str, values: Sequence[Any]) -> str:
    """A list: of tables one a line, of words on one line."""
    if any(isinstance(each, Mapping) for each in values):
        lines = "".join(f"    {_value(key, each)},\n" for each in values)
        return f"[\n{lines}]"
    return f"[{', '.join(_value('', each) for each in values)}]"


_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def _quoted(text: str) -> str:
    """A basic string of TOML: every control character is escaped."""
    return '"' + "".join(_letter(each) for each in text) + '"'


def _letter(letter: str) -> str:
    if letter in _ESCAPES:
        return _ESCAPES[letter]
    return f"\\u{ord(letter):04X}" if ord(letter) < 0x20 or ord(letter) == 0x7F else letter
