"""Half a page: one vessel, its three lengths, and whether it stands; for a bowl at the door.

The same half page, with what was changed above the numbers, is the sheet of a correction.
"""

from __future__ import annotations

from collections.abc import Sequence

from nejime.basis.sayings import Saying, Words
from nejime.drawings.elevation import elevation
from nejime.drawings.plan import plan
from nejime.drawings.scene import scene
from nejime.papers import pictures
from nejime.papers.handout import Told, told_data
from nejime.papers.sheet import Drawing, Sheet, Stock
from nejime.papers.wording import fixed, said, word

WIDE_MM = 78.0  # [own] the drawings' share of half a page
FRONT_MM = 72.0  # [own]
PLAN_MM = 48.0  # [own]


def half_page(told: Told, words: Words, stock: Stock, changes: Sequence[Saying] = ()) -> Sheet:
    """The half page of one person; `changes` are what a correction says is to be done."""
    data = told_data(told, words)
    data |= {
        "fixed": fixed(words, "handout", "half"),
        "changes": said(words, changes),
    }
    title = told.name or word(words, "half.nobody")
    return Sheet(
        told.file_name,
        "half_page",
        title,
        data | {"name": title},
        half_page_drawings(told, words, stock),
        told.piece.rule.name,
    )


def half_page_drawings(told: Told, words: Words, stock: Stock) -> dict[str, Drawing]:
    """The piece from the front and from above."""
    shown = scene(told.piece, told.looks)
    text_pt = pictures.lettering_pt(stock)
    front = elevation(shown, "front", words, width_mm=WIDE_MM, height_mm=FRONT_MM, text_pt=text_pt)
    above = plan(shown, words, width_mm=WIDE_MM, height_mm=PLAN_MM, text_pt=text_pt)
    return {"front": pictures.drawn(front), "plan": pictures.drawn(above)}
