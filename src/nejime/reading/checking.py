"""One file while it is read: its values, the lines they stand on, and every fault found so far.

Model: each table is checked by itself, so that a fault in one hides none in another; what can only
be seen across tables is checked afterwards with those that passed.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError

from nejime.basis.errors import Fault, InputError
from nejime.basis.places import Path, lines_of, path_text
from nejime.basis.sayings import Saying, texts
from nejime.reading.fields import meant, shown
from nejime.reading.text import refuse_file

Model = TypeVar("Model", bound=BaseModel)

_PLACES = {  # pydantic's own refusals that can still occur, and ours for them
    "missing": "reading.missing",
    "model_type": "reading.not-a-table",
    "model_attributes_type": "reading.not-a-table",
    "list_type": "reading.not-a-list",
    "tuple_type": "reading.not-a-list",
}


@dataclass(slots=True)
class Sheet:
    """A file's tables as they were read, with the lines of every place.

    `homes`: in which table of the file a key belongs, for those who wrote it in another.
    """

    file: str
    tree: Mapping[str, Any]
    lines: Mapping[Path, int]
    homes: Mapping[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def line(self, path: Path) -> int | None:
        """The line of a place or, where it is not in the file, of the nearest thing around it."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.lines:
                return self.lines[path[:end]]
        return None

    def wrong(self, path: Path, key: str, /, **quantities: object) -> None:
        """Notes a fault at a place; what to do about it is the text `<key>-try`."""
        remedy = Saying(f"{key}-try", **quantities)
        self.add(path, Saying(key, **quantities), remedy)

    def add(self, path: Path, says: Saying, remedy: Saying | None) -> None:
        """Notes a fault at a place."""
        place = path_text(tuple(shown(part) if isinstance(part, str) else part for part in path))
        self.faults.append(Fault(place, says, remedy, self.line(path)))

    def borrow(self, at: Path, faults: Iterable[Fault]) -> None:
        """Notes faults that another room found in what stands at a place."""
        for fault in faults:
            inner = tuple(part for part in fault.field.split(".") if part)
            self.add((*at, *inner), fault.says, fault.try_instead)

    def in_order(self) -> list[Fault]:
        """Every fault noted, in the order of the file."""
        return sorted(self.faults, key=lambda fault: fault.line or 0)

    def checked(self, model: type[Model], value: object, at: Path) -> Model | None:
        """A table as the values that its model says; None, with its faults noted, where not.

        A key that does not belong is a fault too, but hides nothing else of its table.
        """
        if not isinstance(value, dict):
            self.wrong(at, "reading.not-a-table", typed=shown(value))
            return None
        try:
            return model.model_validate(value)
        except ValidationError as trouble:
            faults = trouble.errors(include_url=False)
        for each in faults:
            self._note(model, at, each)
        if any(each["type"] != "extra_forbidden" or len(each["loc"]) > 1 for each in faults):
            return None
        strange = {each["loc"][0] for each in faults}
        return model.model_validate(
            {key: each for key, each in value.items() if key not in strange}
        )

    def _note(self, model: type[BaseModel], at: Path, trouble: Mapping[str, Any]) -> None:
        path = (*at, *trouble["loc"])
        told = dict(trouble.get("ctx", {}))
        if trouble["type"] == "reading":
            self.wrong(path, told.pop("says"), **told)
        elif trouble["type"] == "extra_forbidden":
            self._unknown(path, known_keys(model, trouble["loc"][:-1]))
        else:
            self.wrong(
                path,
                _PLACES.get(trouble["type"], "reading.not-possible"),
                typed=shown(trouble.get("input")),
                key=path[-1],
            )

    def _unknown(self, path: Path, known: list[str]) -> None:
        key = str(path[-1])
        single = path[:-1] in {(home,) for home in self.homes.values()}
        home = self.homes.get(key) if single else None
        remedy = Saying("reading.belongs-in", table=home) if home else meant(key, known)
        self.wrong(path, "reading.unknown-key", key=shown(key), meant=remedy)

    def one(self, name: str, model: type[Model]) -> Model | None:
        """The table that stands once; None where it is missing or, its faults noted, wrong."""
        if name not in self.tree:
            return None
        value = self.tree[name]
        if isinstance(value, list):
            self.wrong((name,), "reading.two-brackets", key=name)
            return None
        return self.checked(model, value, (name,))

    def all(self, name: str, model: type[Model]) -> list[tuple[Path, Model]]:
        """Every table of a list that is right, each with its place."""
        checked = ((at, self.checked(model, value, at)) for at, value in self.tables(name))
        return [(at, table) for at, table in checked if table is not None]

    def tables(self, name: str) -> list[tuple[Path, Any]]:
        """The tables of a list, each with its place; a list that is none is a fault."""
        found = self.tree.get(name, [])
        if isinstance(found, dict):
            self.wrong((name,), "reading.one-bracket", key=name)
            return []
        if not isinstance(found, list):
            self.wrong((name,), "reading.not-a-list-of-tables", key=name)
            return []
        return [((name, number), value) for number, value in enumerate(found)]


