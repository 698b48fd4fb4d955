"""Paper for the tools that are printed at their true size.

Model: a drawing fills the part of a page that every office printer reaches; one user unit is one
millimetre. Each carries a line of exactly ten centimetres, to be checked with a ruler.
Source: ISO 216 for A4; 8.5 by 11 inches for Letter.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.layout import moved
from nejime.drawings.svg import FINE_MM, Mark, Path, Spot, Text

Page = Literal["a4", "letter"]
PAGES_MM: dict[Page, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
}
MARGIN_MM = 10.0  # [own] common printers leave 4 to 6 mm white; this is safe
CHECK_MM = 100.0
TITLE_SIZE = 1.25  # [own] a title over the size of the text
TOOL_PT = 12.0  # [own] read at arm's length, standing


def usable_mm(page: Page, *, landscape: bool = False) -> tuple[float, float]:
    """Width and height of the part of a page that a drawing fills."""
    wide, high = PAGES_MM[page]
    size = (wide - 2 * MARGIN_MM, high - 2 * MARGIN_MM)
    return (size[1], size[0]) if landscape else size


@dataclass(frozen=True, slots=True)
class Foot:
    """The words at the foot of a tool, from their own top left corner, and their height."""

    marks: tuple[Mark, ...]
    height_mm: float

    def at(self, top_mm: float) -> list[Mark]:
        """The words with their top at a height on the sheet."""
        return [moved(mark, 0.0, top_mm) for mark in self.marks]


def foot_of(
    title: str, use: str, words: Words, wide_mm: float, text_pt: float, left_mm: float = 0.0
) -> Foot:
    """Title, use and check line, one below the other."""
    marks, y = paragraph((left_mm, 0.0), title, wide_mm, text_pt * TITLE_SIZE, bold=True)
    more, used = paragraph((left_mm, y + 1.0), use, wide_mm, text_pt)
    check, also = check_line((left_mm, y + used + 5.5), words, wide_mm, text_pt)
    return Foot((*marks, *more, *check), y + used + 5.5 + also)


def check_line(
    at: Spot, words: Words, wide_mm: float, text_pt: float = TOOL_PT
) -> tuple[list[Mark], float]:
    """A level line of exactly ten centimetres that starts at a point, and what it is for."""
    x, y = at
    marks: list[Mark] = [Path(((x, y), (x + CHECK_MM, y)), width_mm=FINE_MM)]
    for step in range(11):
        long = 1.6 if step in (0, 5, 10) else 0.9
        tick = x + CHECK_MM * step / 10
        marks.append(Path(((tick, y - long), (tick, y)), width_mm=FINE_MM))
    text = words.say(Saying("drawings.tool.check", check_mm=CHECK_MM))
    lines, used = paragraph((x, y + 0.6), text, wide_mm, text_pt)
    return [*marks, *lines], used + 0.6


def paragraph(
    at: Spot, text: str, most_mm: float, text_pt: float = TOOL_PT, *, bold: bool = False
) -> tuple[list[Mark], float]:
    """Lines of lettering from a top left corner, and the height that they take."""
    lines = lettering.wrapped(text, text_pt, most_mm, bold=bold)
    size = text_pt * lettering.MM_PER_PT
    marks: list[Mark] = [
        Text(
            (at[0], at[1] + (number * lettering.LINE_EM + lettering.RISE_EM) * size),
            line,
            text_pt,
            bold=bold,
        )
        for number, line in enumerate(lines)
    ]
    return marks, lettering.height_mm(len(lines), text_pt)
