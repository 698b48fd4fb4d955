"""A described piece is read into a question, or refused with every fault."""

from __future__ import annotations

import pytest

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.reading.stand_file import StandQuestion, read_stand

PIECE = """
water = "3 cm"

[vessel]
shape = "round"
width = 30
height = 6

[holder]
diameter = 7
mass = "450 g"
place = "front left"

[[stem]]
length = 54
lean = 15
direction = "front left"
plant = "forsythia"
thickness = "pencil"
weighed = "35 g"

[[stem]]
length = "8 in"
lean = 75
direction = 135
kind = "soft stem"
thickness = "8 mm"
head = 12
in_bud = true
"""


def read(text: str) -> StandQuestion:
    return read_stand("piece.toml", text.encode())


def told(text: str) -> list[tuple[str, str, int | None]]:
    with pytest.raises(InputError) as caught:
        read(text)
    words = Words()
    for fault in caught.value.faults:
        assert fault.try_instead is not None or fault.says.key.startswith("limits.")
        assert words.say(fault.says)
        assert fault.try_instead is None or words.say(fault.try_instead)
    return [(fault.field, fault.says.key, fault.line) for fault in caught.value.faults]


@pytest.mark.source("bipm2019", "8 in = 20.32 cm")
def test_a_piece_is_read() -> None:
    asked = read(PIECE)
    assert (asked.vessel.width_cm, asked.place, asked.water_cm) == (30, "front left", 3)
    assert asked.holder is not None
    assert (asked.holder.width_cm, asked.holder.mass.g) == (7, 450)
    first, second = asked.stems
    assert (first.length_cm, first.tilt_deg, first.bearing_deg) == (54, 15, 225)
    assert (first.body.kind, first.body.thickness_mm) == ("bare-branch", 7)
    assert (first.body.weighed_g, first.body.head_g) == (35, 0)
    assert second.length_cm == pytest.approx(20.32)
    assert (second.body.kind, second.body.head_g, second.body.stage) == ("soft-stem", 12, "bud")


@pytest.mark.source("memory", "a tulip flower weighs 8 to 15 g; the middle is 11.5 g")
def test_the_flower_of_a_plant_weighs_what_the_table_says() -> None:
    stem = PIECE.replace('plant = "forsythia"', 'plant = "tulip"')
    assert read(stem).stems[0].body.head_g == pytest.approx(11.5)


@pytest.mark.parametrize(
    ("typed", "bearing_deg"),
    [
        ('"straight back"', 0),
        ('"back right"', 45),
        ('"right"', 90),
        ('"Front-Right"', 135),
        ('"to the front"', 180),
        ('"left front"', 225),
        ("270.0", 270),
        ("360", 0),
        ('"left and back"', 315),
    ],
)
@pytest.mark.source("hand", "clockwise from straight back: right 90, front 180, left 270")
def test_directions_are_words_or_degrees(typed: str, bearing_deg: float) -> None:
    text = PIECE.replace('direction = "front left"', f"direction = {typed}")
    assert read(text).stems[0].bearing_deg == bearing_deg


def test_a_stem_leaning_200_degrees_and_all_else_wrong_with_it_is_told_at_once() -> None:
    text = PIECE.replace("lean = 15", "lean = 200").replace('"front left"\nplant', '"up"\nplant')
    text = text.replace("length = 54", "length = 0").replace("forsythia", "forsithia")
    assert told(text) == [
        ("stem[1].length", "reading.length-outside", 15),
        ("stem[1].lean", "reading.lean-outside", 16),
        ("stem[1].direction", "reading.not-a-direction", 17),
        ("stem[1].plant", "reading.unknown-plant", 18),
    ]


def test_what_is_missing_is_told() -> None:
    assert told("# nothing\n") == [
        ("vessel", "reading.no-vessel", None),
        ("stem", "reading.no-stems", None),
    ]
    assert ("holder", "reading.no-holder", None) in told(
        '[vessel]\nshape="bowl"\nwidth=20\nheight=9'
    )
    assert told(PIECE.replace('kind = "soft stem"\n', "")) == [
        ("stem[2].kind", "reading.no-kind", 22)
    ]


def test_the_word_of_the_proportions_files_is_understood_for_lean() -> None:
    assert read(PIECE.replace("lean = ", "tilt = ")) == read(PIECE)
    assert told(PIECE.replace("lean = 15", "tilt = 200")) == [
        ("stem[1].tilt", "reading.lean-outside", 16)
    ]


def test_two_stems_of_one_name_are_told() -> None:
    text = PIECE.replace("[[stem]]", '[[stem]]\nname = "first"')
    assert told(text) == [("stem[2].name", "reading.name-twice", 24)]


def test_what_does_not_go_together_is_told() -> None:
    vase = PIECE.replace('shape = "round"', 'shape = "vase"')
    assert told(vase) == [("holder", "reading.holder-in-vase", 9)]
    assert told(PIECE.replace("diameter = 7", "diameter = 30")) == [
        ("holder", "forms.holder-too-wide", 9)
    ]
    assert told(PIECE.replace('"3 cm"', "6")) == [("water", "reading.water-over-rim", 2)]
    assert told(PIECE.replace("water =", "watr =")) == [("watr", "reading.unknown-table", 2)]


def test_a_tall_vase_needs_no_pin_holder() -> None:
    text = '[vessel]\nshape = "vase"\nwidth = 10\nheight = 25\n' + PIECE[PIECE.index("[[stem]]") :]
    assert read(text).holder is None
