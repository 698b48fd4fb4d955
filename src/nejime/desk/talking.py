"""The talking card: what may be said at the beginning, proposed, changed by her, and printed.

A card belongs to a class, or to a day where no class is named. The parts that she wrote otherwise
than proposed are kept; the proposal stays beside them, and the other parts follow it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from nejime.basis.errors import InputError
from nejime.basis.sayings import Saying
from nejime.basis.units import whole_number
from nejime.desk import classes
from nejime.desk.season import Season, here
from nejime.desk.season import day_of as day_asked
from nejime.desk.settings import stock_for, words_for
from nejime.desk.shelf import Conflict, Kept, Missing, Shelf
from nejime.desk.taught import day_of
from nejime.forms.rules import FORMS
from nejime.lesson.talking import PARTS, Seen, talk
from nejime.papers.pdf import print_sheets
from nejime.papers.talking import talking
from nejime.papers.wording import date, plant_name, word
from nejime.plants.table import Plant, plant
from nejime.reading import talking as read

KIND = "talking"
FIELDS = ("on", "of", "form", "plants")
"""What is asked for: a day, a class, a form, plants."""
ALL_YEAR = "all-year"
HERS = ("seen", "own-record")  # evidence that needs no place: she saw it
USUAL_FORM = "upright"  # [own] the first that beginners learn
ENOUGH = 2  # [own] of day, title and class: another machine numbers classes in its own way
Typed = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Part:
    """One part: its name, what is proposed, what stands there now.

    `theirs` is what somebody else wrote there meanwhile, where that is something else.
    """

    name: str
    proposed: str
    text: str
    theirs: str = ""

    @property
    def changed(self) -> bool:
        """Whether she wrote something else."""
        return self.text != self.proposed


@dataclass(frozen=True, slots=True)
class Card:
    """A card as it stands; `version` is None where nothing of hers is kept.

    `fields` are what was asked for, filled with the usual; `title` is the class's, or empty.
    `clash`: it was not kept, as somebody else changed it meanwhile; keeping it again keeps it.
    """

    fields: Mapping[str, str]
    says: str
    title: str
    kanji: str
    romaji: str
    english: str
    parts: tuple[Part, ...]
    forms: Sequence[tuple[str, str]]
    version: int | None
    clash: bool = False

    @property
    def address(self) -> Mapping[str, str]:
        """The fields by which it is asked for again."""
        return {name: self.fields[name] for name in FIELDS if self.fields[name] or name == "form"}

    @property
    def changed(self) -> bool:
        """Whether anything in it is hers."""
        return any(part.changed for part in self.parts)


@dataclass(frozen=True, slots=True)
class _About:
    """What a card is of."""

    day: dt.date
    of: Kept | None
    form: str | None
    plants: tuple[Plant, ...]
    season: Season

    @property
    def key(self) -> dict[str, Any]:
        """By what it is found again: its day and, of a class, the class."""
        of: dict[str, Any] = {"class": self.of.id, "title": self.of.name} if self.of else {}
        return {"on": self.day.isoformat(), **of}


def card(shelf: Shelf, typed: Typed, today: dt.date) -> Card:
    """The card of a class or of a day. Raises `Missing`, `InputError` by field."""
    return _made(shelf, *_asked(shelf, typed, today))


def as_typed(shelf: Shelf, typed: Typed, today: dt.date, trouble: InputError) -> Card:
    """The card with everything as she typed it, also what was wrong. Raises `Missing`."""
    wrong = {fault.field for fault in trouble.faults}
    right = {name: text for name, text in typed.items() if name not in wrong}
    made = card(shelf, right, today)
    return replace(
        made,
        fields={name: typed.get(name, usual) for name, usual in made.fields.items()},
        parts=tuple(replace(part, text=typed.get(part.name, part.text)) for part in made.parts),
    )


def keep(shelf: Shelf, typed: Typed, today: dt.date) -> Card:
    """Keeps what she wrote, from the version `base`. Raises `Missing`, `InputError` by field."""
    about, kept = _asked(shelf, typed, today)
    mine = {name: read.said(name, typed.get(name, "")) for name in PARTS}
    proposed = {part.name: part.proposed for part in _made(shelf, about, None).parts}
    content = {
        **about.key,
        "form": about.form or "",
        "plants": [each.id for each in about.plants],
        "parts": {name: text for name, text in mine.items() if text != proposed[name]},
    }
    if kept is None:
        return _made(shelf, about, shelf.add(KIND, _name(about), content))
    saved = shelf.save(kept.id, content, whole_number(typed.get("base", "")) or 0)
    if isinstance(saved, Conflict):
        return _clash(_made(shelf, about, saved.theirs), mine)
    return _made(shelf, about, saved)


def _clash(theirs: Card, mine: Mapping[str, str]) -> Card:
    """What she wrote, with what somebody else wrote beside it."""
    parts = (
        replace(
            part,
            text=mine[part.name],
            theirs="" if part.text == mine[part.name] else part.text,
        )
        for part in theirs.parts
    )
    return replace(theirs, parts=tuple(parts), clash=True)


def as_proposed(shelf: Shelf, typed: Typed, today: dt.date) -> Card:
    """Puts away what she wrote; the proposal stands again. Raises `Missing`, `InputError`."""
    about, kept = _asked(shelf, typed, today)
    if kept is not None:
        shelf.remove(kept.id)
    return _made(shelf, about, None)


def printed(shelf: Shelf, typed: Typed, today: dt.date) -> bytes:
    """The card as PDF, as it is kept or proposed. Raises `Missing`, `InputError` by field."""
    words, stock = words_for(shelf), stock_for(shelf, today)
    made = card(shelf, typed, today)
    above = word(words, "talking.occasion", title=made.title, date=made.says)
    parts = [(each.name, each.text) for each in made.parts]
    sheet = talking(above if made.title else made.says, made.kanji, parts, words)
    return print_sheets([sheet], stock, sheet.title).pdf


def _made(shelf: Shelf, about: _About, kept: Kept | None) -> Card:
    words = words_for(shelf)
    season = about.season
    seen = [_seen(each, season) for each in about.plants]
    proposed = talk(season.sekki, season.ko, seen, about.form, southern=season.southern)
    own: Mapping[str, str] = kept.content["parts"] if kept else {}
    texts = [(name, words.say(saying)) for name, saying in proposed.parts]
    own_form = words.say(Saying("desk.talking.own-form"))
    return Card(
        fields={
            "on": about.day.isoformat(),
            "of": str(about.of.id) if about.of else "",
            "form": about.form or "",
            "plants": ", ".join(plant_name(each.id) for each in about.plants),
        },
        says=date(words, about.day),
        title=about.of.name if about.of else "",
        kanji=season.sekki.name.kanji,
        romaji=season.sekki.name.romaji,
        english=season.sekki.name.english,
        parts=tuple(Part(name, text, own.get(name, text)) for name, text in texts),
        forms=[*((form, word(words, f"form.{form}")) for form in FORMS), ("", own_form)],
        version=kept.version if kept else None,
    )


# What is asked for


def _asked(shelf: Shelf, typed: Typed, today: dt.date) -> tuple[_About, Kept | None]:
    """What a card is of, and what is kept of it; every field that is empty has its usual."""
    of = _class(shelf, typed.get("of", ""))
    lesson = classes.read(of)[0] if of else None
    day = (day_of(of) if of else None) or day_asked("" if of else typed.get("on", ""), today)
    season = here(shelf, day)
    bare = _About(day, of, lesson.form if lesson else USUAL_FORM, (), season)
    kept = _kept(shelf, bare)
    form = _form(typed, kept, bare.form)
    if typed.get("plants", "").strip():
        named = read.plants(typed["plants"])
    elif kept:
        named = tuple(plant(each) for each in kept.content["plants"])
    elif lesson:
        named = tuple(plant(each) for each in dict.fromkeys(w.plant for w in lesson.wishes))
    else:
        named = tuple(p.choice.plant for made in season.proposals[:1] for p in made.picks)
    return replace(bare, form=form, plants=named), kept


def _class(shelf: Shelf, number: str) -> Kept | None:
    asked = whole_number(number)
    if asked is None:
        return None
    kept = shelf.get(asked)
    if kept.kind != classes.KIND:
        raise Missing(classes.KIND, asked)
    return kept


def _form(typed: Typed, kept: Kept | None, usual: str | None) -> str | None:
    if "form" in typed:
        return typed["form"] if typed["form"] in FORMS else None
    if kept:
        return kept.content["form"] or None
    return usual


def _kept(shelf: Shelf, about: _About) -> Kept | None:
    """What is kept of it: of a class also after it got another day or another title."""
    alike = [(_likeness(each.content, about), each) for each in shelf.all(KIND)]
    best, kept = max(alike, key=lambda each: each[0], default=(0, None))
    return kept if best >= ENOUGH else None


def _likeness(content: Mapping[str, Any], about: _About) -> int:
    """How many of the day, the title and the class are the same; of a bare day all or none."""
    same = [content.get(name) == about.key.get(name) for name in ("on", "title", "class")]
    of_class = content.get("class") is not None
    if of_class != (about.of is not None):
        return 0
    return sum(same) if of_class or all(same) else 0


def _name(about: _About) -> str:
    return about.of.name if about.of else about.day.isoformat()


def check(content: Mapping[str, Any]) -> None:
    """Refuses what is no card. Raises `InputError`, `KeyError`, `TypeError`, `ValueError`."""
    dt.date.fromisoformat(content["on"])
    for each in content["plants"]:
        plant(each)
    for name, text in content["parts"].items():
        read.said(PARTS[PARTS.index(name)], text)
    if content["form"] not in ("", *FORMS):
        raise ValueError(content["form"])


def _seen(plant: Plant, season: Season) -> Seen:
    """A plant with its stage here: as she saw it or, where her place is known, by all evidence."""
    made = season.blooms.get(plant.id)
    if made is None:
        return Seen(plant, None)
    if made.evidence == ALL_YEAR:
        return Seen(plant, None, lasting=True)
    known = season.place.told or made.evidence in HERS
    return Seen(plant, made.stage_on(season.day) if known else None)
