"""One piece in many vessels, each with its own numbers: the sheet that the teacher lays beside it.

Each vessel fills its drawing, so what can be compared is the shape of the piece; its size stands in
the numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from nejime.basis.sayings import Words
from nejime.papers.pictures import drawn
from nejime.papers.sheet import Drawing, Sheet
from nejime.papers.wording import word


@dataclass(frozen=True, slots=True)
class Bowl:
    """What is printed of one vessel; `svg` is empty where the piece cannot be in it."""

    who: str
    vessel: str
    svg: str
    lines: Sequence[str]
    offer: str


def bowls_sheet(title: str, bowls: Sequence[Bowl], words: Words) -> Sheet:
    """The sheet; `bowls` in their order."""
    drawings: dict[str, Drawing] = {}
    listed = []
    for number, bowl in enumerate(bowls, start=1):
        if bowl.svg:
            drawings[f"bowl-{number}"] = drawn(bowl.svg)
        listed.append(
            {
                "who": bowl.who,
                "vessel": bowl.vessel,
                "drawing": f"bowl-{number}" if bowl.svg else "",
                "lines": list(bowl.lines),
                "offer": bowl.offer,
            }
        )
    heading = word(words, "bowls.title", title=title)
    return Sheet("bowls", "bowls", heading, {"bowls": listed}, drawings)
