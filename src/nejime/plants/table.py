"""The plant table: every plant that we know, and finding one by any of its names.

`plants.csv` holds identity and names, `plant_facts.csv` what is known and from where,
`plant_hazards.csv` what a plant can do to people, pets and places. A row that is not as it should
be is refused with file and row.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Mapping
from difflib import get_close_matches
from functools import cache
from typing import TypeVar

from nejime.basis import tables
from nejime.basis.errors import InputError, refuse
from nejime.basis.sources import GRADES, sources
from nejime.basis.tables import TableError
from nejime.plants.names import folded, singulars
from nejime.plants.plant import (
    HAZARDS,
    KINDS,
    ROLES,
    STEMS,
    TEACHER,
    TO_WHOM,
    TREATMENTS,
    UNIT_OF,
    Fact,
    Hazard,
    Plant,
)

__all__ = ["Fact", "Hazard", "Plant", "find", "nearest", "plant", "plants"]

Row = dict[str, str]
Known = TypeVar("Known")

PLANTS = "plants.csv"
FACTS = "plant_facts.csv"
HAZARD_FILE = "plant_hazards.csv"
PLANT_COLUMNS = (
    "id",
    "scientific",
    "english",
    "kanji",
    "kana",
    "romaji",
    "kind",
    "roles",
    "stem",
    "treatment",
    "pieces_per_stem",
    "aliases",
)
FACT_COLUMNS = ("plant", "what", "low", "high", "unit", "source", "place", "grade")
HAZARD_COLUMNS = ("plant", "hazard", "to", "says", "source", "place", "grade")
BARE_GRADES = ("practice", "memory", "own", "hand")  # sources that are nothing but a grade

SUGGESTIONS = 3  # [own] as many as a person reads
LIKENESS = 0.6  # [own] difflib's own usual cut-off; below it suggestions look like chance


@cache
def plants() -> tuple[Plant, ...]:
    """Every plant of the table, in its order. Raises `TableError`."""
    rows = tables.read_csv(PLANTS, PLANT_COLUMNS)
    ids = [row["id"] for row in rows]
    facts = _by_plant(FACTS, FACT_COLUMNS, ids, _fact)
    hazards = _by_plant(HAZARD_FILE, HAZARD_COLUMNS, ids, _hazard)
    for number, name in enumerate(ids, start=2):
        if ids.count(name) > 1:
            raise TableError(PLANTS, number, f"{name!r} stands twice")
    return tuple(
        _plant(row, number, tuple(facts[row["id"]]), tuple(hazards[row["id"]]))
        for number, row in enumerate(rows, start=2)
    )


@cache
def _by_id() -> Mapping[str, Plant]:
    return {each.id: each for each in plants()}


def plant(id: str) -> Plant:  # noqa: A002 (the word that the table and class files use)
    """The plant with this id. Raises `InputError` that says what may have been meant."""
    found = _by_id().get(id)
    if found is None:
        raise _unknown(id)
    return found


def find(word: str) -> tuple[Plant, ...]:
    """The plants that a word may mean, in any script, the surest first.

    A whole name comes before the beginning of one and that before a part of one; among equals an
    id comes before a name and that before a trade name. An English plural is understood. Empty
    where nothing fits.
    """
    for asked in (folded(word), *singulars(folded(word))):
        places = [(_fit(asked, each), each) for each in plants()] if asked else []
        found = sorted(
            ((fit, each) for fit, each in places if fit is not None), key=lambda pair: pair[0]
        )
        if found:
            return tuple(each for _, each in found)
    return ()


def nearest(word: str) -> tuple[Plant, ...]:
    """The plants whose names look most like a word that was not found, at most three."""
    owner = {folded(name): each for each in reversed(plants()) for name in each.names}
    alike = get_close_matches(folded(word), owner, n=2 * SUGGESTIONS, cutoff=LIKENESS)
    return tuple(dict.fromkeys(owner[name] for name in alike))[:SUGGESTIONS]


def _fit(asked: str, each: Plant) -> tuple[int, int] | None:
    """How well a word fits a plant: the manner of fitting, then which of its names."""
    manners = (
        (manner, rank)
        for rank, name in enumerate(map(folded, each.names))
        if (manner := _manner(asked, name)) is not None
    )
    return min(manners, default=None)


def _manner(asked: str, name: str) -> int | None:
    if asked == name:
        return 0
    if name.startswith(asked):
        return 1
    return 2 if asked in name else None


def _unknown(word: str) -> InputError:
    close = nearest(word)
    if not close:
        return refuse("plant", "plants.unknown", "plants.unknown-no-choice", word=word)
    choices = ", ".join(each.english for each in close)
    return refuse("plant", "plants.unknown", "plants.unknown-try", word=word, choices=choices)


def _by_plant(
    file: str, columns: tuple[str, ...], ids: Collection[str], made: Callable[[Row, int], Known]
) -> Mapping[str, list[Known]]:
    """The rows of a long table, made into values and gathered by plant."""
    gathered: defaultdict[str, list[Known]] = defaultdict(list)
    for number, row in enumerate(tables.read_csv(file, columns), start=2):
        tables.check_one_of(file, number, row["plant"], ids, "plant")
        _sourced(file, number, row)
        gathered[row["plant"]].append(made(row, number))
    return gathered


def _plant(row: Row, number: int, facts: tuple[Fact, ...], hazards: tuple[Hazard, ...]) -> Plant:
    roles = _listed(row["roles"])
    tables.check_one_of(PLANTS, number, row["kind"], KINDS, "kind")
    tables.check_one_of(PLANTS, number, row["stem"], STEMS, "stem")
    tables.check_one_of(PLANTS, number, row["treatment"], TREATMENTS, "treatment")
    for role in roles:
        tables.check_one_of(PLANTS, number, role, ROLES, "role")
    return Plant(
        id=row["id"],
        scientific=row["scientific"],
        english=row["english"],
        kanji=row["kanji"],
        kana=row["kana"],
        romaji=row["romaji"],
        kind=row["kind"],
        roles=roles,
        stem=row["stem"],
        treatment=row["treatment"],
        pieces_per_stem=int(_number(PLANTS, number, row["pieces_per_stem"]) or 1),
        aliases=_listed(row["aliases"]),
        facts=facts,
        hazards=hazards,
    )


def _fact(row: Row, number: int) -> Fact:
    tables.check_one_of(FACTS, number, row["what"], UNIT_OF, "what")
    tables.check_one_of(FACTS, number, row["unit"], (UNIT_OF[row["what"]],), "unit")
    low, high = _number(FACTS, number, row["low"]), _number(FACTS, number, row["high"])
    if low is None and high is None:
        raise TableError(FACTS, number, "neither low nor high is given: leave the row out")
    if row["unit"] == "month":
        for month in (low, high):
            tables.check_one_of(FACTS, number, month, range(1, 13), "month")
    elif low is not None and high is not None and low > high:
        raise TableError(FACTS, number, f"low {low:g} is above high {high:g}")
    return Fact(row["what"], low, high, row["unit"], row["source"], row["place"], row["grade"])


def _hazard(row: Row, number: int) -> Hazard:
    tables.check_one_of(HAZARD_FILE, number, row["hazard"], HAZARDS, "hazard")
    tables.check_one_of(HAZARD_FILE, number, row["to"], TO_WHOM, "to")
    return Hazard(**{column: row[column] for column in HAZARD_COLUMNS[1:]})


def _sourced(file: str, number: int, row: Row) -> None:
    """A row has a known source and a grade, and the two do not contradict each other."""
    tables.check_one_of(file, number, row["source"], sources(), "source")
    tables.check_one_of(file, number, row["grade"], GRADES, "grade")
    if row["grade"] == TEACHER:
        raise TableError(file, number, "what a teacher confirms is hers and not in a table")
    if row["source"] in BARE_GRADES or row["grade"] in BARE_GRADES:
        tables.check_one_of(file, number, row["grade"], (sources()[row["source"]].grade,), "grade")


def _number(file: str, number: int, cell: str) -> float | None:
    try:
        return float(cell) if cell else None
    except ValueError as trouble:
        raise TableError(file, number, f"{cell!r} is not a number") from trouble


def _listed(cell: str) -> tuple[str, ...]:
    return tuple(part for each in cell.split(";") if (part := each.strip()))