class Filled(Sheet):
    """What was typed into fields: nothing of files and how they are written is in what is said.

    A saying may have other words for fields, under `in-field.<key>`.
    """

    __slots__ = ()

    def wrong(self, path: Path, key: str, /, **quantities: object) -> None:
        """Notes a fault at a field."""
        remedy = Saying(_in_field(f"{key}-try"), **quantities)
        self.add(path, Saying(_in_field(key), **quantities), remedy)

    def borrow(self, at: Path, faults: Iterable[Fault]) -> None:
        """Notes faults of another room, in words for fields."""
        Sheet.borrow(self, at, (_retold(each) for each in faults))


def _retold(fault: Fault) -> Fault:
    """The same with the words for fields; keys are written as words."""
    said = (fault.says, fault.try_instead)
    says, remedy = (each and Saying(_in_field(each.key), **_spoken(each)) for each in said)
    return Fault(fault.field, says or fault.says, remedy, fault.line)


def _spoken(saying: Saying) -> dict[str, object]:
    return {
        name: value.replace("_", " ") if name == "key" and isinstance(value, str) else value
        for name, value in saying.quantities.items()
    }


def _in_field(key: str) -> str:
    other = f"in-field.{key}"
    return other if other in texts() else key


def known_keys(model: type[BaseModel], inside: Iterable[str | int] = ()) -> list[str]:
    """The keys of a model or of a table inside it."""
    for part in inside:
        if isinstance(part, str):
            model = _inner(model, part)
    return [entry.alias or name for name, entry in model.model_fields.items()]


def _inner(model: type[BaseModel], key: str) -> type[BaseModel]:
    """The model of the tables in a list."""
    kinds: tuple[type[BaseModel], ...] = get_args(model.model_fields[key].annotation)
    return kinds[0]


def _exact(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("inf")  # an exponent beyond all measure


def sheet(file: str, text: str) -> Sheet:
    """The tables of a TOML text. Raises `InputError` where it is not readable TOML."""
    try:
        tree = tomllib.loads(text, parse_float=_exact)
        return Sheet(file, tree, lines_of(text))
    except RecursionError:
        raise refuse_file(file, "reading.toml.too-deep") from None
    except ValueError as trouble:  # TOMLDecodeError, or a number of thousands of digits
        raise _not_toml(file, text, str(trouble)) from trouble


_AT = re.compile(r"\(at line (\d+), column \d+\)|\(at end of document\)")
_MANNERS = (  # what a line looks like when a usual slip was made on it, the surest first
    (re.compile(r"[“”„‘’]"), "curly-quotes"),
    (re.compile(r"=\s*\d{4}-\d{1,2}-\d{1,2}\s*(#.*)?$"), "no-such-date"),
    (re.compile(r"=\s*\d{1,2}[:.]\d{2}\s*([ap]m)?\s*(#.*)?$", re.IGNORECASE), "bare-time"),
    (re.compile(r"[=\[{,]\s*\d+,\d+\s*(#.*)?$"), "decimal-comma"),
    (re.compile(r"=\s*[+-]?[\d./]+\s*[a-z\"'″]+", re.IGNORECASE), "bare-unit"),
    (re.compile(r"=\s*(true|false|yes|no|on|off)\s*(#.*)?$", re.IGNORECASE), "yes-or-no"),
    (re.compile(r"=\s*[^\W\d]"), "bare-text"),
    (re.compile(r"^\s*\w+\s*:"), "colon"),
    (re.compile(r"^\s*[\w-]+(\s+[\w-]+)+\s*="), "key-with-space"),
    (re.compile(r"=\s*(#.*)?$"), "no-value"),
)
_SAID = (  # how the TOML reader begins, where the line alone does not tell
    ("Cannot declare", "declared-twice"),
    ("Cannot overwrite", "key-twice"),
    ("Duplicate inline table key", "key-twice"),
    ("Unclosed", "unclosed"),
    ("Unterminated", "unclosed"),
    ("Expected ']'", "unclosed"),
    ("Illegal character", "unclosed"),
    ("Invalid date", "no-such-date"),
)


def _not_toml(file: str, text: str, trouble: str) -> InputError:
    """The TOML reader's refusal in words that help, with the line where there is one."""
    lines = text.split("\n")
    at = _AT.search(trouble)
    number = int(at[1]) if at and at[1] else len(lines)
    line = lines[min(number, len(lines)) - 1]
    manner = next((name for start, name in _SAID if trouble.startswith(start)), "")
    if manner in ("", "unclosed"):
        manner = next((name for slip, name in _MANNERS if slip.search(line)), manner)
    plain = _AT.sub("", trouble).strip()
    key = f"reading.toml.{manner or 'other'}"
    return refuse_file(file, key, number, written=shown(line.strip()), trouble=shown(plain))
