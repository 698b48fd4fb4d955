"""Side shoots and weekdays, as they are typed."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from nejime.basis.units import length_cm
from nejime.material.supply import Shoot
from nejime.reading.shoots import MOST_SHOOTS, shoots_text, with_unit
from nejime.reading.tables import Days, Shoots
from nejime.reading.weekdays import WEEKDAYS, as_list, as_text, weekdays

SHOOTS, DAYS = TypeAdapter(Shoots), TypeAdapter(Days)

halves = st.integers(2, 600).map(lambda half: half / 2)
any_shoots = st.lists(
    st.builds(Shoot, at_cm=st.floats(0, 300), length_cm=st.floats(1, 300)), max_size=MOST_SHOOTS
)
typed = st.lists(
    st.sampled_from(
        [
            "25",
            " at ",
            "at",
            "30",
            ", ",
            ",",
            ";",
            "\n",
            " in",
            " cm",
            "1/2",
            "½",
            '"',
            "-",
            "x",
            "٣",
        ]
    ),
    max_size=14,
).map("".join)


def read_or_refused(kind: TypeAdapter, value: object) -> tuple:
    """What is read; nothing where it is refused, which is in our words."""
    try:
        return kind.validate_python(value)
    except ValidationError as trouble:
        kinds = {each["type"] for each in trouble.errors()}
    assert kinds == {"reading"}
    return ()


def refused(value: object) -> str:
    with pytest.raises(ValidationError) as trouble:
        SHOOTS.validate_python(value)
    return str(trouble.value.errors()[0]["ctx"]["says"])


@pytest.mark.source("bipm2019", "10 in are 25.4 cm, 12 in are 30.48 cm")
@pytest.mark.parametrize(
    ("text", "shoots"),
    [
        ("25 at 30, 18 at 52", (Shoot(30, 25), Shoot(52, 18))),
        ("18 at 52; 25 at 30", (Shoot(30, 25), Shoot(52, 18))),
        ("25 at 30,18 at 52", (Shoot(30, 25), Shoot(52, 18))),
        ("25,5 at 30,5", (Shoot(30.5, 25.5),)),
        ("25,5 at 30, 18 at 52,5", (Shoot(30, 25.5), Shoot(52.5, 18))),
        ("10 in at 12 in", (Shoot(30.48, 25.4),)),
        ('10" AT 300 mm\n', (Shoot(30, 25.4),)),
        ("", ()),
        (" , ", ()),
    ],
)
def test_side_shoots_are_read_in_order_from_the_cut_end(text, shoots):
    found = SHOOTS.validate_python(text)
    assert [each.at_cm for each in found] == pytest.approx([each.at_cm for each in shoots])
    assert [each.length_cm for each in found] == pytest.approx([each.length_cm for each in shoots])


@pytest.mark.parametrize(
    ("value", "key"),
    [
        ("long ones", "reading.not-shoots"),
        ("25", "reading.not-shoots"),
        ("25 at", "reading.not-shoots"),
        ("25 at 30 at 40", "reading.not-shoots"),
        ("25 at -3", "reading.not-shoots"),
        ("25 furlongs at 3", "reading.not-shoots"),
        (25, "reading.not-shoots"),
        (["25 at 30"], "reading.not-shoots"),
        ("0 at 30", "reading.shoot-outside"),
        ("400 at 30", "reading.shoot-outside"),
        (f"{'9' * 400} at 3", "reading.not-measurable"),
        (", ".join(f"5 at {at}" for at in range(MOST_SHOOTS + 1)), "reading.too-many-shoots"),
    ],
)
def test_what_is_no_side_shoot_is_refused_in_words(value, key):
    assert refused(value) == key


@given(any_shoots)
def test_side_shoots_are_written_as_they_are_read(found):
    in_order = tuple(sorted(found, key=lambda each: (each.at_cm, each.length_cm)))
    assert SHOOTS.validate_python(shoots_text(in_order)) == in_order


@given(st.lists(st.tuples(halves, halves), max_size=MOST_SHOOTS))
@pytest.mark.source("bipm2019", "an inch is 2.54 cm")
def test_plain_numbers_of_somebody_who_measures_in_inches_are_inches(pairs):
    text = ", ".join(f"{long:g} at {at:g}" for long, at in pairs)
    says = with_unit(text, "in")
    wanted = sorted((at * 2.54, long * 2.54) for long, at in pairs if long * 2.54 <= 300)
    if len(wanted) == len(pairs):
        found = SHOOTS.validate_python(says)
        assert [each.at_cm for each in found] == pytest.approx([at for at, _ in wanted])
        assert [each.length_cm for each in found] == pytest.approx([long for _, long in wanted])
    assert with_unit(says, "cm") == says


def test_a_length_with_its_unit_and_what_cannot_be_read_stay_as_they_are():
    assert with_unit("10 cm at 5 1/2", "in") == "10 cm at 5 1/2 in"
    assert length_cm("5 1/2 in") == pytest.approx(13.97)
    assert with_unit("ten at the fork", "in") == "ten at the fork"
    assert with_unit("25 and 30", "in") == "25 and 30"


@given(st.one_of(typed, st.text(max_size=30)))
@example(",at")
def test_any_text_is_side_shoots_or_refused(text):
    found = read_or_refused(SHOOTS, text)
    assert found == tuple(sorted(found, key=lambda each: each.at_cm))
    assert with_unit(with_unit(text, "cm"), "in") == with_unit(text, "cm")


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("Fri, Sat", (4, 5)),
        ("saturdays and fridays", (4, 5)),
        ("Mon-Fri", (0, 1, 2, 3, 4)),
        ("Mon to Wed; Sun.", (0, 1, 2, 6)),
        ("Sat – Mon", (0, 5, 6)),
        ("Tu/Th", (1, 3)),
        ("", ()),
    ],
)
@pytest.mark.source("hand", "Monday is 0, as in datetime.date.weekday")
def test_weekdays_as_people_write_them(text, days):
    assert weekdays(text) == days
    assert DAYS.validate_python(text) == days
    assert DAYS.validate_python(as_list(text)) == days
    assert weekdays(as_text(as_list(text))) == days


def test_the_first_day_is_that_of_the_calendar():
    friday = dt.date(2027, 3, 12)
    assert WEEKDAYS[friday.weekday()] == friday.strftime("%A").lower()


@pytest.mark.parametrize("value", ["Frday", "F", "Mon-Tue-Wed", "week", 5, [5], ["fri", None], {}])
def test_what_is_no_weekday_is_refused(value):
    with pytest.raises(ValidationError) as trouble:
        DAYS.validate_python(value)
    assert trouble.value.errors()[0]["ctx"]["says"] == "reading.not-a-weekday"


@given(st.one_of(st.text(max_size=20), st.lists(st.one_of(st.text(max_size=8), st.integers()))))
def test_any_weekdays_are_read_or_refused(value):
    assert set(read_or_refused(DAYS, value)) <= set(range(7))
