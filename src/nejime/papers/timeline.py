"""Preparing the material: what is done when, day by day, up to the beginning of the class."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from nejime.basis.sayings import Saying, Words
from nejime.keeping.preparing import Task, buckets_needed
from nejime.papers import sections
from nejime.papers.sections import TICK, Cell, Section, quiet, strong
from nejime.papers.sheet import Sheet
from nejime.papers.wording import clock, date, dated, fixed, said, word

MINUTES_SAID = 120  # [own] a longer time is told in hours


def timeline(tasks: Iterable[Task], words: Words, above: str = "") -> Sheet:
    """Every task, one table a day."""
    say, known = fixed(words, "timeline"), tuple(tasks)
    days = groupby(known, key=lambda task: task.begins.date())
    listed = [_places(known, words)]
    listed += [_day(date(words, day, short=True), list(of_day), words, say) for day, of_day in days]
    return sections.sheet("preparing", word(words, "timeline.title"), above, listed)


def _places(tasks: Iterable[Task], words: Words) -> Section:
    """How many buckets stand where at the most."""
    says = (
        Saying("keeping.places.buckets", count=count, where=where.says)
        for where, count in buckets_needed(tasks).items()
    )
    return sections.points(word(words, "timeline.places"), said(words, says))


def _day(title: str, tasks: list[Task], words: Words, say: dict[str, str]) -> Section:
    columns = [("", "auto"), (say["at"], "auto"), (say["takes"], "auto"), (say["what"], "1fr")]
    rows: list[list[Cell]] = [
        [
            TICK,
            strong(clock(words, task.begins)),
            lasts(task.minutes, words),
            [
                strong(words.say(task.says)),
                *dict.fromkeys(dated(each, words) for each in task.notes),
                *said(words, (step.says for step in task.steps)),
                *(quiet(line) for line in said(words, task.cautions)),
            ],
        ]
        for task in tasks
    ]
    return sections.table(title, columns, rows)


def lasts(minutes: int, words: Words) -> str:
    """A time in minutes, or in hours where it is long."""
    if minutes < MINUTES_SAID:
        return word(words, "timeline.minutes", minutes_min=minutes)
    return word(words, "timeline.hours", hours=str(round(minutes / 60)))
