"""What people read is short and plain."""

import re
import tomllib
from pathlib import Path

import pytest

SAYINGS = Path(__file__).parents[2] / "src/nejime/data/sayings/en"


def lines(table):
    for value in table.values():
        if isinstance(value, dict):
            yield from lines(value)
        else:
            yield value


TEXTS = [
    text
    for name in ("keeping", "lesson")
    for text in lines(tomllib.loads((SAYINGS / f"{name}.toml").read_text(encoding="utf-8")))
]


def sentences(text):
    return [part for part in re.split(r"(?<=[.!?:])\s+", re.sub(r"\{[^}]*\}", "x", text)) if part]


@pytest.mark.source("own", "no sentence over 25 words, 15 or fewer on average")
def test_sentences_are_short() -> None:
    lengths = [len(part.split()) for text in TEXTS for part in sentences(text)]
    longest = [text for text in TEXTS if any(len(p.split()) > 25 for p in sentences(text))]
    assert not longest
    assert sum(lengths) / len(lengths) <= 15


def test_directions_are_nobodys_own_left_or_right() -> None:
    for text in TEXTS:
        assert not re.search(r"\b(my|your) (left|right)\b|\blike this\b", text.lower()), text


def test_nothing_promises_that_a_thing_is_safe_or_harmless() -> None:
    for text in TEXTS:
        assert not re.search(r"\b(is|are) (quite |completely )?(safe|harmless)\b", text), text
