"""The morning of a class: count what is there, and see who changes to what and what to reprint.

What was bought is kept beside the class when she says so, so that a vessel that changes later does
not change what lies on the piles. Until then the plan of the class as it is counts.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from nejime.basis.errors import refuse
from nejime.basis.sayings import Saying, Words
from nejime.desk.beside import note, noted
from nejime.desk.blooming import with_blooms
from nejime.desk.buy import QUICK, printed
from nejime.desk.classes import read
from nejime.desk.known_plants import own_plants, plants_said, said_of
from nejime.desk.plan_class import words_of
from nejime.desk.shelf import Kept, Shelf
from nejime.desk.taught import known_rules
from nejime.lesson.lesson import Lesson
from nejime.lesson.morning import Changed, Stock, changed, gone, on_the_morning, stock
from nejime.lesson.plan import plan_lesson
from nejime.lesson.supplying import Supplying, supplying
from nejime.material.supply import GardenBranch
from nejime.papers.bring import occasion
from nejime.papers.piles import cutting
from nejime.papers.sheet import Sheet
from nejime.papers.whole import handouts
from nejime.papers.wording import plant_name
from nejime.reading.class_file import read_class_tree
from nejime.reading.typed import counted

KIND = "morning"
MORE = 3  # [own] rows for what is at hand and was in no plan


@dataclass(frozen=True, slots=True)
class Row:
    """A pile to be counted: its field, what it is, how long, and how many the plan has."""

    at: str
    says: str
    cut: str
    planned: int


@dataclass(frozen=True, slots=True)
class ForWhom:
    """What changes for one piece, in words."""

    who: str
    says: tuple[str, ...]
    missing: bool
    reprint: bool


@dataclass(frozen=True, slots=True)
class Morning:
    """The page: what to count, who comes, and what that changes; `bought` on which day."""

    rows: tuple[Row, ...]
    people: tuple[tuple[str, bool], ...]
    """Everybody, and whether they are ill."""
    changes: tuple[ForWhom, ...]
    gone: tuple[str, ...]
    mended: str
    reprint: tuple[str, ...]
    counted: bool
    bought: bool


@dataclass(frozen=True, slots=True)
class _Day:
    """A class on its morning, solved."""

    lesson: Lesson
    planned: Supplying
    now_lesson: Lesson
    now: Supplying
    rows: tuple[Stock, ...]
    changes: tuple[Changed, ...]


def keep_bought(shelf: Shelf, kept: Kept) -> None:
    """Notes that the material was bought as the class is now; nothing is counted yet.

    Raises `InputError`.
    """
    read_class_tree("", kept.content, known_rules())
    note(shelf, KIND, kept.id, _as_now(shelf, kept))


def count(shelf: Shelf, kept: Kept, fields: Mapping[str, str]) -> None:
    """Keeps what was counted, as it was typed. The piles are those of the class as it was bought
    or, where that was not said, as it is at the first count."""
    told = {name: value for name, value in fields.items() if value.strip()}
    before = noted(shelf, KIND, kept.id)
    then = before if "tree" in before else _as_now(shelf, kept)
    note(shelf, KIND, kept.id, {**then, "fields": told})


def _as_now(shelf: Shelf, kept: Kept) -> dict[str, Any]:
    """The class, and what she said of its plants, as they are now."""
    return {"tree": with_blooms(shelf, kept.content), **said_of(shelf, read(kept)[0])}


def morning(shelf: Shelf, kept: Kept) -> Morning:
    """The page of a morning. Raises `InputError` with what cannot be read of what was typed."""
    told = noted(shelf, KIND, kept.id)
    return _shown(_day(shelf, kept, told), told)


def _shown(day: _Day, told: Mapping[str, Any]) -> Morning:
    fields, said = told.get("fields", {}), words_of(day.lesson)
    mended = day.now.bought.mended_by
    return Morning(
        rows=tuple(_rows(stock(day.planned), said)),
        people=tuple((p.name, f"ill.{p.name}" in fields) for p in day.lesson.people),
        changes=tuple(_for_whom(each, said) for each in day.changes),
        gone=tuple(
            said.say(Saying("material.morning.gone", who=who)) for who in gone(day.planned, day.now)
        ),
        mended=said.say(mended) if mended else "",
        reprint=tuple(each.who for each in day.changes if each.reprint and each.who),
        counted=bool(fields),
        bought="tree" in told,
    )


def planned_only(shelf: Shelf, kept: Kept) -> Morning:
    """The page as it was planned, where what was typed cannot be read."""
    planned = {**noted(shelf, KIND, kept.id), "fields": {}}
    return _shown(_day(shelf, kept, planned), planned)


def typed(shelf: Shelf, kept: Kept) -> Mapping[str, str]:
    """What was typed, as it was typed."""
    fields: Mapping[str, str] = noted(shelf, KIND, kept.id).get("fields", {})
    return fields


def reprinted(shelf: Shelf, kept: Kept) -> bytes:
    """What is not true any more, as one PDF: handouts of those for whom something changes, and the
    piles and sets. Raises `InputError`."""
    day = _day(shelf, kept, noted(shelf, KIND, kept.id))
    words = words_of(day.lesson)
    names = {each.who for each in day.changes if each.reprint and each.purpose == "person"}
    piles = cutting(day.now.piles, words, occasion(day.lesson, words))
    return printed(day.lesson, [*_handouts(day, names, words), piles])


def _handouts(day: _Day, names: Collection[str], words: Words) -> list[Sheet]:
    """The handouts of some people."""
    people = tuple(person for person in day.now_lesson.people if person.name in names)
    if not people:
        return []
    lesson = replace(day.now_lesson, people=people)
    some = plan_lesson(lesson, known_rules(), day.lesson.starts.date(), supplied=day.now)
    return list(handouts(some, words))


def _day(shelf: Shelf, kept: Kept, told: Mapping[str, Any]) -> _Day:
    rules = known_rules()
    own, tree = own_plants(shelf), with_blooms(shelf, kept.content)
    lesson = read_class_tree("", tree, rules, own)
    then = read_class_tree(
        "", told.get("tree", tree), rules, plants_said(told) if "tree" in told else own
    )
    today = lesson.starts.date()
    planned = supplying(then, rules, today, limits=QUICK)
    fields = told.get("fields", {})
    piles = stock(planned)
    there, rows = _there(piles, fields, lesson)
    ill = {person.name for person in lesson.people if f"ill.{person.name}" in fields}
    if len(ill) == len(lesson.people):
        raise refuse("ill", "morning.nobody", "morning.nobody-try")
    now_lesson, now = on_the_morning(lesson, rules, planned, there, today, ill)
    return _Day(lesson, planned, now_lesson, now, rows, changed(planned, now, rows))


def _there(
    piles: Sequence[Stock], fields: Mapping[str, str], lesson: Lesson
) -> tuple[list[GardenBranch], tuple[Stock, ...]]:
    """What is there by what was typed; where nothing was, what the plan has."""
    unit = "in" if lesson.units == "in" else "cm"
    counts, others = counted(fields, len(piles), MORE, unit)
    there = [
        GardenBranch(
            pile.plant,
            pile.length_cm if told.length is None else told.length,
            pile.planned if told.count is None else told.count,
        )
        for pile, told in zip(piles, counts, strict=True)
    ]
    there += [GardenBranch(each.plant, each.length, each.count) for each in others]
    more = [
        Stock(
            Saying("material.pile.also", plant=plant_name(each.plant)), each.plant, each.length, 0
        )
        for each in others
    ]
    return there, (*piles, *more)


def _rows(piles: Sequence[Stock], words: Words) -> Iterator[Row]:
    for number, pile in enumerate(piles, start=1):
        yield Row(
            f"pile[{number}]",
            words.say(pile.says),
            words.quantity("cut_cm", pile.length_cm),
            pile.planned,
        )


def _for_whom(change: Changed, words: Words) -> ForWhom:
    title = words.say(Saying(f"material.set.{change.purpose}", who=change.who))
    says = tuple(words.say(each) for each in change.says)
    reprint = change.reprint and change.purpose == "person"
    return ForWhom(title, says, change.missing, reprint)
