"""Spoken lines: everything that is shown is said, from the viewer's side."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson.classes import a_class

from nejime.basis.sayings import Words
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.lesson.filming import spoken
from nejime.lesson.order import order

RULE = packaged()["width-plus-height"]
WORDS = Words()
BARE = re.compile(
    r"\b(my|your|our|his|her) (left|right)|\b(like|as) this\b|\bhere\b|\bover there\b"
)


def shown(width=30, height=6, shape="round", opens="right"):
    made = piece(vessel(shape, width, height), RULE, "upright", opens=opens)
    return with_supporting(made, helpers=2, hearts=1, leaves=2)


@given(st.floats(24, 60), st.floats(5, 12), st.sampled_from(["right", "left"]))
def test_no_line_is_empty_or_needs_the_picture(width, height, opens) -> None:
    for line in spoken(shown(width, height, opens=opens)):
        said = WORDS.say(line.says)
        assert said.endswith(".")
        assert not BARE.search(said.lower())
        assert "{" not in said
        assert WORDS.say(line.view)


@pytest.mark.source(
    "hand",
    "(30 + 6) × 1.5 = 54 cm, 15° from upright to the front left of the upright form: end 54 × cos "
    "15° = 52.2 cm high",
)
def test_a_stem_is_named_with_its_lean_side_and_height() -> None:
    said = [WORDS.say(line.says) for line in spoken(shown())]
    lean = next(each for each in said if each.startswith("The first stem leans"))
    assert "15°" in lean
    assert "front left" in lean
    assert "52 cm high" in lean


def test_the_other_opening_is_the_other_side() -> None:
    def sides(opens):
        return [WORDS.say(line.says) for line in spoken(shown(opens=opens))]

    swap = {"left": "right", "right": "left"}
    mirrored = [re.sub(r"\b(left|right)\b", lambda m: swap[m[0]], each) for each in sides("right")]
    assert mirrored == sides("left")


@pytest.mark.source("fiorella2017", "over the shoulder for what hands do")
def test_cutting_is_filmed_over_the_shoulder_and_a_lean_from_the_front() -> None:
    for line in spoken(shown()):
        if "is cut to" in WORDS.say(line.says):
            assert line.shot == "shoulder"
        if "leans" in WORDS.say(line.says):
            assert line.shot == "front"


@pytest.mark.source("w3c-g226", "narration says what is shown")
def test_every_part_in_which_something_is_made_has_its_lines() -> None:
    made = order(a_class(6, 120, filmed=True), shown())
    for part in made.parts:
        assert bool(part.spoken) == part.name.startswith("make-"), part.name
    assert sum(len(part.spoken) for part in made.parts) == len(spoken(shown()))
    assert not any(part.spoken for part in order(a_class(6, 120), shown()).parts)


def test_a_film_for_kits_has_all_its_lines() -> None:
    made = order(a_class(6, 60, filmed=True, take_home=True), shown())
    assert made.film == spoken(shown())
    assert order(a_class(6, 60, take_home=True), shown()).film == ()


def test_a_tall_vase_has_its_own_first_line() -> None:
    lines = spoken(shown(12, 28, "vase"))
    assert "tall vase" in WORDS.say(lines[0].says)
