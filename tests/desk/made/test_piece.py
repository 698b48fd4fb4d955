"""A piece that was photographed twice stands on the arranging table where it was measured."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from photo.made_up import made_stem, measured, plan
from photo.photographed import photographed

from nejime.basis.angles import apart
from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.desk.arrange import on_table
from nejime.desk.demo import lay_out
from nejime.desk.every_bowl import in_every_bowl, without_vessel
from nejime.desk.made.piece import Chosen, as_design, made_piece, vessel_table
from nejime.desk.made.to_table import (
    as_measured,
    chosen_of,
    measured_of_piece,
    proposal,
    to_table,
    turned_since,
)
from nejime.desk.shelf import Shelf, open_shelf
from nejime.forms.stems import Opens
from nejime.photo.asked import Rim

CONTENT = {"bowl": {"shape": "round", "width": 30, "height": 6}}
CM = Words()
PLANTS = {"first": "forsythia", "second": "forsythia", "third": "tulip"}


@pytest.fixture
def shelf(tmp_path: Path) -> Iterator[Shelf]:
    with open_shelf(tmp_path) as opened:
        yield opened


@pytest.mark.source("bradski2000", "projectPoints with distortion makes the two pictures")
@pytest.mark.parametrize("opens", ["right", "left"])
@pytest.mark.parametrize("form", ["upright", "slanting"])
def test_a_piece_photographed_twice_stands_where_it_stood(form: str, opens: Opens) -> None:
    planned = plan(opens, form)
    found = photographed(planned)
    made = made_piece(found, CONTENT, Chosen(PLANTS))
    assert (made.tree["form"], made.tree["opens"]) == (form, opens)
    after = on_table(made.tree).piece
    assert {each.id for each in after.stems} == {"first", "second", "third"}
    for stem in after.stems:
        line = found.stem(stem.id).line
        assert line is not None
        assert abs(stem.length_cm - line.length_cm.value) <= line.length_cm.half + 0.1
        assert abs(stem.stands_deg - line.tilt_deg.value) <= line.tilt_deg.half + 0.6
        assert apart(stem.bearing_deg, line.bearing_deg.value) <= line.bearing_deg.half + 0.1
        assert math.dist(stem.end, planned.stem(stem.id).end) < 2.5


def test_what_stands_as_measured_is_not_told() -> None:
    made = made_piece(measured(plan()), CONTENT, Chosen(PLANTS))
    assert made.told == ()
    after = on_table(made.tree).piece
    for stem in after.stems:
        assert tuple(stem.end) == pytest.approx(tuple(plan().stem(stem.id).end), abs=0.05)


def test_a_pin_holder_lies_where_the_feet_stood() -> None:
    found = measured(plan(), {"all": {"foot": (9.0, 5.0)}})
    piece = on_table(made_piece(found, CONTENT, Chosen(PLANTS)).tree).piece
    for stem in piece.stems[:2]:  # the third one meets the rim there
        x, y, z = plan().stem(stem.id).end
        assert tuple(stem.end) == pytest.approx((x + 9.0, y + 5.0, z), abs=0.05)


def test_a_mirrored_sample_becomes_the_mirrored_piece() -> None:
    one = on_table(as_design(measured(plan("right")), CONTENT, PLANTS)).piece
    other = on_table(as_design(measured(plan("left")), CONTENT, PLANTS)).piece
    for stem, across in zip(one.stems, other.stems, strict=True):
        x, y, z = stem.end
        assert tuple(across.end) == pytest.approx((-x, y, z), abs=0.05)


def test_the_longest_are_the_main_stems_where_nobody_said_which() -> None:
    planned = plan()
    names = {"first": "c", "second": "a", "third": "b"}
    stems = [made_stem(each) for each in planned.stems]
    short = made_stem(planned.stem("third"), share=0.4, turn=90.0)
    found = replace(
        measured(planned),
        stems=(
            *(replace(each, id=names[each.id]) for each in stems),
            replace(short, id="d"),
        ),
    )
    made = made_piece(found, CONTENT, Chosen({"d": "tulip"}))
    assert made.became == {"c": "first", "a": "second", "b": "third", "d": "heart-1"}
    told = made_piece(found, CONTENT, Chosen({"d": "tulip"}, {"d": "leaf"}))
    assert told.became["d"] == "leaf-1"


def test_what_cannot_stand_as_it_was_measured_is_told() -> None:
    planned = plan()
    low = made_piece(measured(planned, {"third": {"lean": 14.0}}), CONTENT, Chosen(PLANTS))
    assert [each.key for each in low.told] == ["made.piece.lean"]
    far = made_piece(measured(planned, {"third": {"foot": (9.0, 0.0)}}), CONTENT, Chosen(PLANTS))
    assert "made.piece.foot" in [each.key for each in far.told]
    long = made_piece(measured(planned, {"first": {"share": 9.0}}), CONTENT, Chosen(PLANTS))
    assert "made.piece.length" in [each.key for each in long.told]
    few = replace(measured(planned), stems=measured(planned).stems[:2])
    missing = made_piece(few, CONTENT, Chosen(PLANTS))
    assert [each.key for each in missing.told] == ["made.piece.as-the-form"]
    for made in (low, far, long, missing):
        for each in made.told:
            assert CM.say(each)


def test_without_a_line_there_is_no_piece() -> None:
    with pytest.raises(InputError):
        made_piece(replace(measured(plan()), stems=()), CONTENT, Chosen())


@pytest.mark.source("hand", "a wall of the usual ware stands on both sides of the inside")
def test_a_vessel_of_which_only_the_rim_is_known() -> None:
    table = vessel_table(Rim("rectangle", 40.0, 26.0, 6.0))
    assert table["shape"] == "rectangle"
    assert 38.0 < table["width"] < 40.0
    assert table["width"] - table["depth"] == pytest.approx(14.0)
    assert vessel_table(Rim("round", 12.0, 12.0, 28.0))["shape"] == "vase"


def test_a_sample_photographed_twice_stands_in_every_bowl_of_the_class(shelf: Shelf) -> None:
    today = dt.date(2027, 2, 20)
    opened = lay_out(shelf, today)
    found = photographed(plan())
    kept = shelf.add("made", "My sample", CONTENT)
    piece = to_table(shelf, kept, found, Chosen(PLANTS), "The class's piece")
    bowls = in_every_bowl(shelf, piece.id, opened.id, CM)
    assert len(bowls) + len(without_vessel(shelf, opened.id)) == 14
    assert all(each.svg for each in bowls)
    link = measured_of_piece(shelf, piece)
    assert link is not None
    assert link.id == kept.id
    told = link.content["piece"]["stems"]
    assert set(told) == {"first", "second", "third"}
    for low_high in (told["first"]["tilt_deg"], told["third"]["length_cm"]):
        value, low, high = low_high
        assert low <= value <= high
    piece_now = on_table(piece.content).piece
    assert turned_since(link.content["piece"], piece_now) == ()
    shown = as_measured(shelf, piece.id, CM)
    assert shown is not None
    assert shown.moved == ()
    assert all("±" in each.lean and "±" in each.length for each in shown.stems)
    moved = replace(piece_now.stems[0], stands_deg=piece_now.stems[0].stands_deg + 12.0)
    other = replace(piece_now, stems=(moved, *piece_now.stems[1:]))
    assert turned_since(link.content["piece"], other) == ("first",)


def test_what_it_would_become_is_shown_and_can_be_said_otherwise() -> None:
    found = measured(plan())
    shown = proposal(found, CONTENT, Chosen(PLANTS), CM)
    assert [each.role for each in shown.stems] == ["first", "second", "third"]
    assert shown.form == "upright"
    fields = {"plant-third": "daffodil-of-nowhere"}
    with pytest.raises(InputError) as trouble:
        chosen_of(fields, ["first", "second", "third"])
    assert trouble.value.faults[0].field == "plant-third"
    with pytest.raises(InputError) as trouble:
        chosen_of({"role-first": "second", "role-second": "second"}, ["first", "second"])
    assert trouble.value.faults[0].field == "role-second"
    chosen = chosen_of(
        {"plant-third": "anemone", "form": "slanting", "opens": "left"}, ["first", "third"], PLANTS
    )
    made = made_piece(found, CONTENT, chosen)
    assert (made.tree["form"], made.tree["opens"]) == ("slanting", "left")
    third = next(each for each in made.tree["stems"] if each["id"] == "third")
    assert third["plant"] == "anemone"
    assert on_table(made.tree).piece.stem("first").stands_deg == pytest.approx(
        plan().stem("first").stands_deg, abs=0.1
    )
