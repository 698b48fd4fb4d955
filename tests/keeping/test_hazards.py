"""Cautions of plants, and what does not go home with whom."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.sayings import Words
from nejime.keeping.hazards import (
    class_objections,
    holds_in,
    names_of,
    nothing_known,
    person_objections,
    plant_cautions,
)
from nejime.plants.table import plant, plants

WORDS = Words()
PLANTS = st.lists(st.sampled_from(plants()), max_size=6, unique=True)


def weights(objections):
    return {(each.plant, each.weight) for each in objections}


@pytest.mark.source("fda2014", "lilies and day lilies, leaf, flower, pollen and vase water")
@pytest.mark.parametrize("name", ["lily", "easter-lily", "day-lily"])
def test_a_lily_does_not_go_home_with_a_person_who_has_a_cat(name) -> None:
    found = person_objections([plant(name)], ["cat-at-home"], goes_home=True)
    assert (name, "block") in weights(found)
    block = next(each for each in found if each.weight == "block")
    assert block.note == "cat-at-home"
    assert "water" in WORDS.say(block.says)
    assert block.source == "fda2014"


@pytest.mark.source("fda2014", "lily of the valley upsets the beat of the heart")
def test_neither_does_lily_of_the_valley() -> None:
    found = person_objections([plant("lily-of-the-valley")], ["cat-at-home"], goes_home=True)
    assert ("lily-of-the-valley", "block") in weights(found)


@pytest.mark.source("fda2014", "in dogs a stomach upset at the most: no block")
def test_a_dog_is_no_reason_against_a_lily() -> None:
    found = person_objections([plant("lily")], ["dog-at-home"], goes_home=True)
    assert "block" not in {each.weight for each in found}


@pytest.mark.source("own", "lilies are left out of whatever goes home")
@pytest.mark.parametrize("name", ["lily", "easter-lily", "day-lily"])
def test_lilies_are_left_out_of_what_goes_home(name) -> None:
    assert (name, "leave out") in weights(class_objections([plant(name)], goes_home=True))
    assert class_objections([plant(name)], goes_home=False) == ()


@pytest.mark.source("narita2022", "Coreopsis lanceolata may not be kept, carried or given away")
@pytest.mark.parametrize(
    ("region", "weight"), [("JP", "block"), ("Japan", "block"), ("JP-12", "block"), ("US", None)]
)
def test_the_law_of_a_region_blocks(region, weight) -> None:
    found = class_objections([plant("lance-coreopsis")], goes_home=True, region=region)
    assert weights(found) == ({("lance-coreopsis", weight)} if weight else set())


@pytest.mark.source("practice", "the wax tree raises a rash and stays out of a class")
def test_the_wax_tree_stays_out() -> None:
    found = class_objections([plant("wax-tree")], goes_home=False)
    assert ("wax-tree", "block") in weights(found)


@pytest.mark.source("mhlw2022", "deaths by monkshood and gloriosa")
@pytest.mark.parametrize("name", ["monkshood", "gloriosa"])
def test_what_has_killed_people_is_not_given_to_a_child(name) -> None:
    found = person_objections([plant(name)], ["child"], goes_home=False)
    assert (name, "block") in weights(found)


@pytest.mark.source("lamminpaa1996", "tulip and chrysanthemum cause rashes")
@pytest.mark.parametrize("name", ["tulip", "chrysanthemum"])
def test_sensitive_skin_is_heeded(name) -> None:
    found = person_objections([plant(name)], ["skin-allergy"], goes_home=True)
    assert (name, "leave out") in weights(found)


def test_a_note_that_has_nothing_to_do_with_the_plants_objects_to_nothing() -> None:
    assert person_objections([plant("aspidistra")], ["cat-at-home", "child"], goes_home=True) == ()


@given(PLANTS, st.booleans())
def test_each_plant_has_a_word(chosen, goes_home) -> None:
    """Every plant is in a caution: its hazards, or that nothing is known."""
    said = plant_cautions(chosen, goes_home=True)
    assert {name for each in said for name in each.plants} == {each.id for each in chosen}
    unknown = [each for each in said if each.about == "not-known"]
    assert tuple(name for each in unknown for name in each.plants) == nothing_known(chosen)
    if not goes_home:
        here = plant_cautions(chosen, goes_home=False)
        assert not [each for each in here if each.audience == "home"]


@given(PLANTS)
def test_equal_words_are_said_once(chosen) -> None:
    said = [(each.says, each.audience) for each in plant_cautions(chosen, goes_home=True)]
    assert len(said) == len(set(said))
    for says, _ in said:
        assert "{" not in WORDS.say(says)


def test_nothing_known_is_never_called_harmless() -> None:
    said = plant_cautions([plant("aspidistra")], goes_home=True)
    assert len(said) == 1
    assert "not make it harmless" in WORDS.say(said[0].says)


def test_regions_have_names() -> None:
    assert names_of("jp") == ("Japan",)
    assert names_of("Nowhere") == ("Nowhere",)
    assert names_of("") == ()
    assert holds_in("", "US")
    assert holds_in("parts of North America", "US")
    assert not holds_in("Japan", "US")
