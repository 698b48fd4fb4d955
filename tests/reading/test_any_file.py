"""Whatever stands in a file: it becomes a value, or every fault is told. Never anything else."""

from __future__ import annotations

import copy
import datetime as dt
import json
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis import places
from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Words
from nejime.reading.cases import read_cases
from nejime.reading.class_file import read_class
from nejime.reading.new_class import new_class
from nejime.reading.stand_file import read_stand

HERE = Path(__file__).parent
CLASS_TEXTS = [
    new_class(dt.date(2026, 3, 14)),
    *(
        file.read_text("utf-8")
        for folder in (HERE.parent.parent / "examples", HERE.parent / "fixtures" / "classes")
        for file in sorted(folder.rglob("[!3]*.toml"))
        if "toml-" not in file.name
    ),
]
STAND_TEXT = """
water = 3
[vessel]
shape = "bowl"
width = 30
height = 9
ware = "glass"
[holder]
width = 7
depth = 5
place = "back left"
[[stem]]
length = 54
tilt = 15
direction = "front left"
plant = "tulip"
thickness = "pencil"
[[stem]]
length = 20
tilt = 75
direction = 135
kind = "soft-stem"
thickness = "8 mm"
"""
CASES = {
    "cases": [
        {
            "holder_radius_cm": 3.5,
            "holder_g": 300,
            "holder_offset_cm": [1.0, 0.0],
            "vessel_foot_radius_cm": 10,
            "vessel_g": 900,
            "water_g": 1500,
            "stems": [{"foot_cm": [0, 0.5], "tip_cm": [-20, 10, 40], "stem_g": 20, "head_g": 0}],
        }
    ]
}
WORDS_OF_OURS = sorted(
    {
        key
        for text in CLASS_TEXTS
        for path in places.lines_of(text)
        for key in path
        if isinstance(key, str)
    }
)

HUGE = "a whole number of thousands of digits"

numbers = st.one_of(
    st.integers(-10, 400),
    st.integers(),
    st.floats(),
    st.sampled_from([0, -1, 1e-320, 1e308, 0.1, 6, 30, 300]),
)
texts = st.one_of(
    st.sampled_from(
        [
            "",
            " ",
            "30 cm",
            '12"',
            "1/0 in",
            "1e400 cm",
            "nan",
            HUGE,
            "½",
            "pencil",
            "usual",
            "vase",
            "all-round",
            "hanging",
            "water-viewing",
            "slanting",
            "America/Chicago",
            "America",
            "../x",
            "2026-03-08",
            "02:30",
            "tulip",
            "footed",
            "rectangle",
            "curved",
            "wood",
        ]
    ),
    st.text(max_size=12),
)
moments = st.one_of(st.dates(), st.times(), st.datetimes())
scalars = st.one_of(numbers, texts, st.booleans(), moments)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(st.one_of(st.sampled_from(WORDS_OF_OURS), texts), inner, max_size=3),
    ),
    max_leaves=6,
)


