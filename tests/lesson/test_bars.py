"""Cross-bars: how long, for whom, and from which rests."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from nejime.forms.rules import packaged
from nejime.lesson.plan import plan_lesson
from nejime.reading.class_file import read_class

EXAMPLES = Path(__file__).parents[2] / "examples"
VASES = EXAMPLES / "2-tall-vases-for-six.toml"
TODAY = dt.date(2027, 3, 1)
LESSON = read_class(VASES.name, VASES.read_bytes())
WEDGED_CM = 0.3


@pytest.mark.source("hand", "straight walls: as wide inside as at the mouth, and 0.3 more")
def test_a_bar_is_as_wide_as_its_vase_and_comes_from_a_rest():
    plan = plan_lesson(LESSON, dict(packaged()), TODAY)
    assert plan.bars is not None
    vessels = {person.name: person.vessel for person in LESSON.people}
    checked = 0
    for length_cm, names in zip(plan.bars.lengths_cm, plan.bars.whose, strict=True):
        for name in names:
            own = vessels.get(name) or LESSON.demonstration
            if own is not None and own.body_cm <= own.width_cm:
                assert length_cm == pytest.approx(own.width_cm + WEDGED_CM, abs=0.06)
                checked += 1
    assert checked >= 2
    rests_cm = [use.length_cm - use.cut_to_cm for use in plan.bought.uses]
    for cut in plan.bars.cut.cuts:
        assert any(abs(cut.stick.length_mm / 10 - rest) < 0.06 for rest in rests_cm)
    assert not any(plan.bars.cut.missing)


def test_without_rests_every_bar_is_missing():
    plan = plan_lesson(replace(LESSON, garden=(), shops=()), dict(packaged()), TODAY)
    assert plan.bars is not None
    assert plan.bars.cut.missing == plan.bars.counts


def test_dishes_want_no_bar():
    dishes = EXAMPLES / "3-take-home-kit.toml"
    lesson = read_class(dishes.name, dishes.read_bytes())
    assert plan_lesson(lesson, dict(packaged()), TODAY).bars is None
