"""A correction without a photograph: what was changed on the spot, as numbers to make it again."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from nejime.basis.angles import apart
from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying, Words
from nejime.desk.arrange import on_table
from nejime.desk.door import at_the_door, unit_of
from nejime.desk.known_plants import own_plants
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Missing, Shelf
from nejime.desk.taught import for_one, known_rules, nearest_class, taught
from nejime.drawings.scene import Look
from nejime.forms.nudging import Nudge, nudged
from nejime.forms.rules import PLACES
from nejime.forms.stems import Piece, Stem, stem_name
from nejime.lesson.pieces import seats
from nejime.lesson.plan import Made, judged
from nejime.papers.half_page import half_page
from nejime.papers.handout import Told
from nejime.papers.looks import looks
from nejime.papers.pdf import print_sheets
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.whole import standing_said
from nejime.papers.wording import direction, plant_name
from nejime.reading.class_file import read_class_tree
from nejime.reading.nudges import (
    LEANS,
    LONG,
    TURNS,
    USUAL_LEAN_DEG,
    USUAL_LENGTH_CM,
    USUAL_TURN_DEG,
    nudges,
)
from nejime.standing.remedies import remedies
from nejime.standing.verdict import judge

BOWL, PIECE, PERSON = "bowl", "piece", "person"
"""Where a piece to correct comes from: `bowl`, `piece-12`, `person-7-3` (of class 7 the third)."""
SEEN_DEG = 0.5  # [own] less than this is not said
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Subject:
    """A piece that can be corrected, with its name and how its stems are drawn."""

    name: str
    made: Made
    looks: Mapping[str, Look]


@dataclass(frozen=True, slots=True)
class StemRow:
    """One stem in the form: its id and name, its numbers now, whether it can be left out."""

    id: str
    name: str
    now: str
    can_go: bool


@dataclass(frozen=True, slots=True)
class Correction:
    """A piece as it was, what was said of it, and the sheet to make it again."""

    subject: Subject
    after: Piece
    made: Made
    changes: tuple[Saying, ...]
    sheet: Sheet
    stock: Stock


@dataclass(frozen=True, slots=True)
class NudgeChoices:
    """What can be chosen: pairs of value and word; what stands in a field at first."""

    leans: Sequence[tuple[str, str]]
    lengths: Sequence[tuple[str, str]]
    turns: Sequence[tuple[str, str]]
    places: Sequence[tuple[str, str]]
    usual: Mapping[str, str]


def to_correct(shelf: Shelf, today: dt.date) -> list[tuple[str, list[tuple[str, str]]]]:
    """What there is to correct, in groups: the people of the nearest class, the pieces."""
    found = nearest_class(shelf, today)
    people = []
    if found is not None:
        people = [
            (f"{PERSON}-{found.id}-{number}", str(person.get("name", "")))
            for number, person in enumerate(found.content.get("person", []), start=1)
            if isinstance(person, dict) and person.get("vessel")
        ]
    pieces = [(f"{PIECE}-{kept.id}", kept.name) for kept in shelf.all("piece")]
    return [("people", people), ("pieces", pieces)]


def subject(shelf: Shelf, typed: Typed, today: dt.date) -> Subject:
    """The piece that `from` names. Raises `InputError`, `Missing`."""
    kind, *numbers = typed.get("from", "").split("-")
    if kind == PIECE and len(numbers) == 1 and numbers[0].isdecimal():
        return _kept_piece(shelf, int(numbers[0]))
    if kind == PERSON and len(numbers) == 2 and all(each.isdecimal() for each in numbers):
        return _of_class(shelf, int(numbers[0]), int(numbers[1]), today)
    found = at_the_door(shelf, typed, today)
    return Subject(typed.get("name", ""), found.made, _looks(found.made))


def _kept_piece(shelf: Shelf, number: int) -> Subject:
    kept = shelf.get(number)
    table = on_table(kept.content)
    plants = {stem: stuff.plant for stem, stuff in table.made.stuff.items()}
    return Subject(kept.name, _judged(table.piece, plants, table.bodies), table.looks())


def _of_class(shelf: Shelf, class_id: int, number: int, today: dt.date) -> Subject:
    kept = shelf.get(class_id)
    lesson = read_class_tree(kept.name, kept.content, known_rules(), own_plants(shelf))
    if not 1 <= number <= len(lesson.people):
        raise Missing("person", number)
    person = lesson.people[number - 1]
    alone = for_one(lesson, person, {})
    if not alone.lend.holders:
        alone = replace(alone, lend=taught(shelf, today).lend)
    planned = seats(alone, known_rules())[0].piece
    if planned is None:
        raise refuse("from", "nudge.no-vessel", "nudge.no-vessel-try", name=person.name)
    made = judged(alone, planned, {})
    return Subject(person.name, made, _looks(made))


def _looks(made: Made) -> Mapping[str, Look]:
    return looks(made.plants, made.bodies, {stem.id: stem.role for stem in made.piece.stems})


def _judged(piece: Piece, plants: Mapping[str, str], bodies: Mapping[str, object]) -> Made:
    """A piece of known material, judged."""
    known = {stem.id: bodies[stem.id] for stem in piece.stems if stem.id in bodies}
    verdict = judge(piece, known)  # type: ignore[arg-type]
    helps = () if verdict.word == "stands" else remedies(piece, known, verdict=verdict)  # type: ignore[arg-type]
    return Made(piece, plants, known, verdict, helps)  # type: ignore[arg-type]


def rows(found: Subject, words: Words) -> list[StemRow]:
    """The stems of a piece as the form shows them."""
    return [
        StemRow(
            stem.id,
            words.say(stem_name(stem.id)),
            words.say(
                Saying(
                    "nudge.now",
                    length_cm=stem.length_cm,
                    tilt_deg=stem.stands_deg,
                    direction=direction(stem.bearing_deg),
                )
            ),
            stem.role != "main",
        )
        for stem in found.made.piece.stems
    ]


def choices(found: Subject, words: Words, unit: str) -> NudgeChoices:
    """The words of the form, "as it is" first."""

    def pairs(what: str, values: Sequence[str]) -> list[tuple[str, str]]:
        same = ("", words.say(Saying("nudge.as-it-is")))
        return [same, *((each, words.say(Saying(f"nudge.{what}.{each}"))) for each in values)]

    places = [(each, words.say(Saying(f"papers.place.{each}"))) for each in PLACES]
    same = ("", words.say(Saying("nudge.as-it-is")))
    return NudgeChoices(
        leans=pairs("lean", LEANS),
        lengths=pairs("cut", LONG),
        turns=pairs("turn", TURNS),
        places=[same, *places] if found.made.piece.holder else [],
        usual={
            "lean_by": f"{USUAL_LEAN_DEG:g}",
            "cut_by": f"{USUAL_LENGTH_CM:g} cm" if unit == "in" else f"{USUAL_LENGTH_CM:g}",
            "turn_by": f"{USUAL_TURN_DEG:g}",
        },
    )


def correct(shelf: Shelf, typed: Typed, today: dt.date) -> Correction:
    """The piece after the correction, and its sheet. Raises `InputError`, by field."""
    found, words = subject(shelf, typed, today), words_for(shelf)
    before = found.made.piece
    asked, where = nudges(typed, [stem.id for stem in before.stems], unit_of(shelf))
    after = nudged(before, asked, where)
    made = _judged(after, found.made.plants, found.made.bodies)
    changes = tuple(_changes(before, after, asked))
    stock = stock_for(shelf, today, taught(shelf, today).library)
    told = Told(
        name=found.name,
        piece=after,
        file_name="correction",
        occasion=words.say(Saying("nudge.occasion")),
        standing=standing_said(made.verdict, made.remedies),
        plants={stem: plant_name(plant) for stem, plant in made.plants.items()},
        looks=found.looks,
    )
    return Correction(found, after, made, changes, half_page(told, words, stock, changes), stock)


def printed(shelf: Shelf, typed: Typed, today: dt.date) -> bytes:
    """The sheet of a correction as PDF. Raises `InputError`."""
    found = correct(shelf, typed, today)
    return print_sheets([found.sheet], found.stock).pdf


def _changes(before: Piece, after: Piece, asked: Mapping[str, Nudge]) -> list[Saying]:
    """What is to be done, in a teacher's words, the pin holder first."""
    said = []
    if after.place.word != before.place.word:
        said.append(Saying("nudge.holder", place=Saying(f"papers.place.{after.place.word}")))
    now = {stem.id: stem for stem in after.stems}
    for stem in before.stems:
        nudge = asked[stem.id]
        if nudge.off:
            said.append(Saying("nudge.off", stem=stem_name(stem.id)))
        else:
            said += _of_stem(stem, now[stem.id], nudge) if now[stem.id] != stem else []
    return said


def _of_stem(before: Stem, after: Stem, nudge: Nudge) -> list[Saying]:
    said, name = [], stem_name(before.id)
    if nudge.longer_cm:
        key = "nudge.longer" if nudge.longer_cm > 0 else "nudge.shorter"
        said.append(Saying(key, stem=name, by_cm=abs(nudge.longer_cm), length_cm=after.length_cm))
    step_deg = after.stands_deg - before.stands_deg
    if nudge.lower_deg and abs(step_deg) >= SEEN_DEG:
        key = "nudge.lower" if step_deg > 0 else "nudge.higher"
        said.append(Saying(key, stem=name, by_deg=abs(step_deg), tilt_deg=after.stands_deg))
    if after.tilt_deg - after.stands_deg >= SEEN_DEG:
        said.append(Saying("nudge.rim", stem=name, tilt_deg=after.stands_deg))
    turned_deg = apart(before.bearing_deg, after.bearing_deg)
    if nudge.towards is not None and turned_deg >= SEEN_DEG:
        said.append(
            Saying(
                "nudge.turned",
                stem=name,
                by_deg=turned_deg,
                side=Saying(f"nudge.side.{nudge.towards}"),
            )
        )
    return said
