"""Cautions of a class: those that apply, to those whom they concern."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lesson.classes import DISH, a_class, classes

from nejime.basis.sayings import Words
from nejime.basis.tables import read_csv
from nejime.forms.vessel import vessel
from nejime.lesson.cautions import AUDIENCES, COLUMNS, FILE, cautions, filled_g
from nejime.lesson.lesson import NOTES, Person, Room
from nejime.plants.table import plant, plants

WORDS = Words()
SPRING = [plant("flowering-quince"), plant("tulip"), plant("aspidistra")]


def said(found, *audience):
    return " ".join(WORDS.say(each.says) for each in found.of(*audience))


@given(classes(), st.lists(st.sampled_from(plants()), max_size=5, unique=True))
def test_nobodys_note_is_on_anothers_sheet(lesson, chosen) -> None:
    """Each person's cautions are those of the same class with all other notes left out."""
    found = cautions(lesson, chosen)
    for index, own in enumerate(found.people):
        alone = tuple(
            person if n == index else replace(person, please_note=())
            for n, person in enumerate(lesson.people)
        )
        assert cautions(replace(lesson, people=alone), chosen).people[index] == own
        assert own.seat == index + 1
        assert {each.note for each in own.objections} <= set(lesson.people[index].please_note)
        assert len(own.notes) == len(lesson.people[index].please_note)


@given(classes(), st.sampled_from(NOTES))
def test_what_everybody_reads_tells_of_no_allergy_pet_or_chair(lesson, note) -> None:
    """A note changes what everybody reads only where it is a child, who is seen anyway."""
    plain = replace(lesson, people=tuple(replace(p, please_note=()) for p in lesson.people))
    first = replace(plain.people[0], please_note=(note,))
    noted = replace(plain, people=(first, *plain.people[1:]))
    before, after = (cautions(each, SPRING).of("everyone", "home") for each in (plain, noted))
    assert before == after or note == "child"


@given(classes(), st.lists(st.sampled_from(plants()), max_size=5, unique=True))
def test_every_caution_has_a_text_and_a_grade(lesson, chosen) -> None:
    found = cautions(replace(lesson, poison_line="555-0100"), chosen)
    for each in found.of(*AUDIENCES):
        assert "{" not in WORDS.say(each.says)
        assert each.grade
    for one in (*found.objections, *(o for person in found.people for o in person.objections)):
        assert WORDS.say(one.says)
        assert WORDS.say(one.try_instead)


def test_every_circumstance_of_the_table_is_known() -> None:
    lesson = a_class(2)
    found = {each.says.key.rpartition(".")[2] for each in cautions(lesson, SPRING).general}
    rows = {row["id"]: row["when"] for row in read_csv(FILE, COLUMNS)}
    assert found <= set(rows)
    assert {name for name, when in rows.items() if when == "always"} <= found


@pytest.mark.source("fda2014", "lilies, and the water they stood in, near cats")
def test_a_lily_and_a_cat_are_a_block_for_that_seat_alone() -> None:
    found = cautions(a_class(4, p3=("cat-at-home",)), [plant("lily")])
    assert [seat for seat, each in found.blocks if each.plant == "lily"] == [3]
    assert [each.weight for each in found.objections] == ["leave out"]


@pytest.mark.source("narita2022", "Coreopsis lanceolata in Japan")
def test_a_forbidden_plant_is_a_block_for_the_class() -> None:
    found = cautions(a_class(2, region="JP"), [plant("lance-coreopsis")])
    assert [seat for seat, _ in found.blocks] == [0]


@pytest.mark.source("memory", "common pin holders are lead: no eating from the bowl, washed hands")
def test_lead_is_told_where_pin_holders_are() -> None:
    found = cautions(a_class(2), SPRING)
    assert "Do not eat again" in said(found, "everyone")
    assert "Lend no dish" in said(found, "teacher")
    assert "white powder" in said(found, "teacher")
    vases = (Person("A", vessel("vase", 12, 28)),)
    none = cautions(a_class(1, people=vases, demonstration=vessel("vase", 12, 28)), SPRING)
    assert "lead" not in said(none, *AUDIENCES)


@pytest.mark.source("practice", "branch ends at eye height; scissors laid down, not handed over")
def test_tools_and_branches() -> None:
    found = said(cautions(a_class(2), SPRING), "everyone")
    assert "Branch ends" in found
    assert "Lay scissors down" in found
    assert "Branch ends" not in said(cautions(a_class(2), [plant("tulip")]), "everyone")


