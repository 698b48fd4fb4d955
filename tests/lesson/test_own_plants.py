"""A class is planned with what its teacher knows of the plants herself."""

import datetime as dt
from dataclasses import replace

import pytest
from lesson.classes import a_class

from nejime.forms.rules import packaged
from nejime.keeping.display import lasting_days
from nejime.lesson.bodies import bodies
from nejime.lesson.pieces import demonstration
from nejime.lesson.supplying import _replaced
from nejime.material.wanted import replacements
from nejime.plants.review import Correction, corrected, from_memory, rows_of
from nejime.plants.table import plant

DAY = dt.date(2027, 2, 20)


def known_otherwise(name: str, what: str, low: float, high: float):
    each = plant(name)
    (row,) = [row for row in from_memory(rows_of(each)) if row.key.what == what]
    return corrected(each, [Correction(row.key, DAY, low, high)])


def test_a_class_knows_the_plants_of_the_table_and_hers_before_them() -> None:
    own = known_otherwise("tulip", "vase_life_d", 9, 12)
    lesson = a_class(2, plants=(own,))
    assert lesson.plant("tulip") is own
    assert lesson.plant("rose") is plant("rose")
    assert a_class(2).plant("tulip") is plant("tulip")


@pytest.mark.source("hand", "the middle of 20 and 24 g is 22 g")
def test_a_flower_that_she_weighed_herself_weighs_so_on_the_pins() -> None:
    own = known_otherwise("tulip", "head_g", 20, 24)
    lesson = a_class(2)
    shown = demonstration(lesson, packaged())
    hearts = [stem.id for stem in shown.stems if stem.role == "heart"]
    told = bodies(replace(lesson, plants=(own,)), shown)
    plain = bodies(lesson, shown)
    assert {told[each].head_g for each in hearts[:1]} == {22}
    assert {name: each for name, each in told.items() if name not in hearts} == {
        name: each for name, each in plain.items() if name not in hearts
    }


def test_replacements_on_display_follow_her_days() -> None:
    own = known_otherwise("tulip", "vase_life_d", 2, 3)
    lesson = a_class(2, display_days=8, plants=(own,))
    assert lasting_days(own).low == 2
    assert _replaced(lesson)["tulip"] == replacements(8, 2)
    assert _replaced(lesson)["tulip"] > _replaced(replace(lesson, plants=()))["tulip"]


def test_confirming_changes_no_plan() -> None:
    each = plant("tulip")
    confirmed = corrected(each, [Correction(row.key, DAY) for row in from_memory(rows_of(each))])
    lesson = a_class(2, display_days=8)
    shown = demonstration(lesson, packaged())
    sure = replace(lesson, plants=(confirmed,))
    assert bodies(sure, shown) == bodies(lesson, shown)
    assert _replaced(sure) == _replaced(lesson)
