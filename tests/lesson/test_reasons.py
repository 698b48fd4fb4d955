"""Reasons: what is found when one thing is changed is what that change costs."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from nejime.forms.rules import packaged
from nejime.lesson.lesson import Lesson
from nejime.lesson.reasons import changed, changes, dearest, reason, with_stand_ins
from nejime.lesson.supplying import Supplying, supplying
from nejime.reading.class_file import read_class

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
RULES = dict(packaged())
TODAY = dt.date(2027, 3, 1)


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def told(request) -> tuple[Lesson, Supplying]:
    lesson = read_class(request.param.name, request.param.read_bytes())
    return lesson, supplying(lesson, RULES, TODAY)


def test_every_difference_is_between_two_plans(told):
    lesson, made = told
    for change in changes(lesson, made.bought):
        found = reason(change, made.bought, RULES)
        after = changed(change, RULES)
        assert found.total_minor == after.total_minor
        assert found.more_minor == after.total_minor - made.bought.total_minor
        assert found.proven


def test_less_to_choose_from_never_costs_less_and_less_to_serve_never_more(told):
    lesson, made = told
    for change in changes(lesson, made.bought):
        found = reason(change, made.bought, RULES)
        if found.missing:
            continue
        if change.key in ("without-shop", "without-garden", "one-more", "surer", "split"):
            assert found.more_minor >= 0, change.key
        if change.key in ("one-fewer", "without-spares", "looser"):
            assert found.more_minor <= 0, change.key


def test_the_dearest_wish_is_the_one_without_which_most_is_saved(told):
    lesson, made = told
    found = dearest(lesson, made.bought, RULES)
    for first in found[:1]:  # a shop's minimum may make every wish free
        assert first.says.key == "material.reason.without-wish.less"
        assert first.more_minor < 0
    for wish in lesson.wishes:
        if wish.stand_ins:
            welcome = reason(with_stand_ins(lesson, wish), made.bought, RULES)
            assert welcome.more_minor <= 0
