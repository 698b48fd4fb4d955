"""Proportions that are taught, as data: `data/rules/*.toml`, and a teacher's own.

A rule file says how long the three main stems are and, form by form, how far they lean and where
they point. Directions are written for the form that opens to the right; the other is its mirror.
Nothing here is computed: this module turns the text of a rule file into values, and refuses one
that is not as it should be with file, line and field.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Literal, NamedTuple

from nejime.basis import tables
from nejime.basis.errors import Fault, InputError
from nejime.basis.places import Path, lines_of
from nejime.basis.sayings import Saying
from nejime.basis.sources import sources

Size = Literal["small", "usual", "large"]
SIZES: tuple[Size, ...] = ("small", "usual", "large")
MAIN = ("first", "second", "third")
FORMS = ("upright", "slanting", "hanging", "water-viewing", "all-round")
KINDS = ("shallow", "tall")
PLACES = ("front left", "front right", "back left", "back right", "left", "right", "middle")
BASES = ("width + height", "width", "height")
DEFAULT_RULE = "width-plus-height"

LENGTH_TOLERANCE = 0.05  # [practice] what a first lesson allows
MOST_TILT_DEG = 135.0  # [own] a stem that hangs further would grow back under its vessel
TILT_TOLERANCE_DEG = 10.0  # [practice] the same
BEARING_TOLERANCE_DEG = 15.0  # [practice] the same

SHOWN_LETTERS = 40  # [own] of a value that is repeated in a sentence
KIND_WORDS = {str: "text", float: "number", dict: "table", bool: "yes-no"}
_AT_LINE = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


class Range(NamedTuple):
    """The least, what is aimed at, and the most."""

    least: float
    aim: float
    most: float


@dataclass(frozen=True, slots=True)
class Label:
    """What a tradition calls a stem."""

    romaji: str
    kanji: str


@dataclass(frozen=True, slots=True)
class Lean:
    """How a stem leans in a form that opens to the right."""

    tilt_deg: Range
    bearing_deg: Range


@dataclass(frozen=True, slots=True)
class Form:
    """One form in one kind of vessel."""

    name: str
    kind: str
    first: Lean
    second: Lean
    third: Lean
    holder: str
    season_moves_holder: bool
    first_is_highest: bool
    factor: Mapping[str, float]
    source: str

    def lean(self, stem: str) -> Lean:
        """The lean of `first`, `second` or `third`."""
        found: Lean = getattr(self, stem)
        return found


@dataclass(frozen=True, slots=True)
class Ratio:
    """A stem's length over another's, for each size of piece."""

    of: str
    by_size: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Rule:
    """One way of teaching proportions."""

    name: str
    title: str
    source: str
    measures: Literal["length", "height"]
    base: Mapping[str, str]
    label: Mapping[str, Label]
    second: Ratio
    third: Ratio
    forms: Mapping[tuple[str, str], Form]
    remark: str = ""
    accept: Range | None = None
    teaches: tuple[str, ...] = field(default=())

    def form(self, name: str, kind: str) -> Form | None:
        """The form in a shallow vessel or a tall vase; None where these proportions lack it."""
        return self.forms.get((name, kind))

    def unusual(self, factor: float) -> bool:
        """Whether a first stem of `factor` times the base lies outside what is printed."""
        return self.accept is not None and not self.accept.least <= factor <= self.accept.most


class _Reader:
    """Reads one rule file and gathers everything that is wrong with it."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.lines: Mapping[Path, int] = {}
        self.faults: list[Fault] = []

    def wrong(self, path: str, key: str, **quantities: object) -> None:
        told = {"file": self.file, "key": path.rpartition(".")[2], **quantities}
        says, instead = Saying(key, **told), Saying(f"{key}-try", **told)
        self.faults.append(Fault(path, says, instead, self.line(path)))

    def told(self) -> list[Fault]:
        """The faults, without those that only follow from one at the same place or around it."""
        kept: dict[str, Fault] = {}
        for fault in self.faults:
            parts = fault.field.split(".")
            if not any(".".join(parts[:end]) in kept for end in range(1, len(parts) + 1)):
                kept[fault.field] = fault
        return list(kept.values())

    def line(self, path: str) -> int | None:
        """The line of a field; of the nearest table above it where the field is missing."""
        parts = tuple(path.split("."))
        while parts:
            if parts in self.lines:
                return self.lines[parts]
            parts = parts[:-1]
        return None

    def take(self, table: Mapping[str, Any], path: str, kind: type, default: Any = None) -> Any:
        """A value of a type; a missing one without default and a wrong one are faults."""
        name = path.rpartition(".")[2]
        value = table.get(name, default)
        if value is None:
            self.wrong(path, "rules.missing")
            return kind()
        if kind is float and isinstance(value, int) and not isinstance(value, bool):
            value = float(value)
        if not isinstance(value, kind):
            self.wrong(path, "rules.wrong-type", kind=Saying(f"rules.kind.{KIND_WORDS[kind]}"))
            return kind()
        return value

    def choice(
        self, table: Mapping[str, Any], path: str, of: tuple[str, ...], default: str = ""
    ) -> str:
        value = str(self.take(table, path, str, default or None))
        if value and value not in of:
            self.wrong(path, "rules.not-one-of", typed=_shown(value), choices=", ".join(of))
        return value

    def unknown(self, table: Mapping[str, Any], path: str, known: set[str]) -> None:
        for key in table:
            if key not in known:
                inside = f"{path}.{key}" if path else key
                self.wrong(inside, "rules.unknown", choices=", ".join(sorted(known)))

    def range(
        self, table: Mapping[str, Any], path: str, slack: float, low: float, high: float
    ) -> Range:
        """A number, to which the usual slack is added, or [least, aim, most]."""
        value: Any = table.get(path.rpartition(".")[2])
        numbers: list[Any] = value if isinstance(value, list) else [value]
        if len(numbers) not in (1, 3) or not all(
            isinstance(each, int | float) and not isinstance(each, bool) for each in numbers
        ):
            self.wrong(path, "rules.range")
            return Range(low, low, low)
        if len(numbers) == 1:
            numbers = [numbers[0] - slack, numbers[0], numbers[0] + slack]
        found = Range(*(float(each) for each in numbers))
        if not found.least <= found.aim <= found.most:
            self.wrong(path, "rules.range")
        if not low <= found.aim <= high:
            self.outside(path, found.aim, low, high)
        return found

    def outside(self, path: str, typed: float, least: float, most: float) -> None:
        self.wrong(path, "rules.outside", typed=f"{typed:g}", least=f"{least:g}", most=f"{most:g}")

    def source(self, table: Mapping[str, Any], path: str, default: str | None = None) -> str:
        """The key of a source that is known."""
        value = str(self.take(table, path, str, default))
        if value and value not in sources():
            self.wrong(path, "rules.unknown-source", typed=_shown(value))
        return value


