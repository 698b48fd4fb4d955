"""Small classes for the tests; people, places and plants are invented."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from zoneinfo import ZoneInfo

from hypothesis import strategies as st

from nejime.forms.vessel import vessel
from nejime.lesson.lesson import NOTES, Lesson, Person, Room
from nejime.material.supply import Wish

TEN = dt.datetime(2026, 3, 14, 10, tzinfo=ZoneInfo("America/New_York"))
DISH = vessel("round", 30, 6)
WISHES = (
    Wish("first", "flowering-quince"),
    Wish("helper", "flowering-quince", 2),
    Wish("heart", "tulip"),
    Wish("leaf", "aspidistra", 2),
)


def people(count: int, **notes: tuple[str, ...]) -> tuple[Person, ...]:
    """So many people with the same dish; `notes` by person: `p2=("child",)` is the second's."""
    return tuple(
        Person(f"Person {n}", DISH, please_note=notes.get(f"p{n}", ())) for n in range(1, count + 1)
    )


def a_class(count: int = 6, minutes: int = 120, **fields) -> Lesson:
    """A class of so many people; any of its fields may be told."""
    notes = {name: fields.pop(name) for name in list(fields) if name[1:].isdigit()}
    made = Lesson(
        title="Spring",
        library="Hill Library",
        place="Room 2",
        starts=TEN,
        minutes=minutes,
        people=people(count, **notes),
        wishes=WISHES,
    )
    return replace(made, **fields)


@st.composite
def classes(draw, least: int = 1, most: int = 60):
    """A class of any size, with any notes, in any room."""
    count = draw(st.integers(least, most))
    noted = {
        f"p{n}": tuple(draw(st.sets(st.sampled_from(NOTES), max_size=2)))
        for n in draw(st.sets(st.integers(1, count), max_size=8))
    }
    return a_class(
        count,
        draw(st.integers(90, 300)),
        filmed=draw(st.booleans()),
        take_home=draw(st.booleans()),
        room=Room(
            floor=draw(st.sampled_from(["carpet", "hard"])),
            width_cm=draw(st.none() | st.floats(300, 2000)),
            depth_cm=draw(st.none() | st.floats(300, 2000)),
            water_in_room=draw(st.booleans()),
            seats_at_table=draw(st.integers(1, 8)),
        ),
        wishes=tuple(draw(st.sets(st.sampled_from(WISHES)))),
        **noted,
    )
