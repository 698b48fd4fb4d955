"""A class file becomes a class, value by value."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from nejime.basis.errors import InputError
from nejime.basis.sayings import texts
from nejime.forms.rules import packaged
from nejime.lesson.lesson import Lesson
from nejime.reading.class_file import read_class
from nejime.reading.people import MOST_PEOPLE
from nejime.reading.when import is_southern

HERE = Path(__file__).parent
FIXTURES = HERE.parent / "fixtures" / "classes"
EXAMPLES = HERE.parent.parent / "examples"
GOOD = sorted(FIXTURES.glob("*.toml")) + sorted(EXAMPLES.glob("*.toml"))

CLASS = """
[class]
title = "A class"
date = 2026-03-14
start = "10:00"
minutes = 90
zone = "America/Chicago"
"""
ADA = '[[person]]\nname = "Ada"\n'


def read(text: str) -> Lesson:
    return read_class("class.toml", text.encode())


def keys(text: str) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as caught:
        read(text)
    return [(fault.field, fault.says.key) for fault in caught.value.faults]


@pytest.mark.parametrize("file", GOOD, ids=lambda file: file.stem)
def test_good_files_are_read(file: Path) -> None:
    assert read_class(file.name, file.read_bytes()).people


def test_what_is_left_out_is_usual() -> None:
    lesson = read(CLASS + ADA)
    assert lesson == Lesson(
        title="A class",
        library="",
        place="",
        starts=lesson.starts,
        minutes=90,
        people=lesson.people,
        rule=None,
    )
    (person,) = lesson.people
    assert (person.name, person.vessel, person.lent, person.holder) == ("Ada", None, False, None)


@pytest.mark.source(
    "hand", "Chicago is 6 h behind UTC in winter, 5 h from 8 March 2026: 10:00 is 15:00"
)
def test_the_class_begins_on_the_clocks_of_its_zone() -> None:
    starts = read(CLASS + ADA).starts
    assert starts.astimezone(dt.UTC) == dt.datetime(2026, 3, 14, 15, 0, tzinfo=dt.UTC)


@pytest.mark.parametrize("typed", ["10:00:00", '"10:00"', '"10.00"', '"10:00 am"', '"10:00:00"'])
def test_a_time_may_be_typed_in_many_ways(typed: str) -> None:
    assert read(CLASS.replace('"10:00"', typed) + ADA).starts.time() == dt.time(10)


@pytest.mark.parametrize(("typed", "hour"), [("12:05 am", 0), ("12:05 pm", 12), ("11:05 P.M.", 23)])
def test_noon_and_midnight_on_a_clock_of_twelve_hours(typed: str, hour: int) -> None:
    assert read(CLASS.replace("10:00", typed) + ADA).starts.time() == dt.time(hour, 5)


@pytest.mark.source("bipm2019", "1 in = 2.54 cm exactly: 12 in = 30.48 cm, 2 1/2 in = 6.35 cm")
@pytest.mark.source("hand", "1 lb = 453.59237 g, so 2 lb = 907.18474 g")
def test_inches_and_pounds_are_turned_into_centimetres_and_grams() -> None:
    vessel = '{ shape = "round", width = "12 in", height = "2 1/2\\"", mass = "2 lb" }'
    read_vessel = read(f"{CLASS}{ADA}vessel = {vessel}").people[0].vessel
    assert read_vessel is not None
    assert read_vessel.width_cm == pytest.approx(30.48)
    assert read_vessel.height_cm == pytest.approx(6.35)
    assert read_vessel.mass.g == pytest.approx(907.18474)
    assert read_vessel.mass.weighed


def test_a_vessel_to_lend_is_found_by_its_name_whatever_the_capitals() -> None:
    lent = '[[vessel]]\nname = "Blue  dish"\nshape = "round"\nwidth = 28\nheight = 6\ncount = 2\n'
    lesson = read(f'{CLASS}{ADA}vessel = "blue dish"\n{lent}')
    (person,) = lesson.people
    assert person.lent
    assert lesson.lend.vessels == ((person.vessel, 2),)


def test_the_demonstration_takes_a_vessel_to_lend_away_from_the_others() -> None:
    lent = '[[vessel]]\nname = "dish"\nshape = "round"\nwidth = 28\nheight = 6\n'
    text = f'{CLASS}[demonstration]\nvessel = "dish"\n{ADA}vessel = "dish"\n{lent}'
    assert keys(text) == [("person[1].vessel", "reading.lent-too-often")]


@pytest.mark.parametrize(
    ("typed", "decimals", "minor"),
    [
        ("7.99", 2, 799),
        ("0.29", 2, 29),  # as a binary fraction 0.29 × 100 is 28.999…
        ("1.10", 2, 110),
        ("8", 2, 800),
        ('"7,99"', 2, 799),
        ("1200", 0, 1200),
        ("1.234", 3, 1234),
        ("1e2", 2, 10000),
    ],
)
@pytest.mark.source("hand", "an amount times ten to the number of decimal places")
def test_money_is_exact(typed: str, decimals: int, minor: int) -> None:
    bunch = f'{{ plant = "tulip", stems = 9, price = {typed}, length = 35 }}'
    shop = f'[[shop]]\nname = "x"\nbunch = [{bunch}]'
    text = CLASS + f"decimals = {decimals}\n" + ADA + shop
    assert read(text).shops[0].bunches[0].price_minor == minor


def test_money_finer_than_the_currency_is_refused_however_fine() -> None:
    price = "7.99" + "0" * 30 + "1"
    shop = f'[[shop]]\nname = "x"\nminimum = {price}'
    assert keys(CLASS + ADA + shop) == [("shop[1].minimum", "reading.too-exact")]


@pytest.mark.parametrize(
    ("typed", "mm"), [('"pencil"', 7), ('"Little Finger"', 12), ('"8 mm"', 8), ("0.8", 8)]
)
@pytest.mark.source("own", "a pencil is 7 mm and a little finger 12 mm thick")
def test_thickness_is_told_by_fingers_or_measured(typed: str, mm: float) -> None:
    wish = f'[[material]]\nfor = "first"\nplant = "forsythia"\nthickness = {typed}'
    assert read(CLASS + ADA + wish).wishes[0].thickness_mm == pytest.approx(mm)


@pytest.mark.parametrize(
    "typed", ["flowering-quince", "Chaenomeles speciosa", "boke", "木瓜", "quinces"]
)
@pytest.mark.source("memory", "Chaenomeles speciosa is flowering quince, 木瓜, boke")
def test_a_plant_is_known_by_any_of_its_names(typed: str) -> None:
    wish = f'[[material]]\nfor = "first"\nplant = "{typed}"\n'
    assert read(CLASS + ADA + wish).wishes[0].plant == "flowering-quince"


def test_sixty_people_are_a_class_and_more_than_fit_a_room_are_not() -> None:
    people = [f'[[person]]\nname = "Person {number}"\n' for number in range(MOST_PEOPLE + 1)]
    assert len(read(CLASS + "".join(people[:60])).people) == 60
    assert keys(CLASS + "".join(people)) == [("person", "reading.too-many-people")]


@pytest.mark.parametrize(
    ("zone", "southern"),
    [
        ("America/Chicago", False),
        ("Asia/Tokyo", False),
        ("Australia/Sydney", True),
        ("Pacific/Auckland", True),
        ("NZ", True),
        ("Europe/London", False),
    ],
)
@pytest.mark.source("hand", "Sydney lies at 34° S, Auckland at 37° S; NZ is another name of it")
def test_the_zone_tells_the_hemisphere(zone: str, southern: bool) -> None:
    assert is_southern(zone) is southern
    assert read(CLASS.replace("America/Chicago", zone) + ADA).southern is southern


def test_proportions_of_her_own_may_be_named() -> None:
    own = {**packaged(), "ours": packaged()["width-plus-height"]}
    text = CLASS + 'proportions = "ours"\n' + ADA
    assert read_class("class.toml", text.encode(), own).rule == "ours"
    assert keys(text) == [("class.proportions", "reading.unknown-proportions")]


def test_a_lent_bowl_too_small_for_any_pin_holder_is_told_at_its_name() -> None:
    cup = '[[vessel]]\nname = "cup"\nshape = "bowl"\nwidth = 8\nheight = 5\nfloor_width = 2\n'
    assert keys(f'{CLASS}{ADA}vessel = "cup"\n{cup}') == [("person[1].vessel", "forms.no-holder")]


def test_text_is_stripped_and_lines_in_it_are_joined() -> None:
    lesson = read(CLASS + ADA + 'note = """\n  likes\n  tea """\n')
    assert lesson.people[0].remark == "likes tea"


def test_every_key_of_this_room_has_a_text_for_what_to_do() -> None:
    known = {
        key.removesuffix(".one").removesuffix(".many")
        for key in texts()
        if key.startswith("reading.")
    }
    remedies = {"did-you-mean", "choose", "write-one", "else-note", "leave-out", "belongs-in"}
    remedies |= {"nothing-to-lend"}
    alone = {f"reading.{key}" for key in remedies}
    wrong = {key for key in known if not key.endswith("-try")} - alone
    assert {f"{key}-try" for key in wrong} == {key for key in known if key.endswith("-try")}
