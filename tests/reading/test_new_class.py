"""The file to begin with works as it is, and shows what there is to write."""

from __future__ import annotations

import datetime as dt

from nejime.forms.rules import FORMS
from nejime.forms.vessel import SHAPES
from nejime.lesson.lesson import NOTES
from nejime.reading.class_file import read_class
from nejime.reading.new_class import new_class

TEXT = new_class(dt.date(2026, 3, 14))


def test_it_is_read_as_it_is() -> None:
    lesson = read_class("mine.toml", TEXT.encode())
    assert lesson.starts.date() == dt.date(2026, 3, 14)
    assert any(person.vessel is None for person in lesson.people)
    assert lesson.wishes
    assert lesson.shops
    assert lesson.garden


def test_it_is_read_with_every_line_uncommented_that_can_be() -> None:
    text = TEXT.replace("# proportions = ", "proportions = ").replace("# region = ", "region = ")
    text = text.replace("# poison_line = ", "poison_line = ").replace("# contact = ", "contact = ")
    lesson = read_class("mine.toml", text.encode())
    assert (lesson.rule, lesson.region) == ("width-plus-height", "US")
    assert lesson.contact


def test_its_notes_name_every_choice() -> None:
    for word in (*FORMS, *SHAPES, *NOTES):
        assert word in TEXT
