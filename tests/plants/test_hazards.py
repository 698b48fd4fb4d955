"""What can harm people, pets and places is on the plant, with its source, in plain words."""

import pytest

from nejime.basis.sayings import Words, texts
from nejime.basis.sources import GRADES, sources
from nejime.plants.plant import HAZARDS, TO_WHOM
from nejime.plants.table import Plant, plant, plants


def known(id: str, hazard: str, to: str) -> bool:  # noqa: A002
    return any(each.hazard == hazard and each.to == to for each in plant(id).hazards)


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_every_hazard_can_be_said_and_has_its_source(each: Plant) -> None:
    for hazard in each.hazards:
        assert hazard.hazard in HAZARDS
        assert hazard.to in TO_WHOM
        assert sources()[hazard.source].grade
        assert hazard.grade in GRADES
        assert Words().say(hazard.saying).endswith(".")


def test_no_caution_says_that_a_plant_is_safe() -> None:
    for key, text in texts().items():
        if key.startswith("plants."):
            assert "safe" not in text.casefold(), key


def test_every_text_of_a_hazard_is_used() -> None:
    said = {hazard.says for each in plants() for hazard in each.hazards}
    written = {key for key in texts() if key.startswith("plants.hazard.")}
    assert written - said == {"plants.hazard.not-known"}


@pytest.mark.source("fda2014", "true lilies and day lilies: whole plant, pollen and vase water")
@pytest.mark.parametrize("id", ["lily", "easter-lily", "day-lily"])
def test_lilies_are_deadly_to_cats_and_do_not_go_home(id: str) -> None:  # noqa: A002
    assert known(id, "cat-fatal", "cats")
    assert known(id, "vase-water", "cats")
    assert not plant(id).goes_home


@pytest.mark.source(
    "fda2014", "lily of the valley upsets the heart; calla only irritates the mouth"
)
def test_what_is_called_a_lily_but_is_none_is_told_apart() -> None:
    assert known("lily-of-the-valley", "toxic-eaten", "cats")
    assert known("calla", "toxic-eaten", "cats")
    assert not known("calla", "cat-fatal", "cats")
    assert not known("alstroemeria", "cat-fatal", "cats")
    assert plant("calla").goes_home


@pytest.mark.source("mhlw2022", "cases of 2012-2021: narcissus 62, aconite 9, Lycoris 1; Gloriosa")
@pytest.mark.parametrize(
    "id", ["trumpet-daffodil", "tazetta-narcissus", "monkshood", "spider-lily", "gloriosa"]
)
def test_what_has_poisoned_people_in_japan_is_poisonous(id: str) -> None:  # noqa: A002
    assert known(id, "toxic-eaten", "people")


@pytest.mark.source("osaka2014", "leaves served as a garnish in June 2008")
def test_hydrangea_is_poisonous_if_eaten() -> None:
    assert known("hydrangea", "toxic-eaten", "people")


@pytest.mark.source("tamu-poisonous", "foxglove, lily of the valley, oleander, larkspur")
@pytest.mark.parametrize("id", ["foxglove", "lily-of-the-valley", "oleander", "larkspur"])
def test_the_poisonous_garden_plants_are_poisonous(id: str) -> None:  # noqa: A002
    assert known(id, "toxic-eaten", "people")


@pytest.mark.source("westerfield-wade", "azaleas, hydrangeas, boxwood and English ivy")
@pytest.mark.parametrize("id", ["azalea", "hydrangea", "box", "ivy"])
def test_the_poisonous_landscape_plants_are_poisonous(id: str) -> None:  # noqa: A002
    assert known(id, "toxic-eaten", "people")


@pytest.mark.source("georgia-poison", "the most common poisonous plants found in Georgia")
@pytest.mark.parametrize(
    "id",
    ["yew", "holly", "amaryllis", "anemone", "clematis", "euonymus", "euphorbia", "iceland-poppy"],
)
def test_what_a_poison_centre_warns_of_is_poisonous(id: str) -> None:  # noqa: A002
    assert known(id, "toxic-eaten", "people")


@pytest.mark.source("miller2010", "appendix A: not to be planted in the southern United States")
@pytest.mark.parametrize("id", ["nandina", "multiflora-rose", "bittersweet", "ivy"])
def test_what_spreads_into_forests_is_invasive(id: str) -> None:  # noqa: A002
    places = {each.place for each in plant(id).hazards if each.hazard == "invasive"}
    assert "the southern United States" in places


@pytest.mark.source("andersen2016", "title: allergy to the Boston fern")
def test_boston_fern_is_an_allergen() -> None:
    assert known("sword-fern", "allergen", "skin")


@pytest.mark.source("lamminpaa1996", "abstract: plants of twelve cases")
@pytest.mark.parametrize(
    "id",
    [
        "chrysanthemum",
        "gerbera",
        "feverfew",
        "tulip",
        "hyacinth",
        "trumpet-daffodil",
        "carnation",
        "gypsophila",
    ],
)
def test_what_has_given_florists_a_rash_is_an_allergen(id: str) -> None:  # noqa: A002
    assert known(id, "allergen", "skin")


@pytest.mark.source("marks1988", "abstract: nitrile, not vinyl")
def test_alstroemeria_tells_which_gloves_help() -> None:
    (caution,) = [each for each in plant("alstroemeria").hazards if each.hazard == "allergen"]
    text = Words().say(caution.saying)
    assert "nitrile" in text
    assert "vinyl" in text


@pytest.mark.source("upenn-poisonous", "Narcissus: irritant dermatitis by oxalate needles")
def test_daffodil_sap_irritates() -> None:
    assert known("trumpet-daffodil", "sap-irritant", "skin")


@pytest.mark.source("narita2022", "Coreopsis lanceolata may not be grown, kept, carried or given")
def test_what_the_law_of_one_country_forbids_is_not_forbidden_elsewhere() -> None:
    assert plant("lance-coreopsis").forbidden_in("Japan")
    assert not plant("lance-coreopsis").forbidden_in("North America")
    assert not plant("cosmos").forbidden_in("Japan")


@pytest.mark.source("practice", "sumacs raise a rash hours to days later and are never foraged")
def test_wax_tree_is_neither_foraged_nor_sent_home() -> None:
    assert known("wax-tree", "urushiol", "skin")
    assert known("wax-tree", "not-foraged", "people")
    assert not plant("wax-tree").goes_home


def test_the_gravest_hazard_stands_first() -> None:
    for each in plants():
        ranks = [HAZARDS.index(hazard.hazard) for hazard in each.hazards]
        assert ranks == sorted(ranks), each.id