def _shown(value: object) -> str:
    """A value as it may be repeated in a sentence: short, on one line."""
    return " ".join(str(value).split())[:SHOWN_LETTERS]


def read_rule(file: str, text: str) -> Rule:
    """A rule from the text of its file. Raises `InputError` with every fault and its line."""
    reader = _Reader(file)
    try:
        table = tomllib.loads(text)
    except (ValueError, RecursionError) as trouble:  # also a number of thousands of digits
        raise _not_toml(file, text, trouble) from trouble
    reader.lines = lines_of(text)
    rule = _rule(reader, table)
    if reader.faults:
        raise InputError(reader.told())
    return rule


def _not_toml(file: str, text: str, trouble: Exception) -> InputError:
    """The refusal of a text that is no TOML, at its line; at the last one where none is told."""
    at = _AT_LINE.search(str(trouble))
    line = int(at[1]) if at and at[1] else max(1, len(text.splitlines()))
    told = {"file": file, "trouble": _shown(_AT_LINE.sub("", str(trouble)))}
    says, instead = Saying("rules.not-toml", **told), Saying("rules.not-toml-try", **told)
    return InputError([Fault("", says, instead, line)])


_TOP = {
    "name",
    "title",
    "source",
    "measures",
    "base",
    "factor",
    "second",
    "third",
    "label",
    "form",
    "remark",
    "accept",
}


def _rule(reader: _Reader, table: dict[str, Any]) -> Rule:
    reader.unknown(table, "", _TOP)
    source = reader.source(table, "source")
    base = reader.take(table, "base", dict)
    reader.unknown(base, "base", set(KINDS))
    labels = reader.take(table, "label", dict)
    reader.unknown(labels, "label", set(MAIN))
    forms = reader.take(table, "form", dict)
    factor = _factor(reader, table, "factor")
    measures = reader.choice(table, "measures", ("length", "height"))
    return Rule(
        name=str(reader.take(table, "name", str)),
        title=str(reader.take(table, "title", str)),
        source=source,
        measures="height" if measures == "height" else "length",
        base={kind: reader.choice(base, f"base.{kind}", BASES, BASES[0]) for kind in KINDS},
        label={stem: _label(reader, labels, stem) for stem in MAIN},
        second=_ratio(reader, table, "second", ("first",)),
        third=_ratio(reader, table, "third", ("first", "second")),
        forms={
            (name, kind): form
            for name, entry in forms.items()
            for kind, form in _forms(reader, name, entry, factor, source)
        },
        remark=str(reader.take(table, "remark", str, "")),
        accept=reader.range(table, "accept", 0.0, 0.0, 10.0) if "accept" in table else None,
        teaches=tuple(forms),
    )


def _label(reader: _Reader, labels: Mapping[str, Any], stem: str) -> Label:
    entry = reader.take(labels, f"label.{stem}", dict)
    reader.unknown(entry, f"label.{stem}", {"romaji", "kanji"})
    return Label(
        str(reader.take(entry, f"label.{stem}.romaji", str)),
        str(reader.take(entry, f"label.{stem}.kanji", str, "")),
    )


