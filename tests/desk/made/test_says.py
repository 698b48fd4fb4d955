"""What is said of a measured piece, as a teacher would say it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from photo.made_up import about, camera, made_stem, measured, only_leans, plan, unsure

from nejime.basis.sayings import Words
from nejime.desk.made.outline import about_outlines, described
from nejime.desk.made.says import growing_cm, told
from nejime.photo.answer import Measured
from nejime.photo.comparing import compared
from nejime.photo.upright import in_picture_deg

CM, INCHES = Words(), Words(unit="in")
NEVER = re.compile(r"\b(tilt|bearing|tip|azimuth|score|residual)\b")


def test_a_stem_too_upright_is_told_with_numbers_and_the_viewers_direction() -> None:
    found = told(compared(measured(plan(), {"second": {"lean": -14.0}}), plan()), CM)
    assert found.change == (
        "The second stem leans 31°, aim 45°: lower it by about 14°, to the front left.",
    )
    assert found.good[0].startswith("The first stem stands as planned: it leans 15°, aim 15°")


def test_lean_and_direction_of_one_stem_are_one_sentence() -> None:
    one = told(compared(measured(plan(), {"second": {"lean": -14.0, "turn": 40.0}}), plan()), CM)
    assert one.change == (
        "The second stem leans 31° to the left, aim 45° to the front left: lower it by about 14°"
        " and turn it by about 40° to the front.",
    )
    near = told(compared(measured(plan(), {"second": {"lean": -14.0, "turn": 18.0}}), plan()), CM)
    assert near.change == (
        "The second stem leans 31°, aim 45°: lower it by about 14° and turn it by about 18°"
        " to the front.",
    )


def test_what_is_said_adds_up_after_rounding() -> None:
    for lean in (-10.6, -12.4, -14.5, 11.5, 20.6):
        [said] = told(compared(measured(plan(), {"second": {"lean": lean}}), plan()), CM).change
        made, aim, by = (int(each) for each in re.findall(r"(\d+)°", said))
        assert abs(made - aim) == by


@pytest.mark.source("hand", "54 cm times 1.12 is 60.5 cm, said as 60 or 61; 6 or 7 cm too long")
def test_a_stem_is_shortened_and_never_lengthened() -> None:
    [long] = told(compared(measured(plan(), {"first": {"share": 1.12}}), plan()), CM).change
    assert long == "Shorten the first stem by about 6 cm: it is 60 cm long, planned 54 cm."
    [short] = told(compared(measured(plan(), {"second": {"share": 0.8}}), plan()), CM).change
    assert "take a longer one, or next time cut it longer" in short
    assert "lengthen" not in short


def test_lengths_are_in_the_readers_unit() -> None:
    [said] = told(compared(measured(plan(), {"first": {"share": 1.12}}), plan()), INCHES).change
    assert " in" in said
    assert " cm" not in said


def test_at_most_three_things_are_to_be_changed_and_the_largest_first() -> None:
    wrong = {
        "first": {"lean": 20.0, "share": 1.3},
        "second": {"lean": -30.0, "share": 0.7},
        "third": {"lean": -50.0, "share": 1.4},
    }
    compared_ = compared(measured(plan(), wrong), plan())
    found = told(compared_, CM)
    assert len(compared_.changes) > 3
    assert len(found.change) == 3
    assert found.good


def test_a_turned_bowl_is_said_once_and_the_way_back_is_right() -> None:
    """Turned clockwise from above the front goes to the left, so it is turned back to the right."""
    one = told(compared(_turned(measured(plan()), 22.0), plan()), CM).change
    assert len(one) == 1
    assert "turned by about 22°: turn the bowl so far, its front edge to the right" in one[0]
    [other] = told(compared(_turned(measured(plan()), -22.0), plan()), CM).change
    assert "its front edge to the left" in other


def _turned(made: Measured, by_deg: float) -> Measured:
    """The whole piece turned clockwise about the vessel's middle."""
    import math

    from nejime.basis.angles import Point

    c, s = math.cos(math.radians(by_deg)), math.sin(math.radians(by_deg))

    def at(point: Point) -> Point:
        return Point(c * point.x_cm + s * point.y_cm, c * point.y_cm - s * point.x_cm, point.z_cm)

    stems = []
    for each in made.stems:
        assert each.line is not None
        way = each.line.bearing_deg
        turned = replace(
            each.line,
            bearing_deg=replace(
                way, value=(way.value + by_deg) % 360, low=way.low + by_deg, high=way.high + by_deg
            ),
            foot_cm=at(each.line.foot_cm),
            end_cm=at(each.line.end_cm),
        )
        stems.append(replace(each, line=turned))
    return replace(made, stems=tuple(stems))


