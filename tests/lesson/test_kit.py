"""The kit: as many of everything as the people ask for, and sharps counted out and in."""

import pytest
from hypothesis import given
from lesson.classes import a_class, classes

from nejime.basis.sayings import Words
from nejime.forms.vessel import vessel
from nejime.lesson.kit import PLACES, kit
from nejime.lesson.lesson import Person, Room

WORDS = Words()


def counts(lesson):
    return {item.what: item.count for item in kit(lesson).items}


@given(classes())
def test_what_goes_out_comes_in_or_goes_home(lesson) -> None:
    made = kit(lesson)
    assert made.sharps_out == made.sharps_in + made.sharps_gone
    assert made.sharps_gone == (len(lesson.people) if lesson.take_home else 0)
    assert all(0 < item.back <= item.count or not item.comes_back for item in made.items)


@given(classes())
def test_every_thing_has_a_place_and_a_name_and_stands_once(lesson) -> None:
    made = kit(lesson)
    assert sorted(item.what for place in PLACES for item in made.at(place)) == sorted(
        item.what for item in made.items
    )
    assert len({item.what for item in made.items}) == len(made.items)
    assert all(WORDS.say(item.says) for item in made.items)


@given(classes())
def test_blades_and_pins_are_sharp(lesson) -> None:
    for item in kit(lesson).items:
        sharp = any(word in item.what for word in ("scissors", "holder"))
        assert item.sharp == sharp, item.what


@pytest.mark.source(
    "hand",
    "14 people with dishes: 14 scissors, 14 pin holders, 2 spare and demonstration holders, the "
    "teacher's scissors: 14 + 14 + 2 + 1 = 31 out. Buckets one for ten begun: 2; jugs one for "
    "eight begun: 2; gloves one pair for four begun: 4",
)
def test_a_class_of_fourteen() -> None:
    lesson = a_class(14)
    made = counts(lesson)
    assert kit(lesson).sharps_out == 31
    assert (made["bucket"], made["jug"], made["nitrile-gloves"]) == (2, 2, 4)
    assert made["towel"] == made["handout"] == made["set"] == 14
    assert "floor-cover" not in made
    assert "bowl" not in made


@pytest.mark.source("hand", "two of six have a vase and need no pin holder; one has no vessel")
def test_bowls_and_holders_for_those_who_need_them() -> None:
    vase = vessel("vase", 12, 28)
    dish = vessel("round", 30, 6)
    folk = (
        Person("A", vase),
        Person("B", vase),
        Person("C", None),
        Person("D", dish, lent=True),
        Person("E", dish),
        Person("F", dish),
    )
    made = counts(a_class(6, people=folk))
    assert made["pin-holder"] == 4
    assert made["bowl"] == 2


@pytest.mark.source("hand", "six vases: six scissors and the teacher's are sharp, nothing else: 7")
def test_a_class_in_tall_vases_needs_no_pins() -> None:
    vase = vessel("vase", 12, 28)
    lesson = a_class(6, people=tuple(Person(f"P{n}", vase) for n in range(6)))
    assert kit(lesson).sharps_out == 7
    assert counts(lesson)["fixing"] == 6


def test_notes_carpet_and_camera_bring_their_things() -> None:
    lesson = a_class(
        8,
        p1=("left-handed",),
        p2=("latex-allergy",),
        p3=("skin-allergy", "low-vision"),
        filmed=True,
        room=Room(floor="carpet"),
    )
    made = counts(lesson)
    assert made["scissors-left"] == 1
    assert made["gloves-for-one"] == 2
    assert made["large-print"] == 1
    assert made["floor-cover"] == 2
    assert made["camera"] == 1
    assert made["demonstration-set"] == 2
    assert counts(a_class(8))["demonstration-set"] == 1


def test_a_kit_for_home_holds_no_scissors_and_counts_its_pin_holders_out() -> None:
    lesson = a_class(30, 60, take_home=True)
    made = counts(lesson)
    assert made["kit-box"] == made["kit-vessel"] == made["kit-holder"] == 30
    assert not [what for what in made if "scissors" in what]
    assert kit(lesson).sharps_in == 0
