"""A place as it is typed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.reading.where import degrees, read_where

MEANS = {f"mean-{number}": f"{number}" for number in range(1, 13)}


@pytest.mark.source("practice", "south and west are negative; a comma is a point")
@pytest.mark.parametrize(
    ("typed", "field", "value"),
    [
        ("41.9", "lat", 41.9),
        ("-33,9", "lat", -33.9),
        ("33.9 S", "lat", -33.9),
        ("33.9°s", "lat", -33.9),
        ("\N{MINUS SIGN}41", "lat", -41.0),
        ("87.6 W", "lon", -87.6),
        ("180", "lon", 180.0),
        ("90.1", "lat", None),
        ("33 W", "lat", None),
        ("north", "lat", None),
        ("", "lon", None),
    ],
)
def test_degrees_as_people_write_them(typed: str, field: str, value: float | None) -> None:
    assert degrees(typed, field) == value


@pytest.mark.source("hand", "600 ft are 182.88 m; 50 °F are 10 °C")
def test_units_of_height_and_means() -> None:
    told = {"lat": "40", "lon": "-80", "height": "600 ft", "climate": "own", "unit": "f"}
    kept = read_where({**told, **{f"mean-{number}": "50" for number in range(1, 13)}})
    assert kept["height_m"] == pytest.approx(182.9)
    assert kept["means_c"] == pytest.approx([10.0] * 12)


@pytest.mark.source("own", "degrees Fahrenheit typed as Celsius are hotter than any month on Earth")
def test_fahrenheit_typed_as_celsius_is_told() -> None:
    warm = {f"mean-{number}": f"{30 + 5 * number}" for number in range(1, 13)}
    with pytest.raises(InputError) as trouble:
        read_where({"lat": "40", "lon": "-80", "climate": "own", **warm})
    (fault,) = trouble.value.faults
    assert fault.says.key == "season.too-hot"


@pytest.mark.source("own", "every fault at once, each at its field")
def test_every_fault_is_told_at_its_field() -> None:
    told = {"lat": "95", "lon": "", "height": "high", "climate": "own", **MEANS, "mean-3": "x"}
    with pytest.raises(InputError) as trouble:
        read_where(told)
    assert {fault.field for fault in trouble.value.faults} == {"lat", "lon", "height", "mean-3"}


FIELDS = st.sampled_from(["lat", "lon", "height", "climate", "unit", "name", "mean-1", "mean-12"])


@pytest.mark.source("own", "whatever is typed: a place on Earth, or faults in words")
@given(st.dictionaries(FIELDS, st.text(max_size=12)))
def test_nothing_typed_breaks_it(typed) -> None:
    try:
        kept = read_where(typed)
    except InputError as trouble:
        for fault in trouble.faults:
            assert Words().say(fault.says)
        return
    assert abs(kept["lat"]) <= 90


@pytest.mark.source("own", "means of 5 to 28 read as Fahrenheit are a place without a summer")
def test_celsius_typed_as_fahrenheit_is_told() -> None:
    means = {f"mean-{number}": f"{2 * number}" for number in range(1, 13)}
    with pytest.raises(InputError) as trouble:
        read_where({"lat": "40", "lon": "-80", "climate": "own", "unit": "f", **means})
    (fault,) = trouble.value.faults
    assert fault.says.key == "season.too-cool"


@pytest.mark.source("practice", "O is east in German and west in Spanish: it is asked back")
def test_a_letter_with_two_meanings_is_asked_back() -> None:
    assert degrees("13.4 O", "lon") is None
