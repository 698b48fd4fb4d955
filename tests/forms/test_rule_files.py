"""A teacher's own proportions: read, laid over ours, or refused with file, line and field."""

import contextlib
import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis import tables
from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.forms.piece import piece
from nejime.forms.rules import packaged, read_rule, rules
from nejime.forms.vessel import vessel

TEXT = tables.read_text("rules/width-plus-height.toml")


def _faults(text):
    with pytest.raises(InputError) as refused:
        read_rule("mine.toml", text)
    return refused.value.faults


def test_an_own_file_lies_over_ours():
    own = TEXT.replace("usual = 1.5", "usual = 1.7")
    found = rules({"mine.toml": own})["width-plus-height"]
    first = piece(vessel("round", 30, 6), found, "upright").stem("first")
    assert first.length_cm == pytest.approx(1.7 * 36)
    assert packaged()["width-plus-height"].forms != found.forms


def test_an_own_file_may_have_a_name_of_its_own():
    own = TEXT.replace('name = "width-plus-height"', 'name = "mine"')
    assert set(rules({"mine.toml": own})) == set(packaged()) | {"mine"}


@pytest.mark.parametrize(
    ("was", "becomes", "field"),
    [
        ("usual = 1.5", "usual = 15", "factor.usual"),
        ("usual = 1.5", 'usual = "long"', "factor.usual"),
        (
            "second = { tilt = 45, bearing = 225 }",
            "second = { tilt = 200, bearing = 225 }",
            "form.upright.second.tilt",
        ),
        ("tilt = [10, 15, 15]", "tilt = [15, 10, 15]", "form.upright.first.tilt"),
        ('holder = "front left"', 'holder = "position one"', "form.upright.holder"),
        ('source = "practice"', 'source = "somebody"', "source"),
        ('of = "first"', 'of = "third"', "second.of"),
        ('measures = "length"', 'measures = "weight"', "measures"),
        ('remark = "', 'remarks = "', "remarks"),
    ],
)
def test_a_bad_file_is_refused_with_its_line_and_field(was, becomes, field):
    text = TEXT.replace(was, becomes, 1)
    found = {fault.field: fault for fault in _faults(text)}
    assert field in found
    line = found[field].line
    assert line is not None
    assert field.rpartition(".")[2] in text.splitlines()[line - 1]
    for fault in found.values():
        assert Words().say(fault.says)
        assert fault.says.quantities["file"] == "mine.toml"


def test_every_fault_is_told_at_once():
    text = TEXT.replace("usual = 1.5", "usual = 15", 1).replace("tilt = 45", "tilt = 200", 1)
    assert len(_faults(text)) >= 2


def test_what_is_no_toml_is_refused():
    assert _faults("name = ")[0].says.key == "rules.not-toml"


@given(st.text(max_size=200))
def test_any_text_is_a_rule_or_is_refused(text):
    with pytest.raises(InputError):
        read_rule("mine.toml", text)


VALUES = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-5, 400)
    | st.floats(allow_nan=True)
    | st.text(max_size=5),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(["tilt", "bearing", "of", "usual", "x"]), inner, max_size=3
        )
    ),
    max_leaves=6,
)


def _toml(value):
    if isinstance(value, bool):
        return str(value).lower()
    if value is None:
        return '""'
    if isinstance(value, str):
        return '"' + "".join(each for each in value if each.isalnum()) + '"'
    if isinstance(value, list):
        return "[" + ", ".join(_toml(each) for each in value) + "]"
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(each)}" for key, each in value.items()) + " }"
    return str(value)


LINES = [number for number, line in enumerate(TEXT.splitlines()) if " = " in line]


@given(st.sampled_from(LINES), VALUES)
def test_any_value_in_any_place_is_read_or_refused(number, value):
    lines = TEXT.splitlines()
    lines[number] = f"{lines[number].split(' = ')[0]} = {_toml(value)}"
    text = "\n".join(lines)
    tomllib.loads(text)
    with contextlib.suppress(InputError):
        read_rule("mine.toml", text)
