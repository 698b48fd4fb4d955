"""Paper for the tools that are printed at their true size.

Model: a drawing fills the part of a page that every office printer reaches; one user unit is one
millimetre. Each carries a line of exactly ten centimetres, to be checked with a ruler.
Source: ISO 216 for A4; 8.5 by 11 inches for Letter.
"""

from __future__ import annotations

from typing import Literal

from nejime.basis.sayings import Saying, Words
from nejime.drawings import lettering
from nejime.drawings.svg import FINE_MM, Mark, Path, Spot, Text

Page = Literal["a4", "letter"]
PAGES_MM: dict[Page, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (215.9, 279.4),
}
MARGIN_MM = 10.0  # [own] common printers leave 4 to 6 mm white; this is safe
CHECK_MM = 100.0
TOOL_PT = 12.0  # [own] read at arm's length, standing


def usable_mm(page: Page, *, landscape: bool = False) -> tuple[float, float]:
    """Width and height of the part of a page that a drawing fills."""
    wide, high = PAGES_MM[page]
    size = (wide - 2 * MARGIN_MM, high - 2 * MARGIN_MM)
    return (size[1], size[0]) if landscape else size


def check_line(at: Spot, words: Words, text_pt: float = TOOL_PT) -> list[Mark]:
    """A level line of exactly ten centimetres that starts at a point, and what it is for."""
    x, y = at
    marks: list[Mark] = [Path(((x, y), (x + CHECK_MM, y)), width_mm=FINE_MM)]
    for step in range(11):
        long = 1.6 if step in (0, 5, 10) else 0.9
        tick = x + CHECK_MM * step / 10
        marks.append(Path(((tick, y - long), (tick, y)), width_mm=FINE_MM))
    text = words.say(Saying("drawings.tool.check", check_mm=CHECK_MM))
    marks.append(Text((x, y + 1.1 * text_pt * lettering.MM_PER_PT), text, text_pt))
    return marks


def paragraph(
    at: Spot, text: str, most_mm: float, text_pt: float = TOOL_PT, *, bold: bool = False
) -> tuple[list[Mark], float]:
    """Lines of lettering from a top left corner, and the height that they take."""
    lines = lettering.wrapped(text, text_pt * (lettering.BOLD if bold else 1.0), most_mm)
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
