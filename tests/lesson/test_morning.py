"""The morning: what is there handed out anew."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel
from nejime.lesson.morning import changed, gone, on_the_morning, stock
from nejime.lesson.supplying import supplying
from nejime.material.supply import GardenBranch
from nejime.reading.class_file import read_class

EXAMPLE = Path(__file__).parents[2] / "examples" / "1-saturday-mixed-bowls.toml"
RULES = dict(packaged())
TODAY = dt.date(2027, 3, 13)
LESSON = read_class(EXAMPLE.name, EXAMPLE.read_bytes())
PLANNED = supplying(LESSON, RULES, TODAY)
ROWS = stock(PLANNED)


def there(**counts: int) -> list[GardenBranch]:
    """The piles as planned, some with another count: `at_3=2` is the fourth pile."""
    return [
        GardenBranch(row.plant, row.length_cm, counts.get(f"at_{number}", row.planned))
        for number, row in enumerate(ROWS)
    ]


def morning(stems: list[GardenBranch], ill=(), lesson=LESSON):
    _, now = on_the_morning(lesson, RULES, PLANNED, stems, TODAY, ill)
    return now, changed(PLANNED, now, ROWS)


def test_where_all_is_there_nothing_changes():
    now, changes = morning(there())
    assert not changes
    assert not now.bought.short_of
    assert not list(gone(PLANNED, now))


@pytest.mark.source("hand", "the spares of a pile may be missing: nobody notices")
def test_missing_spares_change_nothing():
    at, pile = next((n, p) for n, p in enumerate(PLANNED.piles.piles) if p.spares)
    _, changes = morning(there(**{f"at_{at}": pile.count - pile.spares}))
    assert not changes


def test_who_is_ill_leaves_her_stems_to_others():
    now, changes = morning(there(), ill={"Ada"})
    assert list(gone(PLANNED, now)) == ["Ada"]
    assert not any(each.who == "Ada" for each in changes)


def test_without_a_plant_its_stems_are_missing_or_others_take_their_place():
    no_leaf = {f"at_{number}": 0 for number, row in enumerate(ROWS) if row.plant == "aspidistra"}
    now, changes = morning(there(**no_leaf))
    assert all(each.missing and each.reprint for each in changes)
    assert {each.stem[:4] for each in now.bought.short_of} == {"leaf"}
    assert now.bought.mended_by is not None


def test_another_vessel_changes_its_own_handout():
    people = tuple(
        replace(person, vessel=vessel("round", width_cm=24, height_cm=6))
        if person.name == "Ada"
        else person
        for person in LESSON.people
    )
    _, changes = morning(there(), lesson=replace(LESSON, people=people))
    assert [each.who for each in changes if each.reprint] == ["Ada"]


@given(st.lists(st.floats(0, 1), min_size=len(ROWS), max_size=len(ROWS)))
@settings(max_examples=25, deadline=None)
def test_nothing_is_handed_out_that_is_not_there(shares):
    stems = [
        replace(each, count=int(each.count * share))
        for each, share in zip(there(), shares, strict=True)
    ]
    now, _ = morning(stems)
    used: dict[int, int] = {}
    for use in now.bought.uses:
        row = int(use.from_.name) - 1
        used[row] = used.get(row, 0) + 1
        assert stems[row].plant == use.plant
        assert stems[row].length_cm >= use.wanted.least_cm
    assert all(count <= stems[row].count for row, count in used.items())
    asked = sum(each.count for each in now.wanted)
    missing = sum(each.count for each in now.bought.short_of)
    assert len(now.bought.uses) + missing == asked