def test_stems_turned_on_a_holder_that_lies_right_turn_the_holder() -> None:
    [said] = told(compared(measured(plan(), {"all": {"turn": 22.0}}), plan()), CM).change
    assert "turn the pin holder so far, its front edge to the right" in said


def test_the_other_side_is_said_first() -> None:
    wrong = compared(measured(plan("left"), {"third": {"lean": -40.0}}), plan("right"))
    found = told(wrong, CM)
    assert found.change[0].startswith("The piece opens to the left, the plan to the right.")
    assert len(found.change) == 2


def test_a_piece_in_proportion_is_praised_for_it() -> None:
    found = told(compared(measured(plan(), {"all": {"share": 0.8, "half_cm": 0.3}}), plan()), CM)
    [change] = found.change
    assert "20 % shorter" in change
    assert "Shorten" not in change


def test_what_nobody_can_say_is_named_and_nothing_is_made_of_it() -> None:
    made = unsure(measured(plan(), {"second": {"lean": -14.0}}), "second", 16.0)
    found = told(compared(made, plan()), CM)
    assert found.change == ()
    assert any("second stem" in each and "cannot be compared" in each for each in found.unsure)


def test_a_stem_that_cannot_be_measured_has_no_numbers() -> None:
    made = measured(plan())
    wide = tuple(
        replace(each, status="not measurable") if each.id == "third" else each
        for each in made.stems
    )
    found = told(compared(replace(made, stems=wide), plan()), CM)
    row = found.rows[2]
    assert (row.status, row.lean, row.direction, row.length) == ("not measurable", "", "", "")
    seen = tuple(replace(each, picture_lean_deg=(about(70.0, 2.0), None)) for each in wide)
    row = told(compared(replace(made, stems=seen), plan()), CM).rows[2]
    assert (row.lean, row.direction, row.length) == ("70° to the right ± 2°", "", "")
    assert any("length of the third stem are not measurable" in each for each in found.unsure)


def test_two_answers_are_both_shown() -> None:
    planned = plan()
    made = measured(planned)
    mirror = made_stem(planned.stem("second"), turn=90.0)
    both = tuple(
        replace(each, status="two answers", other=mirror.line) if each.id == "second" else each
        for each in made.stems
    )
    found = told(compared(replace(made, stems=both), planned), CM)
    assert found.rows[1].note.startswith("or 45° back left")
    assert any("towards you or away" in each for each in found.unsure)


def test_from_one_picture_only_the_lean_in_it_is_spoken_of() -> None:
    planned, seen = plan(), camera()
    meant = {each.id: in_picture_deg(each.start, each.end, seen) or 0.0 for each in planned.stems}
    wrong = {**meant, "second": meant["second"] + 25.0}
    found = told(compared(only_leans(planned, wrong), planned), CM)
    [said] = found.change
    assert said.startswith("In the picture the second stem leans")
    assert "lower it to the left by about 25°" in said
    assert any("second picture from the side" in each for each in found.unsure)
    assert found.rows[0].direction == ""


def test_without_a_plan_only_what_is_there_is_told() -> None:
    found = told(measured(plan()), CM)
    assert found.change == ()
    assert any("uneven triangle" in each for each in found.good)
    assert found.rows[0].aim_lean == ""


