"""What is known of a plant: its names, its numbers with their sources, what it can do to whom, and
how it is treated. What nobody knows is said to be not known, and never to be harmless."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from nejime.basis.errors import Fault, InputError
from nejime.basis.sayings import Saying, Words
from nejime.basis.sources import source
from nejime.desk.from_memory import opening_rows
from nejime.desk.known_plants import corrections, known_plant, known_plants
from nejime.desk.look_up_plants import look_up_plants
from nejime.desk.plant_words import japanese, range_said
from nejime.desk.review import left_of
from nejime.desk.settings import settings
from nejime.desk.shelf import Missing, Shelf
from nejime.desk.sourced import Sourced, sourced
from nejime.desk.taught import known_rules
from nejime.drawings.elevation import elevation
from nejime.drawings.scene import scene
from nejime.forms.piece import piece
from nejime.forms.vessel import vessel
from nejime.keeping.conditioning import Step, treatment
from nejime.keeping.hazards import class_objections, holds_in
from nejime.lesson.cautions import law_known
from nejime.papers.looks import look
from nejime.papers.wording import sentence
from nejime.plants.plant import TEACHER, UNIT_OF, Fact, Hazard, Plant
from nejime.plants.review import Correction, Row, RowKey, corrected, facts_said, hazard_key
from nejime.plants.table import plant
from nejime.standing.masses import usual_body

INSIDE = ("fresh_mass_factor",)  # of no use to a reader: a number of our own reckoning
DANGERS = ("people", "pets", "skin", "thorns", "pollen", "places")
BY_HAZARD: Mapping[str, str] = {
    "thorn": "thorns",
    "pollen": "pollen",
    "invasive": "places",
    "not-foraged": "places",
}
BY_WHOM: Mapping[str, str] = {"people": "people", "pets": "pets", "cats": "pets", "skin": "skin"}
PICTURE_MM = (90.0, 105.0)  # [own]
DISH = vessel("round", 26.0, 6.0)  # [own] in which a single stem is drawn
REMEMBERED = 200  # [own] every plant of the table once


@dataclass(frozen=True, slots=True)
class Listed:
    """A plant in the list."""

    id: str
    english: str
    japanese: str
    scientific: str


@dataclass(frozen=True, slots=True)
class PlantList:
    """The plants that a word finds, or all; what may have been meant where it finds none."""

    word: str
    plants: tuple[Listed, ...]
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence or a range with where it comes from; `elsewhere`: it holds in other places."""

    says: str
    sourced: Sourced
    elsewhere: bool = False


@dataclass(frozen=True, slots=True)
class Known:
    """All that is known of one thing about a plant."""

    what: str
    says: tuple[Said, ...]


@dataclass(frozen=True, slots=True)
class Danger:
    """What it can do to one sort of being; nothing where nothing is known to us."""

    to: str
    says: tuple[Said, ...]


@dataclass(frozen=True, slots=True)
class Treated:
    """A step of its treatment: what to do, what not, and how well that is known."""

    says: str
    do_not: str
    step: Sourced
    evidence: str
    evidence_from: Sourced | None


@dataclass(frozen=True, slots=True)
class PlantPage:
    """Everything on the page of a plant."""

    plant: Plant
    japanese: str
    says: str
    known: tuple[Known, ...]
    not_known: str
    forbidden: tuple[Said, ...]
    dangers: tuple[Danger, ...]
    region: str
    law_known: bool
    """Whether anything is known to us of what the law of her country forbids."""
    poison_line: str
    treated: tuple[Treated, ...]
    left: int


def listed(shelf: Shelf, word: str) -> PlantList:
    """The plants that a word finds, the best first; all by their names without one."""
    asked = word.strip()
    try:
        found = look_up_plants(asked) if asked else known_plants(shelf)
    except InputError as trouble:
        return PlantList(asked, (), trouble.faults)
    rows = [Listed(each.id, each.english, japanese(each), each.scientific) for each in found]
    return PlantList(asked, tuple(rows if asked else sorted(rows, key=lambda row: row.english)))


def plant_page(shelf: Shelf, plant_id: str, words: Words) -> PlantPage:
    """What is known of a plant, with what she confirmed or found herself. Raises `Missing`."""
    try:
        shipped = plant(plant_id)
    except InputError:
        raise Missing("plant", 0) from None
    said = {each.row: each for each in corrections(shelf) if each.row.about == plant_id}
    chosen = settings(shelf)
    return PlantPage(
        plant=known_plant(shelf, plant_id),
        japanese=japanese(shipped),
        says=_says(shipped, words),
        known=tuple(_known(shipped, said, words)),
        not_known=_not_known(shipped, words),
        forbidden=_forbidden(shipped, chosen["region"], words),
        dangers=tuple(_dangers(shipped, said, chosen["region"], words)),
        region=chosen["region"],
        law_known=law_known(chosen["region"]),
        poison_line=chosen["poison_line"],
        treated=tuple(_treated(step, words) for step in treatment(shipped).steps),
        left=left_of(shelf, plant_id),
    )


