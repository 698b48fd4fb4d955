"""What a class must beware of because of its plants, and what may not go home with whom.

Model: a plant's hazards come from the plant table. Some of them only need a word, some make us
leave the plant out, and some, together with what a person asked us to note or with the law of the
place, are a block: that plant does not go with that person. A plant without a hazard is never
called harmless; it is one of which nothing is known to us.
Source: on each hazard of `data/plant_hazards.csv`; the names of a region in `data/regions.csv`.
These are the usual cautions. They are not medical advice, and local rules come before them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from nejime.basis import tables
from nejime.basis.sayings import Saying
from nejime.plants.plant import FORBIDDEN, GRAVE, HAZARDS, Hazard
from nejime.plants.table import Plant

Weight = Literal["block", "leave out", "care"]
Audience = Literal["everyone", "teacher", "home"]

AT_HOME = ("pets", "cats")  # whom it harms only where the piece is taken
NOT_KNOWN = "not-known"


@dataclass(frozen=True, slots=True)
class Caution:
    """One thing to beware of, for whom it is said, and how well it is known.

    `about` is the hazard's name or, for tools and the room, the thing's. `plants` are ids.
    """

    about: str
    says: Saying
    audience: Audience
    source: str
    grade: str
    plants: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Objection:
    """Why a plant should not be used, or not go with a person. `note` is theirs, or empty."""

    plant: str
    weight: Weight
    says: Saying
    try_instead: Saying
    note: str
    source: str
    grade: str


def plant_cautions(plants: Sequence[Plant], *, goes_home: bool) -> tuple[Caution, ...]:
    """What is known of these plants, equal sentences once, the gravest first.

    What only concerns pets is for the sheet that goes home, and left out where nothing does.
    """
    found: dict[tuple[str, Saying, Audience], Caution] = {}
    for plant in plants:
        for hazard in plant.hazards:
            audience: Audience = "home" if hazard.to in AT_HOME else "everyone"
            if audience == "home" and not goes_home:
                continue
            key = (hazard.hazard, hazard.saying, audience)
            old = found.get(key)
            found[key] = _joined(old, plant.id) if old else _caution(plant.id, hazard, audience)
    ranked = sorted(found.values(), key=lambda caution: HAZARDS.index(caution.about))
    return tuple(ranked) + _nothing_known(plants)


def nothing_known(plants: Iterable[Plant]) -> tuple[str, ...]:
    """The plants against which nothing is known to us: by no means the harmless ones."""
    return tuple(plant.id for plant in plants if not plant.hazards)


def _nothing_known(plants: Sequence[Plant]) -> tuple[Caution, ...]:
    ids = nothing_known(plants)
    if not ids:
        return ()
    says = Saying("plants.hazard.not-known")
    return (Caution(NOT_KNOWN, says, "everyone", "own", "own", ids),)


def _caution(plant: str, hazard: Hazard, audience: Audience) -> Caution:
    return Caution(hazard.hazard, hazard.saying, audience, hazard.source, hazard.grade, (plant,))


def _joined(old: Caution, plant: str) -> Caution:
    return Caution(old.about, old.says, old.audience, old.source, old.grade, (*old.plants, plant))


def class_objections(
    plants: Sequence[Plant], *, goes_home: bool, region: str = "", children: bool = False
) -> tuple[Objection, ...]:
    """Plants that should stay out of a class whoever comes, or that the law keeps out.

    Lilies and day lilies are left out of whatever goes home, unless the teacher decides otherwise.
    """
    return tuple(
        objection for plant in plants for objection in _of_class(plant, goes_home, region, children)
    )


def _of_class(plant: Plant, goes_home: bool, region: str, children: bool) -> Iterator[Objection]:
    for hazard in plant.hazards:
        if hazard.says == FORBIDDEN and hazard.place in names_of(region):
            yield _objection(plant, hazard, "block", "forbidden", place=hazard.place)
        elif hazard.hazard == "urushiol":
            yield _objection(plant, hazard, "block", "urushiol")
        elif hazard.hazard == "cat-fatal" and goes_home:
            yield _objection(plant, hazard, "leave out", "lily")
        elif hazard.says == GRAVE and (goes_home or children):
            yield _objection(plant, hazard, "leave out", "grave")


def person_objections(
    plants: Sequence[Plant], notes: Iterable[str], *, goes_home: bool
) -> tuple[Objection, ...]:
    """What should not be given to, or not go home with, a person who asked us to note this."""
    return tuple(
        objection
        for note in notes
        for plant in plants
        for objection in _of_note(plant, note, goes_home)
    )


def _of_note(plant: Plant, note: str, goes_home: bool) -> Iterator[Objection]:
    seen: set[str] = set()
    for hazard in plant.hazards:
        rule = _rule(hazard, note, goes_home)
        if rule and rule[1] not in seen:
            seen.add(rule[1])
            yield _objection(plant, hazard, rule[0], rule[1], note=note)


def _rule(hazard: Hazard, note: str, goes_home: bool) -> tuple[Weight, str] | None:
    """How much a hazard weighs for a person with this note, and what is said of it."""
    kind, to, grave = hazard.hazard, hazard.to, "grave" in hazard.says
    match note:
        case "cat-at-home" if goes_home and (kind == "cat-fatal" or "heart-cats" in hazard.says):
            return "block", "cat"
        case "cat-at-home" | "dog-at-home" if goes_home and to == "pets" and grave:
            return "block", "pet-grave"
        case "cat-at-home" if goes_home and to in AT_HOME and kind == "toxic-eaten":
            return "care", "pet"
        case "dog-at-home" if goes_home and to == "pets" and kind == "toxic-eaten":
            return "care", "pet"
        case "child" if to == "people" and grave:
            return "block", "child-grave"
        case "pollen-allergy" if kind == "pollen":
            return "leave out", "pollen"
        case "skin-allergy" if kind in ("allergen", "sap-irritant", "urushiol"):
            return "leave out", "skin"
    return None


def _objection(
    plant: Plant, hazard: Hazard, weight: Weight, key: str, *, note: str = "", **quantities: object
) -> Objection:
    asked = {"plant": plant.english, **quantities}
    return Objection(
        plant=plant.id,
        weight=weight,
        says=Saying(f"keeping.objection.{key}", **asked),
        try_instead=Saying(f"keeping.objection.{key}-try", **asked),
        note=note,
        source=hazard.source,
        grade=hazard.grade,
    )


@dataclass(frozen=True, slots=True)
class _Region:
    code: str
    names: tuple[str, ...]


@cache
def _regions() -> tuple[_Region, ...]:
    rows = tables.read_csv("regions.csv", ("code", "names"))
    return tuple(
        _Region(row["code"], tuple(name.strip() for name in row["names"].split(";")))
        for row in rows
    )


def names_of(region: str) -> tuple[str, ...]:
    """What the plant table calls the region that a class file names: `JP` or `Japan`.

    A part of a country (`JP-13`) counts as the country; an unknown region as itself.
    """
    asked = region.strip()
    code = asked.partition("-")[0].upper()
    for known in _regions():
        if code == known.code or asked.lower() in (name.lower() for name in known.names):
            return known.names
    return (asked,) if asked else ()


def holds_in(caution_place: str, region: str) -> bool:
    """Whether something said of a place concerns a region; it does where no place is named."""
    return not caution_place or caution_place in names_of(region)
