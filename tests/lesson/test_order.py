"""The order of the class: to the minute, without gap, and honest about corrections."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson.classes import a_class, classes, people

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.forms.vessel import vessel
from nejime.lesson.lesson import Person
from nejime.lesson.order import late, order

WORDS = Words()


@given(classes())
def test_the_parts_fill_the_class_exactly_and_follow_one_another(lesson) -> None:
    try:
        made = order(lesson)
    except InputError as trouble:
        assert trouble.faults[0].field == "minutes"  # noqa: PT017
        return
    assert made.parts[0].begins_min == 0
    assert made.parts[-1].ends_min == lesson.minutes
    assert all(one.ends_min == two.begins_min for one, two in pairwise(made.parts))
    assert all(part.minutes >= max(1, part.least_min) for part in made.parts)
    assert 0 <= made.corrected <= len(lesson.people)


@given(classes())
def test_everything_that_is_said_has_a_text(lesson) -> None:
    try:
        made = order(lesson)
    except InputError as trouble:
        assert WORDS.say(trouble.faults[0].says)  # noqa: PT017
        return
    for part in made.parts:
        assert WORDS.say(part.title)
        assert WORDS.say(part.says)
    for remark in made.remarks:
        assert "{" not in WORDS.say(remark)


@pytest.mark.source("practice", "tidying before looking; sharps in before anybody leaves")
def test_the_parts_come_in_the_order_of_a_class() -> None:
    names = [part.name for part in order(a_class(6, 120)).parts]
    wanted = [
        "welcome",
        "sharps-out",
        "demonstration",
        "make-first",
        "make-second",
        "make-third",
        "make-helpers",
        "make-heart",
        "make-leaves",
        "correcting",
        "tidying",
        "looking",
        "sharps-in",
        "photographs",
        "wrapping",
        "clear-down",
    ]
    assert [name for name in names if name in wanted] == wanted


@pytest.mark.source("practice", "three to four minutes a person")
@pytest.mark.source(
    "hand",
    "14 people: the least parts are "
    "4 + 2 + 8 + 2 + 6 + 4 + 4 + 3 + 3 + 3 + 3 + 3 + 2 + 2 + 4 + 4 = 57 min "
    "(14 × 6 s = 84 s, so 2 min to count sharps; 14 × 10 s = 140 s, under 4 min to wrap). "
    "60 - 57 = 3: one person. 90 - 57 = 33: eleven. 57 + 14 × 3 = 99: all, and so in 120",
)
@pytest.mark.parametrize(("minutes", "corrected"), [(60, 1), (90, 11), (99, 14), (120, 14)])
def test_how_many_people_the_hour_holds(minutes, corrected) -> None:
    made = order(a_class(14, minutes))
    assert made.corrected == corrected
    assert made.enough_min == 99
    assert made.part("correcting").minutes >= 3 * corrected


@given(st.integers(1, 40), st.integers(100, 300))
def test_a_class_as_long_as_is_said_to_be_enough_corrects_everybody(count, minutes) -> None:
    made = order(a_class(count, minutes))
    enough = order(a_class(count, made.enough_min))
    assert enough.corrected == count
    assert (made.corrected == count) == (minutes >= made.enough_min)


def test_it_says_so_when_not_everybody_can_be_corrected() -> None:
    said = " ".join(WORDS.say(each) for each in order(a_class(14, 90)).remarks)
    assert "11 of 14 people" in said
    assert "99 min" in said


@pytest.mark.source(
    "hand",
    "30 people: 3 + 5 min for sharps and wrapping instead of 2 + 4, 3 in again instead of 2: the "
    "least is 57 + 3 = 60, so in 55 min helper stems (3) go, then leaves (3)",
)
def test_what_does_not_fit_is_left_out_and_said() -> None:
    made = order(a_class(30, 55))
    assert made.left_out == ("make-helpers", "make-leaves")
    assert made.part("make-helpers") is None
    assert sum(part.minutes for part in made.parts) == 55


@pytest.mark.source("hand", "6 people: 57 min least; without helper stems and leaves 51")
def test_a_class_that_is_too_short_is_refused_with_what_it_needs() -> None:
    assert order(a_class(6, 51)).left_out == ("make-helpers", "make-leaves")
    with pytest.raises(InputError) as trouble:
        order(a_class(6, 50))
    assert "51 min" in WORDS.say(trouble.value.faults[0].try_instead)


@given(classes(), st.integers(0, 60))
def test_a_late_class_drops_as_little_as_is_enough_and_never_what_is_for_safety(
    lesson, late_min
) -> None:
    try:
        made = order(lesson)
    except InputError:
        return
    found = late(made, late_min)
    assert found.short_min == max(0, late_min - found.saved_min)
    assert not {part.name for part in found.parts} & {
        "welcome",
        "sharps-out",
        "sharps-in",
        "make-third",
        "wrapping",
        "handing-out",
    }
    if found.parts:
        assert found.saved_min - found.parts[-1].saves_min < late_min
    for part in found.parts:
        assert WORDS.say(Saying(f"lesson.late.{part.name}"))


@pytest.mark.source("hand", "30 kits in an hour: 60 - 8 - 3 - 4 = 45, least; at 1 min a kit 30 fit")
def test_take_home_kits_are_handed_out_and_nobody_is_corrected() -> None:
    made = order(a_class(30, 60, take_home=True))
    assert [part.name for part in made.parts] == [
        "unpacking",
        "handing-out",
        "counting-left",
        "clear-down",
    ]
    assert made.corrected == 0
    assert made.part("handing-out").minutes >= 30
    with pytest.raises(InputError):
        order(a_class(30, 44, take_home=True))
    assert order(a_class(30, 45, take_home=True)).part("handing-out").minutes == 30


@pytest.mark.source(
    "practice", "in a tall vase a stem is cut long and trimmed until it leans right"
)
def test_tall_vases_are_told_in_their_own_words() -> None:
    vase = tuple(Person(f"P{n}", vessel("vase", 12, 28)) for n in range(4))
    tall = order(a_class(4, people=vase))
    assert "cross-bar" in WORDS.say(tall.part("make-holder").says)
    assert "trim" in WORDS.say(tall.part("make-first").says)
    mixed = order(a_class(4, people=(*vase[:2], *people(2))))
    assert "cross-bar" in WORDS.say(mixed.part("make-holder").says)
    assert "Pin holder" in WORDS.say(mixed.part("make-holder").says)
    bowls = order(a_class(4))
    assert "cross-bar" not in WORDS.say(bowls.part("make-holder").says)
    for made in (tall, mixed):
        assert all(WORDS.say(part.says) and WORDS.say(part.title) for part in made.parts)


def test_a_filmed_class_checks_camera_and_sound_first() -> None:
    names = [part.name for part in order(a_class(6, 120, filmed=True)).parts]
    assert names.index("film-check") < names.index("demonstration")
    assert "film-check" not in [part.name for part in order(a_class(6, 120)).parts]
