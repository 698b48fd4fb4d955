"""Price lists: what spreadsheets save is read, what is wrong is told with line and column."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.plants.table import plants
from nejime.reading.price_list import (
    COLUMNS,
    MOST_BUNCHES,
    empty_price_list,
    price_list_text,
    read_price_list,
)
from nejime.reading.typed import bunch_numbers, shop_numbers

HEAD = "shop,plant,length,stems,price"
ROW = "the grocery,tulip,35,10,7.99"
NAMES = {each.id: each.english for each in plants()}


def read(text: str, **told: object):
    return read_price_list("prices.csv", text.encode(), **told)  # type: ignore[arg-type]


def faults(data: str | bytes) -> list[tuple[int | None, str, str]]:
    with pytest.raises(InputError) as trouble:
        read_price_list("prices.csv", data.encode() if isinstance(data, str) else data)
    for each in trouble.value.faults:
        assert Words().say(each.says)
        assert each.try_instead is not None
        assert Words().say(each.try_instead)
    return [
        (each.line, each.field, each.says.key.rpartition(".")[2]) for each in trouble.value.faults
    ]


GROCERY = {
    "name": "the grocery",
    "bunch": [{"plant": "tulip", "length": 35, "stems": 10, "price": "7.99"}],
}


@pytest.mark.source("rfc4180", "section 2: lines end in CR LF, cells may stand in quotation marks")
@pytest.mark.parametrize(
    "text",
    [
        f"{HEAD}\n{ROW}\n",
        f"{HEAD}\r\n{ROW}",
        f"{HEAD}\r{ROW}\r",
        f"\ufeff{HEAD}\n{ROW}\n",
        f"\n,,,,\n{HEAD},,\n,,,,,,\n{ROW},,\n\n",
        'Price,STEMS, Plant ,Length,"Shop"\n"7.99","10",tulip,35,"the grocery"\n',
        "shop;plant;length;stems;price\nthe grocery;tulip;35;10;7.99\n",
        "shop\tplant\tlength\tstems\tprice\nthe grocery\ttulip\t35\t10\t7.99\n",
        "sep=;\nshop;plant;length;stems;price\nthe grocery;tulip;35;10;7.99\n",
    ],
)
def test_one_shop_however_it_was_saved(text):
    assert read(text) == (GROCERY,)


def test_a_decimal_comma_is_read_between_semicolons_and_within_quotation_marks():
    (shop,) = read("shop;plant;length;stems;price\na;tulip;35,5;10;7,99\n")
    assert (shop["bunch"][0]["length"], shop["bunch"][0]["price"]) == (35.5, "7,99")
    assert bunch_numbers(shop["bunch"][0]).price == Decimal("7.99")
    (shop,) = read(f'{HEAD}\na,tulip,"35,5",10,"7,99"\n')
    assert bunch_numbers(shop["bunch"][0]).length == 35.5


@pytest.mark.source("bipm2019", "14 in are 35.56 cm")
def test_plain_lengths_are_in_the_unit_of_the_reader_and_units_are_read():
    (shop,) = read(f"{HEAD},shoots\na,tulip,14,10,8,5 at 6\nA,forsythia,90 cm,5,9,\n", unit="in")
    first, second = (bunch_numbers(each) for each in shop["bunch"])
    assert first.length == pytest.approx(35.56)
    assert first.shoots[0].length_cm == pytest.approx(12.7)
    assert second.length == 90


def test_what_belongs_to_a_shop_is_said_in_any_of_its_rows():
    head = f"{HEAD},delivery,minimum,days,notice_days"
    (shop, other) = read(
        f"{head}\na,tulip,35,10,8,,20,,\nb,rose,40,10,9,,,,\nA,rose,50,5,9,4.50,20.00,Fri-Sat,3\n"
    )
    told = shop_numbers(shop)
    assert (told.delivery, told.minimum) == (Decimal("4.50"), Decimal(20))
    assert (told.days, told.notice_days) == ((4, 5), 3)
    assert len(shop["bunch"]) == 2
    assert shop_numbers(other).delivery == 0


def test_a_row_without_a_bunch_speaks_of_the_shop_alone():
    (shop,) = read(f"{HEAD},delivery\na,,,,,4\n")
    assert shop == {"name": "a", "delivery": "4", "bunch": []}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        (f"{HEAD},colour\n", [(1, "colour", "unknown-column")]),
        (f"{HEAD},shots\n", [(1, "shots", "unknown-column-near")]),
        (f"{HEAD},plant\n{ROW},rose\n", [(1, "plant", "column-twice")]),
        ("shop,plant\na,b\n", [(1, "", "columns-missing")]),
        ("the grocery,tulip,35\n", [(1, "", "no-header")]),
        (f"{HEAD}\n", [(1, "", "nothing")]),
        (f"{HEAD}\n\n{ROW},9\n", [(3, "", "beyond-header")]),
        (f'{HEAD}\n{ROW}\n"a,tulip,35,10,8\n', [(3, "", "quotes")]),
        (f"{HEAD}\n,tulip,35,10,8\n", [(2, "shop", "missing")]),
        (
            f"{HEAD},thickness,shoots\na,tulpi,x,1.5,$8,fat,30 at\n",
            [
                (2, "plant", "unknown-plant"),
                (2, "length", "not-a-length"),
                (2, "stems", "not-whole"),
                (2, "price", "not-money"),
                (2, "thickness", "not-a-thickness"),
                (2, "shoots", "not-shoots"),
            ],
        ),
        (f"{HEAD}\na,tulip,35,10,\n", [(2, "price", "missing")]),
        (f"{HEAD}\na,tulip,35,10,7.999\n", [(2, "price", "too-exact")]),
        (f"{HEAD},least,most\na,tulip,35,10,8,3,2\n", [(2, "most", "most-under-least")]),
        (f"{HEAD},shoots\na,tulip,35,10,8,9 at 35\n", [(2, "shoots", "shoot-beyond")]),
        (f"{HEAD},days\na,tulip,35,10,8,Fridy\n", [(2, "days", "not-a-weekday")]),
        (f"{HEAD},notice_days\na,tulip,35,10,8,61\n", [(2, "notice_days", "number-outside")]),
        (
            f"{HEAD},delivery\na,tulip,35,10,8,4\nb,tulip,35,10,8,5\n\nA,rose,35,10,8,5\n",
            [(5, "delivery", "differs")],
        ),
        (f"{HEAD}\n" + f"{ROW}\n" * (MOST_BUNCHES + 1), [(62, "", "too-many-bunches")]),
        (f"{HEAD}\n" + f"{ROW}\n" * 2001, [(1, "", "too-many-rows")]),
    ],
)
def test_every_fault_is_told_with_its_line_and_column(text, found):
    assert faults(text) == found


@pytest.mark.parametrize(
    ("data", "key"),
    [
        (b"", "empty"),
        (b"PK\x03\x04", "zipped"),
        (b"\xff\xfes\x00", "utf16"),
        (HEAD.encode() + b"\ncaf\xe9,tulip,35,10,8\n", "not-utf8"),
        (b"shop\0", "zeros"),
        (b"x" * 1_000_001, "too-large"),
    ],
)
def test_a_file_that_is_no_csv_is_refused_in_words_for_spreadsheets(data, key):
    assert faults(data)[0][2] == key
    with pytest.raises(InputError) as trouble:
        read_price_list("prices.csv", data)
    remedy = trouble.value.faults[0].try_instead
    assert remedy is not None
    assert ".toml" not in Words().say(remedy)


@pytest.mark.parametrize("unit", ["cm", "in"])
def test_the_empty_list_is_right_as_it_is(unit):
    text = empty_price_list(unit)
    assert tuple(next(csv.reader(io.StringIO(text)))) == COLUMNS
    for reader in ("cm", "in"):
        (shop,) = read(text, unit=reader)
        assert bunch_numbers(shop["bunch"][0]).length == pytest.approx(
            35 if unit == "cm" else 35.56
        )


names = (
    st.text(
        st.characters(categories=["L", "N", "P", "S"], include_characters=' ,;"'),
        min_size=1,
        max_size=20,
    )
    .map(str.strip)
    .filter(bool)
)
bunches = st.fixed_dictionaries(
    {
        "plant": st.sampled_from(sorted(NAMES)),
        "length": st.one_of(st.integers(31, 200), st.sampled_from(["24 in", "0.5 m", "31,5"])),
        "stems": st.integers(1, 50),
        "price": st.sampled_from(["7.99", "7,99", "12", "0"]),
    },
    optional={
        "least": st.integers(0, 3),
        "most": st.integers(3, 9),
        "thickness": st.sampled_from(["pencil", "8 mm", "little finger"]),
        "shoots": st.sampled_from(["25 at 30", "10,5 at 8, 3 at 9", "5 in at 3 in"]),
    },
)
shops = st.lists(
    st.fixed_dictionaries(
        {"name": names, "bunch": st.lists(bunches, min_size=1, max_size=4)},
        optional={
            "delivery": st.sampled_from(["4.50", "0", "4,50"]),
            "minimum": st.sampled_from(["20", "20.00"]),
            "days": st.sampled_from([["friday"], ["monday", "sunday"]]),
            "notice_days": st.integers(0, 60),
        },
    ),
    max_size=4,
    unique_by=lambda shop: " ".join(shop["name"].casefold().split()),
)


@given(shops, st.sampled_from(["cm", "in"]))
def test_what_is_handed_out_is_read_as_the_same_in_either_unit(kept, unit):
    if not kept:
        return
    again = read(price_list_text(kept, NAMES), unit=unit)
    assert [each["name"] for each in again] == [" ".join(each["name"].split()) for each in kept]
    for one, other in zip(again, kept, strict=True):
        found, told = shop_numbers(one), shop_numbers(other)
        assert found.model_dump(exclude={"name"}) == told.model_dump(exclude={"name"})
        assert [bunch_numbers(each) for each in one["bunch"]] == [
            bunch_numbers(each) for each in other["bunch"]
        ]


cells = st.one_of(
    st.sampled_from([*COLUMNS, "tulip", "35", "10", "7.99", "a", "25 at 30", "Fri", '"', "", " "]),
    st.text(max_size=8),
)
sheets = st.builds(
    lambda between, rows: "\n".join(between.join(row) for row in rows),
    st.sampled_from([",", ";", "\t"]),
    st.lists(st.lists(cells, max_size=9), max_size=5),
)


@given(st.one_of(sheets, sheets.map(lambda text: f"{HEAD}\n{text}")), st.sampled_from(["cm", "in"]))
def test_any_sheet_is_read_or_every_fault_told(text, unit):
    _read_or_refused(text.encode("utf-8", "surrogatepass"), unit)


@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(data):
    _read_or_refused(data, "cm")


def _read_or_refused(data: bytes, unit: str) -> None:
    try:
        found = read_price_list("prices.csv", data, unit)
    except InputError as trouble:
        for each in trouble.faults:
            assert len(Words().say(each.says)) < 1000
            assert each.line is None or 1 <= each.line <= data.count(b"\n") + data.count(b"\r") + 1
        return
    for shop in found:
        shop_numbers(shop)
        assert all(bunch_numbers(each) for each in shop["bunch"])
