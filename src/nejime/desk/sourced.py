"""The source and the grade of a number or a sentence, in words: for the "why?" beside it.

Any page can ask it for whatever has a source key and a grade; `sources.html` shows it.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from nejime.basis.sayings import Saying, Words
from nejime.basis.sources import source
from nejime.papers.wording import date
from nejime.plants.plant import TEACHER
from nejime.plants.review import MEMORY

BARE = ("practice", "own", "hand", MEMORY)  # sources that are nothing but their grade


@dataclass(frozen=True, slots=True)
class Sourced:
    """How surely something is known, and from where: author, year and title, and what was read.

    `unchecked` is what is from memory and was not looked over. `cite` is empty where the grade
    says everything.
    """

    says: str
    cite: str
    read: str
    address: str
    place: str
    unchecked: bool


def sourced(
    key: str, grade: str, words: Words, *, place: str = "", on: dt.date | None = None
) -> Sourced:
    """The words for a source and a grade. `on`: the day on which the teacher confirmed it."""
    known = source(key)
    cite, read = known.cite, known.read
    if key == TEACHER:
        read = ""
        if on is not None:
            cite = words.say(Saying("sourced.teacher-on", day=date(words, on)))
    return Sourced(
        says=words.say(Saying(f"plants.grade.{grade}")),
        cite="" if key in BARE else cite,
        read=read,
        address=known.address,
        place=place,
        unchecked=grade == MEMORY,
    )
