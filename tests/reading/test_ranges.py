"""A range as it is typed: months, measures, days, temperatures, with points or commas."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.plants.review import FACTS
from nejime.reading.corrections import read_corrections, written_corrections
from nejime.reading.ranges import KIND_OF, LIMITS, as_typed, typed_range

UNITS = st.sampled_from(sorted(KIND_OF))


def low_of(text: str, unit: str, reader: str = "cm") -> float | None:
    return typed_range({"low": text}, unit, reader)[0]


@pytest.mark.source("hand", "12.5 cm; 1 in = 2.54 cm; 5.5 in = 13.97; 1 oz = 28.3495 g; 2 × 7 d")
@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("March", "month", 3),
        ("mar.", "month", 3),
        ("SEPT", "month", 9),
        ("12", "month", 12),
        ("12,5", "cm", 12.5),
        ("12.5 cm", "cm", 12.5),
        ("5 1/2 in", "cm", 13.97),
        ("8", "mm", 8),
        ("0,8 cm", "mm", 8),
        ("8 mm", "mm", 8),
        ("1 oz", "g", 28.349523125),
        ("2 weeks", "d", 14),
        ("4", "d", 4),
        ("4 °C", "c", 4),
        ("−1,5", "c", -1.5),
        ("41 °F", "c", 5),
        ("32f", "c", 0),
        ("1,2", "1", 1.2),
        ("×1.2", "1", 1.2),
    ],
)
def test_an_end_is_read_as_it_is_meant(text: str, unit: str, value: float) -> None:
    assert low_of(text, unit) == pytest.approx(value)


@pytest.mark.source("hand", "12 in = 30.48 cm")
def test_a_plain_length_is_in_the_readers_unit() -> None:
    assert low_of("12", "cm", "in") == pytest.approx(30.48)
    assert low_of("12 cm", "cm", "in") == 12
    assert as_typed(30.48, "cm", "in") == "12 in"


@pytest.mark.parametrize(
    ("fields", "unit", "wrong"),
    [
        ({}, "d", {"low"}),
        ({"low": " ", "high": ""}, "d", {"low"}),
        ({"low": "five"}, "d", {"low"}),
        ({"low": "five", "high": "six"}, "d", {"low", "high"}),
        ({"low": "7", "high": "4"}, "d", {"high"}),
        ({"low": "Ju"}, "month", {"low"}),
        ({"low": "13"}, "month", {"low"}),
        ({"low": "-3"}, "d", {"low"}),
        ({"high": "1e5"}, "g", {"high"}),
        ({"high": "9" * 400}, "g", {"high"}),
        ({"high": "99999 cm"}, "cm", {"high"}),
        ({"low": "200 °F"}, "c", {"low"}),
    ],
)
def test_what_cannot_be_is_told_beside_its_field(
    fields: dict[str, str], unit: str, wrong: set[str]
) -> None:
    with pytest.raises(InputError) as refused:
        typed_range(fields, unit)
    assert {fault.field for fault in refused.value.faults} == wrong
    for fault in refused.value.faults:
        assert fault.try_instead is not None
        assert "{" not in Words().say(fault.says) + Words().say(fault.try_instead)


def test_a_range_may_be_open_and_may_run_over_the_turn_of_the_year() -> None:
    assert typed_range({"low": "21"}, "d") == (21, None)
    assert typed_range({"high": "10 days"}, "d") == (None, 10)
    assert typed_range({"low": "Nov", "high": "Feb"}, "month") == (11, 2)
    assert typed_range({"high": "July"}, "month") == (7, 7)


def read(low: str, high: str, unit: str, reader: str):
    """The range, and the faults where there are any."""
    try:
        return typed_range({"low": low, "high": high}, unit, reader), ()
    except InputError as trouble:
        return (), trouble.faults


@given(st.text(max_size=30), st.text(max_size=30), UNITS, st.sampled_from(["cm", "in"]))
def test_no_text_breaks_it(low: str, high: str, unit: str, reader: str) -> None:
    found, refused = read(low, high, unit, reader)
    assert {fault.field for fault in refused} <= {"low", "high"}
    for fault in refused:
        assert Words().say(fault.says)
    if not refused:
        assert any(end is not None for end in found)
    assert all(end is None or math.isfinite(end) for end in found)


NEARLY = st.from_regex(
    r"\s*[+\-−]?\d{0,4}([.,]\d{0,3})?\s*(1/2|½)?\s*[a-z°×\"′'µ.]{0,6}", fullmatch=True
)


@given(NEARLY, UNITS)
def test_what_nearly_is_a_number_is_read_or_refused(text: str, unit: str) -> None:
    try:
        low, _ = typed_range({"low": text}, unit)
    except InputError:
        return
    assert low is not None
    least, most = LIMITS.get(unit, (1, 12))
    assert least <= low <= most


@given(UNITS, st.data(), st.sampled_from(["cm", "in"]))
def test_what_stands_in_a_field_is_read_as_the_same_number(unit: str, data, reader: str) -> None:
    least, most = LIMITS.get(unit, (1, 12))
    if unit == "month":
        value = float(data.draw(st.integers(1, 12)))
    else:
        value = round(data.draw(st.floats(least, most, allow_nan=False)), 3)
    assert low_of(as_typed(value, unit, reader), unit, reader) == pytest.approx(value, abs=1e-9)


ROW = {"table": FACTS, "about": "tulip", "what": "head_g", "place": "", "source": "memory"}
GOOD = {**ROW, "was_low": 8, "was_high": 15, "low": 9, "high": 12, "on": "2027-02-20"}


def test_what_is_kept_is_read_again() -> None:
    found = read_corrections({"rows": [GOOD]})
    assert (found[0].low, found[0].high, found[0].row.low) == (9, 12, 8)
    assert read_corrections(json.loads(json.dumps(written_corrections(found)))) == found
    assert read_corrections({}) == ()


@pytest.mark.parametrize(
    "change",
    [
        {"about": 5},
        {"about": None},
        {"place": "x" * 300},
        {"on": "soon"},
        {"on": None},
        {"low": "9"},
        {"low": True},
        {"low": 99_999},
        {"low": 13},
        {"low": float("nan")},
        {"high": 10**400},
        {"what": "garden_months", "low": 3.5},
        {"what": "garden_months", "low": None},
    ],
)
def test_a_document_of_another_kind_is_refused(change: dict[str, object]) -> None:
    with pytest.raises(InputError):
        read_corrections({"rows": [{**GOOD, **change}]})


@pytest.mark.parametrize("rows", [5, [5], [GOOD, GOOD], {"a": 1}, [{}]])
def test_so_is_one_that_is_no_list_of_rows(rows: object) -> None:
    with pytest.raises(InputError):
        read_corrections({"rows": rows})
