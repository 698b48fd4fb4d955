"""What is done to stems: the table of treatments against what is published."""

import re
import tomllib
from pathlib import Path

import pytest

from nejime.basis.sayings import Saying, Words, texts
from nejime.keeping.conditioning import LIMP, growth_cm, treatment, treatments
from nejime.plants.plant import TREATMENTS
from nejime.plants.table import plant, plants

WORDS = Words()


def step(key, name):
    return next(each for each in treatments()[key].steps if each.name == name)


def test_every_treatment_that_a_plant_can_have_is_in_the_table() -> None:
    assert set(treatments()) == {*TREATMENTS, LIMP}
    for each in plants():
        assert treatment(each).steps, each.id


def test_everything_rests_in_water_before_a_class() -> None:
    for key in TREATMENTS:
        hold = treatments()[key].hold
        assert hold is not None, key
        assert 0 < hold.least_min <= hold.best_min, key


def test_every_step_can_be_said() -> None:
    for each in treatments().values():
        for one in each.steps:
            for says in (one.says, one.do_not, one.evidence):
                if says is not None:
                    assert "{" not in WORDS.say(says)


@pytest.mark.source("averill1913", "ch. 8: deep water, over night if possible, one hour at least")
@pytest.mark.parametrize("key", ["woody", "evergreen"])
def test_branches_stand_in_deep_water_for_an_hour_at_least(key) -> None:
    hold = treatments()[key].hold
    assert hold.name == "deep-water"
    assert hold.least_min == 60
    assert hold.best_min >= 8 * 60  # a night


@pytest.mark.source("perry-uvm", "a slit or two is best; mashed too hard it may do the opposite")
@pytest.mark.parametrize("key", ["woody", "evergreen"])
def test_woody_ends_may_be_slit_and_are_not_crushed(key) -> None:
    slit = step(key, "slit")
    assert slit.optional
    assert "mash" in WORDS.say(slit.do_not)
    assert slit.evidence is not None


@pytest.mark.source("practice", "slit 1 to 2.5 cm deep")
def test_a_slit_is_short() -> None:
    assert (step("woody", "slit").low, step("woody", "slit").high) == (1, 2.5)


@pytest.mark.source("doorn1998", "roses drink less, tulip leaves yellow beside one daffodil")
@pytest.mark.source("practice", "pages give 3 to 24 h; 24 h where it is mixed with tulips")
@pytest.mark.parametrize("name", ["trumpet-daffodil", "tazetta-narcissus"])
def test_narcissus_stands_alone_for_a_day_and_is_not_cut_again(name) -> None:
    known = treatment(plant(name))
    assert known.hold.name == "alone"
    assert known.hold.least_min == 24 * 60
    assert known.repeats
    assert known.steps[0].name == "final-length"


@pytest.mark.source("dole2004", "dips at 38 °C and 100 °C had no effect on cut poinsettias")
@pytest.mark.parametrize("name", ["poinsettia", "euphorbia"])
def test_searing_is_told_as_not_proven_and_only_done_at_home(name) -> None:
    known = treatment(plant(name))
    sear = next(each for each in known.steps if each.name == "sear")
    assert sear.optional
    assert sear.at_home
    assert sear.every_cut
    assert known.repeats
    assert "not proven" in WORDS.say(sear.evidence)
    names = [each.name for each in known.steps]
    assert names.index("final-length") < names.index("sear")


@pytest.mark.source("practice", "boiling water 10-30 s for milky sap, 20-40 s for wilting stems")
@pytest.mark.parametrize(
    ("key", "name", "low", "high"), [("milky-sap", "sear", 10, 30), ("wilting", "hot-dip", 20, 40)]
)
def test_times_in_boiling_water(key, name, low, high) -> None:
    one = step(key, name)
    assert (one.low, one.high, one.unit) == (low, high, "s")


@pytest.mark.source("ueno", "broken under water: chrysanthemum, lisianthus, carnation")
@pytest.mark.parametrize("name", ["chrysanthemum", "lisianthus", "carnation"])
def test_some_flowers_are_broken_under_water(name) -> None:
    assert "break" in [each.name for each in treatment(plant(name)).steps]


@pytest.mark.source("costa2021", "tropical flowers suffer below 10-13 °C: the higher one counts")
@pytest.mark.parametrize("name", ["anthurium", "bird-of-paradise", "monstera"])
def test_tropical_flowers_stay_out_of_the_fridge(name) -> None:
    hold = treatment(plant(name)).hold
    assert hold.name == "warm-water"
    assert "13 °C" in WORDS.say(hold.do_not)


@pytest.mark.source("memory", "tulips and anemones grow 2-5 cm after cutting")
@pytest.mark.parametrize("name", ["tulip", "anemone"])
def test_some_flowers_go_on_growing(name) -> None:
    assert growth_cm(plant(name)) == (2, 5)
    assert growth_cm(plant("rose")) is None


@pytest.mark.source("practice", "limp stems: wrapped, water of 38-43 °C, 1-12 h")
def test_limp_stems_can_be_helped() -> None:
    rescue = treatments()[LIMP].steps[0]
    assert (rescue.least_min, rescue.best_min) == (60, 12 * 60)
    assert "38 to 43 °C" in WORDS.say(rescue.says)
    # 100 °F is (100 − 32) / 1.8 = 37.8 °C, 110 °F is 43.3 °C.
    assert "100 to 110 °F" in WORDS.say(rescue.says)


@pytest.mark.source("own", "recipes with bleach or vinegar are not given")
def test_no_recipe_with_bleach_or_vinegar_is_given() -> None:
    said = " ".join(text for key, text in texts().items() if key.startswith(("keeping", "lesson")))
    assert not re.search(r"bleach|vinegar|alcohol|vodka|aspirin|teaspoon", said, re.IGNORECASE)


def test_boiling_water_and_flames_are_only_for_the_home() -> None:
    for each in treatments().values():
        for one in each.steps:
            if re.search(r"boiling|flame|hot water", WORDS.say(one.says)):
                assert one.at_home, (each.key, one.name)


def test_the_texts_of_this_room_are_all_used_or_said() -> None:
    """No text without a sentence that asks for it: each key stands in the code or a table."""
    data = Path(__file__).parents[2] / "src" / "nejime"
    said = tomllib.loads((data / "data/sayings/en/keeping.toml").read_text(encoding="utf-8"))
    steps = {one.name for each in treatments().values() for one in each.steps}
    assert set(said["keeping"]["step"]) == steps
    for group in ("do-not", "evidence"):
        attribute = group.replace("-", "_")
        used = {
            getattr(one, attribute).key.rpartition(".")[2]
            for each in treatments().values()
            for one in each.steps
            if getattr(one, attribute) is not None
        }
        assert set(said["keeping"][group]) == used


def test_a_saying_holds_its_quantities() -> None:
    assert step("narcissus", "alone").says == Saying("keeping.step.alone", low=24.0, high=24.0)
