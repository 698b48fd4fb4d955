"""What mends a finding was tried: it is gone, no fault is new, and most faults can be mended."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from composing.making import RULES, arranged
from hypothesis import given, settings

from nejime.basis.sayings import Words
from nejime.composing.advice import advice
from nejime.composing.checks import findings
from nejime.composing.material import with_usual
from nejime.composing.moves import Move, moved
from nejime.composing.remedies import remedy
from nejime.composing.setting import setting
from nejime.forms.piece import piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel


@given(arranged())
@settings(max_examples=25)
def test_what_is_told_was_tried(made):
    here = setting(*made)
    faults = {each.key for each in findings(here) if each.fault}
    for told in advice(here):
        if told.remedy is None:
            continue
        left = findings(setting(told.remedy.piece, told.remedy.material))
        assert told.finding.key not in {each.key for each in left}
        assert {each.key for each in left if each.fault} <= faults - {told.finding.key}
        assert Words().say(told.remedy.says)
        assert Words().say(told.finding.says)


@given(arranged())
@settings(max_examples=25)
def test_at_most_three_are_shown_and_faults_come_first(made):
    here = setting(*made)
    told = advice(here)
    assert len(told) <= 3
    faults = [each.finding.fault for each in told]
    assert faults == sorted(faults, reverse=True)
    assert sum(faults) == min(3, sum(f.fault for f in findings(here)))


def beginners():
    """Lesson pieces with one thing wrong, in every form of a dish."""
    for (form, kind), taught in RULES["width-plus-height"].forms.items():
        if kind == "tall" or "usual" not in taught.factor:
            continue
        for width, height in ((30, 6), (24, 5), (36, 7)):
            bare = piece(vessel("round", width, height), RULES["width-plus-height"], form)
            yield from spoilt(with_supporting(bare, helpers=3, hearts=1, leaves=3))


def spoilt(full):
    known = with_usual(full, None)
    half = full.holder.width_cm / 2
    for move in (
        Move("sub-1", turn_deg=90.0),
        Move("sub-1", turn_deg=-120.0, lean_deg=15.0),
        Move("sub-1", cut=1.6),
        Move("sub-2", turn_deg=180.0),
        Move("sub-2", lean_deg=40.0),
        Move("sub-3", turn_deg=-100.0, cut=1.3),
        Move("heart-1", lean_deg=45.0),
        Move("heart-1", turn_deg=60.0, lean_deg=40.0),
        Move("third", lean_deg=15.0),
        Move("second", turn_deg=90.0),
        Move("third", turn_deg=120.0),
        Move("first", turn_deg=45.0),
        Move("first", cut=2.4),
        Move("sub-2", foot_cm=(half, half)),
        Move("leaf-1", out=True),
        Move("leaf-2", lean_deg=40.0),
        Move("leaf-3", turn_deg=150.0),
    ):
        yield moved(full, known, move)
    thirds = [replace(s, stands_deg=88.0, bow_cm=0.0) if s.id == "third" else s for s in full.stems]
    yield replace(full, stems=tuple(thirds)), known


@pytest.mark.source("own", "four of five faults get a remedy that was tried")
def test_four_of_five_faults_can_be_mended():
    have, mended = Counter(), Counter()
    for made in beginners():
        here = setting(*made)
        every = findings(here)
        for each in every:
            if each.fault:
                have[each.code] += 1
                mended[each.code] += remedy(here, each, every) is not None
    assert have.total() >= 50, have
    assert len(have) >= 5, have
    assert mended.total() >= 0.8 * have.total(), (have, mended)
