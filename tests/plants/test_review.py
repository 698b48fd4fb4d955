"""What a teacher says of rows from memory: one row, and no other, is hers from then on."""

import datetime as dt
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from nejime.basis.tables import TableError
from nejime.plants import table
from nejime.plants.plant import TEACHER, UNIT_OF, Fact, Plant
from nejime.plants.review import (
    FACTS,
    MEMORY,
    Correction,
    Row,
    RowKey,
    corrected,
    from_memory,
    rows_of,
    unchecked,
)
from nejime.plants.table import plant, plants

DAY = dt.date(2027, 2, 20)
KNOWN = [each for each in plants() if from_memory(rows_of(each))]
PLANTS = st.sampled_from(KNOWN)


@st.composite
def rows(draw) -> tuple[Plant, Row]:
    """A plant, and one of its rows from memory."""
    chosen = draw(PLANTS)
    return chosen, draw(st.sampled_from(from_memory(rows_of(chosen))))


@st.composite
def ranges(draw, unit: str) -> tuple[float, float]:
    if unit == "month":
        month = st.integers(1, 12)
        return float(draw(month)), float(draw(month))
    ends = draw(st.lists(st.floats(0, 50, allow_nan=False), min_size=2, max_size=2))
    low, high = sorted(ends)
    return low, high


def numbers(each: Plant) -> list[tuple[object, ...]]:
    return [(fact.what, fact.place, fact.low, fact.high, fact.unit) for fact in each.facts]


def test_every_row_is_told_from_every_other() -> None:
    keys = [row.key for each in plants() for row in rows_of(each)]
    assert len(set(keys)) == len(keys)


def test_what_is_from_memory_is_listed_whole() -> None:
    listed = [row for each in plants() for row in from_memory(rows_of(each))]
    facts = [fact for each in plants() for fact in each.facts if fact.grade == MEMORY]
    hazards = [one for each in plants() for one in each.hazards if one.grade == MEMORY]
    assert len(listed) == len(facts) + len(hazards)


@given(rows())
def test_to_confirm_changes_no_number(chosen: tuple[Plant, Row]) -> None:
    each, row = chosen
    after = corrected(each, [Correction(row.key, DAY)])
    assert numbers(after) == numbers(each)
    assert [one.saying for one in after.hazards] == [one.saying for one in each.hazards]
    changed = [
        new
        for old, new in zip(
            (*each.facts, *each.hazards), (*after.facts, *after.hazards), strict=True
        )
        if old != new
    ]
    assert [(one.source, one.grade) for one in changed] == [(TEACHER, TEACHER)]


@given(rows(), st.data())
def test_her_numbers_change_one_row_and_no_other(chosen: tuple[Plant, Row], data) -> None:
    each, row = chosen
    if row.key.table != FACTS:
        return
    low, high = data.draw(ranges(row.unit))
    after = corrected(each, [Correction(row.key, DAY, low, high)])
    assert len(after.facts) == len(each.facts)
    changed = [(old, new) for old, new in zip(each.facts, after.facts, strict=True) if old != new]
    ((old, new),) = changed
    assert (old.what, old.place, old.low, old.high) == (
        row.key.what,
        row.key.place,
        row.low,
        row.high,
    )
    assert new == Fact(old.what, low, high, old.unit, TEACHER, old.place, TEACHER)
    assert after.hazards == each.hazards
    assert after.fact(old.what, old.place) in after.facts_of(old.what)
    assert after.facts_of(old.what)[0].grade == TEACHER


@given(rows())
def test_what_is_said_of_one_plant_is_not_said_of_another(chosen: tuple[Plant, Row]) -> None:
    each, row = chosen
    for other in KNOWN[:20]:
        if other.id != each.id:
            assert corrected(other, [Correction(row.key, DAY, 1, 2)]) is other


@given(rows(), rows())
def test_what_she_said_is_no_longer_unchecked(
    one: tuple[Plant, Row], other: tuple[Plant, Row]
) -> None:
    listed = [*rows_of(one[0]), *rows_of(other[0])]
    said = [Correction(one[1].key, DAY)]
    assert set(unchecked(listed, [])) - set(unchecked(listed, said)) == {one[1]}
    assert unchecked(listed, []) == from_memory(listed)


@given(PLANTS)
def test_nothing_said_changes_nothing(each: Plant) -> None:
    assert corrected(each, []) is each


def test_what_stands_in_print_is_not_overwritten() -> None:
    each = plant("dutch-iris")
    (printed,) = [fact for fact in each.facts if fact.source == "doorn2004"]
    key = RowKey(
        FACTS, each.id, printed.what, printed.place, "doorn2004", printed.low, printed.high
    )
    assert printed in corrected(each, [Correction(key, DAY, 1, 2)]).facts


def test_a_confirmed_row_that_says_something_else_meanwhile_is_unchecked_again() -> None:
    each = plant("tulip")
    row = next(row for row in from_memory(rows_of(each)) if row.key.what == "head_g")
    later = replace(
        each,
        facts=tuple(replace(f, low=9.0) if f.what == "head_g" else f for f in each.facts),
    )
    confirmed, own = Correction(row.key, DAY), Correction(row.key, DAY, 10, 12)
    assert corrected(later, [confirmed]).facts == later.facts
    assert "head_g" in {one.key.what for one in unchecked(rows_of(later), [confirmed])}
    assert corrected(later, [own]).fact("head_g") == Fact(
        "head_g", 10, 12, "g", TEACHER, "", TEACHER
    )


def test_two_rows_of_one_thing_are_told_apart() -> None:
    each = plant("maple")
    spring, autumn = [
        row
        for row in from_memory(rows_of(each))
        if row.key.what == "garden_months" and row.key.place == "central Japan"
    ]
    after = corrected(each, [Correction(autumn.key, DAY, 10, 12)])
    months = {(f.low, f.high) for f in after.facts_of("garden_months", "central Japan")}
    assert months == {(spring.low, spring.high), (10, 12)}


def test_a_table_of_ours_cannot_claim_the_teacher(monkeypatch: pytest.MonkeyPatch) -> None:
    row = {"source": TEACHER, "grade": TEACHER}
    with pytest.raises(TableError):
        table._sourced("plant_facts.csv", 2, row)


def test_every_thing_that_can_be_known_has_a_unit_that_can_be_typed() -> None:
    from nejime.reading.ranges import KIND_OF

    assert set(UNIT_OF.values()) == set(KIND_OF)