def test_no_flame_in_a_room_and_plants_that_would_need_one_are_named_as_treated_at_home() -> None:
    found = cautions(a_class(2), [plant("poinsettia")])
    assert "No flame" in said(found, "teacher")
    assert "treated at home" in said(found, "teacher")
    assert "treated at home" not in said(cautions(a_class(2), SPRING), "teacher")


@pytest.mark.source(
    "hand",
    "a round dish 30 × 6 outside: base 0.6 × 1.2 = 0.72 cm, inside 5.28 deep, water to 0.8 under "
    "the rim 4.48 cm: π·15²·4.48 = 3167 ml; a 7 cm holder of 13 g/cm²: π·3.5²·13 = 500 g,"
    " which takes the room of 500 / 9.5 = 53 ml",
)
def test_the_mass_of_a_filled_vessel() -> None:
    assert filled_g(DISH) - DISH.mass.g == pytest.approx(3167 - 53 + 500, abs=2)
    vase = vessel("vase", 12, 28, mass_g=1000)
    assert filled_g(vase, 0.0) == 1000


@pytest.mark.source("own", "more than 3 kg filled is heavy")
def test_heavy_vessels_are_named_by_seat() -> None:
    bowl = vessel("bowl", 15, 6, mass_g=300)
    folk = (Person("A", bowl), Person("B", DISH), Person("C", None))
    found = cautions(a_class(3, people=folk), SPRING)
    assert [each.seat for each in found.heavy] == [2]
    assert "filled where it stays" in said(found, "everyone")
    light = cautions(a_class(1, people=(Person("A", bowl),)), SPRING)
    assert light.heavy == ()
    assert "filled where it stays" not in said(light, "everyone")


def test_glass_carpet_camera_child_and_poison_line_bring_their_words() -> None:
    glass = Person("A", vessel("round", 20, 8, ware="glass"))
    lesson = a_class(
        2,
        people=(glass, Person("B", DISH, please_note=("child",))),
        filmed=True,
        poison_line="555-0100",
        room=Room(floor="carpet"),
    )
    found = said(cautions(lesson, SPRING), *AUDIENCES)
    for word in ("Glass:", "carpet", "cables", "Children cut only", "555-0100", "small children"):
        assert word in found
    plain = said(cautions(a_class(2), SPRING), *AUDIENCES)
    for word in ("Glass:", "carpet", "cables", "Children cut only", "poison advice:"):
        assert word not in plain


def test_it_defers_to_local_rules_and_is_no_medical_advice() -> None:
    found = cautions(a_class(2), SPRING)
    assert "own rules come before" in said(found, "teacher")
    assert "no medical advice" in said(found, "home")


def test_a_latex_allergy_is_told_to_the_teacher_without_a_name() -> None:
    found = cautions(a_class(3, p2=("latex-allergy",)), SPRING)
    assert "Person 2" not in said(found, *AUDIENCES)
    assert "has a latex allergy" in said(found, "teacher")
    assert "has a latex allergy" not in said(cautions(a_class(3), SPRING), *AUDIENCES)


def test_where_the_law_is_not_known_the_teacher_is_told_to_ask() -> None:
    """Not known is an answer: no plant is forbidden, and none is said to be allowed."""
    words = "law forbids here is not known to us"
    for region in ("", "Norway", "US"):
        found = cautions(a_class(2, region=region), SPRING)
        assert words in said(found, "teacher")
        assert words not in said(found, "everyone", "home")
        assert found.blocks == ()
    assert words not in said(cautions(a_class(2, region="Japan"), SPRING), *AUDIENCES)


@pytest.mark.source("practice", "nobody gathers what they cannot name; hogweed's sap burns")
def test_whoever_goes_on_at_home_is_told_not_to_gather_what_they_cannot_name() -> None:
    home = said(cautions(a_class(2), SPRING), "home")
    assert "Gather only what you can name" in home
    assert "hogweed" in home


@pytest.mark.source("memory", "a dish in which lead stood is not for food, lined or not")
def test_a_lining_does_not_make_a_dish_fit_for_food() -> None:
    assert "lined or not" in said(cautions(a_class(2), SPRING), "everyone")
