"""Pieces, stocks and a small class for the tests of the papers."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from zoneinfo import ZoneInfo

import pytest

from nejime.basis.sayings import Words
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.lesson.lesson import Lesson, Person
from nejime.lesson.plan import LessonPlan, plan_lesson
from nejime.material.supply import Bunch, GardenBranch, Shop, StandIn, Wish
from nejime.papers.sheet import Stock

DAY = dt.date(2026, 3, 14)


@pytest.fixture(scope="session")
def words() -> Words:
    return Words("en", "cm", "$")


@pytest.fixture(scope="session")
def dish() -> Piece:
    made = piece(vessel("round", 30, 6), packaged()["width-plus-height"], "upright")
    return with_supporting(made, helpers=2, hearts=1, leaves=3)


@pytest.fixture(scope="session")
def stock() -> Callable[..., Stock]:
    def make(paper: str = "A4", *, large: bool = False, date: dt.date = DAY) -> Stock:
        return Stock(paper, date, large, "en", "0.0", 1, "Millbrook Town Library")

    return make


@pytest.fixture(scope="session")
def plan() -> LessonPlan:
    """Three people: a dish, somebody with low vision and a bowl, somebody without a vessel."""
    lesson = Lesson(
        title="Early spring in a bowl",
        library="Millbrook Town Library",
        place="Meeting room",
        starts=dt.datetime(2026, 3, 14, 10, tzinfo=ZoneInfo("America/Chicago")),
        minutes=120,
        people=(
            Person("Ada Łukasz", vessel("round", 30, 6)),
            Person("Bo", vessel("bowl", 18, 8), please_note=("low-vision", "cat-at-home")),
            Person("岡田"),
        ),
        display_days=5,
        contact="the desk, extension 14",
        wishes=(
            Wish("first", "forsythia", stand_ins=(StandIn("flowering-quince", "as good"),)),
            Wish("second", "forsythia"),
            Wish("third", "tulip"),
            Wish("leaf", "aspidistra", each=2),
        ),
        shops=(
            Shop("grocery", (Bunch("grocery", "tulip", 10, 799, 40.0),)),
            Shop("stall", (Bunch("stall", "aspidistra", 10, 900, 45.0),), minimum_minor=500),
        ),
        garden=(GardenBranch("forsythia", 95.0, 12, name="the hedge"),),
    )
    return plan_lesson(lesson, dict(packaged()), dt.date(2026, 3, 1))
