"""What a class file says of stems, bunches, shops and branches, and how sure everybody is."""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from importlib.resources import files

import pytest

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying, Words
from nejime.lesson.lesson import Lesson
from nejime.material.supply import FAILS_PERCENT, Shoot
from nejime.reading.class_fields import fields_of_tree, tree_of_fields
from nejime.reading.class_file import read_class, read_class_tree
from nejime.reading.class_tree import tree_of_file, tree_text
from nejime.reading.new_class import new_class
from nejime.reading.shoots import MOST_SHOOTS
from nejime.reading.typed import bunch_numbers, field_texts, garden, shop

CLASS = """
[class]
title = "Bowls"
date = 2027-03-13
start = "10:00"
minutes = 90
zone = "Europe/London"
{told}
[[person]]
name = "Ada"
[[material]]
for = "first"
plant = "forsythia"
{wish}
[[shop]]
name = "the stall"
{shop}
[[garden]]
plant = "forsythia"
length = 90
{garden}
"""
BUNCH = 'bunch = [{ plant = "tulip", stems = 10, price = 8, length = 35, %s }]'


def written(**parts: str) -> bytes:
    return CLASS.format(**{"told": "", "wish": "", "shop": "", "garden": ""} | parts).encode()


def read(**parts: str) -> Lesson:
    return read_class("bowls.toml", written(**parts))


def faults(**parts: str) -> dict[str, str]:
    with pytest.raises(InputError) as trouble:
        read(**parts)
    words = Words()
    assert all(each.line and words.say(each.says) for each in trouble.value.faults)
    assert all(words.say(each.try_instead) for each in trouble.value.faults)  # type: ignore[arg-type]
    return {each.field: each.says.key.removeprefix("reading.") for each in trouble.value.faults}


def test_without_a_word_it_is_ninety_five_of_a_hundred_and_five_that_fail():
    lesson = read()
    assert (lesson.sure_percent, lesson.spare_percent, lesson.split_shops) == (95, None, False)
    assert lesson.wishes[0].fails_percent == FAILS_PERCENT
    assert lesson.wishes[0].thinnest_mm is None
    assert (lesson.shops[0].days, lesson.shops[0].notice_days) == ((), 0)
    assert (lesson.garden[0].whence, lesson.garden[0].shoots) == ("garden", ())


@pytest.mark.source("hand", "8 mm is 8 mm; friday and saturday are 4 and 5, Monday being 0")
def test_everything_that_is_said_is_read():
    lesson = read(
        told="sure_percent = 80\nsplit_shops = true",
        wish='with_shoots = true\nthinnest = "8 mm"\nthickest = "1.2 cm"\nfails_percent = 12',
        shop='days = ["saturday", "Friday"]\nnotice_days = 2\n'
        + BUNCH % 'thickness = "6 mm", shoots = "5 at 20"',
        garden='from = "left-over"\nshoots = "18 at 52, 25 at 30"',
    )
    (wish,), (place,), (stall,) = lesson.wishes, lesson.garden, lesson.shops
    assert (lesson.sure_percent, lesson.split_shops) == (80, True)
    assert (wish.with_shoots, wish.thinnest_mm, wish.thickest_mm) == (True, 8.0, 12.0)
    assert wish.fails_percent == 12
    assert (stall.days, stall.notice_days) == ((4, 5), 2)
    assert stall.bunches[0].thickness_mm == pytest.approx(6)
    assert stall.bunches[0].shoots == (Shoot(20, 5),)
    assert (place.whence, place.shoots) == ("left over", (Shoot(30, 25), Shoot(52, 18)))


def test_a_fixed_share_takes_the_place_of_how_sure_she_is():
    assert read(told="spare_percent = 0").spare_percent == 0
    assert faults(told="sure_percent = 95\nspare_percent = 10") == {
        "class.spare_percent": "sure-and-spare"
    }


