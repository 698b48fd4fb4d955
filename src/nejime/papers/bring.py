"""The card that goes with the invitation: which bowl to bring, and how to measure it."""

from __future__ import annotations

import datetime as dt

from nejime.basis.sayings import Saying, Words
from nejime.forms.vessel import SHAPES
from nejime.lesson.lesson import Lesson
from nejime.papers import pictures
from nejime.papers.sheet import Sheet, Stock
from nejime.papers.wording import clock, date, fixed, word

FLOOR_CM = 8.0  # [own] a pin holder of 7 cm lies flat on it
HEIGHT_CM = (4.0, 25.0)  # [own] covers the pins; a vase that still stands on a table
NOTICE_DAYS = 14  # [practice] how long before a class people are asked what they need


def bring(lesson: Lesson, words: Words, stock: Stock) -> Sheet:
    """The card for one class; the last day for an answer is two weeks before it."""
    last = date(words, (lesson.starts - dt.timedelta(days=NOTICE_DAYS)).date(), short=True)
    tell = "tell" if lesson.contact else "tell-day"
    which = ("which-holds", "which-flat", "which-heavy", "which-eat", "which-none")
    least, most = HEIGHT_CM
    data = {
        "fixed": fixed(words, "bring"),
        "occasion": occasion(lesson, words),
        "where": word(words, "bring.where", place=lesson.place, library=lesson.library),
        "which": [
            word(words, f"bring.{key}", floor_cm=FLOOR_CM, height_cm=least, most_cm=most)
            for key in which
        ],
        "measure": [
            word(words, f"bring.measure-{key}")
            for key in ("width", "depth", "height", "floor", "foot")
        ],
        "tell": [
            word(words, f"bring.{tell}", day=last, contact=lesson.contact),
            word(words, "bring.by-then"),
        ],
        "shapes": [words.say(Saying(f"vessel.{shape}")) for shape in SHAPES],
    }
    shown = pictures.of_bring(words, stock)
    return Sheet("which-bowl", "bring", word(words, "bring.title"), data, shown)


def occasion(lesson: Lesson, words: Words, *, with_time: bool = True) -> str:
    """What stands above the title: the class, its day, its hour."""
    return word(
        words,
        "occasion-at" if with_time else "occasion",
        title=lesson.title,
        date=date(words, lesson.starts.date()),
        time=clock(words, lesson.starts),
    )
