"""Numbers as people type and read them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis import units


@pytest.mark.source("bipm2019", "1 in = 2.54 cm exactly: 12 in = 30.48, 5 1/2 in = 13.97")
@pytest.mark.parametrize(
    ("typed", "cm"),
    [
        ("30", 30.0),
        ("30 cm", 30.0),
        ("30,5 cm", 30.5),
        ("300 mm", 30.0),
        ("0.3m", 30.0),
        ("12 in", 30.48),
        ('12"', 30.48),
        ("12″", 30.48),
        ("5 1/2 in", 13.97),
        ("5½ in", 13.97),
        ("½ in", 1.27),
        ("3/4 in", 1.905),
        ("1 ft", 30.48),
        ("1'", 30.48),
        ("1 ft 2 in", 35.56),
        ("1' 2 1/2\"", 36.83),
        ("12 IN.", 30.48),
        (" 7 ", 7.0),
        ("-3", -3.0),
    ],
)
def test_typed_lengths(typed, cm):
    assert units.length_cm(typed) == pytest.approx(cm)


@pytest.mark.source("bipm2019", "1 lb = 453.59237 g, 1 oz = 1/16 lb; 2 lb 3 oz = 35 oz = 992.23")
@pytest.mark.parametrize(
    ("typed", "g"),
    [
        ("800", 800),
        ("1.2 kg", 1200),
        ("1 lb", 453.59237),
        ("3 oz", 85.0486),
        ("2 lb 3 oz", 992.2333),
    ],
)
def test_typed_masses(typed, g):
    assert units.mass_g(typed) == pytest.approx(g, rel=1e-6)


@pytest.mark.parametrize(
    "typed", ["", "wide", "3 4", "1/0 in", "12 furlongs", "--3", "cm", "1e3", "nan", "inf", "3..4"]
)
def test_what_is_not_a_length_is_refused(typed):
    with pytest.raises(ValueError) as refused:  # noqa: PT011
        units.length_cm(typed)
    assert refused.value.args == (typed,)


@given(st.text(max_size=30))
def test_reading_a_length_gives_a_number_or_refuses(typed):
    try:
        value = units.length_cm(typed)
    except ValueError:
        return
    assert value == value


@given(st.floats(0, 500))
def test_what_is_shown_in_centimetres_is_read_again(value):
    shown = units.centimetres(value)
    assert units.length_cm(shown) == pytest.approx(value, abs=0.5)


@given(st.floats(0, 500))
def test_what_is_shown_in_inches_is_read_again(value):
    assert units.length_cm(units.inches(value)) == pytest.approx(value, abs=2.54 / 8 + 1e-9)


@pytest.mark.source("hand", "54 / 2.54 = 21.26 → 21¼; 40.5 / 2.54 = 15.94 → 16; 0.3 / 2.54 → 0")
@pytest.mark.parametrize(
    ("cm", "shown"), [(54, "21¼ in"), (40.5, "16 in"), (0.3, "0 in"), (1.3, "½ in")]
)
def test_inches_to_the_quarter(cm, shown):
    assert units.inches(cm) == shown


@pytest.mark.source("own", "to the half below ten, to the whole above, half a step up")
@pytest.mark.parametrize(
    ("cm", "shown"), [(54.2, "54 cm"), (40.5, "41 cm"), (7.3, "7.5 cm"), (-3.2, "−3 cm")]
)
def test_centimetres_as_a_teacher_says_them(cm, shown):
    assert units.centimetres(cm) == shown


@pytest.mark.parametrize(
    ("minor", "decimals", "shown"), [(799, 2, "$7.99"), (-50, 2, "−$0.50"), (1650, 0, "$1,650")]
)
def test_money(minor, decimals, shown):
    assert units.money(minor, "$", decimals) == shown


@pytest.mark.source("hand", "9/5 of 12 is 21.6, and 32: 53.6; water boils at 212 °F; -40 is both")
@pytest.mark.parametrize(
    ("at_c", "unit", "shown"),
    [
        (12, "cm", "12 °C"),
        (12, "in", "54 °F"),
        (12, "both", "12 °C (54 °F)"),
        (100, "in", "212 °F"),
        (-40, "both", "−40 °C (−40 °F)"),
        (0, "both", "0 °C (32 °F)"),
    ],
)
def test_temperatures(at_c, unit, shown) -> None:
    assert units.temperature(at_c, unit) == shown


@pytest.mark.source("own", "whole numbers of a form, as they are typed; nothing else is one")
@pytest.mark.parametrize(
    ("typed", "number"),
    [("7", 7), (" 12 ", 12), ("0", 0), ("", None), ("-3", None), ("²", None), ("1.5", None)],
)
def test_whole_numbers(typed, number):
    assert units.whole_number(typed) == number
    assert units.whole_number("9" * 5000) is None
