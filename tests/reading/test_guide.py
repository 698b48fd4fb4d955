"""What the guide to the class file shows is read, and it shows every key there is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from pydantic import BaseModel

from nejime.forms.rules import FORMS, PLACES
from nejime.forms.supporting import MOST
from nejime.forms.vessel import SHAPES, WARE_DENSITY_G_CM3
from nejime.lesson.lesson import NOTES
from nejime.material.supply import HOWS, MATERIAL_ROLES
from nejime.plants.plant import STEMS
from nejime.reading import stand_file, tables
from nejime.reading.checking import known_keys
from nejime.reading.class_file import read_class
from nejime.reading.people import MOST_PEOPLE
from nejime.reading.stand_file import read_stand
from nejime.standing.masses import THICKNESS_MM

GUIDE = (Path(__file__).parents[2] / "docs" / "guide" / "class-file.md").read_text("utf-8")


def blocks(kind: str) -> str:
    return "\n".join(re.findall(rf"^```{kind}\n(.*?)^```$", GUIDE, re.MULTILINE | re.DOTALL))


CLASS, PIECE = blocks("toml"), blocks("toml piece")
MODELS = [
    tables.ClassTable,
    tables.RoomTable,
    tables.LentVesselTable,
    tables.LentHolderTable,
    tables.PersonTable,
    tables.DemonstrationTable,
    tables.MaterialTable,
    tables.StandInTable,
    tables.ShopTable,
    tables.BunchTable,
    tables.GardenTable,
]


def test_its_parts_together_are_a_class_file() -> None:
    lesson = read_class("guide.toml", CLASS.encode())
    assert len(lesson.people) == 6
    assert lesson.people[-2].lent


def test_its_piece_can_be_judged() -> None:
    assert len(read_stand("guide.toml", PIECE.encode()).stems) == 2


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_it_shows_every_key_of_a_class_file(model: type[BaseModel]) -> None:
    shown = set(re.findall(r"\b(\w+) = ", CLASS))
    assert set(known_keys(model)) <= shown


@pytest.mark.parametrize("model", [stand_file.StemTable, stand_file.PlacedHolderTable])
def test_it_shows_every_key_of_a_piece(model: type[BaseModel]) -> None:
    shown = set(re.findall(r"\b(\w+) = ", PIECE + CLASS))
    assert set(known_keys(model)) <= shown


def test_it_names_every_word_that_can_be_chosen() -> None:
    chosen = (*FORMS, *PLACES, *SHAPES, *WARE_DENSITY_G_CM3, *NOTES, *HOWS, *MATERIAL_ROLES)
    plain = (word.replace("-", " ") for word in (*STEMS, *THICKNESS_MM))
    missing = [word for word in (*chosen, *plain) if word not in GUIDE]
    assert missing == []


def test_the_limits_that_it_tells_hold() -> None:
    assert f"at most {MOST_PEOPLE}" in GUIDE
    assert f"{tables.LEAST_MINUTES} to {tables.MOST_MINUTES}" in GUIDE
    told = re.findall(r"\(at most (\d+)\)", GUIDE)
    assert [int(each) for each in told] == [MOST["helper"], MOST["heart"], MOST["leaf"]]
