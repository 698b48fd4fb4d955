"""A class file, its tree and its fields say the same, whichever way they are turned."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.reading.class_fields import fields_of_tree, tree_of_fields
from nejime.reading.class_file import read_class, read_class_tree
from nejime.reading.class_tree import tree_of_file, tree_text
from nejime.reading.new_class import new_class

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
NEW = new_class(dt.date(2027, 3, 13)).encode()

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
names = st.text(st.characters(categories=["L", "N", "P", "S", "Zs"]), min_size=1, max_size=30)
measures = st.sampled_from(["30", "5.5", "12 in", '2 1/2"', "0.25", "30 cm", "007", "1,5"])


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.source("hand", "a file and what is written of its tree describe one class")
def test_what_is_written_is_read_as_the_same_class(file):
    once = read_class(file.name, file.read_bytes())
    tree = tree_of_file(file.name, file.read_bytes())
    assert read_class("written", tree_text(tree).encode()) == once
    assert read_class_tree("filled in", tree) == once


@pytest.mark.parametrize("file", EXAMPLES, ids=lambda path: path.stem)
def test_what_stands_in_the_fields_is_the_tree(file):
    tree = tree_of_file(file.name, file.read_bytes())
    assert tree_of_fields(fields_of_tree(tree)) == tree


def test_the_first_class_file_goes_through_the_fields():
    tree = tree_of_file("new", NEW)
    assert read_class_tree("filled in", tree_of_fields(fields_of_tree(tree))) == read_class(
        "new", NEW
    )


@given(title=texts, note=texts, name=names, width=measures, price=measures)
def test_any_text_is_written_and_read_as_it_was(title, note, name, width, price):
    tree = {
        "class": {
            "title": title,
            "date": "2027-03-13",
            "minutes": 120,
            "kits_instead_of_class": True,
        },
        "person": [{"name": name, "note": note, "vessel": {"shape": "round", "width": width}}],
        "shop": [{"name": name, "bunch": [{"plant": "tulip", "stems": 10, "price": price}]}],
    }
    kept = tree_of_file("any", tree_text(tree).encode())
    tidied = tree_of_fields(fields_of_tree(tree))
    assert tree_of_fields(fields_of_tree(kept)) == tidied


def test_a_field_is_named_as_its_fault():
    with pytest.raises(InputError) as trouble:
        read_class_tree(
            "filled in",
            tree_of_fields(
                {
                    "class.title": "Bowls",
                    "class.date": "2027-03-13",
                    "class.start": "10:00",
                    "class.minutes": "two hours",
                    "class.zone": "America/Chicago",
                    "person[1].name": "Ada",
                    "person[1].vessel": "own",
                    "person[1].vessel.shape": "round",
                    "person[1].vessel.width": "wide",
                    "person[1].vessel.height": "6",
                    "person[2].name": "Ben",
                    "person[2].vessel": "ours: green dish",
                }
            ),
        )
    assert {fault.field for fault in trouble.value.faults} == {
        "class.minutes",
        "person[1].vessel.width",
        "person[2].vessel",
    }


def test_no_fault_of_a_field_speaks_of_how_files_are_written():
    tree = {
        "class": {"title": "", "date": "x", "start": "x", "minutes": "x", "zone": "x", "size": "x"},
        "person": [{"name": "Ada", "vessel": "none"}, {"name": "ada", "holder": {"mass": "x"}}],
        "material": [{"for": "first", "plant": "tulip", "each": 4, "thickness": "x"}],
        "shop": [{"name": "A", "bunch": [{"plant": "x", "stems": "x", "price": "x"}]}],
    }
    with pytest.raises(InputError) as trouble:
        read_class_tree("filled in", tree)
    said = [Words().say(says) for each in trouble.value.faults for says in _both(each)]
    assert len(said) > 20
    assert not [text for text in said if "quotation" in text or "[" in text or "line" in text]


def _both(fault):
    return [fault.says] if fault.try_instead is None else [fault.says, fault.try_instead]


def test_what_is_left_empty_is_left_out_and_the_rest_moves_up():
    assert tree_of_fields(
        {
            "person[1].name": " ",
            "person[2].name": "Ben",
            "person[2].please_note.wheelchair": "yes",
            "person[2].vessel": "",
            "person[2].vessel.width": "30",
            "person[3].vessel": "ours: blue dish",
        }
    ) == {"person": [{"name": "Ben", "please_note": ["wheelchair"]}, {"vessel": "blue dish"}]}


@pytest.mark.source("bipm2019", "an inch is 2.54 cm: 12 in are 30.48 cm")
def test_a_plain_number_is_in_the_unit_in_which_the_reader_measures():
    tree = {"person": [{"name": "Ada", "vessel": {"shape": "round", "width": "30"}}]}
    fields = fields_of_tree(tree, "in")
    assert fields["person[1].vessel.width"] == "30 cm"
    fields["person[1].vessel.height"] = "3"
    again = tree_of_fields(fields, "in")["person"][0]["vessel"]
    assert (again["width"], again["height"]) == ("30 cm", "3 in")