def _factor(reader: _Reader, table: Mapping[str, Any], path: str) -> dict[str, float]:
    """What the first stem is over the base, for each size of piece."""
    entry = reader.take(table, path, dict)
    reader.unknown(entry, path, set(SIZES))
    return _by_size(reader, entry, path)


def _by_size(reader: _Reader, table: Mapping[str, Any], path: str) -> dict[str, float]:
    found: dict[str, float] = {}
    for size in SIZES:
        if size in table:
            value = reader.take(table, f"{path}.{size}", float)
            if not 0.1 <= value <= 10.0:
                reader.outside(f"{path}.{size}", value, 0.1, 10.0)
            found[size] = value
    if not found:
        reader.wrong(path, "rules.no-size")
    return found


def _ratio(reader: _Reader, table: Mapping[str, Any], stem: str, of: tuple[str, ...]) -> Ratio:
    entry = reader.take(table, stem, dict)
    reader.unknown(entry, stem, {"of", *SIZES})
    return Ratio(reader.choice(entry, f"{stem}.of", of), _by_size(reader, entry, stem))


_FORM = {"vessels", "holder", "season_moves_holder", "first_is_highest", "factor", "source"}


def _forms(
    reader: _Reader, name: str, entry: Any, factor: dict[str, float], source: str
) -> list[tuple[str, Form]]:
    path = f"form.{name}"
    if name not in FORMS:
        reader.wrong(path, "rules.not-one-of", typed=_shown(name), choices=", ".join(FORMS))
    if not isinstance(entry, dict):
        reader.wrong(path, "rules.wrong-type", kind=Saying("rules.kind.table"))
        return []
    reader.unknown(entry, path, _FORM | set(MAIN) | set(KINDS))
    kinds = entry.get("vessels", list(KINDS))
    if not isinstance(kinds, list) or not kinds or any(kind not in KINDS for kind in kinds):
        choices = ", ".join(KINDS)
        reader.wrong(f"{path}.vessels", "rules.not-one-of", typed=_shown(kinds), choices=choices)
        return []
    return [
        (
            kind,
            _form(
                reader, name, kind, {**entry, **_of_kind(reader, entry, path, kind)}, factor, source
            ),
        )
        for kind in kinds
    ]


def _of_kind(reader: _Reader, entry: Mapping[str, Any], path: str, kind: str) -> Mapping[str, Any]:
    """What a form says of one kind of vessel alone."""
    table: Mapping[str, Any] = reader.take(entry, f"{path}.{kind}", dict, {})
    reader.unknown(table, f"{path}.{kind}", _FORM | set(MAIN))
    return table


def _form(
    reader: _Reader,
    name: str,
    kind: str,
    entry: Mapping[str, Any],
    factor: dict[str, float],
    source: str,
) -> Form:
    path = f"form.{name}"
    leans = {stem: _lean(reader, entry, f"{path}.{stem}") for stem in MAIN}
    return Form(
        name=name,
        kind=kind,
        holder=reader.choice(entry, f"{path}.holder", PLACES, "middle"),
        season_moves_holder=bool(reader.take(entry, f"{path}.season_moves_holder", bool, False)),
        first_is_highest=bool(reader.take(entry, f"{path}.first_is_highest", bool, True)),
        factor=_factor(reader, entry, f"{path}.factor") if "factor" in entry else factor,
        source=reader.source(entry, f"{path}.source", source),
        **leans,
    )


def _lean(reader: _Reader, entry: Mapping[str, Any], path: str) -> Lean:
    table = reader.take(entry, path, dict)
    reader.unknown(table, path, {"tilt", "bearing"})
    return Lean(
        reader.range(table, f"{path}.tilt", TILT_TOLERANCE_DEG, 0.0, MOST_TILT_DEG),
        reader.range(table, f"{path}.bearing", BEARING_TOLERANCE_DEG, 0.0, 360.0),
    )


@cache
def packaged() -> dict[str, Rule]:
    """The rules that come with the package, by name."""
    found = {}
    for file in tables.names("rules", ".toml"):
        rule = read_rule(file, tables.read_text(file))
        found[rule.name] = rule
    return found


def rules(own: Mapping[str, str] | None = None) -> dict[str, Rule]:
    """The packaged rules with a teacher's own laid over them.

    `own`: text of each own file by its name. Raises `InputError` with the faults of all of them.
    """
    found = dict(packaged())
    faults: list[Fault] = []
    files: dict[str, str] = {}
    for file, text in (own or {}).items():
        try:
            rule = read_rule(file, text)
        except InputError as trouble:
            faults += trouble.faults
            continue
        if rule.name in files:
            faults.append(_same_name(file, files[rule.name], rule.name))
        files[rule.name], found[rule.name] = file, rule
    if faults:
        raise InputError(faults)
    return found


def _same_name(file: str, other: str, name: str) -> Fault:
    told = {"file": file, "other": other, "typed": _shown(name)}
    return Fault("name", Saying("rules.same-name", **told), Saying("rules.same-name-try", **told))