def _says(each: Plant, words: Words) -> str:
    """What it is to an arranger: its kind, its stem, and what it is used for."""
    roles = tuple(Saying(f"plants.role.{role}") for role in each.roles)
    kind = words.say(Saying(f"plants.kind.{each.kind}"))
    stem = words.say(Saying(f"plants.stem.{each.stem}"))
    parts = [part for part in dict.fromkeys((kind, stem)) if part]
    return sentence(f"{', '.join(parts)}; {words.quantity('roles', roles)}.")


def _known(each: Plant, said: Mapping[RowKey, Correction], words: Words) -> list[Known]:
    """Thing by thing what is known, in the order of the table of things, the best first."""
    found = []
    now = corrected(each, said.values())
    days = {fact: told.on for fact, told in facts_said(each, said.values()) if told}
    for what in UNIT_OF:
        facts = now.facts_of(what)
        if facts and what not in INSIDE:
            rows = tuple(_fact(fact, days.get(fact), words) for fact in facts)
            found.append(Known(sentence(words.say(Saying(f"plants.what.{what}"))), rows))
    opens = tuple(_opens(row, said.get(row.key), words) for row in opening_rows(each.id))
    return [*found, Known(words.say(Saying("review.opens")), opens)] if opens else found


def _opens(row: Row, told: Correction | None, words: Words) -> Said:
    """One thing known of how it opens; its number after it where it has one."""
    says = words.say(row.says)
    if row.unit:
        says = f"{says} {range_said(row.low, row.high, row.unit, words)}"
    key, grade = (row.source, row.grade) if told is None else (TEACHER, TEACHER)
    on = told.on if told else None
    return Said(says, sourced(key, grade, words, place=row.key.place, on=on))


def _fact(fact: Fact, on: dt.date | None, words: Words) -> Said:
    told = sourced(fact.source, fact.grade, words, place=fact.place, on=on)
    return Said(range_said(fact.low, fact.high, fact.unit, words), told)


def _not_known(each: Plant, words: Words) -> str:
    return "; ".join(
        words.say(Saying(f"plants.what.{what}"))
        for what in UNIT_OF
        if what not in INSIDE and not each.facts_of(what)
    )


def _forbidden(each: Plant, region: str, words: Words) -> tuple[Said, ...]:
    """What the law of her country or plain danger keeps out of any class."""
    return tuple(
        Said(
            f"{words.say(found.says)} {words.say(found.try_instead)}",
            sourced(found.source, found.grade, words),
        )
        for found in class_objections([each], goes_home=False, region=region)
        if found.weight == "block"
    )


def _dangers(
    each: Plant, said: Mapping[RowKey, Correction], region: str, words: Words
) -> Iterable[Danger]:
    """What it can do to whom; each sort of being is named, also where nothing is known."""
    for to in DANGERS:
        yield Danger(
            to,
            tuple(
                _hazard(hazard, said.get(hazard_key(each.id, hazard)), region, words)
                for hazard in each.hazards
                if BY_HAZARD.get(hazard.hazard, BY_WHOM[hazard.to]) == to
            ),
        )


def _hazard(hazard: Hazard, said: Correction | None, region: str, words: Words) -> Said:
    key, grade = (hazard.source, hazard.grade) if said is None else (TEACHER, TEACHER)
    told = sourced(key, grade, words, place=hazard.place, on=said.on if said else None)
    elsewhere = bool(region) and not holds_in(hazard.place, region)
    return Said(words.say(hazard.saying), told, elsewhere)


def _treated(step: Step, words: Words) -> Treated:
    return Treated(
        says=words.say(step.says),
        do_not=words.say(step.do_not) if step.do_not else "",
        step=sourced(step.source, step.grade, words, place=step.place),
        evidence=words.say(step.evidence) if step.evidence else "",
        evidence_from=_evidence(step.evidence_source, words),
    )


def _evidence(key: str, words: Words) -> Sourced | None:
    return sourced(key, source(key).grade, words) if key else None


@lru_cache(maxsize=REMEMBERED)
def picture(plant_id: str) -> str:
    """One stem in a dish, in ink. Raises `Missing`."""
    try:
        found = plant(plant_id)
    except InputError:
        raise Missing("plant", 0) from None
    shown = piece(DISH, known_rules()["width-plus-height"], "upright")
    first = shown.stems[0]
    fact = found.fact("thickness_mm")
    thick_mm = (fact.middle if fact else None) or usual_body(first).thickness_mm
    drawn = scene(shown, {first.id: look(found.id, thick_mm, "main", first.id)})
    alone = replace(drawn, stems=drawn.stems[:1], holder=None)
    wide, high = PICTURE_MM
    return elevation(
        alone, "front", Words(unit="cm"), width_mm=wide, height_mm=high, shows=frozenset()
    )