def toml(value: Any) -> str:
    """A value as TOML, tables in braces."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if value == HUGE:
        return "0x" + "f" * 6000
    if isinstance(value, dict):
        return "{" + ", ".join(f"{quoted(key)} = {toml(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    return quoted(value) if isinstance(value, str) else str(value)


def quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def written(tree: dict[str, Any]) -> str:
    return "\n".join(f"{quoted(key)} = {toml(value)}" for key, value in tree.items())


def containers(value: Any) -> Iterator[Any]:
    if isinstance(value, dict | list):
        yield value
        for inner in value.values() if isinstance(value, dict) else value:
            yield from containers(inner)


@st.composite
def retuned(draw: st.DrawFn, base: dict[str, Any]) -> dict[str, Any]:
    """A right tree after a few changes: a key dropped, doubled, renamed, or given another value."""
    tree = copy.deepcopy(base)
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.sampled_from(list(containers(tree))))
        if not place:
            continue
        keys = list(place) if isinstance(place, dict) else list(range(len(place)))
        key = draw(st.sampled_from(keys))
        what = draw(st.sampled_from(["drop", "double", "retune", "add"]))
        if what == "drop":
            del place[key]
        elif what == "retune":
            place[key] = draw(values)
        elif isinstance(place, list):
            place.append(copy.deepcopy(place[key]))
        elif what == "double":
            place[draw(texts)] = copy.deepcopy(place[key])
        else:
            place[draw(st.sampled_from(WORDS_OF_OURS))] = draw(values)
    return tree


def is_read_or_refused(read: Callable[[str, bytes], object], data: bytes) -> None:
    """Every fault has words, and a line that is in the file."""
    words = Words()
    for fault in faults_of(read, data):
        told = words.say(fault.says)
        assert told
        assert len(told) < 1000
        assert fault.try_instead is None or words.say(fault.try_instead)
        assert fault.line is None or 1 <= fault.line <= data.count(b"\n") + 1


def faults_of(read: Callable[[str, bytes], object], data: bytes) -> tuple[Fault, ...]:
    try:
        read("file", data)
    except InputError as refused:
        return refused.faults
    return ()


TREES = [tomllib.loads(text) for text in CLASS_TEXTS]


@given(st.sampled_from(TREES).flatmap(retuned))
def test_a_class_file_with_any_change(tree: dict[str, Any]) -> None:
    is_read_or_refused(read_class, written(tree).encode("utf-8", "surrogatepass"))


AWKWARD = [
    0,
    -1,
    True,
    HUGE,
    float("nan"),
    float("inf"),
    1e308,
    1e-320,
    "",
    "1e400 cm",
    "1/0 in",
    "\x07",
    "x" * 2000,
    dt.date(1, 1, 1),
    dt.datetime(9999, 12, 31, 23, 59),
    dt.time(2, 30),
    [],
    [[]],
    {},
    {"plant": "tulip"},
]


@pytest.mark.parametrize("text", [CLASS_TEXTS[0], STAND_TEXT], ids=["class", "stand"])
def test_every_key_with_every_awkward_value(text: str) -> None:
    read = read_stand if text == STAND_TEXT else read_class
    tree = tomllib.loads(text)
    seen = set()
    for table in containers(tree):
        for key in list(table) if isinstance(table, dict) else []:
            if (key, isinstance(table[key], list | dict)) in seen:
                continue
            seen.add((key, isinstance(table[key], list | dict)))
            right = table[key]
            for value in AWKWARD:
                table[key] = value
                is_read_or_refused(read, written(tree).encode())
            table[key] = right


@given(retuned(tomllib.loads(STAND_TEXT)))
def test_a_described_piece_with_any_change(tree: dict[str, Any]) -> None:
    is_read_or_refused(read_stand, written(tree).encode("utf-8", "surrogatepass"))


@given(retuned(CASES))
def test_cases_with_any_change(tree: dict[str, Any]) -> None:
    is_read_or_refused(read_cases, json.dumps(tree, default=str, skipkeys=True).encode())


@given(st.sampled_from(CLASS_TEXTS), st.data())
def test_a_class_file_with_a_piece_cut_out_or_put_in(text: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 60)))
    marks = st.sampled_from(['"', "[", "]]", "= 1\n", "#"])
    other = data.draw(st.one_of(st.text(max_size=5), marks))
    changed = text[:start] + other + text[end:]
    is_read_or_refused(read_class, changed.encode("utf-8", "surrogatepass"))


@given(st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    for read in (read_class, read_stand, read_cases):
        is_read_or_refused(read, data)


@given(st.dictionaries(texts, values, max_size=4))
@settings(max_examples=200)
def test_the_lines_of_any_tree_are_found(tree: dict[str, Any]) -> None:
    text = written(tree)
    try:
        read = tomllib.loads(text)
    except ValueError:
        return
    assert set(places.lines_of(text)) == set(_paths(read))


def _paths(value: Any, at: places.Path = ()) -> Iterator[places.Path]:
    if at:
        yield at
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _paths(inner, (*at, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _paths(inner, (*at, number))
