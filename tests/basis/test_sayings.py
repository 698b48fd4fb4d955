"""Sentences: every key has a text, every text gets its quantities in the reader's units."""

import re
import string
from pathlib import Path

import pytest

import nejime
from nejime.basis.sayings import Saying, UnknownSaying, Words, texts

PACKAGE = Path(nejime.__file__).parent


def test_units_follow_the_reader():
    saying = Saying("forms.pins-dry", water_cm=2.0, pins_cm=2.2)
    assert "2 cm" in Words(unit="cm").say(saying)
    assert "¾ in" in Words(unit="in").say(saying)
    assert "2 cm (¾ in)" in Words(unit="both").say(saying)


def test_a_saying_inside_a_saying_and_several_of_them():
    words = Words()
    stems = tuple(Saying(f"stem.{name}") for name in ("first", "second", "third"))
    assert words.quantity("stems", stems) == "first stem, second stem and third stem"
    assert words.quantity("stems", stems[:2]) == "first stem and second stem"


def test_a_saying_does_not_change():
    saying = Saying("stem.first")
    with pytest.raises(AttributeError):
        saying.key = "stem.second"


def test_a_missing_text_and_a_missing_quantity_are_told():
    with pytest.raises(UnknownSaying):
        Words().say(Saying("nobody.wrote-this"))
    with pytest.raises(UnknownSaying):
        Words().say(Saying("forms.pins-dry"))


def test_every_text_is_well_formed():
    for key, text in texts().items():
        for _, name, spec, conversion in string.Formatter().parse(text):
            assert conversion is None, key
            assert spec in (None, "", "bare"), key
            assert name is None or re.fullmatch(r"[a-z][a-z_0-9]*", name), key


def test_every_key_in_the_code_has_a_text():
    """A key written out in the code is looked up; one made of parts is not seen here."""
    asked = set()
    for file in PACKAGE.rglob("*.py"):
        asked |= set(re.findall(r'Saying\(\s*"([a-z0-9.-]+)"', file.read_text("utf-8")))
    known = {re.sub(r"\.(one|many)$", "", key) for key in texts()}
    assert asked - known == set()
