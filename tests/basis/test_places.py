"""The line of every value in a TOML file, against the standard library's own reading of it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest

from nejime.basis.places import Path, lines_of, path_text

AWKWARD = '''# a note = "not a key"
top = 1
"quoted key" = "a # b = c"
dotted . "and more".last = 'literal \\'

[table]
text = """
[not.a.table]
key = "not a key\\"
"""
nested = [
    1, [2, 3], # [4]
    { a = 1, b = { c = [
        5,
    ] } },
]
date = 1979-05-27 07:32:00Z

[[list]]
name = "first"
[list.below]
x = 1

[[list]]
name = "second"
inline = { x = 1, "y z" = """two
lines""", z = 3 }
[[list.inner]]
k = true
[[list.inner]]
k = false
'''


def paths(value: Any, at: Path = ()) -> Iterator[Path]:
    if at:
        yield at
    items: Any = ()
    if isinstance(value, dict):
        items = value.items()
    elif isinstance(value, list):
        items = enumerate(value)
    for key, inner in items:
        yield from paths(inner, (*at, key))


@pytest.mark.source("hand", "lines counted in the text above")
def test_every_value_is_found_and_nothing_else() -> None:
    lines = lines_of(AWKWARD)
    assert set(lines) == set(paths(tomllib.loads(AWKWARD)))
    counted: dict[Path, int] = {
        ("top",): 2,
        ("quoted key",): 3,
        ("dotted", "and more", "last"): 4,
        ("table",): 6,
        ("table", "text"): 7,
        ("table", "nested"): 11,
        ("table", "nested", 1, 1): 12,
        ("table", "nested", 2, "b", "c", 0): 14,
        ("table", "date"): 17,
        ("list",): 19,
        ("list", 0): 19,
        ("list", 0, "below", "x"): 22,
        ("list", 1, "name"): 25,
        ("list", 1, "inline", "y z"): 26,
        ("list", 1, "inline", "z"): 27,
        ("list", 1, "inner", 1, "k"): 31,
    }
    assert {path: lines[path] for path in counted} == counted


def test_a_place_in_words_counts_from_one() -> None:
    assert path_text(("person", 2, "vessel", "width")) == "person[3].vessel.width"
    assert path_text(("cases", 0, "stems", 1, "tip_cm", 2)) == "cases[1].stems[2].tip_cm[3]"
    assert path_text(()) == ""
