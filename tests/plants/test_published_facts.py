"""Facts that stand in print, against the print."""

import pytest

from nejime.plants.plant import CENTRAL_JAPAN, Fact
from nejime.plants.table import plant


def said_by(source: str, id: str, what: str) -> Fact:  # noqa: A002
    (fact,) = [each for each in plant(id).facts_of(what) if each.source == source]
    return fact


@pytest.mark.source("wills1998", "table 19.2: storage temperature °C; storage life, days")
@pytest.mark.parametrize(
    ("id", "store_c", "store_d"),
    [
        ("alstroemeria", (0, 4), (6, 10)),
        ("anthurium", (12, 16), (3, 10)),
        ("bird-of-paradise", (7, 10), (3, 28)),
        ("carnation", (0, 7), (3, 42)),
        ("chrysanthemum", (0, 8), (7, 42)),
        ("delphinium", (0, 5), (1, 2)),
        ("freesia", (0, 4), (1, 14)),
        ("gypsophila", (0, 5), (1, 21)),
        ("dutch-iris", (0, 4), (4, 28)),
        ("lily", (0, 5), (4, 28)),
        ("lisianthus", (1, 1), (7, 7)),
        ("trumpet-daffodil", (0, 2), (7, 21)),
        ("protea", (2, 4), (7, 21)),
        ("rose", (0, 4), (4, 14)),
        ("snapdragon", (0, 5), (3, 28)),
        ("statice", (2, 4), (14, 42)),
        ("tulip", (0, 2), (3, 42)),
        ("liatris", (0, 5), (3, 14)),
    ],
)
def test_storage_is_as_printed(
    id: str,  # noqa: A002
    store_c: tuple[float, float],
    store_d: tuple[float, float],
) -> None:
    cold, days = (said_by("wills1998", id, what) for what in ("store_c", "store_d"))
    assert (cold.low, cold.high) == store_c
    assert (days.low, days.high) == store_d


@pytest.mark.source("doorn2004", "cut iris at 20 °C: visible wilting after 4 to 5 days")
def test_dutch_iris_lasts_four_to_five_days() -> None:
    fact = said_by("doorn2004", "dutch-iris", "vase_life_d")
    assert (fact.low, fact.high) == (4, 5)


@pytest.mark.source("ichimura2011", "summary: at 23 °C in distilled water, days")
@pytest.mark.parametrize(
    ("id", "days"),
    [
        ("chrysanthemum", (20, 20)),
        ("alstroemeria", (10, None)),
        ("carnation", (10, None)),
        ("gerbera", (10, None)),
        ("lisianthus", (10, None)),
        ("lily", (10, 10)),
        ("sunflower", (10, 10)),
        ("rose", (None, 10)),
        ("tulip", (None, 10)),
        ("delphinium", (None, 10)),
        ("gladiolus", (None, 10)),
        ("dahlia", (None, 10)),
    ],
)
def test_vase_life_is_as_measured(
    id: str,  # noqa: A002
    days: tuple[float | None, float | None],
) -> None:
    fact = said_by("ichimura2011", id, "vase_life_d")
    assert (fact.low, fact.high) == days


@pytest.mark.source("costa2021", "tropical flowers are harmed below 10 to 13 °C")
@pytest.mark.parametrize("id", ["bird-of-paradise", "dendrobium"])
def test_tropical_flowers_are_harmed_by_cold(id: str) -> None:  # noqa: A002
    fact = said_by("costa2021", id, "chill_below_c")
    assert (fact.low, fact.high) == (10, 13)


@pytest.mark.source("frelinghuysen", "usual bloom outdoors: 5-15, 20, 20 and 5 April")
@pytest.mark.parametrize("id", ["forsythia", "flowering-quince", "cherry", "winter-hazel"])
def test_spring_branches_bloom_in_april_in_new_jersey(id: str) -> None:  # noqa: A002
    assert plant(id).in_garden(4, "New Jersey") is True
    assert plant(id).in_garden(4) is True


@pytest.mark.source("upenn-poisonous", "Narcissus flowers in March and April")
@pytest.mark.parametrize("month", [3, 4])
def test_daffodils_bloom_in_march_and_april(month: int) -> None:
    assert plant("trumpet-daffodil").in_garden(month) is True


@pytest.mark.source("shiga2023", "Japanese narcissus flowers from December to February")
def test_japanese_narcissus_blooms_in_winter() -> None:
    found = [m for m in range(1, 13) if plant("tazetta-narcissus").in_garden(m, CENTRAL_JAPAN)]
    assert found == [1, 2, 12]


@pytest.mark.source("narita2022", "Coreopsis lanceolata flowers from May to July")
@pytest.mark.parametrize("month", [5, 6, 7])
def test_lance_leaved_coreopsis_blooms_from_may_to_july(month: int) -> None:
    assert plant("lance-coreopsis").in_garden(month, CENTRAL_JAPAN) is True


@pytest.mark.source("practice", "the plants of the twelve months as they are usually told")
@pytest.mark.parametrize(
    ("month", "id"),
    [
        (1, "pine"),
        (2, "plum"),
        (3, "peach"),
        (4, "cherry"),
        (5, "azalea"),
        (5, "peony"),
        (5, "wisteria"),
        (6, "japanese-iris"),
        (6, "hydrangea"),
        (9, "bush-clover"),
        (9, "susuki"),
        (10, "chrysanthemum"),
        (11, "maple"),
        (12, "camellia"),
    ],
)
def test_the_plants_of_the_months_are_in_season(month: int, id: str) -> None:  # noqa: A002
    assert plant(id).in_garden(month, CENTRAL_JAPAN) is True


@pytest.mark.source("memory", "tulips and anemones grow 2 to 5 cm after they are cut")
@pytest.mark.parametrize("id", ["tulip", "anemone"])
def test_what_grows_after_cutting_says_so(id: str) -> None:  # noqa: A002
    fact = plant(id).fact("grows_after_cutting_cm")
    assert fact is not None
    assert (fact.low, fact.high) == (2, 5)