def test_there_is_always_one_true_good_thing() -> None:
    """Where nothing is as meant, the stem nearest to it is named."""
    wrong = {
        "first": {"lean": 40.0, "turn": 60.0, "share": 1.3},
        "second": {"lean": -35.0, "turn": -70.0, "share": 0.7},
        "third": {"lean": -60.0, "turn": 80.0, "share": 2.0},
    }
    assert told(compared(measured(plan(), wrong), plan()), CM).good


@pytest.mark.source("practice", "words that a teacher says; no words of mathematics")
def test_no_word_of_mathematics_is_said() -> None:
    wrong = {
        "first": {"lean": 20.0, "turn": 50.0},
        "second": {"share": 0.7},
        "third": {"lean": -30},
    }
    found = told(compared(measured(plan(), wrong), plan()), CM)
    for said in (*found.good, *found.change, *found.unsure):
        assert not NEVER.search(said)


def test_the_outline_is_described_beside_the_plans_and_is_no_mark() -> None:
    same = described(compared(measured(plan()), plan()), CM)
    assert [each.yours for each in same] == [each.plans for each in same]
    assert len(same) == 4
    left = described(measured(plan("left")), CM)
    assert left[0].yours == same[0].yours.replace("right", "left")
    assert "no marks" in about_outlines(CM)
    assert described(only_leans(plan(), {"first": 0, "second": 0, "third": 0}), CM) == ()


@pytest.mark.source("memory", "a tulip grows 2 to 5 cm after it is cut; a quince branch does not")
def test_a_tulip_that_grew_is_told_and_not_cut() -> None:
    grows = growing_cm({"first": "flowering-quince", "third": "tulip"})
    assert set(grows) == {"third"}
    share = 1.0 + 4.0 / plan().stem("third").length_cm
    made = measured(plan(), {"third": {"share": share}})
    found = told(compared(made, plan(), grows), CM)
    assert found.change == ()
    assert any("goes on growing" in each for each in found.unsure)


def test_a_stem_is_called_as_she_calls_it() -> None:
    made = compared(measured(plan(), {"second": {"lean": -14.0}}), plan())
    found = told(made, CM, {"second": "long quince"})
    assert found.change[0].startswith("The long quince leans 31°")
    assert found.rows[1].name == "Long quince"


def test_a_stem_with_a_strange_id_is_called_by_it() -> None:
    made = measured(plan())
    other = tuple(replace(each, id=f"zweig {n}") for n, each in enumerate(made.stems))
    found = told(replace(made, stems=other), CM)
    assert found.rows[0].name == "Zweig 0"
    assert any("zweig 0" in each for each in found.good)


@pytest.mark.source("hand", "4 cm too far to the left is mended by 4 cm to the right")
def test_a_pin_holder_is_moved_back_to_where_it_was_meant() -> None:
    [left] = told(compared(measured(plan(), {"all": {"foot": (-4.0, 0.0)}}), plan()), CM).change
    assert left == "Move the pin holder by about 4 cm, to the right."
    [near] = told(compared(measured(plan(), {"all": {"foot": (0.0, -4.0)}}), plan()), CM).change
    assert near == "Move the pin holder by about 4 cm, straight back."


@pytest.mark.source(
    "hand",
    "all ends in the plane of the bowl's middle; the second was meant 40.5·sin 45°·cos 45° = 20 cm"
    " to the front: no other end lacks as much",
)
def test_a_flat_piece_is_brought_to_the_front() -> None:
    planned = plan()
    told_ = {
        each.id: {"turn": (90.0 if each.bearing_deg < 180.0 else 270.0) - each.bearing_deg}
        for each in planned.stems
    }
    flat = compared(measured(planned, told_), planned)
    [said] = [each for each in told(flat, CM).change if "flat" in each]
    assert said == "Seen from the side the piece is flat: 0 cm from front to back, planned 20 cm."
    alone = told(replace(flat, changes=()), CM).change
    assert alone == (f"{said} Bring the end of the second stem about 20 cm further to the front.",)
