"""What mends a finding was tried: it is gone, no fault is new, and most faults can be mended."""

from __future__ import annotations

from collections import Counter

import pytest
from composing.making import BRANCH, HEART, RULES, TULIP, dish, with_stem
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.composing.advice import advice
from nejime.composing.checks import findings
from nejime.composing.remedies import after, remedy
from nejime.composing.setting import setting
from nejime.forms.piece import piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel

LEAN = st.floats(5, 80)
TURN = st.floats(0, 359)


@st.composite
def arranged(draw):
    """A piece as a beginner may set it: main stems near their aims, helpers anywhere."""
    made = dish(
        (54.0, draw(st.floats(5, 30)), draw(st.floats(190, 260))),
        (draw(st.floats(30, 45)), draw(st.floats(30, 60)), draw(st.floats(180, 300))),
        (draw(st.floats(20, 32)), draw(st.floats(50, 75)), draw(st.floats(90, 180))),
    )
    for number in range(draw(st.integers(0, 3))):
        foot = (draw(st.floats(-2, 2)), draw(st.floats(-2, 2)))
        numbers = (draw(st.floats(12, 45)), draw(LEAN), draw(TURN))
        leader = draw(st.sampled_from(["first", "second", "third"]))
        made = with_stem(made, f"sub-{number + 1}", leader, numbers, foot, (BRANCH, TULIP)[number % 2])
    numbers = (draw(st.floats(10, 20)), draw(LEAN), draw(st.floats(120, 240)))
    return with_stem(made, "heart-1", "third", numbers, (0.5, -1.2), HEART)


@given(arranged())
@settings(max_examples=25)
def test_what_is_told_was_tried(made):
    before = findings(setting(*made))
    faults = {each.key for each in before if each.fault}
    for told in advice(*made):
        if told.remedy is None:
            continue
        left = findings(setting(*after(*made, told.remedy)))
        assert told.finding.key not in {each.key for each in left}
        assert {each.key for each in left if each.fault} <= faults - {told.finding.key}
        assert Words().say(told.remedy.says)
        assert Words().say(told.finding.says)


@given(arranged())
@settings(max_examples=25)
def test_at_most_three_are_shown_and_faults_come_first(made):
    told = advice(*made)
    assert len(told) <= 3
    faults = [each.finding.fault for each in told]
    assert faults == sorted(faults, reverse=True)
    assert sum(faults) == min(3, sum(f.fault for f in findings(setting(*made))))


def beginners():
    """Textbook pieces with one thing wrong, in every form of a dish: (what, piece, material)."""
    for (form, kind), taught in RULES["width-plus-height"].forms.items():
        if kind == "tall" or "usual" not in taught.factor:
            continue
        for width, height in ((30, 6), (24, 5), (36, 7)):
            bare = piece(vessel("round", width, height), RULES["width-plus-height"], form)
            full = with_supporting(bare, helpers=2, hearts=1)
            yield from spoilt(full)


def spoilt(full):
    from nejime.composing.material import with_usual
    from nejime.composing.moves import Move, moved

    known = with_usual(full, None)
    half = full.holder.width_cm / 2
    for move in (
        Move("sub-1", turn_deg=90.0),
        Move("sub-1", turn_deg=-120.0, lean_deg=15.0),
        Move("sub-1", cut=1.6),
        Move("sub-2", turn_deg=180.0),
        Move("sub-2", lean_deg=40.0),
        Move("heart-1", lean_deg=45.0),
        Move("heart-1", turn_deg=60.0, lean_deg=40.0),
        Move("third", lean_deg=15.0),
        Move("second", turn_deg=90.0),
        Move("third", turn_deg=120.0),
        Move("first", turn_deg=45.0),
        Move("first", cut=2.4),
        Move("sub-2", foot_cm=(half, half)),
        Move(leaf_deg=180.0),
    ):
        yield moved(full, known, move)


@pytest.mark.source("own", "four of five faults get a remedy that was tried")
def test_four_of_five_faults_can_be_mended():
    have, mended = Counter(), Counter()
    for made in beginners():
        here = setting(*made)
        for each in findings(here):
            if each.fault:
                have[each.code] += 1
                mended[each.code] += remedy(here, each) is not None
    assert have.total() >= 50, have
    assert mended.total() >= 0.8 * have.total(), (have, mended)
