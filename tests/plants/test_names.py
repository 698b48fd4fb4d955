"""Names agree in every script, and a plant is found by any of them."""

import re
import unicodedata

import jaconv
import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.plants.names import folded
from nejime.plants.table import Plant, find, nearest, plant, plants

EVERYDAY = """
trumpet daffodil, daffodil, tulip, rose, spray rose, alstroemeria, chrysanthemum, carnation, lily,
iris, Dutch iris, Japanese iris, sunflower, snapdragon, stock, gerbera, ranunculus, anemone, dahlia,
hydrangea, hellebore, forsythia, quince, flowering quince, cherry, plum, ume, peach, willow,
pussy willow, twisted willow, curly willow, red-stem dogwood, red-twig dogwood, flowering dogwood,
magnolia, azalea, camellia, pine, box, boxwood, ivy, eucalyptus, pittosporum, ruscus, salal,
lemon leaf, aspidistra, fatsia, monstera, fern, leather fern, sword fern, susuki, bear grass,
equisetum, bulrush, maple, enkianthus, spiraea, kerria, witch hazel, wintersweet, winterberry,
nandina, beautyberry, hypericum, freesia, lisianthus, gypsophila, baby's breath, statice, limonium,
delphinium, larkspur, sweet pea, peony, calla, anthurium, protea, bird of paradise, orchid,
cymbidium, dendrobium, gladiolus, allium, scabiosa, cosmos, zinnia, marigold, aster, solidago,
liatris, muscari, hyacinth, hosta, heuchera, euphorbia, sakaki, cleyera, juniper, cedar, holly,
wisteria, bamboo, lilac, viburnum, crab apple, birch, hazel, mahonia, photinia, oleander,
lily of the valley, foxglove
"""
WORDS = [" ".join(word.split()) for word in EVERYDAY.split(",")]


@pytest.mark.parametrize("word", WORDS)
def test_an_everyday_word_finds_its_plant(word: str) -> None:
    first = find(word)[0]
    assert folded(word) in {folded(name) for name in first.names}


@pytest.mark.parametrize(
    ("plural", "id"),
    [
        ("tulips", "tulip"),
        ("Irises", "dutch-iris"),
        ("peonies", "peony"),
        ("daffodils", "trumpet-daffodil"),
        ("pussy willows", "pussy-willow"),
        ("gladioli", "gladiolus"),
    ],
)
def test_a_plural_finds_its_plant(plural: str, id: str) -> None:  # noqa: A002
    assert find(plural)[0].id == id


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_a_plant_is_found_by_each_of_its_names(each: Plant) -> None:
    assert find(each.id)[0] is each
    for name in each.names:
        assert each in find(name)


def test_a_whole_name_comes_before_a_beginning_and_that_before_a_part() -> None:
    found = [each.id for each in find("lilac")]
    assert found[0] == "lilac"
    found = [each.id for each in find("plum")]
    assert found.index("plum") < found.index("asparagus-fern")  # plumosus
    assert found.index("asparagus-fern") < found.index("celosia")  # plume celosia, an alias


def test_letters_with_and_without_macrons_and_both_kana_are_one() -> None:
    assert find("CHŪRIPPU") == find("churippu") == find("チューリップ") == find("ちゅーりっぷ")
    assert folded("が") != folded("か")


def test_a_misspelt_name_is_answered_with_what_may_have_been_meant() -> None:
    assert "forsythia" in [each.id for each in nearest("forsithia")]
    with pytest.raises(InputError) as refused:
        plant("forsithia")
    (fault,) = refused.value.faults
    assert fault.try_instead is not None
    assert "Forsythia" in Words().say(fault.try_instead)


def test_a_name_like_no_other_is_refused_without_a_guess() -> None:
    assert nearest("xqzw") == ()
    with pytest.raises(InputError) as refused:
        plant("xqzw")
    (fault,) = refused.value.faults
    assert "xqzw" in Words().say(fault.says)


@given(st.text(max_size=60))
def test_no_text_breaks_finding(word: str) -> None:
    assert isinstance(find(word), tuple)
    assert len(nearest(word)) <= 3


@given(st.text())
def test_folding_twice_changes_nothing(name: str) -> None:
    assert folded(folded(name)) == folded(name)


def plain(romaji: str) -> str:
    """Hepburn without macrons, hyphens and apostrophes, every long vowel written once."""
    letters = unicodedata.normalize("NFD", romaji).replace("\u0304", "")
    letters = re.sub(r"[-' ]", "", letters)
    for long, short in (("ou", "o"), ("oo", "o"), ("uu", "u"), ("aa", "a"), ("ee", "e")):
        letters = letters.replace(long, short)
    return letters


@pytest.mark.source("jaconv", "kana2alphabet, Hepburn; macrons and lengthening marks left out")
@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_the_romaji_are_those_of_the_kana(each: Plant) -> None:
    read = jaconv.kana2alphabet(jaconv.kata2hira(each.kana)).replace("-", "")
    assert plain(each.romaji) == plain(read)


@pytest.mark.source("hand", "ー and う after o or u are macrons: one for each in the kana")
@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_every_lengthening_mark_is_a_macron(each: Plant) -> None:
    macrons = unicodedata.normalize("NFD", each.romaji).count("\u0304")
    marks = each.kana.count("ー")
    hiragana = jaconv.kata2hira(each.kana)
    vowels = jaconv.kana2alphabet(hiragana.replace("ー", ""))
    assert marks <= macrons <= marks + len(re.findall("ou|oo|uu", vowels))
