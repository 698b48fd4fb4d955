"""Every row of our tables that is known from memory only, table by table, in words.

A table that comes later adds a function to `LISTINGS`. Where the numbers of a row stand in its
sentence, the row has no unit and its range is not shown again. Only the facts of the plant table
take other numbers: the other tables are read by rooms that do not know what a teacher said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from hashlib import sha256

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.keeping.conditioning import treatments
from nejime.keeping.opening import Known, openings
from nejime.lesson.cautions import caution_rows
from nejime.material import unlucky
from nejime.material.occasions import occasions
from nejime.plants.review import Row, RowKey, from_memory, rows_of
from nejime.plants.table import plants
from nejime.season.evidence import rules

MARK_LETTERS = 12  # [own] of a digest: no two of some thousand rows are alike in so many
WITH_UNIT = ("d", "c")  # of what is known of opening: the rest is said in words


def _of_plants() -> Iterator[Row]:
    for each in plants():
        yield from rows_of(each)


def _of_opening() -> Iterator[Row]:
    for plant in openings():
        yield from opening_rows(plant)


def opening_rows(plant: str) -> Iterator[Row]:
    """What is known of how a plant opens, from memory or not."""
    found = openings().get(plant)
    if found is None:
        return
    for stage in found.stages:
        by_one = stage.by_mornings and stage.takes.low == stage.takes.high
        key = f"review.opening.{stage.takes.what}{'-one' if by_one else ''}"
        says = Saying(key, stage=stage.says)
        yield _opening(plant, f"{stage.takes.what} {stage.name}", stage.takes, says)
    for told in found.facts:
        is_not = "-not" if not told.high else ""
        yield _opening(plant, told.what, told, Saying(f"review.opening.{told.what}{is_not}"))


def _opening(plant: str, what: str, told: Known, says: Saying) -> Row:
    unit = told.what.rpartition("_")[2]
    key = RowKey("opening", plant, what, told.place, told.source, told.low, told.high)
    numbers = {"low": told.low, "high": told.high}
    said = says if unit in WITH_UNIT else Saying(says.key, **says.quantities, **numbers)
    return Row(key, said, unit if unit in WITH_UNIT else "", told.grade)


def _of_bloom() -> Iterator[Row]:
    for plant, rule in rules().items():
        low, high = rule.weeks
        what = f"{rule.rule} {rule.critical_h:g}"
        key = RowKey("bloom_rules", plant, what, rule.place, rule.source, low, high)
        told = {"hours": rule.critical_h, "low": low, "high": high}
        yield Row(key, Saying(f"review.bloom.{rule.rule}", **told), "", rule.grade)


def _of_unlucky() -> Iterator[Row]:
    for row in tables.read_csv(unlucky.FILE, unlucky.COLUMNS):
        what = f"{row['purpose']} {row['says']}"
        key = RowKey("unlucky", row["plant"], what, row["place"], row["source"])
        says = Saying(f"material.unlucky.{row['says']}", place=row["place"])
        yield Row(key, says, "", row["grade"])


def _of_occasions() -> Iterator[Row]:
    names = {each.id: each.english for each in plants()}
    for each in occasions():
        material = (*(names[name] for name in each.plants), *each.words)
        says = Saying("review.occasion", occasion=each.english, material=material)
        yield Row(RowKey("occasions", "", each.id, "", each.source), says, "", each.grade)


def _of_treatments() -> Iterator[Row]:
    for each in treatments().values():
        for step in each.steps:
            what = f"{each.key} {step.name}"
            key = RowKey("conditioning", "", what, step.place, step.source, step.low, step.high)
            yield Row(key, step.says, "", step.grade)


def _of_cautions() -> Iterator[Row]:
    for row in caution_rows():
        key = RowKey("cautions", "", row["id"], row["place"], row["source"])
        yield Row(key, Saying(f"lesson.caution.{row['id']}"), "", row["grade"])


LISTINGS: tuple[Callable[[], Iterable[Row]], ...] = (
    _of_plants,
    _of_opening,
    _of_bloom,
    _of_unlucky,
    _of_occasions,
    _of_treatments,
    _of_cautions,
)


@cache
def memory_rows() -> Mapping[str, Row]:
    """Every row from memory by its mark, in the order of the tables."""
    found = from_memory(row for listing in LISTINGS for row in listing())
    return {mark_of(row.key): row for row in found}


def mark_of(key: RowKey) -> str:
    """A short name for a row, for addresses and forms."""
    told = (key.table, key.about, key.what, key.place, key.source, key.low, key.high)
    return sha256(repr(told).encode()).hexdigest()[:MARK_LETTERS]


@cache
def plant_names() -> Mapping[str, str]:
    """The plants of the table by their ids."""
    return {each.id: each.english for each in plants()}


def home_of(row: Row) -> str:
    """The group in which a row is shown: its plant, or else its table."""
    return row.key.about or row.key.table
