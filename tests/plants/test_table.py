"""The plant table as it is shipped: complete, in order, and every fact with its source."""

import re

import pytest

from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants import table
from nejime.plants.plant import ROLES, SHOPS, TEMPERATE_NORTH, UNIT_OF, Fact
from nejime.plants.table import plant, plants

KANA = re.compile(r"[ぁ-ゖァ-ヺー]+")
HAN = re.compile(r"[一-龯]")


def test_there_are_at_least_a_hundred_and_ten_plants() -> None:
    assert len(plants()) >= 110


@pytest.mark.parametrize("name", ["id", "english"])
def test_no_two_plants_share_a_name(name: str) -> None:
    named = [getattr(each, name).casefold() for each in plants()]
    assert len(set(named)) == len(named)


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_a_plant_has_all_its_names(each: table.Plant) -> None:
    assert re.fullmatch(r"[a-z]+(-[a-z]+)*", each.id)
    assert re.match(r"[A-Z][a-z]+ ", each.scientific)
    assert KANA.fullmatch(each.kana)
    assert not each.kanji or HAN.search(each.kanji)
    assert each.romaji == each.romaji.casefold()
    assert each.roles
    assert set(each.roles) <= set(ROLES)
    assert each.pieces_per_stem == 1
    assert len(set(each.aliases)) == len(each.aliases)


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_every_fact_has_its_unit_its_source_and_its_grade(each: table.Plant) -> None:
    assert len(set(each.facts)) == len(each.facts)
    for fact in each.facts:
        assert fact.unit == UNIT_OF[fact.what]
        assert fact.source in sources()
        assert fact.grade in GRADES
        if fact.unit == "month":
            assert fact.place
        else:
            assert fact.low is None or fact.high is None or fact.low <= fact.high
            assert all(end is None or end >= 0 for end in (fact.low, fact.high))


@pytest.mark.parametrize("each", plants(), ids=lambda each: each.id)
def test_a_plant_can_be_had_somewhere_or_is_there_to_be_warned_of(each: table.Plant) -> None:
    assert each.facts_of("garden_months") or each.facts_of("market_months") or each.hazards


@pytest.mark.source("own", "a year has twelve months; 11 to 2 is November to February")
def test_months_run_over_the_turn_of_the_year() -> None:
    winter = Fact("garden_months", 11, 2, "month", "memory", TEMPERATE_NORTH, "memory")
    assert [month for month in range(1, 13) if winter.holds_in(month)] == [1, 2, 11, 12]


@pytest.mark.source("own", "11 to 2 and 3 to 10 together are the year, without overlap")
def test_a_season_and_the_rest_of_the_year_do_not_overlap() -> None:
    for low in range(1, 13):
        for high in range(1, 13):
            rest = (high % 12 + 1, (low - 2) % 12 + 1)
            if rest[0] == low:
                continue
            here = Fact("garden_months", low, high, "month", "memory", "", "memory")
            there = Fact("garden_months", *rest, "month", "memory", "", "memory")
            assert all(here.holds_in(m) != there.holds_in(m) for m in range(1, 13))


def test_what_is_not_known_is_neither_yes_nor_no() -> None:
    assert plant("gerbera").in_garden(6) is None
    assert plant("japanese-iris").on_market(6) is None
    assert plant("gerbera").fact("grows_after_cutting_cm") is None


def test_known_months_answer_yes_or_no() -> None:
    assert plant("forsythia").in_garden(4) is True
    assert plant("forsythia").in_garden(8) is False
    assert plant("rose").on_market(1, SHOPS) is True


def test_a_maple_is_in_leaf_and_in_colour_but_not_bare() -> None:
    maple = plant("maple")
    assert [m for m in range(1, 13) if maple.in_garden(m)] == [4, 5, 6, 10, 11]


def test_a_range_with_both_ends_comes_before_a_better_graded_bound() -> None:
    first, second = plant("tulip").facts_of("vase_life_d")
    assert first.is_whole
    assert (second.low, second.grade) == (None, "published")


def test_asking_for_something_that_is_not_known_of_plants_is_refused() -> None:
    with pytest.raises(ValueError, match="smell"):
        plant("rose").facts_of("smell")


GOOD = {
    "plants.csv": "rose|Rosa × hybrida|Rose|薔薇|ばら|bara|flower|mass|firm-stem|woody|1|",
    "plant_facts.csv": "rose|store_c|0|4|c|wills1998||published",
    "plant_hazards.csv": "rose|thorn|skin|plants.hazard.thorn|practice||practice",
}


@pytest.mark.parametrize(
    ("file", "row"),
    [
        ("plants.csv", "rose|Rosa|Rose|薔薇|ばら|bara|shrub|mass|firm-stem|woody|1|"),
        ("plants.csv", "rose|Rosa|Rose|薔薇|ばら|bara|flower|tall|firm-stem|woody|1|"),
        ("plants.csv", "rose|Rosa|Rose|薔薇|ばら|bara|flower|mass|firm-stem|pounded|1|"),
        ("plants.csv", "rose|Rosa|Rose|薔薇|ばら|bara|flower|mass|firm-stem|woody|some|"),
        ("plant_facts.csv", "tulip|store_c|0|4|c|wills1998||published"),
        ("plant_facts.csv", "rose|store_c|0|4|d|wills1998||published"),
        ("plant_facts.csv", "rose|store_c|4|0|c|wills1998||published"),
        ("plant_facts.csv", "rose|store_c|cold|4|c|wills1998||published"),
        ("plant_facts.csv", "rose|store_c|||c|wills1998||published"),
        ("plant_facts.csv", "rose|store_c|0|4|c|nobody||published"),
        ("plant_facts.csv", "rose|store_c|0|4|c|memory||published"),
        ("plant_facts.csv", "rose|store_c|0|4|c|wills1998||certain"),
        ("plant_facts.csv", "rose|garden_months|0|4|month|memory||memory"),
        ("plant_facts.csv", "rose|garden_months|5||month|memory||memory"),
        ("plant_hazards.csv", "rose|bites|skin|plants.hazard.thorn|practice||practice"),
        ("plant_hazards.csv", "rose|thorn|dogs|plants.hazard.thorn|practice||practice"),
    ],
)
def test_a_bad_row_is_refused_with_its_file_and_row(
    file: str, row: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    texts = {**GOOD, file: row}

    def read_csv(name: str, columns: tuple[str, ...]) -> tuple[dict[str, str], ...]:
        return (dict(zip(columns, texts[name].split("|"), strict=True)),)

    monkeypatch.setattr(table.tables, "read_csv", read_csv)
    with pytest.raises(TableError, match=rf"{file}, row 2"):
        table.plants.__wrapped__()


def test_the_same_rows_without_a_fault_are_read(monkeypatch: pytest.MonkeyPatch) -> None:
    def read_csv(name: str, columns: tuple[str, ...]) -> tuple[dict[str, str], ...]:
        return (dict(zip(columns, GOOD[name].split("|"), strict=True)),)

    monkeypatch.setattr(table.tables, "read_csv", read_csv)
    (rose,) = table.plants.__wrapped__()
    assert (rose.id, len(rose.facts), len(rose.hazards)) == ("rose", 1, 1)