@pytest.mark.parametrize(
    ("part", "text", "field", "key"),
    [
        ("told", "sure_percent = 100", "class.sure_percent", "number-outside"),
        ("told", "sure_percent = 95.5", "class.sure_percent", "not-whole"),
        ("told", 'split_shops = "yes"', "class.split_shops", "not-yes-or-no"),
        ("wish", "fails_percent = 51", "material[1].fails_percent", "number-outside"),
        ("wish", 'thinnest = "a bit"', "material[1].thinnest", "not-a-thickness"),
        (
            "wish",
            'thinnest = "pencil"\nthickest = "matchstick"',
            "material[1].thickest",
            "thickest-under-thinnest",
        ),
        ("shop", 'days = ["fryday"]', "shop[1].days", "not-a-weekday"),
        ("shop", "notice_days = 61", "shop[1].notice_days", "number-outside"),
        ("shop", BUNCH % 'shoots = "5 at 36"', "shop[1].bunch[1].shoots", "shoot-beyond"),
        ("garden", 'shoots = "25 at 90"', "garden[1].shoots", "shoot-beyond"),
        ("garden", 'shoots = "a few"', "garden[1].shoots", "not-shoots"),
        ("garden", 'from = "the moon"', "garden[1].from", "not-one-of"),
    ],
)
def test_what_cannot_be_is_told_at_its_place(part, text, field, key):
    assert faults(**{part: text}) == {field: key}


def test_file_tree_and_fields_say_the_same_in_either_unit():
    data = written(
        told="sure_percent = 80",
        wish="with_shoots = true\nfails_percent = 7",
        shop='days = "Fri, Sat"\n' + BUNCH % 'shoots = "5 at 20"',
        garden='from = "gift"\nshoots = "25 at 30, 10 in at 20 in"',
    )
    once = read_class("file", data)
    tree = tree_of_file("file", data)
    assert read_class("written", tree_text(tree).encode()) == once
    assert 'days = ["friday", "saturday"]' in tree_text(tree)
    for unit in ("cm", "in", "both"):
        fields = fields_of_tree(tree, unit)
        assert fields["shop[1].days"] == "Friday, Saturday"
        assert read_class_tree("fields", tree_of_fields(fields, unit)) == once
    assert fields_of_tree(tree, "in")["garden[1].shoots"] == "25 cm at 30 cm, 10 in at 20 in"


def test_forms_keep_the_same():
    kept = garden({"plant": "forsythia", "length": "40", "shoots": "5 at 20", "from": "gift"}, "in")
    assert (kept["shoots"], kept["from"]) == ("5 in at 20 in", "gift")
    assert field_texts(kept, "in")["shoots"] == "5 in at 20 in"
    with pytest.raises(InputError) as trouble:
        garden({"plant": "forsythia", "length": "40", "shoots": "5 at 40"})
    assert [each.field for each in trouble.value.faults] == ["shoots"]
    fields = {
        "name": "a",
        "days": "sat, sun",
        "notice_days": "2",
        "bunch[1].plant": "tulip",
        "bunch[1].stems": "10",
        "bunch[1].price": "8",
        "bunch[1].length": "35",
        "bunch[1].thickness": "pencil",
        "bunch[1].shoots": "5 at 20",
    }
    made = shop(fields, range(1, 2))
    assert (made["days"], made["notice_days"]) == (["saturday", "sunday"], 2)
    assert bunch_numbers(made["bunch"][0]).shoots == (Shoot(20, 5),)
    with pytest.raises(InputError) as trouble:
        shop({**fields, "bunch[1].shoots": "5 at 36", "days": "never"}, range(1, 2))
    assert [each.field for each in trouble.value.faults] == ["days", "bunch[1].shoots"]


def test_every_line_of_the_first_class_file_can_be_taken_as_it_stands():
    text = new_class(dt.date(2027, 3, 13))
    for line in (
        "sure_percent = 95",
        "split_shops = true",
        "with_shoots = true",
        "notice_days = 3",
    ):
        assert f"# {line}" in text
        text = text.replace(f"# {line}", line)
    for key in ("days = [", 'from = "', 'shoots = "'):
        assert f"# {key}" in text
        text = text.replace(f"# {key}", key)
    lesson = read_class("new", text.encode())
    assert lesson.garden[0].shoots == (Shoot(30, 25), Shoot(52, 18))
    assert lesson.shops[0].days == (4, 5)
    assert lesson.shops[0].minimum_minor == Decimal(0)


def test_the_script_of_the_pictures_knows_how_many_shoots_there_can_be():
    assert f"More than {MOST_SHOOTS} " in Words().say(Saying("web.shoots.full"))
    script = files("nejime.web") / "static" / "shoots.js"
    assert f"const MOST = {MOST_SHOOTS};" in script.read_text(encoding="utf-8")
