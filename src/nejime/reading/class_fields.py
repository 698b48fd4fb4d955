"""Fields of forms into the tree of a class, and back.

Model: a field's name is its place in the tree, as faults name it: `person[3].vessel.width`, things
in a list counted from 1. A vessel or a pin holder is chosen first: none, their own (then the
measures beside it count) or one of ours by its name. What is empty is left out of the tree, and
what is left out moves the rest of its list up. Weekdays are a list in the tree and a text in their
field. For whoever measures in inches, a plain number in a
field is one of inches, and plain centimetres of the tree are shown with their unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from nejime.basis.places import Path, path_text
from nejime.lesson.lesson import NOTES
from nejime.reading import shoots, weekdays
from nejime.reading.class_tree import DAYS, WHOLE, YES, Tree, whole

OWN = "own"
OURS = "ours: "
"""Before the name of a thing that is lent."""
CHOSEN = ("vessel", "holder")
NOTED = "please_note"
SHOOTS = "shoots"
LENGTHS = frozenset(
    ("width", "height", "depth", "corner_radius", "floor_width", "foot_width", "foot_height")
) | frozenset(("wall", "body", "stand", "diameter", "length"))
_PLAIN = re.compile(r"\d+([.,]\d+)?")
_PART = re.compile(r"([a-z_-]+)((?:\[\d{1,4}\])?)")


def place(name: str) -> Path | None:
    """The place that a field's name says; None where it says none."""
    path: list[str | int] = []
    for part in name.split("."):
        found = _PART.fullmatch(part)
        if found is None:
            return None
        path.append(found[1])
        if found[2]:
            path.append(max(0, int(found[2][1:-1]) - 1))
    return tuple(path)


def tree_of_fields(fields: Mapping[str, str], unit: str = "cm") -> Tree:
    """The tree that filled-in fields make. `unit`: what a plain length in a field is in."""
    nested: dict[str | int, Any] = {}
    choices: dict[Path, str] = {}
    for name, text in fields.items():
        path = place(name)
        if path is None or len(path) == 1:  # one word alone is no field of the tree
            continue
        if path[-1] in CHOSEN:
            choices[path] = text
        else:
            _put(nested, path, _with_unit(path, text, "in" if unit == "in" else ""))
    for path, choice in choices.items():
        _choose(nested, path, choice)
    made = _made(nested)
    return made if isinstance(made, dict) else {}


def _with_unit(path: Path, text: str, unit: str) -> str:
    """A plain length with its unit, where that is not the tree's own."""
    if unit and path[-1] == SHOOTS:
        return shoots.with_unit(text, unit)
    is_plain = unit and path[-1] in LENGTHS and _PLAIN.fullmatch(text.strip())
    return f"{text.strip()} {unit}" if is_plain else text


def _put(nested: dict[str | int, Any], path: Path, value: Any) -> None:
    for part in path[:-1]:
        nested = nested.setdefault(part, {})
    nested[path[-1]] = value


def _choose(nested: dict[str | int, Any], path: Path, choice: str) -> None:
    """Keeps the measures of one's own, the name of one of ours, or nothing."""
    for part in path[:-1]:
        nested = nested.setdefault(part, {})
    if choice.startswith(OURS):
        nested[path[-1]] = choice.removeprefix(OURS)
    elif choice != OWN:
        nested.pop(path[-1], None)


def _made(value: Any, key: str | int = "") -> Any:
    """Without what is empty; lists as lists, whole numbers and what is true as such."""
    if not isinstance(value, Mapping):
        text = str(value).replace("\r\n", "\n").strip()
        if key == DAYS:
            return weekdays.as_list(text)
        if key in YES:
            return True if text else None
        return whole(text) if key in WHOLE and text else text
    if key == NOTED:
        return [note for note in NOTES if value.get(note)]
    pairs = {each: _made(inner, each) for each, inner in value.items()}
    kept = {each: inner for each, inner in pairs.items() if inner not in (None, "", [], {})}
    if kept and all(isinstance(each, int) for each in kept):
        return [kept[each] for each in sorted(kept)]
    return kept


def fields_of_tree(tree: Mapping[str, Any], unit: str = "cm") -> dict[str, str]:
    """What stands in each field for a tree. `unit`: what a plain length in a field is in."""
    shown = "cm" if unit == "in" else ""
    return {path_text(path): _with_unit(path, text, shown) for path, text in _filled(tree, ())}


def _filled(value: Any, path: Path) -> Iterator[tuple[Path, str]]:
    if path and path[-1] in CHOSEN and not isinstance(value, list):
        yield path, OWN if isinstance(value, Mapping) else f"{OURS}{value}"
        if not isinstance(value, Mapping):
            return
    if path and path[-1] == NOTED and isinstance(value, Sequence):
        for each in value:
            yield (*path, each), "yes"
    elif path and path[-1] == DAYS:
        yield path, weekdays.as_text(value)
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _filled(inner, (*path, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _filled(inner, (*path, number))
    else:
        yield path, "yes" if value is True else str(value)
