"""What is being taught just now: the class that is nearest in time, else what the settings say."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from nejime.basis.errors import InputError
from nejime.desk.settings import settings
from nejime.desk.shelf import Kept, Shelf
from nejime.forms.holder import Holder
from nejime.forms.rules import Rule, packaged
from nejime.lesson.lesson import Lend, Lesson, Person
from nejime.reading.class_file import read_class_tree
from nejime.reading.typed import holder_of

MINUTES = 120  # [own] of a class that nobody has written down


def nearest_class(shelf: Shelf, today: dt.date) -> Kept | None:
    """The class whose day is nearest to today; None where there is none with a day."""
    dated = [(day, kept) for kept in shelf.all("class") if (day := day_of(kept)) is not None]
    return min(dated, key=lambda each: abs(each[0] - today), default=(None, None))[1]


def day_of(kept: Kept) -> dt.date | None:
    """The day of a class; None where it has none yet."""
    told = kept.content.get("class")
    try:
        return dt.date.fromisoformat(str(told["date"])) if isinstance(told, dict) else None
    except (KeyError, ValueError):
        return None


def taught(shelf: Shelf, today: dt.date) -> Lesson:
    """The nearest class as it is taught, with the pin holders that are at hand.

    A class that is not yet complete counts for nothing: then the settings hold.
    """
    found = nearest_class(shelf, today)
    if found is not None:
        try:
            lesson = read_class_tree(found.name, found.content, packaged())
        except InputError:
            lesson = usual_lesson(shelf, today)
    else:
        lesson = usual_lesson(shelf, today)
    if lesson.lend.holders:
        return lesson
    return replace(lesson, lend=Lend(lesson.lend.vessels, holders_at_hand(shelf)))


def usual_lesson(shelf: Shelf, today: dt.date) -> Lesson:
    """A class of which nothing is known but what the settings say."""
    chosen = settings(shelf)
    return Lesson(
        title="",
        library=chosen["library"],
        place=chosen["place"],
        starts=dt.datetime.combine(today, dt.time(), dt.UTC),
        minutes=MINUTES,
        people=(),
        rule=chosen["proportions"],
        paper=chosen["paper"],
        units=chosen["units"],
    )


def holders_at_hand(shelf: Shelf) -> tuple[tuple[Holder, int], ...]:
    """The pin holders in the cupboard, and how many there are of each."""
    kept = (each.content for each in shelf.all("holder"))
    return tuple((holder_of(content), int(content.get("count", 1))) for content in kept)


def known_rules() -> Mapping[str, Rule]:
    """The proportions that can be taught, by name."""
    return packaged()


def for_one(lesson: Lesson, person: Person, asked: Mapping[str, Any]) -> Lesson:
    """The class for one person alone, with the form, size and side that were asked for.

    Proportions that lack the form in this kind of vessel give way to those that have it.
    """
    changed = {key: value for key, value in asked.items() if value}
    alone = replace(lesson, people=(person,), **changed)
    rule = known_rules().get(alone.rule or "")
    tall = person.vessel is not None and person.vessel.tall
    if rule is None or rule.form(alone.form or "", "tall" if tall else "shallow") is None:
        return replace(alone, rule=None)
    return alone
