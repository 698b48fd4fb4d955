"""The glossary has every Japanese word that is printed, and its places in the code exist."""

from __future__ import annotations

import re
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path

from nejime.basis.sayings import texts
from nejime.forms.rules import packaged

GLOSSARY = (Path(__file__).parents[2] / "docs" / "glossary.md").read_text("utf-8")


def test_every_label_of_a_main_stem_is_in_it() -> None:
    labels = [label for rule in packaged().values() for label in rule.label.values()]
    assert labels
    for label in labels:
        assert f"{label.romaji} {label.kanji}" in GLOSSARY


def test_every_word_that_a_handout_explains_is_in_it() -> None:
    printed = [text for key, text in texts().items() if re.match(r"papers\.term\..*\.kanji$", key)]
    assert printed
    assert [kanji for kanji in printed if kanji not in GLOSSARY] == []


def test_every_place_in_the_code_exists() -> None:
    places = re.findall(r"`((?:\w+\.){2}\w+)`", GLOSSARY)
    assert places
    for place in places:
        room, name = place.rsplit(".", 1)
        module = import_module(f"nejime.{room}")
        assert hasattr(module, name) or find_spec(f"nejime.{place}"), place
