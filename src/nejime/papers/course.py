"""The order of the class: what happens when by the clock, and what to skip when late."""

from __future__ import annotations

from nejime.basis.sayings import Saying, Words
from nejime.keeping.preparing import later
from nejime.lesson.lesson import Lesson
from nejime.lesson.order import Order, Part
from nejime.papers import sections
from nejime.papers.sections import Section, blank, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import clock, fixed, said, word

BLANK_MM = 16.0  # [own] room for a time written by hand


def course(made: Order, lesson: Lesson, words: Words, above: str = "") -> Sheet:
    """The order of one class."""
    say = fixed(words, "order")
    remarks = said(words, made.remarks)
    if not remarks and made.corrected:
        remarks = [word(words, "order.corrected-all", correction_min=round(made.correction_min, 1))]
    listed = [
        sections.text("", remarks),
        _parts(made, lesson, words, say),
        sections.points(
            word(words, "order.late"),
            [_saved(part, words) for part in made.when_late]
            + [[words.say(Saying("lesson.late.never"))]],
            says=word(words, "order.say-late"),
        ),
        sections.points(
            word(words, "order.left-out"),
            [words.say(Saying(f"lesson.order.{name}")) for name in made.left_out],
        ),
        _spoken(made, words, say),
    ]
    return sections.sheet("order-of-the-class", word(words, "order.title"), above, listed)


def _parts(made: Order, lesson: Lesson, words: Words, say: dict[str, str]) -> Section:
    columns = [
        (say["at"], "auto"),
        (f">{say['takes']}", "auto"),
        (say["part"], "1fr"),
        (say["really"], "auto"),
    ]
    rows = [
        [
            strong(clock(words, later(lesson.starts, part.begins_min))),
            words.quantity("takes_min", part.minutes),
            [strong(words.say(part.title)), words.say(part.says)],
            blank(BLANK_MM),
        ]
        for part in made.parts
    ]
    return sections.table("", columns, rows)


def _saved(part: Part, words: Words) -> list[sections.Cell]:
    """What is left out or shortened, and what that wins."""
    return [
        strong(word(words, "order.saves", part=part.title, saves_min=part.saves_min)),
        words.say(Saying(f"lesson.late.{part.name}")),
    ]


def _spoken(made: Order, words: Words, say: dict[str, str]) -> Section:
    rows = [
        [words.say(line.view), words.say(line.says)] for part in made.parts for line in part.spoken
    ]
    columns = [(say["shot"], "auto"), (say["say"], "1fr")]
    return sections.table(word(words, "order.spoken"), columns, rows)
